"use strict";
/* The words beside the picture: messages, things, the recipe's lines, the readings.  All text is put in as text. */

function made(name, settings = {}, ...inside) {
  const one = document.createElement(name);
  for (const [key, value] of Object.entries(settings)) {
    if (key === "class") one.className = value;
    else if (key === "on") for (const [event, act] of Object.entries(value)) one.addEventListener(event, act);
    else one.setAttribute(key, value);
  }
  one.append(...inside);
  return one;
}

const pick = (selector) => document.querySelector(selector);
const figure = (value, places = 2) => (value === null || value === undefined ? "" : (Math.abs(value) < 5e-3 ? 0 : value).toFixed(places));

function showBlock(state, part) {
  document.title = `${part ? part.title || state.file : state.file} - makegood`;
  pick("#title").textContent = (part && part.title) || state.title || state.file;
  const rows = [];
  const cell = (name, said, kind) => said && rows.push(made("div", { class: kind }, made("dt", {}, name), made("dd", {}, said)));
  for (const name of ["fits", "broke", "changed"]) cell(name, (part ? part.card : state.card)[name], "row");
  if (part) {
    cell("size, mm", part.box.map((one) => figure(one)).join(" x "), "");
    cell("plastic", part.card.plastic || "not said", "");
    cell("mass, solid", part.mass === null ? "not known" : `${figure(part.mass)} g`, "last");
    cell("volume", `${figure(part.volume / 1000)} cm3`, "");
    cell("pieces", String(part.pieces), "");
    cell("make", String(part.off), "last");
  }
  pick("#facts").replaceChildren(...rows);
}

function showStanding(state, link) {
  const said = pick("#standing"), kept = state.part !== null && !state.ok;
  said.textContent = [state.file, state.ok ? "as last saved" : kept ? "the last good part; the recipe as saved makes none" : "no part yet",
    state.counts, link].filter(Boolean).join(", ");
  said.className = state.ok && !link ? "" : "kept";
}

function showMessages(state, acts) {
  const line = (number, start, end) => {
    const text = state.lines[number - 1] || "", from = Math.max(0, start - 1), to = Math.max(from + 1, end - 1);
    return [`${number} | `, text.slice(0, from), made("mark", {}, text.slice(from, to)), text.slice(to)];
  };
  const rows = state.messages.map((one) => {
    const row = made("li", { class: one.severity });
    const before = { error: "", warning: "warning: ", note: "note: " }[one.severity];
    row.append(made("strong", {}, before + one.headline), " ", made("span", { class: "code" }, one.code && `[${one.code}]`));
    if (one.line) row.append(made("pre", { tabindex: "0" }, ...line(one.line, one.column, one.end_column)));
    if (one.label) row.append(made("p", { class: "label" }, one.label));
    for (const other of one.others) {
      if (other.line) row.append(made("pre", { tabindex: "0" }, ...line(other.line, other.column, other.end_column)));
      if (other.label) row.append(made("p", { class: "label" }, other.label));
    }
    for (const advice of one.advice) row.append(made("p", { class: "advice" }, advice));
    if (one.line) row.append(made("button", { type: "button", on: { click: () => acts.goto(one.line) } }, `show line ${one.line}`));
    return row;
  });
  if (state.more) rows.push(made("li", {}, `and ${state.more} more: makegood check`));
  pick("#messages ol").replaceChildren(...(rows.length ? rows : [made("li", {}, "Nothing: the recipe is good as it stands.")]));
}

function showThings(part, acts) {
  const button = (thing) => made("button", { type: "button", on: {
    click: () => acts.thing(thing, true), mouseenter: () => acts.thing(thing, false), mouseleave: acts.leave,
    focus: () => acts.thing(thing, false), blur: acts.leave } }, thing.said, ` (${thing.kind})`);
  const rows = part ? part.things.map((thing) => made("li", {}, button(thing))) : [];
  pick("#things ul").replaceChildren(...(rows.length ? rows : [made("li", {}, "There is none yet.")]));
}

function showRecipe(state, acts) {
  const wrong = new Set(state.messages.map((one) => one.line));
  const rows = state.lines.map((text, index) => {
    const number = index + 1, owner = state.owners[index];
    const words = text === "" ? " " : text;
    const inner = owner ? made("button", { type: "button", tabindex: owner.head ? "0" : "-1", on: {
      mouseenter: () => acts.line(number), mouseleave: acts.leave, focus: () => acts.line(number), blur: acts.leave,
      click: () => acts.goto(number), keydown: acts.along } }, words) : made("span", { class: "plain" }, words);
    const kind = wrong.has(number) ? { class: "wrong", title: "a message speaks of this line" } : {};
    return made("li", { ...kind, "data-line": number }, made("span", { class: "number", "aria-hidden": "true" }, String(number)), inner);
  });
  if (state.cut) rows.push(made("li", {}, `and ${state.cut} lines more`));
  pick("#recipe ol").replaceChildren(...rows);
}

