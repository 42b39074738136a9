// Puts the parts together: the stream of frames in, clicks out.
let frame; // the newest
let sheets = [];
let foundAt = new Map(); // findings by the item they are marked at
let over = false; // the picture has ended
const seen = document.getElementById('seen');
const holder = document.getElementById('sheets');
const state = document.getElementById('state');

function say(text, loud) {
  if (state.textContent !== text) state.textContent = text;
  state.classList.toggle('loud', Boolean(loud));
}

function receive(next) {
  const first = !frame;
  const other = frame && frame.file !== next.file;
  frame = next;
  frame.findings.forEach((f, i) => { f.number = i + 1; });
  for (const item of frame.items) Object.defineProperty(item, 'text', { value: JSON.stringify(item) });
  foundAt = new Map();
  for (const f of frame.findings) {
    for (const id of f.items) {
      if (!foundAt.has(id)) foundAt.set(id, []);
      foundAt.get(id).push(f);
    }
  }
  head();
  choices();
  for (const sheet of sheets) {
    sheet.update(frame, foundAt, first || other);
    sheet.nothing.textContent = nothing();
  }
  listFindings();
  listTold();
  tellField();
  highlight(view.here, false);
  if (first) settle();
  if (view.fitted || other) view.fit();
  else view.changed();
  if (!note.node.hidden) note.hide();
}

function head() {
  const name = frame.title || frame.name || frame.file || 'hemline';
  document.title = `${name} · hemline`;
  document.getElementById('title').textContent = name;
  const [x0, y0, x1, y1] = outlineBox();
  const size = x1 > x0 ? `${length(x1 - x0)} by ${length(y1 - y0)}` : '';
  const parts = [frame.revision && `revision ${frame.revision}`, size, frame.thickness > 0 && `${length(frame.thickness)} thick`, frame.file];
  document.getElementById('about').textContent = parts.filter(Boolean).join(' · ');
  const about = frame.findings.filter((f) => f.category === 'language').length;
  const off = frame.items.filter((i) => !i.parts?.length).map(titleOf);
  const words = [];
  if (about > 0) words.push(`${about === 1 ? 'One finding' : `${about} findings`} about the text itself; what can be read is drawn.`);
  else if (!frame.trouble) words.push(`Up to date with ${frame.file}.`);
  if (frame.trouble) words.unshift(frame.trouble);
  if (off.length > 0) words.push(`Stated, but nowhere on the board: ${off.slice(0, 8).join(', ')}${off.length > 8 ? ` and ${off.length - 8} more` : ''}.`);
  if (flatOnly) words.push(`${flatOnly}. The flat picture is shown instead.`);
  if (!frame.go) words.push('Clicks cannot move this editor\'s cursor.');
  say(words.join(' '), about > 0 || frame.trouble);
}

function outlineBox() {
  const o = frame.items.find((i) => i.kind === 'outline' && i.parts?.some((p) => p.role === 'profile'));
  const get = (label) => o?.facts?.find((f) => f[0] === label)?.[1] ?? 0;
  return [0, 0, get('width'), get('height')];
}

function nothing() {
  if (!frame.items.some((i) => i.parts?.length)) {
    return frame.file ? 'Nothing to draw yet: the text states no outline.' : 'Waiting for a board.';
  }
  return frame.outline ? '' : 'No outline that closes yet: nothing lies on an edge.';
}

/** What can be looked at: both sides, one, or an inner layer in use. */
function choices() {
  const wanted = [['both', 'both sides'], ['top', 'from above'], ['bottom', 'from below'], ...frame.inner.map((l) => [`/${l}`, `inside: ${l}`]), ['solid', 'solid']];
  const now = seen.value || (innerWidth >= 1000 ? 'both' : 'top');
  if ([...seen.options].map((o) => o.value).join() !== wanted.map((w) => w[0]).join()) {
    seen.replaceChildren(...wanted.map(([value, text]) => html('option', { value }, text)));
    seen.value = wanted.some((w) => w[0] === now) ? now : 'both';
  }
  if (sheets.map((s) => s.side).join() !== sidesFor(seen.value).join()) look();
}

