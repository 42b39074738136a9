// The board as a solid: the flat view's shapes, stood up by the thickness.
// Walls are cut here to where the board is; what lies on a face is cut by the
// renderer, which keeps to the same loops.
const ROLES = ['core', 'ground', 'plated', 'bare', 'wrap', 'copper', 'plane', 'mask', 'opening', 'tab', 'body', 'inner', 'line', 'laid', 'core2', 'halo', 'field'];
const ROLE = Object.fromEntries(ROLES.map((r, i) => [r, i]));
// What lies on a face, in the order in which it is laid.
const LAID = { plane: 'plane', wrap: 'wrap', copper: 'copper', land: 'copper', pin: 'copper' };

/** Points with what the renderer asks of each: x, y, z, the normal, the role, the item. */
class Mesh {
  constructor() {
    this.data = new Float32Array(1 << 14);
    this.count = 0;
  }

  point(x, y, z, nx, ny, nz, role, item) {
    const at = this.count * Mesh.WIDE;
    if (at + Mesh.WIDE > this.data.length) {
      const more = new Float32Array(2 * this.data.length);
      more.set(this.data);
      this.data = more;
    }
    const d = this.data;
    d[at] = x;
    d[at + 1] = y;
    d[at + 2] = z;
    d[at + 3] = nx;
    d[at + 4] = ny;
    d[at + 5] = nz;
    d[at + 6] = role;
    d[at + 7] = item;
    this.count++;
  }

  /** A flat shape at a height; returns its place in the mesh. */
  flat(loops, z, role, item) {
    const first = this.count;
    for (const loop of loops) {
      if (!loop.closed) continue;
      const t = triangles(loop);
      for (let i = 0; i < t.length; i += 2) this.point(t[i], t[i + 1], z, 0, 0, 1, role, item);
    }
    return [first, this.count - first];
  }

  /** A piece of a wall, from height to height. */
  wall(ax, ay, bx, by, low, high, role, item) {
    const l = Math.hypot(bx - ax, by - ay) || 1;
    const [nx, ny] = [(by - ay) / l, (ax - bx) / l];
    this.point(ax, ay, low, nx, ny, 0, role, item);
    this.point(bx, by, low, nx, ny, 0, role, item);
    this.point(bx, by, high, nx, ny, 0, role, item);
    this.point(ax, ay, low, nx, ny, 0, role, item);
    this.point(bx, by, high, nx, ny, 0, role, item);
    this.point(ax, ay, high, nx, ny, 0, role, item);
  }

  line(ax, ay, az, bx, by, bz, role, item) {
    this.point(ax, ay, az, 0, 0, 0, role, item);
    this.point(bx, by, bz, 0, 0, 0, role, item);
  }
}
Mesh.WIDE = 8;

/** What bounds the board, as loops: it lies in outline or tabs, and outside the others. */
function bounds(frame) {
  const b = { outline: loopsOf(frame.outline), cutouts: loopsOf(frame.cutouts), tabs: [], holes: [], plated: [] };
  frame.items.forEach((item, number) => {
    for (const part of item.parts ?? []) {
      const own = () => loopsOf(part.d).map((loop) => ({ loop, item: number }));
      if (part.role === 'tab') b.tabs.push(...own());
      if (part.role === 'hole') b.holes.push(...own().map((h) => ({ ...h, role: 'core' })));
      if (part.role === 'half hole' || part.role === 'via') b.holes.push(...own().map((h) => ({ ...h, role: 'plated' })));
      if (part.role === 'plated') b.plated.push(...own().map((h) => ({ ...h, wide: part.w ?? 0 })));
    }
  });
  return b;
}

/** Calls a function with what of a loop's pieces lies in some loops, where there is a choice, and outside others; both are found by a box. */
function piecesWhere(loop, inside, outside, call) {
  eachPiece(loop, (ax, ay, bx, by) => {
    const l = Math.hypot(bx - ax, by - ay);
    if (l < 1e-7) return;
    const [ux, uy] = [(bx - ax) / l, (by - ay) / l];
    const box = [Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by)];
    const others = (find) => find(box).filter((o) => o !== loop);
    let spans = [[0, l]];
    if (inside) spans = common(spans, spansInAny(others(inside), ax, ay, ux, uy));
    const cut = others(outside);
    if (cut.length > 0) spans = without(spans, spansInAny(cut, ax, ay, ux, uy));
    for (const [s, e] of spans) call(ax + ux * s, ay + uy * s, ax + ux * e, ay + uy * e);
  });
}

