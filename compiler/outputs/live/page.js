"use strict";
/* The page itself: what has been sent, what is pointed at, and what is drawn of it. */

const canvas = pick("#part"), kept = pick("#kept") ? JSON.parse(pick("#kept").textContent) : null;
const now = { state: null, part: null, link: "", told: null, held: null, names: true, asked: 0 };
let ink = null, turning = null, leaders = null, waiting = false;

function again() {
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    const view = turning.view();
    if (ink) ink.draw(view);
    leaders.draw(view, marginNotes(view), now.part);
    if (now.state) document.documentElement.dataset.shown = String(now.state.number);
  });
}

function room() {
  const side = canvas.clientWidth > 700 ? 150 : 30;
  return { left: side, right: side, top: 34, bottom: 30 };
}

/* A leader ends at the mouth of a hole that is nearer to the eye; a zone on the far side has none. */
function leaderEnd(thing, view) {
  if (!thing.place) return null;
  const towards = thing.way.reduce((sum, one, k) => sum + one * view.out[k], 0);
  if (thing.group !== "holes") return towards < -1e-6 ? null : thing.place;
  return thing.place.map((one, k) => one + (towards < 0 ? -1 : 1) * thing.way[k]);
}

function marginNotes(view) {
  if (!now.part) return [];
  const told = now.told || now.held, some = [];
  if (told && told.place) some.push({ text: told.short, place: told.place, told: true });
  for (const one of now.names ? now.part.things : []) {
    const isTold = Boolean(told && told.name === one.name), place = one.group === "bodies" ? null : leaderEnd(one, view);
    if (place && !(isTold && told.place) && !(ink && ink.gone(place))) some.push({ text: one.said, place, told: isTold });
  }
  return some;
}

/* The lines of the recipe as it stands now: a kept part may be older than they are. */
function lineOf(label) {
  const [name, , line] = now.part.faces[label];
  if (now.state.part === now.state.number) return line;
  return now.state.heads[name] || 0;
}

function facesOf(number) {
  const owner = now.state.owners[number - 1], faces = now.part ? now.part.faces : [];
  if (!owner) return new Set();
  const of = (test) => new Set(faces.map((_, i) => i).filter((i) => faces[i][0] === owner.name && test(i)));
  const own = owner.head ? new Set() : of((i) => lineOf(i) === number);
  return own.size ? own : of(() => true);
}

function point(told, hold) {
  if (hold) now.held = told;
  now.told = hold ? null : told;
  const shown = now.told || now.held;
  if (ink) ink.tell(shown ? shown.labels : new Set());
  for (const row of document.querySelectorAll("#recipe li[data-line]")) {
    const number = Number(row.dataset.line);
    row.classList.toggle("told", Boolean(shown && shown.lines.has(number)));
    row.classList.toggle("line", Boolean(shown && shown.line === number));
  }
  const said = pick("#said");
  if (hold || (told && told.aloud)) said.textContent = shown ? shown.text : "Click a face for its line; point at a line for its faces.";
  said.classList.toggle("told", Boolean(now.held));
  again();
}

function linesOf(name) {
  return new Set(now.state.owners.map((one, i) => (one && one.name === name ? i + 1 : 0)).filter(Boolean));
}

/* Which way a thing runs on the part, where that is told. */
function wayOf(name) {
  const way = now.part && now.part.ways[name];
  return way ? `; ${way}` : "";
}

function toldFace(hit) {
  const [name, detail] = now.part.faces[hit.label], line = lineOf(hit.label);
  const what = detail ? `${name} ${detail}` : name;
  const text = line ? `${what}: line ${line}, ${(now.state.lines[line - 1] || "").trim()}` : `${what}: not in the recipe as saved`;
  return { name, text: text + wayOf(name), short: line ? `${what}, line ${line}` : what, line, place: hit.place, labels: new Set([hit.label]), lines: linesOf(name) };
}

function toldLine(number) {
  const owner = now.state.owners[number - 1], labels = facesOf(number);
  if (!owner) return null;
  const what = labels.size ? `${labels.size} ${labels.size === 1 ? "face" : "faces"}` : "no face of its own";
  return { name: owner.name, line: number, labels, lines: new Set([number]), text: `line ${number}, ${owner.name}: ${what}` };
}

function hitAt(x, y) {
  const hit = ink ? ink.under(turning.view(), x, y) : null;
  return hit && hit.label >= 0 ? hit : null;
}

function choose(x, y) {
  const hit = hitAt(x, y);
  point(hit ? toldFace(hit) : null, true);
  if (hit && now.held.line) inView(now.held.line);
}

/* The list of lines is moved, the page is not: the picture stays where it is. */
function inView(number) {
  const list = pick("#recipe ol"), row = list.querySelector(`li[data-line="${number}"]`);
  if (row && list.scrollHeight > list.clientHeight) list.scrollTop = row.offsetTop - list.offsetTop - 45;
}