/** Sets up the sheets for the chosen side. */
function look() {
  for (const sheet of sheets) sheet.close?.();
  tellCut();
  arm(false);
  if (seen.value === 'solid') {
    try {
      sheets = [new Solid()];
    } catch {
      return flatInstead('This browser shows no solid view: WebGL is off or missing');
    }
    flatOnly = '';
    head();
  } else {
    sheets = sheetsFor(seen.value);
  }
  document.getElementById('turning').hidden = seen.value !== 'solid';
  for (const row of document.querySelectorAll('.solidkey')) row.hidden = seen.value !== 'solid';
  legend(seen.value === 'solid');
  holder.replaceChildren(...sheets.map((s) => s.figure));
  for (const sheet of sheets) {
    if (sheet.solid) solidHands(sheet);
    else hands(sheet);
    sheet.update(frame, foundAt, true);
    sheet.nothing.textContent = nothing();
  }
  settle();
  highlight(view.here, false);
  view.fit();
}

let flatBefore = 'both'; // what was seen before the solid
let flatOnly = ''; // why the flat picture stands in for the solid view

/** Shows the flat picture in place of the solid view, and says why. */
function flatInstead(why) {
  flatOnly = why;
  sheets = [];
  seen.value = innerWidth >= 1000 ? 'both' : 'top';
  look();
  head();
}

let armed = false; // the next click says where to cut

function arm(on) {
  if (on !== armed) holder.classList.toggle('cutting', on);
  document.getElementById('cut').setAttribute('aria-pressed', String(on || Boolean(sheets[0]?.cut)));
  if (on) say('Click where the board is to be cut, or press Enter on an item. Escape leaves it whole.');
  else if (armed && frame) head();
  armed = on;
}

/** Takes the sizes of the window and of the sheets. */
function settle() {
  if (!frame) return;
  view.magnify = innerWidth >= 2400 ? 1.65 : 1;
  // Two sheets stand over each other where that shows the board larger: in a wide room only
  // where it shows it much larger, since eyes go from side to side more easily.
  const { clientWidth: w, clientHeight: h } = holder;
  const gain = view.scaleFor(w, h / 2) / view.scaleFor(w / 2, h);
  holder.classList.toggle('tall', sheets.length > 1 && gain > (w > 1.2 * h ? MUCH : 1));
  // Where the page scrolls, a sheet is as high as its board needs.
  const [x0, y0, x1, y1] = frame.box;
  const high = Math.round(w * 0.75 * (y1 - y0) / Math.max(x1 - x0, 1e-3)) + 110;
  for (const sheet of sheets) {
    sheet.figure.style.height = innerWidth <= 820 ? `min(62vh, ${Math.max(high, 220)}px)` : '';
    sheet.size = { width: sheet.svg.clientWidth || 1, height: sheet.svg.clientHeight || 1 };
    sheet.svg.setAttribute('viewBox', `0 0 ${sheet.size.width} ${sheet.size.height}`);
  }
}

const MUCH = 1.5;

function highlight(id, reveal) {
  view.here = id;
  for (const sheet of sheets) {
    for (const [each, { node }] of sheet.items) {
      node.classList.toggle('here', each === id);
      if (each === id) node.setAttribute('aria-current', 'true');
      else node.removeAttribute('aria-current');
    }
  }
  const first = sheets.find((s) => s.items.has(id));
  if (reveal && first) view.reveal(first, first.items.get(id).item.at);
  view.changed();
}

async function go(what) {
  if (!frame?.go || over) return;
  try {
    const answer = await fetch('go', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(what) });
    if (answer.status === 409) say('The text has changed meanwhile; try again.', true);
    else if (!answer.ok) say('The editor could not be moved there.', true);
  } catch {
    say('No answer from the server.', true);
  }
}

/** The item at a click or a pointer, by its element or by what is drawn there. */
function hitOf(e) {
  return itemOf(e.target) ?? (sheets[0]?.solid && sheets[0].figure.contains(e.target) ? sheets[0].at(e.clientX, e.clientY) : undefined);
}

