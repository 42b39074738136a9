// Beside the drawing: the note of what is pointed at, the findings, the legend.
const note = {
  node: document.getElementById('note'),
  id: '',

  /** Shows what is known of an item beside a point of the screen, clear of its dimension line. */
  show(item, x, y, out = [1, 1]) {
    this.id = item.id;
    const found = foundAt.get(item.id) ?? [];
    const rows = (item.facts ?? []).flatMap((f) => [html('dt', {}, f[0]), html('dd', {}, fact(f))]);
    this.node.replaceChildren(html('h3', {}, titleOf(item)), item.of ? html('div', {}, item.of) : '', html('dl', {}, ...rows),
      ...found.map((f) => html('p', {}, html('b', {}, `${f.number} ${f.category}: `), f.message)));
    this.node.hidden = false;
    this.out = out;
    const [a, b] = item.ends ?? [];
    this.clear = a ? Math.hypot(a[0] - b[0], a[1] - b[1]) * view.k / 2 + 12 : 0;
    this.place(x, y);
    view.dimensioned = item.id;
    view.changed();
  },

  place(x, y) {
    const { width, height } = this.node.getBoundingClientRect();
    const [dx, dy] = this.out;
    let left = dx < -0.3 ? x - 18 - width : x + 18;
    const head = document.querySelector('header').getBoundingClientRect().bottom + 4; // whose buttons it leaves free
    const least = head + height < innerHeight - 8 ? Math.max(8, head) : 8;
    let top = dy < -0.3 ? y - 18 - height : y + 18;
    if (left + width > innerWidth - 8) left = x - 18 - width;
    if (left < 8) left = x + 18;
    const [wanted, below] = [top, y + 18];
    if (top + height > innerHeight - 8) top = y - 18 - height;
    if (top < least) top = below;
    // On the other side of the edge than wanted lies the dimension line: beside it, then.
    if (top !== wanted && Math.abs(dy) > 0.3) left = Math.min(left + this.clear, innerWidth - width - 8);
    this.node.style.transform = `translate(${Math.max(8, Math.min(left, innerWidth - width - 8))}px, ${Math.max(least, Math.min(top, innerHeight - 8 - height))}px)`;
  },

  hide() {
    if (this.node.hidden) return;
    this.node.hidden = true;
    this.id = view.dimensioned = '';
    view.changed();
  },
};

/** The list of findings, and what could not be shown. */
function listFindings() {
  const counts = WEIGHT.toReversed().map((c) => [c, frame.findings.filter((f) => f.category === c).length]).filter(([, n]) => n > 0);
  const total = frame.findings.length;
  document.getElementById('found').textContent = total === 0 ? 'Findings: none' : `Findings: ${total}`;
  document.getElementById('limits').textContent = counts.map(([c, n]) => `${n} ${c}`).join(', ');
  const shown = frame.findings.slice(0, 500);
  document.getElementById('list').replaceChildren(...shown.map((f) => html('li', {}, entry(f))),
    ...(total > shown.length ? [html('li', {}, html('p', { class: 'still' }, '', `and ${total - shown.length} more; mend these first`))] : []));
}

/** What the board asks for that could not be worked out, and what is accepted: each list with its heading, or neither. */
function listTold() {
  tell('requests', frame.notVerified.map((r) => [html('b', {}, r.asked), ` ${r.why}`, r.accepted && html('small', {}, 'accepted')]));
  tell('accepted', frame.accepted.map((a) => [a.message, html('small', {}, `${a.rule}, accepted${a.until ? ` until ${a.until}` : ''}: ${a.because}`)]));
}

/** The switch of the lines of equal field, and whose field it is. */
function tellField() {
  // Shown by itself where the mode lies in the band, until someone says otherwise.
  const box = document.getElementById('fielded');
  if (!box.dataset.chosen && frame.field && box.checked !== Boolean(frame.field.met)) {
    box.checked = Boolean(frame.field.met);
    for (const sheet of sheets) sheet.field.replaceChildren(...fieldLines(frame.field));
  }
  document.getElementById('fieldset').hidden = !frame.field;
  document.getElementById('fieldwaits').hidden = !frame.waits;
  document.getElementById('fieldname').textContent = frame.field ? `lines of equal field: ${frame.field.title}; × where it is strongest` : '';
}

function tell(id, rows) {
  const list = document.getElementById(id);
  list.replaceChildren(...rows.slice(0, 500).map((parts) => html('li', {}, ...parts.filter(Boolean))),
    ...(rows.length > 500 ? [html('li', {}, `and ${rows.length - 500} more`)] : []));
  list.parentElement.hidden = rows.length === 0;
}

