// A cut through the board: an upright plane through a point. What of the plane
// lies in which material is worked out along its line, from the same loops.
const LEAST = 1.6; // px that copper is drawn thick at least
const MASKED = 0.02; // mm that mask is drawn thick; the text does not say
const COPPER = new Set(['plane', 'wrap', 'land', 'copper', 'pin']);

/** Where a cut through a point runs square to the nearest edge, as seen from the eye: {x, y, nx, ny}. */
function cutThrough(bounds, x, y, eye) {
  const best = { ux: 1, uy: 0, ...nearestPiece([...bounds.outline, ...bounds.cutouts], x, y) };
  const away = eye[0] * best.ux + eye[1] * best.uy < 0 ? -1 : 1;
  return { x, y, nx: best.ux * away, ny: best.uy * away };
}

/** What lies along a cut: the board, tabs and bodies as spans, and the copper of each layer. */
function alongCut(frame, built, cut) {
  const b = built.bounds;
  const [ux, uy] = [-cut.ny, cut.nx];
  const spans = (loops) => spansInAny(loops, cut.x, cut.y, ux, uy);
  const holes = spans(b.holes.map((h) => h.loop));
  const solidTabs = without(spans(b.tabs.map((t) => t.loop)), holes);
  const board = without(without(spans(b.outline), spans(b.cutouts)), holes);
  const tabs = b.tabs.flatMap((t) => without(common(spans([t.loop]), solidTabs), board).map((span) => ({ span, item: t.item })));
  const coppers = frame.levels.filter((l) => l.copper);
  const sideOf = (level) => (level === coppers[0] ? 'top' : level === coppers.at(-1) ? 'bottom' : `/${level.name}`);
  const layers = frame.levels.map((level) => {
    const side = level.copper ? sideOf(level) : undefined;
    const copper = [];
    if (side !== undefined) {
      frame.items.forEach((item, number) => {
        for (const part of item.parts ?? []) {
          if (part.side !== side || !COPPER.has(part.role)) continue;
          const own = common(without(spans(loopsOf(part.d)), spans(loopsOf(part.less))), board);
          copper.push(...own.map((span) => ({ span, item: number, role: part.role })));
        }
      });
    }
    return { ...level, side, spans: copper };
  });
  const masks = ['top', 'bottom'].map((side) => {
    const off = frame.items.flatMap((i) => (i.parts ?? []).filter((p) => p.role === 'opening' && p.side === side).flatMap((p) => loopsOf(p.d)));
    return off.length > 0 ? without(board, spans(off)) : [];
  });
  return { cut, bounds: b, ux, uy, board, tabs, layers, masks, walls: wallsOn(b, cut, ux, uy, board), bodies: built.bodies.map((body) => ({ ...body, spans: spans([body.loop]) })) };
}

/** Where the cut's line leaves the board through plated copper: the end of the span, the copper inward of it. */
function wallsOn(b, cut, ux, uy, board) {
  const list = [];
  const meet = (loop, item, wide) => eachPiece(loop, (ax, ay, bx, by) => {
    const da = (ax - cut.x) * uy - (ay - cut.y) * ux;
    const db = (bx - cut.x) * uy - (by - cut.y) * ux;
    if ((da > 0) === (db > 0)) return;
    const t = da / (da - db);
    const s = (ax + t * (bx - ax) - cut.x) * ux + (ay + t * (by - ay) - cut.y) * uy;
    const slant = Math.abs((bx - ax) * uy - (by - ay) * ux) / (Math.hypot(bx - ax, by - ay) || 1);
    for (const [from, to] of board) {
      // Drawn as the cut goes through it; told as it is.
      const wall = { wide: wide / Math.max(slant, 0.2), thick: wide, item };
      if (Math.abs(from - s) < 0.01) list.push({ ...wall, at: from, inward: 1 });
      if (Math.abs(to - s) < 0.01) list.push({ ...wall, at: to, inward: -1 });
    }
  });
  for (const { loop, item, wide } of b.plated) meet(loop, item, wide);
  for (const { loop, item, role } of b.holes) if (role === 'plated') meet(loop, item, 0);
  return list;
}

