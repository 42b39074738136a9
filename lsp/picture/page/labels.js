// What stands over the drawing at the size of the screen: names, marks of
// findings, ends of gaps, the origin, the scale. It is laid out anew for each
// view; what would cover something laid out before is moved outward or left out.
const RANK = ['connector', 'castellation', 'cutout', 'hole', 'tab', 'gap', 'feature', 'plating', 'fence'];
const measure = document.createElement('canvas').getContext('2d');
const widths = new Map();

function widthOf(text, size) {
  const key = `${size} ${text}`;
  if (!widths.has(key)) {
    if (widths.size > 20000) widths.clear();
    measure.font = `${size}px system-ui, sans-serif`;
    widths.set(key, measure.measureText(text).width);
  }
  return widths.get(key);
}

/** Boxes that are taken, found by the cells of a grid. */
class Taken {
  constructor() {
    this.cells = new Map();
  }

  free(b) {
    for (let x = Math.floor(b[0] / 64); x <= Math.floor(b[2] / 64); x++) {
      for (let y = Math.floor(b[1] / 64); y <= Math.floor(b[3] / 64); y++) {
        const cell = this.cells.get(x * 65536 + y);
        if (!cell) continue;
        for (const o of cell) if (b[0] < o[2] && o[0] < b[2] && b[1] < o[3] && o[1] < b[3]) return false;
      }
    }
    return true;
  }

  add(b) {
    for (let x = Math.floor(b[0] / 64); x <= Math.floor(b[2] / 64); x++) {
      for (let y = Math.floor(b[1] / 64); y <= Math.floor(b[3] / 64); y++) {
        const cell = this.cells.get(x * 65536 + y);
        if (cell) cell.push(b);
        else this.cells.set(x * 65536 + y, [b]);
      }
    }
  }
}

/** Lays out everything over one sheet. */
function layOver(sheet, frame, view) {
  const { width: w, height: h } = sheet.size;
  const big = view.magnify;
  const to = (x, y) => view.point(sheet, x, y);
  const way = (x, y) => (sheet.solid ? sheet.way(x, y) : [sheet.mirrored ? -x : x, -y]);
  const inside = (p, room = 0) => p[0] > -room && p[1] > -room && p[0] < w + room && p[1] < h + room;
  const taken = new Taken();
  const nodes = [];
  const put = { sheet, to, way, inside, taken, nodes, big, w, h };
  taken.add([0, 0, 230 * big, 26 * big]); // the caption
  scaleBar(put, view);
  if (frame.outline) origin(put);
  if (!sheet.solid) ticks(put);
  marks(put, frame.findings);
  standing(put);
  names(put, view);
  if (big === 1 ? w > 420 : true) edgeNames(put, frame);
  if (view.dimensioned) dimension(put, view.dimensioned);
  sheet.over.replaceChildren(...nodes);
}

function scaleBar({ sheet, nodes, taken, w, h, big }, view) {
  const per = unit === 'mil' ? MM_PER_MIL : 1;
  const most = 130 * big / view.k / per;
  const ten = 10 ** Math.floor(Math.log10(most));
  const step = [5, 2, 1].find((n) => n * ten <= most) * ten;
  const px = step * per * view.k;
  const x = w - px - 16 * big;
  const y = h - 14 * big;
  // Aslant it holds across the line of sight alone.
  const words = `${length(step * per)}${sheet.aslant?.() ? ' across the line of sight' : ''}`;
  const wide = Math.max(px, widthOf(words, 12 * big));
  nodes.push(svg('path', { class: 'scale', d: `M${x} ${y - 6 * big}V${y}H${x + px}V${y - 6 * big}` }),
    wide > px ? svg('text', { x: x + px, y: y - 11 * big, 'text-anchor': 'end' }, words) : svg('text', { x: x + px / 2, y: y - 5 * big, 'text-anchor': 'middle' }, words));
  taken.add([x + px - wide - 4, y - 4 - 20 * big, w, h]);
}

function origin({ sheet, nodes, to, inside, taken, big }) {
  const [x, y] = to(0, 0);
  if (!inside([x, y]) || sheet.cutAway?.(0, 0)) return;
  const r = 6 * big;
  nodes.push(...datum(x, y, r));
  taken.add([x - r, y - r, x + r, y + r]);
}

