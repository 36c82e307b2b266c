// What a reader from npm finds in drawings: units, extents, entities by layer. Usage: node drawings.cjs FILE...
"use strict";

const fs = require("fs");
const { Helper } = require("dxf");

const point = ({ x, y }) => [x, y];

const found = process.argv.slice(2).map((name) => {
  const { header, entities } = new Helper(fs.readFileSync(name, "utf8")).parsed;
  const counts = {};
  for (const { layer, type } of entities) {
    counts[layer] = counts[layer] || {};
    counts[layer][type] = (counts[layer][type] || 0) + 1;
  }
  const dimensions = entities.filter(({ type }) => type === "DIMENSION");
  return {
    units: header.insUnits,
    measurement: header.measurement,
    extents: [point(header.extMin), point(header.extMax)],
    counts,
    places: dimensions.map(({ textMidpoint }) => point(textMidpoint)),
  };
});
console.log(JSON.stringify(found));