/** Builds the meshes of a frame: what is solid, the lines on it, and both faces. */
function buildSolid(frame) {
  const high = frame.drawn;
  const b = bounds(frame);
  const solid = new Mesh();
  const lines = new Mesh();
  const outlineItem = Math.max(0, frame.items.findIndex((i) => i.kind === 'outline'));
  const tabs = b.tabs.map((t) => t.loop);
  const [outlines, holes, open, ground] = [b.outline, b.holes.map((h) => h.loop), [...b.cutouts, ...b.holes.map((h) => h.loop)], [...b.outline, ...tabs]].map(near);
  const rim = (x0, y0, x1, y1, item) => {
    lines.line(x0, y0, high, x1, y1, high, ROLE.line, item);
    lines.line(x0, y0, 0, x1, y1, 0, ROLE.line, item);
  };
  const stand = (loop, inside, outside, role, item, rimmed = true) => piecesWhere(loop, inside, outside, (x0, y0, x1, y1) => {
    solid.wall(x0, y0, x1, y1, 0, high, role, item);
    if (rimmed) rim(x0, y0, x1, y1, item);
  });
  for (const loop of b.outline) stand(loop, undefined, open, ROLE.core, outlineItem);
  for (const loop of b.cutouts) {
    const item = frame.items.findIndex((i) => i.kind === 'cutout' && i.parts?.some((p) => loopsOf(p.d).some((l) => l.box.join() === loop.box.join())));
    stand(loop, outlines, open, ROLE.core, Math.max(0, item));
  }
  // A tab's root lies on the profile; its other sides stand free.
  for (const { loop, item } of b.tabs) {
    const role = frame.items[item].of?.includes('premetallised') ? ROLE.plated : ROLE.tab;
    stand(loop, undefined, holes, role, item);
  }
  for (const { loop, item, role } of b.holes) stand(loop, ground, tabs.some((t) => boxesMeet(t.box, loop.box)) ? holes : open, ROLE[role], item);
  const bodies = [];
  frame.items.forEach((item, number) => {
    for (const part of item.parts ?? []) {
      if (part.role !== 'body') continue;
      for (const loop of loopsOf(part.d)) {
        const [low, top] = [-part.rise, high + part.rise];
        solid.flat([loop], low, ROLE.body, number);
        solid.flat([loop], top, ROLE.body, number);
        eachPiece(loop, (x0, y0, x1, y1) => {
          solid.wall(x0, y0, x1, y1, low, top, ROLE.body, number);
          lines.line(x0, y0, top, x1, y1, top, ROLE.line, number);
          lines.line(x0, y0, low, x1, y1, low, ROLE.line, number);
          lines.line(x0, y0, low, x0, y0, top, ROLE.line, number);
        });
        bodies.push({ loop, low, high: top, item: number });
      }
    }
  });
  const core = solid.count;
  // The copper on the walls, laid over them; a gap is shown as what it leaves bare.
  for (const { loop, item } of b.plated) stand(loop, undefined, holes, ROLE.plated, item, false);
  frame.items.forEach((item, number) => {
    if (item.kind !== 'gap') return;
    for (const part of item.parts ?? []) if (part.role === 'bare') for (const loop of loopsOf(part.d)) stand(loop, undefined, holes, ROLE.bare, number, false);
  });
  const rims = lines.count;
  for (const { d } of frame.field?.lines ?? []) {
    for (const loop of loopsOf(d)) {
      eachPiece(loop, (x0, y0, x1, y1) => {
        for (const z of [0, high]) lines.line(x0, y0, z, x1, y1, z, ROLE.field, -2);
      });
    }
  }
  const faces = ['top', 'bottom'].map((side) => buildFace(frame, b, solid, side, side === 'top' ? high : 0, outlineItem));
  return { solid, lines, rims, core, walls: [core, faces[0].first - core], faces, bounds: b, bodies, high, outlineItem };
}

/** A face: the shapes that bound it, and what is laid on it in order, all as places in the mesh. */
function buildFace(frame, b, mesh, side, z, outlineItem) {
  const first = mesh.count;
  const face = { side, z, first, laid: [], planes: [] };
  face.outline = mesh.flat(b.outline, z, ROLE.ground, outlineItem);
  face.cutouts = mesh.flat(b.cutouts, z, ROLE.ground, outlineItem);
  const tabs = mesh.count;
  for (const t of b.tabs) mesh.flat([t.loop], z, ROLE.tab, t.item);
  face.tabs = [tabs, mesh.count - tabs];
  face.holes = mesh.flat(b.holes.map((h) => h.loop), z, ROLE.ground, outlineItem);
  const each = (wanted, call) => frame.items.forEach((item, number) => {
    for (const part of item.parts ?? []) if (part.side === side && wanted(part.role)) call(part, number);
  });
  each((r) => r === 'plane', (part, item) => face.planes.push({
    shape: mesh.flat(loopsOf(part.d), z, ROLE.plane, item), less: mesh.flat(loopsOf(part.less), z, ROLE.plane, item),
  }));
  for (const roles of [['wrap'], ['land', 'copper', 'pin']]) {
    const from = mesh.count;
    each((r) => roles.includes(r), (part, item) => mesh.flat(loopsOf(part.d), z, ROLE[LAID[part.role]], item));
    face.laid.push([from, mesh.count - from]);
  }
  const from = mesh.count;
  each((r) => r === 'opening', (part, item) => mesh.flat(loopsOf(part.d), z, ROLE.opening, item));
  face.openings = [from, mesh.count - from];
  face.mask = mesh.flat(b.outline, z, ROLE.mask, outlineItem);
  return face;
}
