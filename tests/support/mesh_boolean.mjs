// SPDX-License-Identifier: MIT
// usage: node mesh_boolean.mjs FOLDER CASES.json [REPETITIONS]
// FOLDER holds manifold-3d (fetch_manifold). Each case names a mesh and a mark; the mark is made into a tool by manifold-3d
// alone (its polygons filled, extruded, refined and bent onto the face by the textbook formula of a plane, cylinder or
// cone), and cut from the mesh or added to it. Prints one JSON object a case: what that changed, and the milliseconds
// of the boolean alone, the median of the repetitions.
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [folder, file, repetitions = '1'] = process.argv.slice(2);
const { default: load } = await import(pathToFileURL(`${folder}/manifold.js`));
const library = await load();
library.setup();
const { Manifold, CrossSection, Mesh } = library;

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const sum = (...terms) => terms.reduce((t, [k, v]) => [t[0] + k * v[0], t[1] + k * v[1], t[2] + k * v[2]], [0, 0, 0]);
const unit = (v) => sum([1 / Math.hypot(...v), v]);

/// Where a mark's (x, y) at a height over the face lies, as a function of what the face is.
function bending({ kind, origin, x, normal, axis, centre }) {
  const y = cross(normal, x);
  if (kind === 'plane') return (u, v, h) => sum([1, origin], [u, x], [v, y], [h, normal]);
  const z = unit(axis);
  const from = sum([1, origin], [-1, centre]);
  const out = sum([1, from], [-dot(from, z), z]);
  const radius = Math.hypot(...out);
  const radial = unit(out), round = cross(z, radial), outward = Math.sign(dot(normal, radial));
  const turned = (angle) => sum([Math.cos(angle), radial], [Math.sin(angle), round]);
  if (kind === 'cylinder')
    return (u, v, h) => {
      const w = sum([u, x], [v, y]);
      return sum([1, centre], [dot(from, z) + dot(w, z), z], [radius + outward * h, turned(dot(w, round) / radius)]);
    };
  // A cone unrolls into a plane about its apex: a turn by t round the axis is one by t sin a in the plane.
  const rise = -dot(normal, z) * outward; // the sine of the half-angle, above 0 where it widens along z
  const widening = rise > 0 ? z : sum([-1, z]);
  const sine = Math.abs(rise), cosine = Math.sqrt(1 - sine * sine);
  const generator = sum([cosine, widening], [sine, radial]);
  const slant = radius / sine;
  const apex = sum([1, origin], [-slant, generator]);
  return (u, v, h) => {
    const w = sum([u, x], [v, y]);
    const along = slant + dot(w, generator), across = dot(w, round);
    const distance = Math.hypot(along, across), side = turned(Math.atan2(across, along) / sine);
    const up = sum([cosine, side], [-sine, widening]);
    return sum([1, apex], [distance * cosine, widening], [distance * sine, side], [outward * h, up]);
  };
}

function tool(mark) {
  const place = bending(mark.face);
  const filled = new CrossSection(mark.polygons, 'NonZero');
  let solid = filled.extrude(mark.high - mark.low).translate([0, 0, mark.low]);
  if (mark.refine > 0) solid = solid.refineToLength(mark.refine);
  return solid.warp((p) => { [p[0], p[1], p[2]] = place(p[0], p[1], p[2]); });
}

function body({ points, triangles }) {
  const mesh = new Mesh({ numProp: 3, vertProperties: new Float32Array(points), triVerts: new Uint32Array(triangles) });
  return new Manifold(mesh);
}

const median = (times) => times.sort((a, b) => a - b)[Math.floor(times.length / 2)];

for (const { name, mesh, mark } of JSON.parse(readFileSync(file, 'utf8'))) {
  try {
    const before = body(mesh), cutter = tool(mark);
    const volume = before.volume();
    cutter.volume(); // made now, not in the measured time
    const times = [];
    let after;
    for (let i = 0; i < Number(repetitions); ++i) {
      const start = performance.now();
      after = mark.add ? Manifold.union(before, cutter) : Manifold.difference(before, cutter);
      after.numTri(); // evaluation waits until something is asked
      times.push(performance.now() - start);
    }
    console.log(JSON.stringify({ name, change: after.volume() - volume, tool: cutter.volume(), milliseconds: median(times),
                                 triangles: before.numTri(), status: after.status() }));
  } catch (error) {
    console.log(JSON.stringify({ name, status: String(error.message ?? error) }));
  }
}