/** The mark of the origin, as the drawing has it: a disc with two of its quarters filled. */
function datum(x, y, r) {
  return [svg('path', { class: 'origin', d: `M${x - r} ${y}A${r} ${r} 0 0 1 ${x + r} ${y}A${r} ${r} 0 0 1 ${x - r} ${y}Z` }),
    svg('path', { class: 'origin quarters', d: `M${x} ${y}H${x + r}A${r} ${r} 0 0 0 ${x} ${y - r}ZM${x} ${y}H${x - r}A${r} ${r} 0 0 0 ${x} ${y + r}Z` })];
}

function ticks({ sheet, nodes, to, way, inside, big }) {
  let d = '';
  for (const { item } of sheet.items.values()) {
    if (item.kind !== 'gap') continue;
    for (const [x, y, inX, inY] of item.ends ?? []) {
      const p = to(x, y);
      const n = way(inX, inY);
      if (inside(p)) d += `M${p[0] - n[0] * 6 * big} ${p[1] - n[1] * 6 * big}L${p[0] + n[0] * 9 * big} ${p[1] + n[1] * 9 * big}`;
    }
  }
  if (d) nodes.push(svg('path', { class: 'ticks', d }));
}

function marks({ sheet, nodes, to, inside, way, taken, big, w }, findings) {
  const scale = big * (w < 420 ? 0.7 : 0.82);
  for (const list of clusters(marked(sheet, findings), to, inside, 52 * big)) {
    // Many in one place are counted, not shown one by one: zooming in parts them.
    const shown = list.length <= 4 ? list.map((m) => ({ ...m, text: m.f.number })) : [{ ...worst(list), text: `${list.length}×` }];
    for (const { f, item, text } of shown) {
      const p = to(...(f.at ?? item.at));
      const out = f.at ? [0, 0] : way(...item.out);
      const along = out[0] === 0 && out[1] === 0 ? [1, 0] : [-out[1], out[0]];
      const spot = freeSpot(p, out, along, taken, big);
      taken.add(box(spot, 12 * big));
      if (Math.hypot(spot[0] - p[0], spot[1] - p[1]) > 30 * big) nodes.push(svg('path', { class: 'lead', d: `M${p[0]} ${p[1]}L${spot[0]} ${spot[1]}` }));
      const g = svg('g', { transform: `translate(${spot[0]} ${spot[1]}) scale(${scale})` }, ...mark(f.category, text));
      g.dataset.finding = f.number;
      if (text !== f.number) g.dataset.many = (f.at ?? item.at).join(' ');
      nodes.push(g);
    }
  }
}

const box = (p, r) => [p[0] - r, p[1] - r, p[0] + r, p[1] + r];
const worst = (list) => list.reduce((a, b) => (WEIGHT.indexOf(b.f.category) > WEIGHT.indexOf(a.f.category) ? b : a));

/** Findings at items in sight, in lists of those close together on the screen, each finding once in a list. */
function clusters(at, to, inside, near) {
  const cells = new Map();
  for (const [item, list] of at) {
    for (const f of list) {
      const p = to(...(f.at ?? item.at));
      if (!inside(p)) continue;
      const key = `${Math.round(p[0] / near)} ${Math.round(p[1] / near)}`;
      if (!cells.has(key)) cells.set(key, new Map());
      const cell = cells.get(key);
      if (!cell.has(f)) cell.set(f, { f, item });
    }
  }
  return [...cells.values()].map((cell) => [...cell.values()]);
}

/**
 * The items of a sheet and the findings marked at each: at the first that the
 * sheet has, and at the others unless they run all along the board, where a
 * mark would say nothing of the place. One that has a place of its own stands
 * there, once. What is cut away has none.
 */
function marked(sheet, findings) {
  const at = new Map();
  for (const f of findings) {
    const here = f.items.map((id) => sheet.items.get(id)?.item).filter(Boolean);
    const small = here.filter((i) => !LONG.has(i.kind));
    const one = f.at !== undefined || small.length === 0;
    for (const item of one ? here.slice(0, 1) : small) {
      if (sheet.cutAway?.(...(f.at ?? item.at))) continue;
      if (!at.has(item)) at.set(item, []);
      at.get(item).push(f);
    }
  }
  return at;
}

