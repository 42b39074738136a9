// Plane geometry of the solid view: the paths that the flat view draws, as
// loops of straight pieces, and what of a straight line lies in them.
const FLAT = 0.002; // mm that a piece may stray from its arc
const flattened = new Map(); // loops by path data: most stay from frame to frame

/** The loops of path data: points x, y one after another, mm, and the box round them. */
function loopsOf(d) {
  if (!d) return [];
  if (!flattened.has(d)) {
    if (flattened.size > 20000) flattened.clear();
    flattened.set(d, flatten(d));
  }
  return flattened.get(d);
}

function flatten(d) {
  const loops = [];
  let pts;
  for (const [, letter, rest] of d.matchAll(/([MLAZ])([^MLAZ]*)/g)) {
    const n = rest.trim().split(/[ ,]+/).map(Number);
    if (letter === 'M') loops.push({ pts: pts = [n[0], n[1]], closed: false });
    else if (letter === 'L') pts.push(n[0], n[1]);
    else if (letter === 'A') arcTo(pts, n[0], n[3] === 1, n[4] === 1, n[5], n[6]);
    else loops.at(-1).closed = true;
  }
  for (const loop of loops) {
    const p = loop.pts;
    const l = p.length;
    if (loop.closed && l > 4 && Math.hypot(p[0] - p[l - 2], p[1] - p[l - 1]) < 1e-6) p.length -= 2;
    loop.box = [Infinity, Infinity, -Infinity, -Infinity];
    for (let i = 0; i < p.length; i += 2) {
      loop.box = [Math.min(loop.box[0], p[i]), Math.min(loop.box[1], p[i + 1]), Math.max(loop.box[2], p[i]), Math.max(loop.box[3], p[i + 1])];
    }
  }
  return loops;
}

/** Appends the pieces of an arc from the last point; left tells that it runs counterclockwise. */
function arcTo(pts, r, large, left, x, y) {
  const [x0, y0] = pts.slice(-2);
  const [dx, dy] = [x - x0, y - y0];
  const q = Math.hypot(dx, dy);
  if (q === 0) return;
  const h = Math.sqrt(Math.max(0, r * r - q * q / 4)) * (large === left ? -1 : 1);
  const [cx, cy] = [(x0 + x) / 2 - dy / q * h, (y0 + y) / 2 + dx / q * h];
  const from = Math.atan2(y0 - cy, x0 - cx);
  let turn = Math.atan2(y - cy, x - cx) - from;
  if (left && turn <= 0) turn += 2 * Math.PI;
  if (!left && turn >= 0) turn -= 2 * Math.PI;
  const n = Math.max(1, Math.ceil(Math.abs(turn) / (2 * Math.acos(Math.max(0.7, 1 - FLAT / Math.max(r, 1e-6))))));
  for (let i = 1; i < n; i++) pts.push(cx + r * Math.cos(from + turn * i / n), cy + r * Math.sin(from + turn * i / n));
  pts.push(x, y);
}

const boxesMeet = (a, b) => a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];

/** Finds the loops near a box, by the cells of a grid. */
function near(loops) {
  if (loops.length < 32) return (box) => loops.filter((l) => boxesMeet(l.box, box));
  const all = loops.reduce((b, l) => [Math.min(b[0], l.box[0]), Math.min(b[1], l.box[1]), Math.max(b[2], l.box[2]), Math.max(b[3], l.box[3])], [Infinity, Infinity, -Infinity, -Infinity]);
  const size = Math.max((all[2] - all[0]) / 64, (all[3] - all[1]) / 64, 1e-3);
  const cells = new Map();
  const around = (box, call) => {
    const [x0, y0, x1, y1] = [Math.max(box[0], all[0]), Math.max(box[1], all[1]), Math.min(box[2], all[2]), Math.min(box[3], all[3])].map((v, i) => Math.floor((v - all[i % 2]) / size));
    for (let x = x0; x <= x1; x++) for (let y = y0; y <= y1; y++) call(x * 128 + y);
  };
  for (const loop of loops) {
    around(loop.box, (cell) => {
      if (!cells.has(cell)) cells.set(cell, []);
      cells.get(cell).push(loop);
    });
  }
  return (box) => {
    const found = new Set();
    around(box, (cell) => {
      for (const l of cells.get(cell) ?? []) if (boxesMeet(l.box, box)) found.add(l);
    });
    return [...found];
  };
}

/** Calls a function with both ends of each piece. */
function eachPiece({ pts, closed }, call) {
  for (let i = 0; i + 3 < pts.length; i += 2) call(pts[i], pts[i + 1], pts[i + 2], pts[i + 3]);
  if (closed && pts.length > 4) call(pts.at(-2), pts.at(-1), pts[0], pts[1]);
}

// Spans along a line: ascending pairs of distances from its start.

/** What of the line from a point in a unit direction lies in a closed loop. */
function spansIn(loop, x, y, ux, uy) {
  const at = [];
  eachPiece(loop, (ax, ay, bx, by) => {
    const da = (ax - x) * uy - (ay - y) * ux;
    const db = (bx - x) * uy - (by - y) * ux;
    if ((da > 0) === (db > 0)) return;
    const t = da / (da - db);
    at.push((ax + t * (bx - ax) - x) * ux + (ay + t * (by - ay) - y) * uy);
  });
  at.sort((a, b) => a - b);
  const spans = [];
  for (let i = 0; i + 1 < at.length; i += 2) spans.push([at[i], at[i + 1]]);
  return spans;
}

function unite(spans) {
  const out = [];
  for (const [a, b] of spans.toSorted((x, y) => x[0] - y[0])) {
    if (out.length > 0 && a <= out.at(-1)[1] + 1e-9) out.at(-1)[1] = Math.max(out.at(-1)[1], b);
    else out.push([a, b]);
  }
  return out;
}

const without = (spans, less) => unite(less).reduce((left, [a, b]) => left.flatMap(([c, d]) => [[c, Math.min(d, a)], [Math.max(c, b), d]].filter((s) => s[1] - s[0] > 1e-7)), spans);

const common = (spans, others) => spans.flatMap(([a, b]) => others.map(([c, d]) => [Math.max(a, c), Math.min(b, d)]).filter((s) => s[1] - s[0] > 1e-7));

/** What of a line lies in any of some loops. */
const spansInAny = (loops, x, y, ux, uy) => unite(loops.flatMap((l) => spansIn(l, x, y, ux, uy)));

/** The triangles of a closed loop as x, y one after another. */
function triangles(loop) {
  loop.tris ??= lib.earcut(loop.pts).flatMap((i) => [loop.pts[2 * i], loop.pts[2 * i + 1]]);
  return loop.tris;
}