const screenWay = ({ sheet, item }) => (sheet.solid ? sheet.way(...item.out) : [sheet.mirrored ? -item.out[0] : item.out[0], -item.out[1]]);

function itemOf(target) {
  const node = target?.closest?.('.item');
  const sheet = node && sheets.find((s) => s.list.contains(node));
  return sheet && { sheet, node, item: sheet.items.get(node.dataset.id)?.item };
}

holder.addEventListener('click', (e) => {
  const found = e.target.closest?.('.solid [data-finding]');
  if (found?.dataset.many !== undefined) return view.reveal(sheets[0], found.dataset.many.split(' ').map(Number), true);
  if (found) return go({ finding: Number(found.dataset.finding) - 1, serial: frame.serial });
  const hit = hitOf(e);
  if (armed && hit?.place) {
    arm(false);
    return hit.sheet.cutThrough(hit.place[0], hit.place[1]);
  }
  if (!hit?.item) return note.hide();
  go({ item: hit.item.id });
  return note.show(hit.item, e.clientX, e.clientY, screenWay(hit));
});
holder.addEventListener('pointermove', (e) => {
  if (e.pointerType === 'touch' || e.buttons) return;
  const hit = hitOf(e);
  if (!hit?.item) note.hide();
  else if (note.id !== hit.item.id || note.node.hidden) note.show(hit.item, e.clientX, e.clientY, screenWay(hit));
  else note.place(e.clientX, e.clientY);
});
holder.addEventListener('pointerleave', () => note.hide());
holder.addEventListener('focusin', (e) => {
  const hit = itemOf(e.target);
  if (!hit?.item || !e.target.matches(':focus-visible')) return;
  view.reveal(hit.sheet, hit.item.at);
  const [x, y] = view.point(hit.sheet, ...hit.item.at);
  const r = hit.sheet.figure.getBoundingClientRect();
  note.show(hit.item, r.left + x, r.top + y, screenWay(hit));
});
holder.addEventListener('focusout', () => note.hide());

