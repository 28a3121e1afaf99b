"use strict";
/* How the part is looked at: turned about its own upright, tilted, moved and brought nearer.  There is no roll, so that up
   stays up.  Angles are radians; `mm` is how many millimetres one pixel of the page shows. */

const LOOKS = {
  corner: [0.6, 0.5], flat: [0.28, -0.58], front: [0, 0], back: [Math.PI, 0], left: [-Math.PI / 2, 0], right: [Math.PI / 2, 0],
  top: [0, Math.PI / 2], bottom: [0, -Math.PI / 2],
};

class Turning {
  constructor(canvas, changed) {
    [this.canvas, this.changed] = [canvas, changed];
    [this.round, this.tilt, this.mm, this.target] = [...LOOKS.corner, 0.1, [0, 0, 0]];
    this.held = new Map();
    canvas.addEventListener("pointerdown", (event) => this._down(event));
    canvas.addEventListener("pointermove", (event) => this._move(event));
    for (const name of ["pointerup", "pointercancel"]) canvas.addEventListener(name, (event) => this._up(event));
    canvas.addEventListener("wheel", (event) => this._wheel(event), { passive: false });
    canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  }

  view() {
    const [a, e] = [this.round, this.tilt];
    const [sa, ca, se, ce] = [Math.sin(a), Math.cos(a), Math.sin(e), Math.cos(e)];
    return { right: [ca, 0, -sa], up: [-sa * se, ce, -ca * se], out: [sa * ce, se, ca * ce], target: this.target, mm: this.mm };
  }

  /* The whole part, in the room that margins and title block leave (pixels from left, top, right and bottom). */
  fit(part, room) {
    this.part = part;
    const { right, up } = this.view(), low = [Infinity, Infinity], high = [-Infinity, -Infinity];
    for (let corner = 0; corner < 8; corner++) {
      const at = [0, 1, 2].map((k) => ((corner >> k) & 1 ? part.high[k] : part.low[k]));
      [right, up].forEach((way, i) => {
        const along = way[0] * at[0] + way[1] * at[1] + way[2] * at[2];
        [low[i], high[i]] = [Math.min(low[i], along), Math.max(high[i], along)];
      });
    }
    const [wide, high_] = [this.canvas.clientWidth, this.canvas.clientHeight];
    const inner = [Math.max(60, wide - room.left - room.right), Math.max(60, high_ - room.top - room.bottom)];
    this.mm = Math.max((high[0] - low[0]) / inner[0], (high[1] - low[1]) / inner[1], 1e-4);
    this.target = part.high.map((value, k) => (value + part.low[k]) / 2);
    this._shift((room.left - room.right) / 2, (room.top - room.bottom) / 2);
    this.changed();
  }

  /* A flat part is first seen as it lies on a table, any other as it stands. */
  look(name, part, room) {
    const size = part.high.map((value, k) => value - part.low[k]);
    const kind = name === "corner" && size[2] < 0.6 * Math.min(size[0], size[1]) ? "flat" : name;
    [this.round, this.tilt] = LOOKS[kind];
    this.fit(part, room);
  }

  turn(dx, dy) {
    this.round = (this.round - dx) % (2 * Math.PI);
    this.tilt = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, this.tilt + dy));
    this.changed();
  }

  move(dx, dy) { this._shift(dx, dy); this.changed(); }

  _shift(dx, dy) {
    const { right, up } = this.view();
    this.target = this.target.map((at, k) => at - dx * this.mm * right[k] + dy * this.mm * up[k]);
  }

  /* Nearer (factor above 1) or farther; what lies under (x, y) stays there. */
  zoom(factor, x = this.canvas.clientWidth / 2, y = this.canvas.clientHeight / 2) {
    const was = this.mm, [cx, cy] = [x - this.canvas.clientWidth / 2, y - this.canvas.clientHeight / 2];
    this.mm = Math.max(2e-4, Math.min(20, this.mm / factor));
    const left = was / this.mm - 1;
    this.move(-cx * left, -cy * left);
  }

  _place(event) {
    const box = this.canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  _down(event) {
    this.canvas.setPointerCapture(event.pointerId);
    this.held.set(event.pointerId, this._place(event));
    this.travelled = this.held.size > 1 ? Infinity : 0;
  }

  _move(event) {
    const before = this.held.get(event.pointerId);
    if (!before) return;
    const now = this._place(event), [dx, dy] = [now[0] - before[0], now[1] - before[1]];
    this.travelled += Math.abs(dx) + Math.abs(dy);
    if (this.held.size === 2) this._pinch(event.pointerId, now);
    this.held.set(event.pointerId, now);
    if (this.held.size !== 1) return;
    if (event.buttons & 6 || event.shiftKey) this.move(dx, dy);
    else if (this.travelled > 3) this.turn(dx * 0.009, dy * 0.009);
  }

  _pinch(id, now) {
    const [one, two] = [...this.held.entries()].map(([key, place]) => [key, place]);
    const still = one[0] === id ? two[1] : one[1], before = this.held.get(id);
    const apart = (place) => Math.max(10, Math.hypot(place[0] - still[0], place[1] - still[1]));
    this.move((now[0] - before[0]) / 2, (now[1] - before[1]) / 2);
    this.zoom(apart(now) / apart(before), (now[0] + still[0]) / 2, (now[1] + still[1]) / 2);
  }

  _up(event) { this.held.delete(event.pointerId); }

  _wheel(event) {
    event.preventDefault();
    const step = event.deltaMode === 1 ? 30 : 1;
    this.zoom(Math.exp(-Math.max(-300, Math.min(300, event.deltaY * step)) * 0.0016), ...this._place(event));
  }

  /* Was the pointer only pressed, not dragged? */
  get clicked() { return this.travelled <= 4; }
}
