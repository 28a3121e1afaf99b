"use strict";
/* Names in the margins of the picture, each with a leader to its place, as on a workshop drawing. */

const SVG = "http://www.w3.org/2000/svg", STEP = 19;

function svg(name, settings, ...inside) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(settings)) made.setAttribute(key, value);
  made.append(...inside);
  return made;
}

class Leaders {
  constructor(root, canvas) { [this.root, this.canvas] = [root, canvas]; }

  /* `some`: {text, place (mm), told}; the margins lie beside the part as it is seen. */
  draw(view, some, part) {
    const wide = this.canvas.clientWidth, high = this.canvas.clientHeight;
    this.root.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    const spots = some.map((one) => ({ ...one, at: this._flat(view, one.place, wide, high) }))
      .filter(({ at }) => at[0] > 0 && at[0] < wide && at[1] > 0 && at[1] < high);
    const aim = this.canvas.matches(":focus-visible") ? [this._cross(wide / 2, high / 2)] : [];
    if (!spots.length) { this.root.replaceChildren(...aim); return; }
    const [low, top] = [part.low, part.high], seen = [0, 1, 2, 3, 4, 5, 6, 7].map((corner) =>
      this._flat(view, [0, 1, 2].map((k) => ((corner >> k) & 1 ? top[k] : low[k])), wide, high)[0]);
    spots.sort((one, two) => one.at[0] - two.at[0]);
    const middle = (Math.min(...seen) + Math.max(...seen)) / 2, most = Math.max(1, Math.floor((high - 26) / STEP));
    const half = Math.max(spots.length - most, Math.min(most, spots.filter(({ at }) => at[0] < middle).length)), air = wide > 700 ? 34 : 8;
    const left = Math.max(12, Math.min(...seen) - air), right = Math.min(wide - 12, Math.max(...seen) + air);
    this.root.replaceChildren(...aim, ...this._column(spots.slice(0, half), "left", left, high - 14, wide),
      ...this._column(spots.slice(half), "right", right, high - 14, wide));
  }

  /* Where Enter picks a face: the middle of the picture, marked while the keys are used. */
  _cross(x, y) { return svg("path", { d: `M${x - 9} ${y}h18M${x} ${y - 9}v18`, class: "aim" }); }

  _flat(view, place, wide, high) {
    const away = place.map((value, k) => value - view.target[k]);
    const dot = (way) => way[0] * away[0] + way[1] * away[1] + way[2] * away[2];
    return [wide / 2 + dot(view.right) / view.mm, high / 2 - dot(view.up) / view.mm];
  }

  /* One margin, from the top down; where there is no room for all names, those that are pointed at come first. */
  *_column(spots, side, margin, bottom, wide) {
    const most = Math.max(1, Math.floor((bottom - 12) / STEP));
    const kept = [...spots].sort((one, two) => (two.told || 0) - (one.told || 0)).slice(0, most);
    kept.sort((one, two) => one.at[1] - two.at[1]);
    let low = bottom - (kept.length - 1) * STEP, last = -Infinity;
    for (const one of kept) {
      const y = Math.min(Math.max(one.at[1] - 12, last + STEP, 18), low);
      [last, low] = [y, low + STEP];
      yield this._note(one, margin, y, side, wide);
    }
  }

  /* The words end at the margin and stay on the paper; the leader starts beside them. */
  _note({ text, at, told }, margin, y, side, wide) {
    const run = 7.2 * text.length, sign = side === "left" ? 1 : -1, within = Math.min(run, wide - 24);
    const x = side === "left" ? Math.max(margin, 12 + within) : Math.min(margin, wide - 12 - within);
    const words = svg("text", { x, y: y + 4, "text-anchor": side === "left" ? "end" : "start" }, text);
    const path = `M${x + sign * 5} ${y}L${x + sign * 14} ${y}L${at[0].toFixed(1)} ${at[1].toFixed(1)}`;
    return svg("g", told ? { class: "told" } : {}, svg("path", { d: path }), svg("circle", { cx: at[0], cy: at[1], r: 2.2 }), words);
  }
}