const LONG = new Set(['plating', 'relief', 'plane', 'outline']);

/** The nearest free place for a mark: on the board's side, row by row. */
function freeSpot(p, out, along, taken, big) {
  for (let row = 0; row < 6; row++) {
    for (const k of [0, 1, -1, 2, -2, 3, -3]) {
      const deep = (22 + 25 * row) * big;
      const q = [p[0] - out[0] * deep + along[0] * 25 * big * k, p[1] - out[1] * deep + along[1] * 25 * big * k];
      if (out[0] === 0 && out[1] === 0) q[1] -= 25 * big * row;
      if (taken.free(box(q, 12 * big))) return q;
    }
  }
  return p;
}

function names(put, view) {
  const { sheet, to, way, inside, taken, nodes, big } = put;
  const list = [...sheet.items.values()].map((x) => x.item)
    .filter((i) => i.name && (RANK.includes(i.kind) || i.id === view.here))
    .sort((a, b) => (b.id === view.here) - (a.id === view.here) || RANK.indexOf(a.kind) - RANK.indexOf(b.kind));
  for (const item of list) {
    const p = to(...item.at);
    const here = item.id === view.here;
    if (!inside(p) || !here && sheet.unseen?.(item)) continue;
    const text = here ? `▸ ${item.name}` : item.name;
    const size = 12 * big;
    const w = widthOf(text, size) + (here ? 8 : 2);
    // What interrupts an edge is named on the board, what stands on it outside.
    const out = way(...item.out).map((n) => (item.kind === 'gap' ? -n : n));
    const free = item.out[0] === 0 && item.out[1] === 0;
    for (const q of free ? around(item, p, w, big, sheet.solid && sheet.items.size > MANY) : outward(item, p, out, w, big)) {
      const b = [q[0] - w / 2 - 2, q[1] - size * 0.8, q[0] + w / 2 + 2, q[1] + size * 0.4];
      if (!here && (!taken.free(b) || b[0] < 0 || b[2] > put.w || b[1] < 0 || b[3] > put.h)) continue;
      taken.add(b);
      nodes.push(svg('text', { class: `${free ? 'inside' : 'beside'}${here ? ' here' : ''}`, x: q[0], y: q[1] + size * 0.2, 'text-anchor': 'middle' }, text));
      break;
    }
  }
}

/** Names keep off what stands out of the board, and off connectors' pins. */
function standing({ sheet, to, way, taken, big }) {
  for (const { item } of sheet.items.values()) {
    if (item.kind !== 'tab' && item.kind !== 'connector') continue;
    const p = to(...item.at);
    const out = way(...item.out);
    const take = (far, half) => {
      const q = [p[0] + out[0] * far * view.k, p[1] + out[1] * far * view.k];
      const aside = [Math.abs(out[1]) * half * view.k, Math.abs(out[0]) * half * view.k];
      taken.add([Math.min(p[0], q[0]) - aside[0], Math.min(p[1], q[1]) - aside[1], Math.max(p[0], q[0]) + aside[0], Math.max(p[1], q[1]) + aside[1]].map((n, i) => n + (i < 2 ? big : -big)));
    };
    if (item.kind === 'tab') {
      take(factOf(item, 'length') || TAB_REACH, factOf(item, 'width') / 2);
    } else {
      take(BODY_DEPTH * factOf(item, 'body'), factOf(item, 'body') / 2);
      take(-factOf(item, 'length'), Math.max(...['top', 'bottom'].map((face) => factOf(item, `pin on ${face}, width`))) / 2);
    }
  }
}

const factOf = (item, label) => item.facts?.find((f) => f[0] === label)?.[1] ?? 0;

/** Places outside the edge: the nearest, then farther out, then beside it along the edge. */
function* outward(item, p, out, w, big) {
  let room = item.kind === 'plating' ? 14 : 17;
  if (item.kind === 'gap') room = 20;
  if (item.kind === 'connector') room = 11 + BODY_DEPTH * factOf(item, 'body') * view.k / big;
  if (item.kind === 'tab') room = 11 + (factOf(item, 'length') || TAB_REACH) * view.k / big;
  const upright = Math.abs(out[0]) > Math.abs(out[1]);
  // Beside an upright edge a name stands with its end towards it, and the next goes below, not behind it.
  for (const [far, along] of upright ? [[0, 0], [0, 14], [0, -14], [0, 28], [0, -28]] : [[0, 0], [14, 0], [28, 0], [0, 30], [0, -30]]) {
    yield [p[0] + out[0] * ((room + far) * big + w / 2 - 4) + Math.abs(out[1]) * along * big, p[1] + out[1] * (room + far) * big + Math.abs(out[0]) * along * big];
  }
}

