// Measures DIMENSION entities anew from their points alone, with a reader from npm. Usage: node dimensions.cjs FILE...
"use strict";

const fs = require("fs");

const LINEAR = 0;

function measured(entity) {
  const { linearOrAngularPoint1: a, linearOrAngularPoint2: b } = entity;
  const text = entity.text === undefined ? "" : entity.text;
  const told = { block: entity.block, text, layer: entity.layer, actual: entity.actualMeasurement };
  if ((entity.dimensionType & 15) !== LINEAR) return told;
  const way = ((entity.angle || 0) * Math.PI) / 180;
  return { ...told, length: Math.abs((b.x - a.x) * Math.cos(way) + (b.y - a.y) * Math.sin(way)) };
}

const found = process.argv.slice(2).map((name) => {
  const library = require("dxf-parser");
  const parsed = new (library.default || library)().parseSync(fs.readFileSync(name, "utf8"));
  const entities = parsed.entities.filter((entity) => entity.type === "DIMENSION");
  return {
    units: parsed.header.$INSUNITS,
    blocks: Object.keys(parsed.blocks),
    dimensions: entities.map(measured),
    words: parsed.entities.filter((entity) => entity.type === "TEXT").map((entity) => entity.text),
  };
});
console.log(JSON.stringify(found));
