// The solid view: one sheet of the page whose picture is drawn by WebGL, with
// names and marks laid over it as on the flat sheets. It is a sheet like the
// others to the rest of the page.
const TURN = Math.PI / 12; // of one key
const LOW = 0.12; // of the way to the eye that is upright, up to which the faces are hardly seen
const PALETTE = {
  core: ['--board', '--gap', 0.16], ground: ['--board', '--soft', 0.1], plated: ['--plated', '--board', 0.12], bare: ['--board', '--gap', 0.55],
  wrap: ['--board', '--plated', 0.42], copper: ['--board', '--copper', 0.75], plane: ['--board', '--plated', 0.13], mask: ['--mask', '--mask', 0, 0.17],
  opening: ['--mask', '--mask', 0, 0.05], tab: ['--board', '--tab', 0.3], body: ['--paper', '--ink', 0.12], inner: ['--board', '--gap', 0.2],
  line: ['--ink', '--ink', 0], laid: ['--copper', '--plated', 0.35], core2: ['--board', '--gap', 0.36], halo: ['--halo', '--halo', 0], field: ['--field', '--field', 0],
};

class Solid {
  constructor() {
    Object.assign(this, { side: 'solid', solid: true, mirrored: false, items: new Map(), turn: -0.5, tilt: 0.9, z: 0, list: svg('g', {}), field: svg('g', {}), over: svg('g', { class: 'over', 'aria-hidden': 'true' }) });
    this.canvas = html('canvas', { 'aria-hidden': 'true' });
    this.svg = svg('svg', { role: 'group', 'aria-label': 'Solid, seen from where it is turned to', 'aria-roledescription': 'drawing' }, this.list, this.over);
    this.nothing = html('p', { class: 'nothing' });
    this.remark = html('span', {}, '');
    this.figure = html('figure', { class: 'sheet solid' }, this.canvas, this.svg, html('figcaption', {}, 'Solid', this.remark), this.nothing);
    this.figure.dataset.side = this.side;
    this.renderer = new Renderer(this.canvas);
    this.paint();
    this.canvas.addEventListener('webglcontextlost', () => { if (sheets.includes(this)) flatInstead('The browser has taken the solid view\'s drawing away'); });
  }

  /** Gives the graphics back. */
  close() {
    this.closed = true;
    this.renderer.gl.getExtension('WEBGL_lose_context')?.loseContext();
  }

  /** Takes the colours of the page, light or dark. */
  paint() {
    const style = getComputedStyle(document.documentElement);
    const of = (name) => /#(..)(..)(..)/.exec(style.getPropertyValue(name)).slice(1).map((h) => parseInt(h, 16) / 255);
    ROLES.forEach((role, i) => {
      const [a, b, share, alpha = 1] = PALETTE[role];
      const [p, q] = [of(a), of(b)];
      this.renderer.colours.set([0, 1, 2].map((c) => p[c] + (q[c] - p[c]) * share).concat(alpha), 4 * i);
    });
  }

  update(next, found) {
    const focused = this.list.contains(document.activeElement) ? document.activeElement.dataset.id : undefined;
    const old = this.items;
    this.items = new Map();
    next.items.forEach((item, number) => {
      if (!item.parts?.length) return;
      const node = old.get(item.id)?.node ?? this.handle(item);
      this.items.set(item.id, { item, node, number });
    });
    for (const [id, { node }] of old) if (!this.items.has(id)) node.remove();
    const order = [...this.items.values()].sort((a, b) => ORDER.indexOf(a.item.kind) - ORDER.indexOf(b.item.kind));
    let at = this.list.firstChild;
    for (const { node } of order) {
      if (node === at) at = at.nextSibling;
      else this.list.insertBefore(node, at);
    }
    this.frame = next;
    const built = buildSolid(next);
    this.built = built;
    this.renderer.load(built);
    this.z = built.high / 2;
    if (this.cut) this.cutAt(this.cut);
    this.describe(found);
    if (focused !== undefined && !this.list.contains(document.activeElement)) this.items.get(focused)?.node.focus({ preventScroll: true });
  }

  /** What the keyboard and screen readers have of an item: a ring where it is. */
  handle(item) {
    const node = svg('g', { class: 'item handle', role: 'button', tabindex: 0 }, svg('circle', { r: 13 }));
    node.dataset.id = item.id;
    return node;
  }

