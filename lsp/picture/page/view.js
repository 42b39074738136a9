// What of the board is seen: a middle in mm and a scale, shared by the sheets.
const view = {
  k: 10, x: 0, y: 0, drawn: { k: 0, x: 0, y: 0 }, resting: 0, fitted: true, magnify: 1, here: '', dimensioned: '', waiting: 0,

  /** Where a point of the board lies on a sheet, px. */
  point(sheet, x, y) {
    if (sheet.solid) return sheet.point(x, y);
    const { width, height } = sheet.size;
    return [width / 2 + (sheet.mirrored ? -1 : 1) * (x - this.x) * this.k, height / 2 - (y - this.y) * this.k];
  },

  /** The point of the board under a point of a sheet. */
  board(sheet, px, py) {
    const { width, height } = sheet.size;
    return [this.x + (sheet.mirrored ? -1 : 1) * (px - width / 2) / this.k, this.y - (py - height / 2) / this.k];
  },

  /** The scale at which everything fits a sheet, with room for names round it. */
  scaleFor(width, height) {
    const [x0, y0, x1, y1] = frame.box;
    const room = Math.min(width * 0.3, (width < 420 ? 84 : 150) * this.magnify);
    const above = Math.min(height * 0.4, (width < 420 ? 96 : 110) * this.magnify);
    return Math.max(1e-4, Math.min((width - room) / Math.max(x1 - x0, 1e-3), (height - above) / Math.max(y1 - y0, 1e-3)));
  },

  fit() {
    if (!frame || sheets.length === 0) return;
    this.fitted = true;
    if (sheets[0].solid) {
      sheets[0].fit();
      return this.changed();
    }
    const [x0, y0, x1, y1] = frame.box;
    this.k = this.scaleFor(sheets[0].size.width, sheets[0].size.height);
    this.x = (x0 + x1) / 2;
    this.y = (y0 + y1) / 2;
    return this.changed();
  },

  /** Zooms about a point of the board. */
  zoom(factor, x = this.x, y = this.y) {
    const k = Math.min(Math.max(this.k * factor, 0.002), 5000);
    this.x = x + (this.x - x) * this.k / k;
    this.y = y + (this.y - y) * this.k / k;
    this.k = k;
    this.fitted = false;
    this.changed();
  },

  /** Zooms about what is pointed at with the keyboard, or the cursor's statement, if it is in sight. */
  zoomHere(factor) {
    const hit = itemOf(document.activeElement);
    const sheet = hit?.sheet ?? sheets.find((s) => s.items.has(this.here));
    const item = hit?.item ?? sheet?.items.get(this.here)?.item;
    if (!item) return sheets[0]?.solid ? sheets[0].zoom(factor) : this.zoom(factor);
    const [px, py] = this.point(sheet, ...item.at);
    const seen = px > 0 && py > 0 && px < sheet.size.width && py < sheet.size.height;
    if (sheet.solid) return seen ? sheet.zoom(factor, px, py) : sheet.zoom(factor);
    return seen ? this.zoom(factor, ...item.at) : this.zoom(factor);
  },

  move(sheet, dx, dy) {
    if (sheet?.solid) {
      sheet.move(dx, dy);
    } else {
      this.x -= (sheet?.mirrored ? -1 : 1) * dx / this.k;
      this.y += dy / this.k;
    }
    this.fitted = false;
    this.changed();
  },

  /** Draws with the next picture of the screen, however often it is called. */
  changed() {
    if (!this.waiting) this.waiting = requestAnimationFrame(() => this.step());
  },

  /** A board of many items is moved as a picture of itself, and drawn when it comes to rest. */
  step() {
    this.waiting = 0;
    clearTimeout(this.resting);
    if (sheets[0]?.solid) {
      const many = sheets[0].items.size > MANY;
      sheets[0].draw(many);
      if (many) this.resting = setTimeout(() => sheets[0]?.draw?.(), REST);
      return undefined;
    }
    const moved = this.k !== this.drawn.k || this.x !== this.drawn.x || this.y !== this.drawn.y;
    const heavy = sheets.some((s) => s.items.size > MANY);
    if (!heavy || !moved || this.drawn.k === 0) return this.apply();
    for (const sheet of sheets) {
      const { width, height } = sheet.size;
      const a = this.k / this.drawn.k;
      const dx = (width / 2) * (1 - a) + (sheet.mirrored ? -1 : 1) * (this.drawn.x - this.x) * this.k;
      const dy = (height / 2) * (1 - a) + (this.y - this.drawn.y) * this.k;
      sheet.svg.style.transform = `matrix(${a}, 0, 0, ${a}, ${dx}, ${dy})`;
    }
    this.resting = setTimeout(() => this.apply(), REST);
    return undefined;
  },

  apply() {
    if (!frame) return;
    Object.assign(this.drawn, { k: this.k, x: this.x, y: this.y });
    scalePatterns(this.k, this.magnify);
    for (const sheet of sheets) {
      sheet.svg.style.transform = '';
      sheet.svg.style.willChange = sheet.items.size > MANY ? 'transform' : '';
      const [x, y] = this.point(sheet, 0, 0);
      sheet.world.setAttribute('transform', `translate(${x} ${y}) scale(${sheet.mirrored ? -this.k : this.k} ${-this.k})`);
      for (const wall of sheet.list.querySelectorAll('[data-width]')) {
        // The wall's copper is microns: it has a width to be seen by, until the true one is more.
        wall.style.strokeWidth = `${Math.max(4.5 * this.magnify, wall.dataset.width * this.k)}px`;
      }
      layOver(sheet, frame, this);
    }
  },

  /** Brings a point of the board into sight if it is not. */
  reveal(sheet, [x, y], near) {
    const p = this.point(sheet, x, y);
    const { width, height } = sheet.size;
    if (near) this.k *= 3;
    else if (p[0] >= 10 && p[1] >= 10 && p[0] <= width - 10 && p[1] <= height - 10) return;
    [this.x, this.y] = [x, y];
    this.fitted = false;
    this.changed();
  },
};

const MANY = 400; // items of a sheet that are drawn anew with every step of a move
const REST = 140; // ms without a step, after which it has come to rest

/** Wheel, drag and pinch on a sheet. A press that does not move is a click. */
function hands(sheet) {
  const down = new Map();
  let dragged = false;
  const spot = (e) => {
    const r = sheet.figure.getBoundingClientRect();
    return [e.clientX - r.left, e.clientY - r.top];
  };
  sheet.svg.addEventListener('wheel', (e) => {
    e.preventDefault();
    const lines = e.deltaMode === 1 ? 16 : 1;
    view.zoom(Math.exp(-Math.max(-240, Math.min(240, e.deltaY * lines)) * 0.0018), ...view.board(sheet, ...spot(e)));
  }, { passive: false });
  sheet.svg.addEventListener('pointerdown', (e) => {
    if (e.button > 1) return;
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
    if (dragged && down.size === 2) {
      const other = [...down.entries()].find(([id]) => id !== e.pointerId)[1].at;
      const apart = (p) => Math.max(8, Math.hypot(p[0] - other[0], p[1] - other[1]));
      view.zoom(apart(now) / apart(finger.at), ...view.board(sheet, (now[0] + other[0]) / 2, (now[1] + other[1]) / 2));
      view.move(sheet, (now[0] - finger.at[0]) / 2, (now[1] - finger.at[1]) / 2);
    } else if (dragged) {
      view.move(sheet, now[0] - finger.at[0], now[1] - finger.at[1]);
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