// As the scene draws what the text does not state.
const BODY_DEPTH = 0.4;
const TAB_REACH = 2;

/** Places of an item inside the board: in it if it is large, else round it, where there are very many close by alone. */
function* around(item, p, w, big, near) {
  const x = factOf(item, 'across in x') * view.k / 2;
  const y = factOf(item, 'across in y') * view.k / 2;
  if (2 * x > w + 6 && 2 * y > 18 * big || item.kind === 'relief') yield [p[0], p[1]];
  for (const r of near ? [9] : [9, 16, 26]) {
    yield [p[0], p[1] - y - r * big];
    yield [p[0], p[1] + y + r * big];
    yield [p[0] + x + w / 2 + r * big, p[1]];
    yield [p[0] - x - w / 2 - r * big, p[1]];
  }
}

function edgeNames({ sheet, to, way, inside, taken, nodes, big, w: sheetWidth }, frame) {
  for (const e of frame.edges) {
    if (e.cutout || sheet.unseen?.(e)) continue;
    const out = way(...e.out);
    const along = way(...e.way);
    const arrow = ['→', '↓', '←', '↑'][(Math.round(Math.atan2(along[1], along[0]) / (Math.PI / 2)) + 4) % 4];
    const text = `${e.name} ${arrow}`;
    const size = 12 * big;
    const w = widthOf(text, size) * 1.12;
    for (const share of e.closed ? [0] : [0, -0.2, 0.2, -0.36, 0.36]) {
      const p = to(e.at[0] + e.way[0] * share * e.length, e.at[1] + e.way[1] * share * e.length);
      const q = [p[0] + out[0] * (w / 2 + 12 * big), p[1] + out[1] * 16 * big];
      const b = [q[0] - w / 2 - 4, q[1] - size * 0.8, q[0] + w / 2 + 4, q[1] + size * 0.4];
      if (!inside(p) || b[0] < 0 || b[2] > sheetWidth || !taken.free(b)) continue;
      taken.add(b);
      nodes.push(svg('text', { class: 'edge', x: q[0], y: q[1] + size * 0.2, 'text-anchor': 'middle' }, text));
      break;
    }
  }
}

/** The dimension of a run of an edge, shown while it is pointed at. */
function dimension({ sheet, nodes, to, way, big }, id) {
  const item = sheet.items.get(id)?.item;
  if (!item?.ends || item.ends.length !== 2) return;
  const long = factOf(item, 'width');
  const [a, b] = item.ends.map(([x, y, inX, inY]) => ({ p: to(x, y), n: way(inX, inY) }));
  const deep = 30 * big;
  const [p, q] = [a, b].map(({ p: o, n }) => [o[0] + n[0] * deep, o[1] + n[1] * deep]);
  const gone = [a, b].map(({ p: o, n }) => `M${o[0] + n[0] * 4} ${o[1] + n[1] * 4}L${o[0] + n[0] * (deep + 5)} ${o[1] + n[1] * (deep + 5)}`).join('');
  const d = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
  const t = [(q[0] - p[0]) / d, (q[1] - p[1]) / d];
  const head = (o, s) => `M${o[0] + s * t[0] * 8 - t[1] * 3} ${o[1] + s * t[1] * 8 + t[0] * 3}L${o[0]} ${o[1]}L${o[0] + s * t[0] * 8 + t[1] * 3} ${o[1] + s * t[1] * 8 - t[0] * 3}`;
  nodes.push(svg('path', { class: 'dim', d: `${gone}M${p[0]} ${p[1]}L${q[0]} ${q[1]}${head(p, 1)}${head(q, -1)}` }),
    svg('text', { class: 'inside here', x: (p[0] + q[0]) / 2 + a.n[0] * 26 * big, y: (p[1] + q[1]) / 2 + a.n[1] * 14 * big + 4, 'text-anchor': 'middle' }, length(long)));
}