const acts = {
  line: (number) => { const told = toldLine(number); if (told) point(told, false); },
  leave: () => { if (now.told) point(null, false); },
  goto: (number) => {
    const told = toldLine(number);
    if (told) point(told, true);
    inView(number);
    const row = pick(`#recipe li[data-line="${number}"] button`);
    if (row) row.focus({ preventScroll: pick("#recipe ol").contains(document.activeElement) });
  },
  thing: (thing, hold) => {
    const line = now.state.heads[thing.name] || 0, text = `${thing.said}, ${thing.kind}${line ? `: line ${line}` : ""}`;
    point({ name: thing.name, line, text: text + wayOf(thing.name), short: line ? `${thing.said}, line ${line}` : thing.said, labels: new Set(thing.faces), lines: linesOf(thing.name), place: leaderEnd(thing, turning.view()) }, hold);
    if (hold && line) inView(line);
  },
  along: (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!step) return;
    const all = [...document.querySelectorAll("#recipe button")], next = all[all.indexOf(event.currentTarget) + step];
    if (next) { next.focus(); event.preventDefault(); }
  },
};

function cut(axis) {
  if (!ink) return;
  ink.axis = axis;
  for (const one of document.querySelectorAll("[data-cut]")) one.setAttribute("aria-pressed", String(one.dataset.cut === axis));
  pick("#at").disabled = !axis;
  cutAt(Number(pick("#at").value));
}

function cutAt(value) {
  const at = pick("#at");
  at.value = String(value);
  if (ink) ink.share = Number(at.value) / 1000;
  const on = ink && ink.axis && ink.part;
  pick("#at-said").textContent = on ? `${ink.level.toFixed(2)} mm` : "-";
  at.setAttribute("aria-valuetext", on ? `${ink.level.toFixed(2)} mm` : "no section");
  again();
}

function toggled(id, act) {
  const button = pick(`#${id}`), on = button.getAttribute("aria-pressed") !== "true";
  button.setAttribute("aria-pressed", String(on));
  act(on);
  again();
}

const names = () => toggled("names", (on) => { now.names = on; });
const hidden = () => toggled("hidden", (on) => { if (ink) ink.hidden = on; });
const look = (name) => now.part && turning.look(name, now.part, room());
const nextCut = () => cut({ "": "x", x: "y", y: "z", z: "" }[ink ? ink.axis : ""]);

const KEYS = {
  ArrowLeft: [() => turning.turn(-0.13, 0), () => turning.move(-30, 0)], ArrowRight: [() => turning.turn(0.13, 0), () => turning.move(30, 0)],
  ArrowUp: [() => turning.turn(0, -0.13), () => turning.move(0, -30)], ArrowDown: [() => turning.turn(0, 0.13), () => turning.move(0, 30)],
};
const LETTERS = {
  "+": () => turning.zoom(1.2), "=": () => turning.zoom(1.2), "-": () => turning.zoom(1 / 1.2), n: names, h: hidden, s: nextCut,
  "[": () => cutAt(Number(pick("#at").value) - 20), "]": () => cutAt(Number(pick("#at").value) + 20),
  Enter: () => choose(canvas.clientWidth / 2, canvas.clientHeight / 2),
};
const LOOKED_FROM = { c: "corner", f: "front", b: "back", l: "left", r: "right", t: "top", u: "bottom" };
for (const [key, name] of Object.entries(LOOKED_FROM)) LETTERS[key] = () => look(name);

/* Letters act only where nothing else wants them: in the picture, or while nothing has the focus. */
function key(event) {
  const at = document.activeElement, inPicture = at === canvas;
  if (event.key === "Escape") point(null, true);
  if (event.ctrlKey || event.metaKey || event.altKey || !(inPicture || at === document.body)) return;
  const turn = inPicture ? KEYS[event.key] : null, act = turn ? turn[event.shiftKey ? 1 : 0] : LETTERS[event.key];
  if (!act || (event.key === "Enter" && !inPicture)) return;
  act();
  event.preventDefault();
}

function listen() {
  document.addEventListener("keydown", key);
  canvas.addEventListener("pointerup", (event) => {
    const box = canvas.getBoundingClientRect();
    if (turning.clicked && event.button === 0) choose(event.clientX - box.left, event.clientY - box.top);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (event.buttons || event.pointerType === "touch" || !now.part) return;
    const box = canvas.getBoundingClientRect(), hit = hitAt(event.clientX - box.left, event.clientY - box.top);
    if (hit) point({ ...toldFace(hit), place: null }, false);
    else acts.leave();
  });
  canvas.addEventListener("pointerleave", acts.leave);
  for (const name of ["focus", "blur"]) canvas.addEventListener(name, again);
  for (const one of document.querySelectorAll("[data-view]")) one.addEventListener("click", () => look(one.dataset.view));
  for (const one of document.querySelectorAll("[data-cut]")) one.addEventListener("click", () => cut(one.dataset.cut));
  pick("#at").addEventListener("input", (event) => cutAt(Number(event.target.value)));
  pick("#names").addEventListener("click", names);
  pick("#hidden").addEventListener("click", hidden);
  pick("#nearer").addEventListener("click", () => turning.zoom(1.2));
  pick("#farther").addEventListener("click", () => turning.zoom(1 / 1.2));
  new ResizeObserver(again).observe(canvas);
}