/** The cut's face as a mesh; k is px for a mm, which thin copper is drawn by. */
function buildCut(frame, built, cut, along, k) {
  const mesh = new Mesh();
  const { ux, uy } = along;
  const least = LEAST / k;
  const [x0, y0, x1, y1] = frame.box;
  const step = Math.max(0.001, LAY * Math.hypot(x1 - x0, y1 - y0)); // mm
  const quad = (from, to, low, high, role, item) => {
    if (to - from < 1e-7 || high - low < 1e-7) return;
    const [ax, ay, bx, by] = [cut.x + ux * from, cut.y + uy * from, cut.x + ux * to, cut.y + uy * to];
    const n = [cut.nx, cut.ny, 0, role, item];
    const off = order * step;
    for (const [x, y, z] of [[ax, ay, low], [bx, by, low], [bx, by, high], [ax, ay, low], [bx, by, high], [ax, ay, high]]) mesh.point(x + cut.nx * off, y + cut.ny * off, z, ...n);
  };
  const z = (depth) => built.high - depth;
  let order = 0; // what is laid over what, a step towards the eye each
  // What no layer fills, as where an outer one has no copper, is plain: nothing behind the cut shows through.
  for (const [from, to] of along.board) quad(from, to, 0, built.high, ROLE.ground, built.outlineItem);
  order = 1;
  let dark = false;
  along.layers.forEach((l, i) => {
    if (l.copper) return;
    // Where an inner layer has no copper, its neighbours meet.
    const [above, below] = [along.layers[i - 1], along.layers[i + 1]];
    const top = i > 1 && above?.copper ? (above.top + l.top) / 2 : l.top;
    const bottom = i + 2 < along.layers.length && below?.copper ? (l.bottom + below.bottom) / 2 : l.bottom;
    for (const [from, to] of along.board) quad(from, to, z(bottom), z(top), dark ? ROLE.core2 : ROLE.inner, built.outlineItem);
    dark = !dark;
  });
  for (const { span, item } of along.tabs) quad(...span, 0, built.high, ROLE.tab, item);
  for (const l of along.layers) {
    if (!l.copper) continue;
    order = 2;
    const more = Math.max(0, (least - (l.bottom - l.top)) / 2);
    let [low, high] = [z(l.bottom) - more, z(l.top) + more];
    if (high > built.high) [low, high] = [low - (high - built.high), built.high];
    if (low < 0) [low, high] = [0, high - low];
    for (const { span, item, role } of l.spans) quad(...span, low, high, ROLE.laid, item);
    order = 3;
    for (const { span, item, role } of l.spans) if (role === 'wrap') quad(...span, low, high, ROLE.plated, item);
  }
  order = 4;
  along.masks.forEach((list, bottom) => {
    const thick = Math.max(MASKED, 1.2 / k);
    for (const [from, to] of list) quad(from, to, bottom ? -thick : built.high, bottom ? 0 : built.high + thick, ROLE.mask, built.outlineItem);
  });
  for (const w of along.walls) {
    const wide = Math.max(w.wide, least) * w.inward;
    quad(Math.min(w.at, w.at + wide), Math.max(w.at, w.at + wide), 0, built.high, ROLE.plated, w.item);
  }
  for (const body of along.bodies) {
    for (const [from, to] of without(body.spans, along.board)) quad(from, to, body.low, body.high, ROLE.body, body.item);
    for (const [from, to] of common(body.spans, along.board)) {
      quad(from, to, body.low, 0, ROLE.body, body.item);
      quad(from, to, built.high, body.high, ROLE.body, body.item);
    }
  }
  return mesh;
}

/** The piece of some loops that is nearest to a point: how far off it is, and its direction. */
function nearestPiece(loops, x, y) {
  let best = { d: Infinity };
  for (const loop of loops) {
    eachPiece(loop, (ax, ay, bx, by) => {
      const l = Math.hypot(bx - ax, by - ay);
      if (l < 1e-9) return;
      const [ux, uy] = [(bx - ax) / l, (by - ay) / l];
      const t = Math.max(0, Math.min(l, (x - ax) * ux + (y - ay) * uy));
      const d = Math.hypot(ax + ux * t - x, ay + uy * t - y);
      if (d < best.d) best = { d, ux, uy, loop };
    });
  }
  return best;
}

/**
 * What the cut shows at the edge that is nearest to its point, layer by layer, top first:
 * for copper how far it stays off that edge, square to it however the cut runs; turned is
 * the angle between the two, in degrees.
 */
function readCut(frame, along) {
  const ends = along.board.flatMap(([a, b]) => [{ at: a, inward: 1 }, { at: b, inward: -1 }]);
  const edge = ends.toSorted((p, q) => Math.abs(p.at) - Math.abs(q.at))[0];
  if (!edge) return undefined;
  const { cut, bounds: b, ux, uy } = along;
  const point = (s) => [cut.x + ux * s, cut.y + uy * s];
  const holes = b.holes.map((h) => h.loop);
  const met = nearestPiece([...b.outline, ...b.cutouts, ...holes], ...point(edge.at));
  const sine = Math.min(1, Math.abs(met.ux * uy - met.uy * ux));
  // Round edges are made of short pieces here, which lie some degrees off.
  const turned = sine > (holes.includes(met.loop) ? 0.95 : 0.995) ? 90 : Math.asin(sine) * 180 / Math.PI;
  const wall = along.walls.find((w) => Math.abs(w.at - edge.at) < 0.01);
  const rows = along.layers.map((l) => {
    const near = l.spans.map(({ span: [a, b], item }) => ({ item, from: edge.inward > 0 ? a - edge.at : edge.at - b, at: edge.inward > 0 ? a : b, far: edge.inward > 0 ? b - edge.at : edge.at - a }))
      .filter((s) => s.far > 0).sort((p, q) => p.from - q.from).map((s) => ({ ...s, off: holes.includes(met.loop) ? nearestPiece([met.loop], ...point(s.at)).d : s.from * sine }));
    return { name: l.name, copper: Boolean(l.copper), thick: l.bottom - l.top, near: near.filter((s, i) => near.findIndex((o) => o.item === s.item) === i) };
  });
  return { edge, wall, rows, turned };
}
