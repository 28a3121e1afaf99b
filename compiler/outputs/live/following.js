"use strict";
/* Following the recipe: the server says when something new is there, and the page fetches it. */

async function fetched(name, kind = "json") {
  const answer = await fetch(name, { cache: "no-store", credentials: "same-origin" });
  if (!answer.ok) throw new Error(answer.status === 404 ? await answer.text() : `answer ${answer.status}`);
  return kind === "json" ? answer.json() : answer.text();
}

function take(state, part) {
  const first = now.part === null, fresh = part !== null && part !== now.part;
  [now.state, now.part] = [state, part];
  [now.told, now.held] = [null, fresh ? null : now.held];
  pick("#absent").hidden = part !== null;
  canvas.setAttribute("aria-label", part ? `${part.title}, drawn; ${part.box.map((one) => figure(one)).join(" by ")} mm` : "no part yet");
  showBlock(state, part);
  showStanding(state, now.link);
  showMessages(state, acts);
  showThings(part, acts);
  showRecipe(state, acts);
  if (fresh && ink) {
    ink.show(part);
    if (first) look("corner");
    cutAt(Number(pick("#at").value));
  }
  if (now.held && part) point(now.held, true);
  again();
}

let busy = false, stale = false;

/* What comes while something is being fetched is fetched after it, once. */
async function renew() {
  if (busy) { stale = true; return; }
  busy = true;
  try {
    do {
      stale = false;
      const state = await fetched("state");
      const had = now.part ? now.part.number : null;
      const part = state.part === null ? null : state.part === had ? now.part : await fetched("part");
      now.link = "";
      take(state, part);
    } while (stale);
  } catch (error) {
    lost();
  }
  busy = false;
  later();
}

function lost() {
  now.link = "no longer following: makegood has stopped or can't be reached";
  if (now.state) showStanding(now.state, now.link);
  else pick("#standing").textContent = now.link;
}

let timer = 0, drawn = null, sight = false;

/* Tables and drawing take longer than the picture: they come when the saving has come to rest. */
function later() {
  clearTimeout(timer);
  timer = setTimeout(async () => {
    const state = now.state;
    if (!state) return;
    try { showReadings(await fetched("readings")); } catch (error) { /* the next save asks again */ }
    if (sight && state.part !== null && drawn !== state.part) await drawing(state);
  }, 250);
}

async function drawing(state) {
  const image = pick("#drawing img"), why = pick("#drawing .why");
  try {
    const text = await fetched("drawing", "text");
    showDrawing(`drawing?of=${state.part}`, text);
    drawn = state.part;
  } catch (error) {
    [image.hidden, why.hidden, why.textContent] = [true, false, error.message];
  }
}

function showDrawing(address) {
  const image = pick("#drawing img");
  image.src = address;
  image.alt = `Drawing of ${now.part.title} with its dimensions`;
  image.hidden = false;
  pick("#drawing .why").hidden = true;
}

function start() {
  leaders = new Leaders(pick("#leaders"), canvas);
  turning = new Turning(canvas, again);
  try { ink = new Ink(canvas); } catch (error) {
    pick("#absent").textContent = "This browser can't draw in 3D (WebGL is off); the notes below still follow.";
    pick("#absent").hidden = false;
  }
  listen();
  if (kept) {
    take(kept.state, kept.part);
    showReadings(kept.readings);
    if (kept.drawing) showDrawing(`data:image/svg+xml;base64,${kept.drawing}`);
    pick("#standing").textContent = `${kept.state.file}, a copy to keep; it follows nothing`;
    return;
  }
  if (location.search) history.replaceState(null, "", location.pathname);
  const events = new EventSource("events");
  events.onmessage = renew;
  events.onerror = lost;
  new IntersectionObserver((seen) => { sight = seen.some((one) => one.isIntersecting); if (sight) later(); }, { rootMargin: "200px" })
    .observe(pick("#drawing"));
}

start();