  describe(found) {
    for (const { item, node } of this.items.values()) {
      const text = sentence(item, found.get(item.id) ?? []);
      if (node.getAttribute('aria-label') !== text) node.setAttribute('aria-label', text);
    }
    this.caption();
  }

  /** Says how the board is drawn, and what its cut shows. */
  caption() {
    const { thickness, drawn } = this.frame;
    this.remark.textContent = thickness > 0 ? `, ${length(thickness)} thick` : `, thickness not stated: drawn ${length(drawn)} thick`;
    if (this.cut) this.remark.textContent += ', cut: its layers are listed beside it';
    tellCut(this.cut && readCut(this.frame, this.along));
  }

  /** Right, up and towards the eye, as the board has them. */
  axes() {
    const [s, c, S, C] = [Math.sin(this.turn), Math.cos(this.turn), Math.sin(this.tilt), Math.cos(this.tilt)];
    return { right: [c, s, 0], up: [-s * C, c * C, S], eye: [s * S, -c * S, C] };
  }

  /** Where a point of the board lies on the sheet, px; on the face that is seen where no height is given. */
  point(x, y, z = this.tilt <= Math.PI / 2 ? this.built?.high ?? 0 : 0) {
    const { right, up } = this.axes();
    const p = [x - view.x, y - view.y, z - this.z];
    return [this.size.width / 2 + view.k * dot3(right, p), this.size.height / 2 - view.k * dot3(up, p)];
  }

  /** Tells that a place is on the half that is cut away. */
  cutAway(x, y) {
    const c = this.cut;
    return Boolean(c) && (x - c.x) * c.nx + (y - c.y) * c.ny > 1e-6;
  }

  /** Tells that no axis of the board is looked along, so that its lengths are foreshortened. */
  aslant() {
    return !this.axes().eye.some((n) => Math.abs(n) > 1 - 1e-6);
  }

  /** Tells that an item is cut away, lies on the other face alone, or is hidden by the board: it is not named then. */
  unseen(item) {
    if (this.cutAway(...item.at)) return true;
    const { eye } = this.axes();
    // Looked at along the board, what does not stand towards the eye is behind it or in it.
    const to = item.out[0] * eye[0] + item.out[1] * eye[1];
    const inward = item.out[0] === 0 && item.out[1] === 0;
    if (Math.abs(eye[2]) < LOW && !(this.cut && inward) && (inward ? item.kind !== undefined : to < -LOW)) return true;
    const seen = this.tilt <= Math.PI / 2 ? 'top' : 'bottom';
    return (item.parts ?? [{ side: '' }]).every((p) => p.side !== '' && p.side !== seen);
  }

  /** A direction of the board on the screen, as long as it looks at most. */
  way(x, y) {
    const { right, up } = this.axes();
    const [dx, dy] = [right[0] * x + right[1] * y, -(up[0] * x + up[1] * y)];
    const l = Math.hypot(dx, dy);
    return l < 0.15 ? [0, 0] : [dx / l, dy / l];
  }

  camera() {
    const { right, up, eye } = this.axes();
    const [x0, y0, x1, y1] = this.frame.box;
    const reach = Math.hypot(x1 - x0, y1 - y0, this.built.high) + Math.hypot(view.x - (x0 + x1) / 2, view.y - (y0 + y1) / 2) + 10;
    const [kx, ky] = [2 * view.k / this.size.width, 2 * view.k / this.size.height];
    const at = [view.x, view.y, this.z];
    const m = [
      right[0] * kx, up[0] * ky, -eye[0] / reach, 0, right[1] * kx, up[1] * ky, -eye[1] / reach, 0, right[2] * kx, up[2] * ky, -eye[2] / reach, 0,
      -dot3(right, at) * kx, -dot3(up, at) * ky, dot3(eye, at) / reach, 1,
    ];
    const light = [0, 1, 2].map((i) => -0.35 * right[i] + (eye[2] < 0 ? -0.45 : 0.45) * up[i] + 0.82 * eye[i]); // from behind the eye, both faces alike
    const c = this.cut;
    return {
      matrix: m, eye, light, k: view.k, perMM: 1 / reach, reach, grain: 2 ** Math.ceil(Math.log2(6 / view.k)),
      fielded: document.getElementById('fielded').checked,
      cut: c ? [c.nx, c.ny, c.x * c.nx + c.y * c.ny, 1] : [0, 0, 0, 0],
    };
  }