function entry(f) {
  const place = f.file ? `${f.file}, line ${f.line}` : `line ${f.line}`;
  const body = html('span', {}, html('b', {}, f.category), ` ${f.message}`, html('small', {}, `${place} · ${f.rule}`));
  const icon = svg('svg', { viewBox: '-15 -15 30 30', 'aria-hidden': 'true' }, ...mark(f.category, f.number));
  const node = f.go ? html('button', { type: 'button' }, icon, body) : html('div', { class: 'still' }, icon, body);
  node.addEventListener('pointerenter', () => light(f.items, true));
  node.addEventListener('pointerleave', () => light(f.items, false));
  node.addEventListener('focus', () => light(f.items, true));
  node.addEventListener('blur', () => light(f.items, false));
  if (f.go) node.addEventListener('click', () => go({ finding: f.number - 1, serial: frame.serial }));
  node.dataset.finding = f.number;
  return node;
}

function light(ids, on) {
  for (const sheet of sheets) {
    if (sheet.solid) {
      sheet.lightened = on ? ids : [];
      view.changed();
    }
    for (const id of ids) sheet.items.get(id)?.node.classList.toggle('lit', on);
  }
}

/** The net of an item that has one; half holes in a row may have several. */
const netOf = (item) => item.facts?.filter((f) => f[0] === 'net' && item.kind !== 'castellation').map((f) => ` of net ${f[1]}`)[0] ?? '';

const NEAR = 5; // mm from the edge of a cut, beyond which copper is not near

/** How far copper stays off the edge of a cut, mm, in words. */
function standsOff(off) {
  if (off > NEAR) return 'not near';
  return off < 0.002 ? 'up to the edge' : `from ${rough(off)} inside the edge`;
}

/** What a cut shows at the edge by its point, or nothing of it. */
function tellCut(read) {
  const list = document.getElementById('layers');
  list.parentElement.hidden = read === undefined;
  document.getElementById('cut').setAttribute('aria-pressed', String(read !== undefined || armed));
  if (!read) return;
  const { wall, rows, turned } = read;
  const edge = wall ? `plated: ${titleOf(frame.items[wall.item])}${wall.thick > 0 ? `, ${length(wall.thick)} of copper` : ''}` : 'bare';
  const askew = turned < 90 ? ` The cut runs at ${Math.round(turned)}° to it, so the picture stretches what it cuts; figures are square to the edge.` : '';
  document.getElementById('cutedge').textContent = `The edge nearest to the click is ${edge}.${askew}`;
  let dark = false;
  list.replaceChildren(...rows.map((r) => {
    const thick = r.thick > 0 ? `, ${length(r.thick)}` : '';
    if (!r.copper) dark = !dark;
    const swatch = html('i', { class: r.copper ? 'cutcopper' : dark ? 'cutlight' : 'cutdark', 'aria-hidden': 'true' });
    if (!r.copper) return html('li', {}, swatch, html('b', {}, r.name || 'between the faces'), thick);
    const close = r.near.filter((n) => n.off <= NEAR);
    const near = (close.length > 0 ? close : r.near).slice(0, 3).map(({ item, off }) => `${titleOf(frame.items[item])}${netOf(frame.items[item])}, ${standsOff(off)}`);
    return html('li', {}, swatch, html('b', {}, `copper ${r.name}`), thick, html('small', {}, near.join('; ') || 'no copper in the cut'));
  }));
}

