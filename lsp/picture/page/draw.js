// Sheets: one side of the board each, and the items on them. An item that
// did not change keeps its elements, and with them the focus.
const ORDER = ['plane', 'outline', 'cutout', 'hole', 'plating', 'relief', 'castellation', 'feature', 'fence', 'connector', 'tab', 'gap'];
// What an item is not pointed at by where it has something else: areas, and holes that the edge cuts through.
const AREAS = new Set(['wrap', 'opening', 'plane', 'half hole']);

const EVERYWHERE = { x: -1e5, y: -1e5, width: 2e5, height: 2e5 };

class Sheet {
  constructor(side, title, remark, mirrored) {
    Object.assign(this, { side, mirrored, items: new Map() });
    // The board as a mask: cutouts may overlap, or leave it.
    this.mask = [svg('path', { fill: '#fff' }), svg('path', { fill: '#000' })];
    this.board = `url(#${idOf(`board ${side}`)})`;
    this.ground = svg('path', { class: 'ground' });
    this.list = svg('g', {});
    this.field = svg('g', { class: 'field', 'aria-hidden': 'true' });
    this.world = svg('g', {}, this.ground, this.list, this.field);
    this.over = svg('g', { class: 'over', 'aria-hidden': 'true' });
    this.svg = svg('svg', { role: 'group', 'aria-label': `${title}${remark}`, 'aria-roledescription': 'drawing' },
      svg('defs', {}, svg('mask', { id: this.board.slice(5, -1), maskUnits: 'userSpaceOnUse', ...EVERYWHERE }, ...this.mask)), this.world, this.over);
    this.nothing = html('p', { class: 'nothing' });
    this.figure = html('figure', { class: 'sheet' }, this.svg, html('figcaption', {}, title, html('span', {}, remark)), this.nothing);
    this.figure.dataset.side = side;
  }

  shows(part) {
    return part.side === '' || part.side === this.side;
  }

  /** Brings the sheet to a frame. Items that changed are drawn anew. */
  update(frame, found, first) {
    this.mask[0].setAttribute('d', frame.outline);
    this.mask[1].setAttribute('d', frame.cutouts);
    this.ground.setAttribute('d', frame.outline);
    this.field.replaceChildren(...fieldLines(frame.field));
    this.svg.classList.toggle('fixed', !frame.go);
    const focused = document.activeElement?.closest?.('.item')?.dataset.id;
    const had = focused !== undefined && this.list.contains(document.activeElement);
    const wanted = new Map();
    for (const item of frame.items) {
      const parts = (item.parts ?? []).filter((p) => this.shows(p));
      if (parts.length > 0) wanted.set(item.id, { item, parts, text: item.text });
    }
    for (const [id, old] of this.items) {
      if (wanted.get(id)?.text !== old.text) {
        old.node.remove();
        this.items.delete(id);
      }
    }
    let next = this.list.firstChild;
    const order = [...wanted.values()].sort((a, b) => ORDER.indexOf(a.item.kind) - ORDER.indexOf(b.item.kind));
    for (const w of order) {
      let kept = this.items.get(w.item.id);
      if (!kept) {
        kept = { text: w.text, item: w.item, node: this.draw(w.item, w.parts) };
        if (!first) kept.node.classList.add('fresh');
        this.items.set(w.item.id, kept);
      }
      kept.item = w.item;
      if (kept.node === next) next = next.nextSibling;
      else this.list.insertBefore(kept.node, next);
    }
    this.describe(found);
    if (had && !this.list.contains(document.activeElement)) this.items.get(focused)?.node.focus({ preventScroll: true });
  }

  /** Sets what is read out for each item: its figures and what is found there. */
  describe(found) {
    for (const { item, node } of this.items.values()) {
      const text = sentence(item, found.get(item.id) ?? []);
      if (node.getAttribute('aria-label') !== text) node.setAttribute('aria-label', text);
    }
  }

  draw(item, parts) {
    const edge = parts.filter((p) => !AREAS.has(p.role));
    const round = (edge.length > 0 ? edge : parts).map((p) => p.d).join('');
    const clip = edge.length === 0 ? this.board : undefined;
    const node = svg('g', { class: `item ${item.kind}`, role: 'button', tabindex: 0 },
      svg('path', { class: 'edge-of-halo', d: round, mask: clip }),
      svg('path', { class: 'halo', d: round, mask: clip }),
      ...parts.flatMap((p, i) => this.part(item, p, i)));
    node.dataset.id = item.id;
    if (item.of?.includes('premetallised')) node.classList.add('premetallised');
    return node;
  }

  part(item, part, number) {
    const role = part.role.replace(' ', '');
    const shape = svg('path', { class: `shape ${role}${part.nominal ? ' nominal' : ''}`, d: part.d });
    if (part.role === 'plated') shape.dataset.width = part.w ?? 0;
    if (part.role === 'bare') return [shape, svg('path', { class: 'shape bare over', d: part.d })];
    const id = idOf(`${this.side} ${item.id} ${number}`);
    const nodes = [shape];
    if (part.less) {
      shape.setAttribute('mask', `url(#${id})`);
      nodes.push(hole(id, svg('path', { d: part.d, fill: '#fff' }), part.less));
    }
    if (part.role === 'wrap' || part.role === 'opening') {
      // The border of the union: a line round every piece, and nothing of it inside any.
      nodes.push(svg('path', { class: `rim ${part.role}-rim`, d: part.d, mask: `url(#${id})` }),
        hole(id, svg('rect', { ...EVERYWHERE, fill: '#fff' }), part.d));
    }
    return part.clip ? [svg('g', { mask: this.board }, ...nodes)] : nodes;
  }
}

/** A mode's lines of equal field, the stronger the heavier, and a cross where it is strongest. */
function fieldLines(field) {
  if (!field || !document.getElementById('fielded')?.checked) return [];
  const [x, y] = field.at;
  return [...field.lines.map((l) => svg('path', { d: l.d, 'stroke-width': 0.6 + 2.4 * l.share })),
    svg('path', { class: 'strongest', d: `M${x - 1} ${y - 1}L${x + 1} ${y + 1}M${x - 1} ${y + 1}L${x + 1} ${y - 1}` })];
}

/** A name for an element that may stand in url(): names of the text may hold anything. */
function idOf(text) {
  return text.replace(/[^a-zA-Z0-9]/gu, (c) => `_${c.codePointAt(0)}_`);
}

/** A mask that shows something, but nothing of what is taken away. */
function hole(id, shown, less) {
  return svg('mask', { id, maskUnits: 'userSpaceOnUse', ...EVERYWHERE }, shown, svg('path', { d: less, fill: '#000' }));
}

/** The sides that the sheets of a choice show. */
const sidesFor = (seen) => (seen === 'both' ? ['top', 'bottom'] : [seen]);

function sheetsFor(seen) {
  const above = () => new Sheet('top', 'Top', ', seen from above', false);
  const below = () => new Sheet('bottom', 'Bottom', ', seen from below', true);
  if (seen === 'top') return [above()];
  if (seen === 'bottom') return [below()];
  if (seen === 'both') return [above(), below()];
  return [new Sheet(seen, `Inside: ${seen.slice(1)}`, ', seen from above', false)];
}