  /** Draws the board. What the page itself takes for it, ms, is kept in `took`. */
  draw(moving) {
    if (!this.built || this.closed) return;
    const start = performance.now();
    const scale = Math.min(devicePixelRatio || 1, 2);
    const [w, h] = [Math.round(this.size.width * scale), Math.round(this.size.height * scale)];
    if (this.canvas.width !== w || this.canvas.height !== h) [this.canvas.width, this.canvas.height] = [w, h];
    const number = (id) => this.items.get(id)?.number ?? -1;
    const focus = this.list.contains(document.activeElement) ? document.activeElement.dataset.id : '';
    this.renderer.lit.fill(-1);
    this.renderer.lit.set([...new Set([view.here, view.dimensioned, focus, ...(this.lightened ?? [])].map(number))].slice(0, 10));
    if (this.cut && this.cutFor !== view.k) this.cap();
    this.renderer.paint(this.camera());
    if (!moving || this.items.size <= MANY) this.rest();
    else this.over.replaceChildren();
    this.took = performance.now() - start;
  }

  /** Lays names, marks and handles over the picture: where there are many, in steps of their own. */
  rest() {
    clearTimeout(this.placing);
    if (this.items.size <= MANY) {
      layOver(this, this.frame, view);
      this.place();
      return;
    }
    this.placing = setTimeout(() => {
      layOver(this, this.frame, view);
      this.placing = setTimeout(() => this.place(), 0);
    }, 0);
  }

  /** Places the handles, so many at a time. */
  place(from = 0) {
    const all = [...this.items.values()];
    for (const { item, node } of all.slice(from, from + MANY)) {
      const [x, y] = this.point(...item.at);
      node.setAttribute('transform', `translate(${x} ${y})`);
    }
    if (from + MANY < all.length) this.placing = setTimeout(() => this.place(from + MANY), 0);
  }

  /** The item at a point of the window, and the place on the board; nothing beside the board. */
  at(clientX, clientY) {
    if (!this.built) return undefined;
    const r = this.figure.getBoundingClientRect();
    const [px, py] = [clientX - r.left, clientY - r.top];
    const scale = this.canvas.width / this.size.width;
    const camera = this.camera();
    const { item, depth } = this.renderer.pick(camera, Math.round(px * scale), Math.round(py * scale));
    const found = this.frame.items[item];
    if (!found) return undefined;
    const { right, up, eye } = this.axes();
    const [a, b, c] = [(px - this.size.width / 2) / view.k, (this.size.height / 2 - py) / view.k, (1 - 2 * depth) * camera.reach];
    const place = [0, 1, 2].map((i) => [view.x, view.y, this.z][i] + a * right[i] + b * up[i] + c * eye[i]);
    return { sheet: this, item: found, node: this.items.get(found.id)?.node, place };
  }

  /** Moves by px of the screen. */
  move(dx, dy) {
    const { right, up } = this.axes();
    const by = [0, 1, 2].map((i) => (-dx * right[i] + dy * up[i]) / view.k);
    view.x += by[0];
    view.y += by[1];
    this.z += by[2];
  }

  /** Zooms about a point of the sheet, px. */
  zoom(factor, px = this.size.width / 2, py = this.size.height / 2) {
    const k = Math.min(Math.max(view.k * factor, 0.002), 5000);
    const [dx, dy] = [px - this.size.width / 2, py - this.size.height / 2];
    const step = 1 - view.k / k;
    this.move(-dx * step, -dy * step);
    view.k = k;
    view.fitted = false;
    view.changed();
  }

  rotate(by, tilt) {
    this.turn = (this.turn + by) % (2 * Math.PI);
    this.tilt = Math.max(0, Math.min(Math.PI, this.tilt + tilt));
    view.changed();
  }