/* Rows as a table: heads are [text, is it a figure]. */
function table(caption, heads, rows) {
  const cell = (kind, text, isFigure) => made(kind, isFigure ? { class: "figure" } : {}, text);
  const body = rows.map(({ cells, kind }) => made("tr", { class: kind || "" }, ...cells.map((text, i) => {
    const one = cell(i ? "td" : "th", text, heads[i][1]);
    if (!i) one.scope = "row";
    return one;
  })));
  const top = made("tr", {}, ...heads.map(([text, isFigure]) => { const one = cell("th", text, isFigure); one.scope = "col"; return one; }));
  const whole = made("table", {}, made("caption", {}, caption), made("thead", {}, top), made("tbody", {}, ...body));
  return made("div", { class: "table", tabindex: "0", role: "region", "aria-label": caption }, whole);
}

const VERDICTS = { unchecked: "nothing checks it", suspect: "suspect", wanted: "as wanted" };

/* Every number of the recipe as it was taken again from the finished part, and what could not be. */
function measured(rows) {
  const found = rows.filter((one) => one.found !== null), left = rows.filter((one) => one.found === null);
  const unit = (one) => (one.unit === "deg" ? " deg" : "");
  const cells = (one) => [one.thing, one.line, figure(one.given) + unit(one),
    Math.abs(one.meant - one.given) < 5e-3 ? "" : figure(one.meant) + unit(one), figure(one.found) + unit(one),
    (one.off > 5e-3 ? "+" : "") + figure(one.off), one.why];
  const heads = [["thing", 0], ["line", 0], ["said", 1], ["to be", 1], ["on the part", 1], ["off", 1], ["because", 0]];
  const out = [];
  if (found.length) {
    out.push(table("Taken again from the finished part, mm", heads,
      found.map((one) => ({ kind: one.as_said ? "" : "suspect", cells: cells(one) }))));
  }
  if (left.length) {
    out.push(table("Not measured on the part", [["thing", 0], ["line", 0], ["because", 0]],
      left.map((one) => ({ cells: [one.thing, one.line, one.why] }))));
  }
  return out;
}

function showReadings(readings) {
  const out = [];
  for (const page of readings.pages) {
    const of = page.page === "sheet" ? "" : ` on ${page.page}`;
    if (page.skipped) { out.push(made("p", {}, `Readings${of}: too many to weigh one by one.`)); continue; }
    const rows = page.readings.map((one) => {
      const unit = one.unit === "deg" ? " deg" : "", wanted = one.verdict === "wanted";
      return { kind: one.verdict === "suspect" ? "suspect" : "", cells: [one.thing, one.line, figure(one.given) + unit,
        figure(one.fitted) + unit, one.on_mesh === null ? "" : figure(one.on_mesh) + unit, wanted ? "" : (one.off > 5e-3 ? "+" : "") + figure(one.off), wanted ? "" : figure(one.limit),
        wanted ? "" : one.seen_from === null ? "never" : figure(one.seen_from), VERDICTS[one.verdict] || one.verdict] };
    });
    const heads = [["thing", 0], ["reading", 0], ["given", 1], ["fitted", 1], ["on the part", 1], ["off", 1], ["give-or-take", 1], ["slip seen from", 1],
      ["verdict", 0]];
    if (rows.length) out.push(table(`Readings of places${of}, mm`, heads, rows));
    out.push(made("p", {}, page.redundant < 1 ? "Nothing is read twice: no reading checks another."
      : `${page.redundant} more than needed; together they ${page.agrees ? "agree" : "do not agree"}.`));
  }
  if (out.length) out.push(made("p", {}, "Off: fitted less given. A slip as large as it is seen from would be noticed in four cases of five."));
  const sizes = Object.entries(readings.sizes).map(([name, one]) => ({ cells: [name.replace(".", " "), figure(one.made),
    one.read === null ? "" : figure(one.read), one.read === null || one.U === null ? "" : figure(one.U), one.standing] }));
  if (sizes.length) {
    out.push(table("Sizes, mm", [["size", 0], ["made", 1], ["read", 1], ["known to, 95 of 100", 1], ["standing", 0]], sizes));
  }
  out.push(...measured(readings.measured || []));
  pick("#readings div").replaceChildren(...(out.length ? out : [made("p", {}, "There are no readings yet.")]));
}