// The legend's samples are drawn with the very styles of the drawing.
const LEGEND = [
  ['plated', 'plated edge; drawn wider than its copper is thick', [['shape plated', 'M0 12H54', { 'stroke-width': 4.5 }]]],
  ['wrap', 'copper turned over this face', [['shape wrap', 'M0 5H54V19H0Z'], ['rim wrap-rim', 'M0 19H54']]],
  ['gap', 'gap: the edge stays bare between the ticks', [['shape bare over', 'M8 12H46'], ['ticks', 'M8 5V21M46 5V21']]],
  ['opening', 'solder mask taken off', [['shape opening', 'M0 4H54V20H0Z'], ['rim opening-rim', 'M0 20H54']]],
  ['castellation', 'half hole and its land', [['shape land', 'M12 0H42V20H12Z'], ['shape halfhole', 'M17 0A10 10 0 0 0 37 0Z']]],
  ['tab', 'tab, its length not stated; solid line: stated', [['shape tab nominal', 'M10 -2H44V16H10Z']]],
  ['holes', 'perforated tab: its row of holes', [['shape tab', 'M10 9H44V26H10Z'], ['shape hole', holes([15, 23, 31, 39], 9, 2.5)]]],
  ['premetal', 'premetallised tab: may stand on plating', [['shape tab', 'M10 -2H44V16H10Z']], 'premetallised'],
  ['body', 'connector; how deep its body is, is not stated', [['shape body nominal', 'M8 -2H46V12H8Z'], ['shape pin', 'M23 12H31V26H23Z']]],
  ['copper', 'feature: other copper on this side', [['shape copper', 'M14 4H40V20H14Z']]],
  ['via', 'plated holes: a fence, or one on its own', [['shape via', holes([10, 27, 44], 12, 4)]]],
  ['hole', 'hole, not plated', [['shape hole', holes([27], 12, 6)]], 'hole'],
  ['plane', 'plane; round holes and copper of other nets it is drawn clear by the limits in force', [['shape plane', 'M0 0H54V24H0Z']]],
  ['cutout', 'cutout', [['shape profile', 'M8 4H46V20H8Z']], 'cutout'],
  ['unclosed', 'what a path lacks to close', [['shape unclosed', 'M2 12H52']]],
  ['here', 'at the editor\'s cursor, also ▸ before its name', [['edge-of-halo', 'M10 12H44'], ['halo', 'M10 12H44']], 'here'],
];

function holes(at, y, r) {
  return at.map((x) => `M${x - r} ${y}A${r} ${r} 0 0 1 ${x + r} ${y}A${r} ${r} 0 0 1 ${x - r} ${y}Z`).join('');
}

// What the solid shows otherwise: each with the colours that it is drawn with.
const SOLID_LEGEND = [
  [['plated'], 'copper on the edge, and in plated holes'],
  [['bare'], 'edge that a gap leaves bare'],
  [['core'], 'laminate: an edge or a hole that is not plated'],
  [['ground'], 'a face of the board, or of a cut, where nothing is stated to lie'],
  [['ground', 'mask'], 'solder mask, on a face where the text takes some off'],
  [['tab'], 'tab'],
  [['body'], 'a connector\'s body; how far it stands up is not stated'],
  [['laid'], 'copper in a cut, drawn thick enough to be seen'],
  [['inner', 'core2'], 'laminates in a cut, in turn'],
];
const ALIKE = ['wrap', 'opening', 'copper', 'plane', 'here']; // in the solid as on the flat sheets

/** A legend's sample of a solid's colours: the first all over, the second over half or, where it is clear, over all. */
function solidSample(roles) {
  return roles.map((role, i) => {
    const [a, b, share, alpha] = PALETTE[role];
    return svg('rect', { x: i > 0 && !alpha ? 27 : 0, width: 54, height: 24, fill: `color-mix(in srgb, var(${b}) ${share * 100}%, var(${a}))`, 'fill-opacity': alpha });
  });
}

/** Shows what the marks mean, of the solid or of the flat sheets. */
function legend(solid) {
  const rows = solid ? SOLID_LEGEND.map(([roles, text]) => html('li', {}, svg('svg', { viewBox: '0 0 54 24', 'aria-hidden': 'true' }, ...solidSample(roles)), html('span', {}, text))) : [];
  rows.push(...LEGEND.filter(([name]) => !solid || ALIKE.includes(name)).map(([, text, shapes, kind]) => {
    const list = shapes.map(([style, d, more]) => svg('path', { class: style, d, ...more }));
    return html('li', {}, svg('svg', { viewBox: '0 0 54 24', 'aria-hidden': 'true' }, svg('g', { class: kind ? `item ${kind}` : 'item' }, ...list)), html('span', {}, text));
  }));
  for (const category of WEIGHT.toReversed()) {
    rows.push(html('li', {}, svg('svg', { viewBox: '-34 -15 68 30', 'aria-hidden': 'true' }, ...mark(category, 1)), html('span', {}, html('b', {}, category), `: ${MEANING[category]}`)));
  }
  rows.push(html('li', {}, svg('svg', { viewBox: '-34 -15 68 30', 'aria-hidden': 'true' }, ...mark('unbuildable', '7×')), html('span', {}, 'so many findings close together, the worst giving the shape; zoom in to part them')));
  rows.push(html('li', {}, svg('svg', { viewBox: '0 0 54 24', 'aria-hidden': 'true' }, svg('g', { class: 'over' }, ...datum(27, 12, 7))), html('span', {}, 'origin of x and y; arrows by an edge\'s name show which way positions on it run')));
  document.getElementById('key').replaceChildren(...rows);
}