  /** Fits everything as it is turned now. */
  fit() {
    const [x0, y0, x1, y1] = this.frame.box;
    const { right, up } = this.axes();
    const high = this.built?.high ?? 0;
    const span = (v) => Math.abs(v[0]) * (x1 - x0) + Math.abs(v[1]) * (y1 - y0) + Math.abs(v[2]) * high;
    const { width, height } = this.size;
    const room = Math.min(width * 0.25, 150 * view.magnify);
    view.k = Math.max(1e-4, Math.min((width - room) / Math.max(span(right), 1e-3), (height - room) / Math.max(span(up), 1e-3)));
    [view.x, view.y, this.z] = [(x0 + x1) / 2, (y0 + y1) / 2, high / 2];
  }

  /** Cuts the board by a plane, or closes the cut. */
  cutAt(cut) {
    this.cut = cut;
    this.along = cut && alongCut(this.frame, this.built, cut);
    this.cap();
    this.caption();
    view.changed();
  }

  cap() {
    this.cutFor = view.k;
    this.renderer.loadCut(this.cut && buildCut(this.frame, this.built, this.cut, this.along, view.k));
  }

  cutThrough(x, y) {
    this.cutAt(cutThrough(this.built.bounds, x, y, this.axes().eye));
    document.getElementById('sliced').scrollIntoView({ block: innerWidth > 820 ? 'start' : 'nearest' });
  }

  /** Turns the cut about its point, moves it along, or takes the other half away. */
  changeCut({ turn = 0, by = 0, other = false }) {
    if (!this.cut) return say('There is no cut yet: press c on an item, or Cut and click.');
    const { x, y, nx, ny } = this.cut;
    const [s, c] = [Math.sin(turn), Math.cos(turn)];
    const n = other ? [-nx, -ny] : [nx * c - ny * s, nx * s + ny * c];
    const step = by / view.k;
    return this.cutAt({ x: x + nx * step, y: y + ny * step, nx: n[0], ny: n[1] });
  }
}

/** Drag, wheel and fingers on the solid: one turns it, with Shift or the other button it moves. */
function solidHands(sheet) {
  const down = new Map();
  let dragged = false;
  const spot = (e) => {
    const r = sheet.figure.getBoundingClientRect();
    return [e.clientX - r.left, e.clientY - r.top];
  };
  sheet.svg.addEventListener('wheel', (e) => {
    e.preventDefault();
    const lines = e.deltaMode === 1 ? 16 : 1;
    sheet.zoom(Math.exp(-Math.max(-240, Math.min(240, e.deltaY * lines)) * 0.0018), ...spot(e));
  }, { passive: false });
  sheet.svg.addEventListener('contextmenu', (e) => e.preventDefault());
  sheet.svg.addEventListener('pointerdown', (e) => {
    if (down.size === 0) dragged = false;
    down.set(e.pointerId, { at: spot(e), from: spot(e) });
  });
  sheet.svg.addEventListener('pointermove', (e) => {
    const finger = down.get(e.pointerId);
    if (!finger) return;
    const now = spot(e);
    if (!dragged && Math.hypot(now[0] - finger.from[0], now[1] - finger.from[1]) > 5) {
      dragged = true;
      sheet.svg.classList.add('drag');
      sheet.svg.setPointerCapture(e.pointerId);
      note.hide();
    }
    const [dx, dy] = [now[0] - finger.at[0], now[1] - finger.at[1]];
    if (dragged && down.size === 2) {
      const other = [...down.entries()].find(([id]) => id !== e.pointerId)[1].at;
      const apart = (p) => Math.max(8, Math.hypot(p[0] - other[0], p[1] - other[1]));
      sheet.zoom(apart(now) / apart(finger.at), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
      sheet.move(dx / 2, dy / 2);
    } else if (dragged && (e.shiftKey || e.buttons > 1)) {
      view.move(sheet, dx, dy);
    } else if (dragged) {
      sheet.rotate(-dx * 0.008, -dy * 0.008);
    }
    finger.at = now;
  });
  const up = (e) => {
    down.delete(e.pointerId);
    sheet.svg.classList.toggle('drag', dragged && down.size > 0);
  };
  sheet.svg.addEventListener('pointerup', up);
  sheet.svg.addEventListener('pointercancel', up);
  sheet.svg.addEventListener('click', (e) => {
    if (dragged) e.stopPropagation();
    dragged = false;
  }, true);
}
