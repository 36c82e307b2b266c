// Measures DIMENSION entities anew from their points alone, with a reader from npm. Usage: node dimensions.cjs FILE...
"use strict";

const fs = require("fs");

const LINEAR = 0;
const turn = (from, to) => Math.atan2(to.y - from.y, to.x - from.x);

function measured(entity) {
  const { linearOrAngularPoint1: a, linearOrAngularPoint2: b } = entity;
  const text = entity.text === undefined ? "" : entity.text;
  const told = { block: entity.block, text, layer: entity.layer, actual: entity.actualMeasurement };
  if ((entity.dimensionType & 15) === LINEAR) {
    const way = ((entity.angle || 0) * Math.PI) / 180;
    return { ...told, length: Math.abs((b.x - a.x) * Math.cos(way) + (b.y - a.y) * Math.sin(way)) };
  }
  const swept = ((turn(a, b) - turn(entity.diameterOrRadiusPoint, entity.anchorPoint)) * 180) / Math.PI;
  return { ...told, angle: (swept + 360) % 360 };
}

const found = process.argv.slice(2).map((name) => {
  const library = require("dxf-parser");
  const parsed = new (library.default || library)().parseSync(fs.readFileSync(name, "latin1"));
  const entities = parsed.entities.filter((entity) => entity.type === "DIMENSION");
  return {
    units: parsed.header.$INSUNITS,
    blocks: Object.keys(parsed.blocks),
    dimensions: entities.map(measured),
    words: parsed.entities.filter((entity) => entity.type === "TEXT").map((entity) => entity.text),
  };
});
console.log(JSON.stringify(found));
