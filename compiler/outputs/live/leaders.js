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

  /* `some`: {text, place (mm), told}.  `bottom`: where the title block begins at the right. */
  draw(view, some, block) {
    const wide = this.canvas.clientWidth, high = this.canvas.clientHeight;
    this.root.setAttribute("viewBox", `0 0 ${wide} ${high}`);
    const spots = some.map((one) => ({ ...one, at: this._flat(view, one.place, wide, high) }))
      .filter(({ at }) => at[0] > 0 && at[0] < wide && at[1] > 0 && at[1] < high);
    spots.sort((one, two) => one.at[0] - two.at[0]);
    const half = Math.ceil(spots.length / 2);
    this.root.replaceChildren(
      ...this._column(spots.slice(0, half), "left", wide, high - 14),
      ...this._column(spots.slice(half), "right", wide, block ? high - block.height - 14 : high - 14));
  }

  _flat(view, place, wide, high) {
    const away = place.map((value, k) => value - view.target[k]);
    const dot = (way) => way[0] * away[0] + way[1] * away[1] + way[2] * away[2];
    return [wide / 2 + dot(view.right) / view.mm, high / 2 - dot(view.up) / view.mm];
  }

  /* One margin, from the top down; where there is no room for all names, those that are pointed at come first. */
  *_column(spots, side, wide, bottom) {
    const most = Math.max(1, Math.floor((bottom - 12) / STEP));
    const kept = [...spots].sort((one, two) => (two.told || 0) - (one.told || 0)).slice(0, most);
    kept.sort((one, two) => one.at[1] - two.at[1]);
    let low = bottom - (kept.length - 1) * STEP, last = -Infinity;
    for (const one of kept) {
      const y = Math.min(Math.max(one.at[1] - 12, last + STEP, 18), low), x = side === "left" ? 12 : wide - 12;
      [last, low] = [y, low + STEP];
      yield this._note(one, x, y, side);
    }
  }

  _note({ text, at, told }, x, y, side) {
    const words = svg("text", { x, y: y + 4, "text-anchor": side === "left" ? "start" : "end" }, text);
    const run = Math.min(7.1 * text.length + 6, 240), sign = side === "left" ? 1 : -1;
    const end = x + sign * run, knee = end + sign * 8;
    const path = `M${end} ${y}L${knee} ${y}L${at[0].toFixed(1)} ${at[1].toFixed(1)}`;
    return svg("g", told ? { class: "told" } : {}, svg("path", { d: path }), svg("circle", { cx: at[0], cy: at[1], r: 2.2 }), words);
  }
}
