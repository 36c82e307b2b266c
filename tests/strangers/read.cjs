// Reads DXF files with a reader from npm. Usage: node read.cjs dxf|dxf-parser FILE...; prints JSON, file units, degrees.
"use strict";

const fs = require("fs");

const vertex = (v) => [v.x, v.y, v.bulge || 0];
const degrees = (turn) => (turn * 180) / Math.PI;

function contour(entity, closed) {
  const found = { layer: entity.layer, kind: entity.type };
  const centre = entity.center || entity;
  const radius = entity.radius === undefined ? entity.r : entity.radius;
  if (entity.type === "CIRCLE") return { ...found, circle: [centre.x, centre.y, radius] };
  if (entity.type === "ARC") {
    return { ...found, arc: [centre.x, centre.y, radius, degrees(entity.startAngle), degrees(entity.endAngle)] };
  }
  const ends = entity.start ? [entity.start, entity.end] : null;
  return { ...found, closed, vertices: (entity.vertices || ends).map(vertex) };
}

const readers = {
  dxf(text) {
    const { parsed } = new (require("dxf").Helper)(text);
    const { insUnits, measurement } = parsed.header;
    return { units: insUnits, measurement, contours: parsed.entities.map((e) => contour(e, Boolean(e.closed))) };
  },
  "dxf-parser"(text) {
    const library = require("dxf-parser");
    const parsed = new (library.default || library)().parseSync(text);
    const { $INSUNITS: units, $MEASUREMENT: measurement } = parsed.header;
    return { units, measurement, contours: parsed.entities.map((e) => contour(e, Boolean(e.shape))) };
  },
};

const [name, ...files] = process.argv.slice(2);
console.log(JSON.stringify(files.map((file) => readers[name](fs.readFileSync(file, "latin1")))));