/** The item that lies nearest in a direction of the screen; straight ahead counts more than aside. */
function neighbour({ sheet, item }, dx, dy) {
  const [x, y] = view.point(sheet, ...item.at);
  let best;
  for (const other of sheet.items.values()) {
    const [ox, oy] = view.point(sheet, ...other.item.at);
    const ahead = (ox - x) * dx + (oy - y) * dy;
    const aside = Math.abs((ox - x) * dy) + Math.abs((oy - y) * dx);
    if (ahead > 0.5 && (!best || ahead + 2 * aside < best.cost)) best = { cost: ahead + 2 * aside, node: other.node };
  }
  return best?.node;
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

document.addEventListener('keydown', (e) => {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  if (e.key === 'Escape') {
    if (armed) arm(false);
    else if (note.node.hidden && sheets[0]?.cut) sheets[0].cutAt(undefined);
    return note.hide();
  }
  const inDrawing = holder.contains(document.activeElement);
  if (!inDrawing && document.activeElement !== document.body) return;
  const hit = itemOf(document.activeElement);
  const arrow = ARROWS[e.key];
  if (arrow && (inDrawing || innerWidth > 820)) {
    e.preventDefault();
    if (e.shiftKey || !hit) view.move(hit?.sheet ?? sheets[0], -60 * arrow[0], -60 * arrow[1]);
    else neighbour(hit, ...arrow)?.focus({ focusVisible: true });
    return;
  }
  if (hit && (e.key === 'Enter' || e.key === ' ')) {
    e.preventDefault();
    if (armed) {
      arm(false);
      sheets[0].cutThrough(...hit.item.at);
      return;
    }
    go({ item: hit.item.id });
    return;
  }
  const act = single[e.key] ?? (sheets[0]?.solid ? turning[e.key] : undefined);
  if (document.getElementById('single').checked && act) {
    e.preventDefault();
    act(sheets[0]);
  }
});

const single = {
  '+': () => view.zoomHere(1.3), '=': () => view.zoomHere(1.3), '-': () => view.zoomHere(1 / 1.3), 0: () => view.fit(),
  u: () => setUnit(unit === 'mm' ? 'mil' : 'mm'),
  s: () => {
    seen.selectedIndex = (seen.selectedIndex + 1) % (seen.options.length - 1); // the last is the solid
    look();
  },
  d: () => {
    if (seen.value !== 'solid') flatBefore = seen.value;
    seen.value = seen.value === 'solid' ? flatBefore : 'solid';
    look();
  },
};

// The views that one key leads through: turn and tilt.
const STANDS = [[-0.5, 0.9, 'aslant'], [0, 0, 'from above'], [0, Math.PI / 2, 'from the south'], [Math.PI / 2, Math.PI / 2, 'from the east'], [Math.PI + 0.5, Math.PI - 0.9, 'aslant, from below'], [Math.PI, Math.PI, 'from below, as the flat bottom']];

// What the keys do to the solid, and the buttons of the same names.
const turning = {
  j: (s) => s.rotate(-TURN, 0), l: (s) => s.rotate(TURN, 0), i: (s) => s.rotate(0, -TURN), k: (s) => s.rotate(0, TURN),
  v: (s) => {
    s.stand = ((s.stand ?? 0) + 1) % STANDS.length;
    const [turn, tilt, words] = STANDS[s.stand];
    Object.assign(s, { turn, tilt });
    say(`Seen ${words}.`);
    view.fit();
  },
  c: (s) => {
    const item = itemOf(document.activeElement)?.item ?? s.items.get(view.here)?.item;
    if (s.cut) s.cutAt(undefined);
    else s.cutThrough(...(item?.at ?? [view.x, view.y]));
  },
  '[': (s) => s.changeCut({ turn: TURN }), ']': (s) => s.changeCut({ turn: -TURN }),
  ',': (s) => s.changeCut({ by: -12 }), '.': (s) => s.changeCut({ by: 12 }),
  o: (s) => s.changeCut({ other: true }),
};
for (const button of document.querySelectorAll('[data-key]')) button.addEventListener('click', () => sheets[0]?.solid && turning[button.dataset.key](sheets[0]));
document.getElementById('cut').addEventListener('click', () => {
  if (sheets[0]?.cut) sheets[0].cutAt(undefined);
  else arm(!armed);
});

function setUnit(next) {
  unit = next;
  for (const radio of document.querySelectorAll('[name=unit]')) radio.checked = radio.value === unit;
  if (!frame) return;
  head();
  note.hide();
  for (const sheet of sheets) sheet.describe(foundAt);
  view.changed();
}

document.querySelectorAll('[name=unit]').forEach((r) => r.addEventListener('change', () => setUnit(r.value)));
seen.addEventListener('change', look);
document.getElementById('fielded').addEventListener('change', (e) => {
  e.target.dataset.chosen = 'yes';
  sheets.forEach((s) => s.field.replaceChildren(...fieldLines(frame?.field)));
  view.changed();
});
document.getElementById('in').addEventListener('click', () => view.zoomHere(1.3));
document.getElementById('out').addEventListener('click', () => view.zoomHere(1 / 1.3));
document.getElementById('fit').addEventListener('click', () => view.fit());
new ResizeObserver(() => {
  settle();
  if (view.fitted) view.fit();
  else view.changed();
}).observe(holder);

matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => {
  for (const sheet of sheets) sheet.paint?.();
  view.changed();
});

legend(false);
if (innerWidth <= 820) for (const d of document.querySelectorAll('aside details')) d.open = false;

const stream = new EventSource('events');
stream.addEventListener('frame', (e) => receive(JSON.parse(e.data)));
stream.addEventListener('cursor', (e) => highlight(JSON.parse(e.data), true));
stream.addEventListener('end', () => {
  over = true;
  stream.close();
  say('The server has closed. This is the last picture; it follows the text no more.', true);
});
stream.addEventListener('error', () => {
  if (!over) say('No answer from the server: it is gone, or busy. This is the last picture; trying again.', true);
});
stream.addEventListener('open', () => {
  if (frame) head();
});
