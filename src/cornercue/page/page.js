// What is seen, from the same positions as the sound, and hands on the page. It goes on where sound.js ends.

const SMALLEST = 12;  // pixels of type

// ---- what is seen

const WORDS = {
  closed: "Read this first", ready: "Ready", playing: "Playing", paused: "Paused", stopped: "Stop", ended: "The end",
};
const element = (id) => document.getElementById(id);
const show = (id, text) => { const at = element(id); if (at.textContent !== text) at.textContent = text; return at; };

function setState(state) {
  player.state = state;
  document.body.dataset.state = state;
  show("state", WORDS[state]);
  show("start", state === "playing" ? "Pause" : state === "paused" || state === "stopped" ? "Go on" : "Start");
  element("cautions").hidden = state !== "closed";
  allow();
  draw();
}

// Nothing is to be pressed behind the cautions; the feeder's view is silent, and has no loudness to change.
function allow() {
  for (const control of document.querySelectorAll("footer button, footer select")) {
    control.disabled = player.state === "closed" || (player.feeder && ["softer", "louder"].includes(control.id));
  }
}

const isPartner = (cue) => cue.feed !== undefined;

// What the student sees: never what only the feeder may know.
function studentWords(cue) {
  if (!cue) return { call: data.title, hands: "" };
  if (cue.listener === "feeder") return { call: "Watch the stick", hands: "" };
  if (cue.listener === "holder") return { call: "Watch what is held", hands: "" };
  return { call: cue.text, hands: cue.hands || "", photo: cue.photo };
}

// What the feeder sees: the feed that is due next, from the moment its call sounds or the one before is over.
function feederWords(now) {
  const cue = player.draw.cues.find((one) => isPartner(one) && one.due > now);
  if (!cue) return { call: data.idle, hands: "", cue: null };
  const left = cue.due - now;
  return { call: cue.feed, hands: left > 0.9 ? `in ${Math.ceil(left)} s` : "now", cue };
}

// The feed that is due, as a picture: none for the student, and none after a stop.
function drawFeed(cue) {
  const shown = element("feed");
  shown.toggleAttribute("hidden", !cue?.picture);
  if (!cue?.picture || shown.dataset.feed === cue.picture) return;
  shown.dataset.feed = cue.picture;
  shown.setAttribute("aria-label", cue.feed);
  shown.firstElementChild.setAttribute("href", `#${cue.picture}`);
}

// The picture of the word that is taught or held: the sheet on paper has it.
function drawPhoto(photo) {
  const shown = element("photo");
  if (!shown) return;  // the drill has none
  shown.toggleAttribute("hidden", photo === undefined);
  if (photo === undefined || shown.dataset.photo === String(photo)) return;
  shown.dataset.photo = photo;
  shown.src = element(`photo-${photo}`).src;
  shown.alt = element(`photo-${photo}`).alt;
}

// What stands large when nobody plays, and beside it what the drill is at.
function standing(words) {
  if (player.state === "stopped") return { call: "STOP", hands: "", next: "", cue: null };
  if (player.state === "paused") return { call: "PAUSED", hands: "", next: `${words.cue ? (data.idle === "No feed now" ? "next feed" : "next") : "at"}: ${words.call}`, cue: words.cue, photo: words.photo };
  if (player.state === "ended") return { call: "Done", hands: "", next: "", cue: null };
  return words;
}

function draw() {
  const now = position();
  const { cues, spans } = player.draw;
  const said = cues.filter((cue) => cue.text && cue.start <= now);
  const current = said[said.length - 1];
  const following = cues.find((cue) => cue.start > now && cue.text);
  const words = standing({ next: following ? `then: ${foretold(following)}` : "", ...wordsAt(current, now) });
  drawFeed(words.cue);
  drawPhoto(words.photo);
  fitted("call", words.call);
  show("hands", words.hands);
  show("next", words.next);
  const ended = player.state === "ended";
  drawSpan(ended ? undefined : spans.find((span) => span.start <= now && now < span.end), now);
  drawPart(ended ? -1 : partAt(now));
  drawDone(ended);
  if (player.feeder && words.cue && words.cue !== player.felt && player.state === "playing" && words.cue.start <= now) {
    player.felt = words.cue;
    navigator.vibrate?.(120);
  }
}

const wordsAt = (current, now) => (player.feeder ? { ...feederWords(now), next: "" } : studentWords(current));
// A defence that is to be read or heard is not told beforehand.
const foretold = (cue) => (cue.listener || cue.drawn ? "wait for it" : cue.text);

function drawSpan(span, now) {
  const body = document.body;
  body.dataset.span = span ? span.kind : "none";
  const left = span ? span.end - now : 0;
  const share = span ? left / (span.end - span.start) : 0;
  // Work runs out: the water falls. Rest fills: it rises.
  const level = span ? (span.kind === "work" ? share : 1 - share) : 0;
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  element("water").style.transform = `scaleY(${calm ? Math.round(level * 10) / 10 : level.toFixed(4)})`;
  show("left", span ? `${span.kind} ${clock(Math.ceil(left))}` : "");
}

const clock = (seconds) => (
  seconds < 60 ? `${seconds} s` : `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")} min`
);

// The part in hand and what to look for in it; none after the end.
function drawPart(index) {
  const list = element("points");
  if (list.dataset.part === String(index)) return;
  list.dataset.part = index;
  const { of, title, points } = data.parts[index] ?? { of: "", title: "", points: [] };
  const place = index < 0 ? "" : `${index + 1} of ${data.parts.length}`;
  show("where", [place, of, title].filter(Boolean).join(" · "));
  list.replaceChildren(...points.map(listItem));
}

function drawDone(ended) {
  const list = element("done");
  list.hidden = !ended;
  element("next").hidden = ended;
  if (ended) list.replaceChildren(...[...(player.jumped ? ["You went back or on. The whole drill is:"] : []), ...player.draw.done].map(listItem));
}

function listItem(words) {
  const item = document.createElement("li");
  item.textContent = words;
  return item;
}

// The largest type in which the words fit their room; a word is broken only where the smallest is too large for it.
function fitted(id, text) {
  const box = element(id);
  const beside = innerWidth >= 1.25 * innerHeight;  // as in page.css: there the picture leaves the words their height
  const alone = ["feed", "photo"].every((one) => element(one)?.hasAttribute("hidden") ?? true);
  const share = beside || alone ? 0.4 : 0.22;
  const room = `${innerWidth}x${innerHeight}x${share}`;
  if (box.textContent === text && box.dataset.room === room) return;
  box.textContent = text;
  box.dataset.room = room;
  box.style.overflowWrap = "normal";
  let low = SMALLEST, high = Math.min(innerWidth, innerHeight) * 0.45;
  while (high - low > 1) {
    const size = (low + high) / 2;
    box.style.fontSize = `${size}px`;
    if (box.scrollWidth <= box.clientWidth && box.scrollHeight <= innerHeight * share) low = size;
    else high = size;
  }
  box.style.fontSize = `${low}px`;
  if (low === SMALLEST) box.style.overflowWrap = "";
}

// ---- hands on the page

function chooseDraw(index) {
  if (player.state === "playing") pause();
  player.draw = data.draws[index];
  player.held = 0;
  player.jumped = false;
  choice.title = `seed ${player.draw.seed}`;
  remember(index);
  setState(player.state === "closed" ? "closed" : "ready");
}

// No two evenings alike: a draw that was not the last one. A browser that forgets just takes any.
function firstDraw() {
  const last = Number(recall());
  const others = data.draws.map((_, index) => index).filter((index) => index !== last || data.draws.length === 1);
  return others[Math.floor(Math.random() * others.length)];
}
function recall() { try { return localStorage.getItem(`cornercue ${data.title}`) ?? -1; } catch { return -1; } }
function remember(index) { try { localStorage.setItem(`cornercue ${data.title}`, index); } catch { /* not kept */ } }

function setView(feeder) {
  player.feeder = feeder;
  document.body.dataset.view = feeder ? "feeder" : "student";
  element("view").setAttribute("aria-pressed", String(feeder));
  setVolume(player.volume);
  allow();
  draw();
}

// A browser fills the screen only for a touch or a key. Once left, it is left.
function fillScreen() {
  if (data.fullScreen) document.documentElement.requestFullscreen?.().catch(() => {});
  data.fullScreen = false;
}

const DO = {
  start: () => { fillScreen(); toggle(); },
  back: () => goTo(partAt(position()) - 1),
  on: () => goTo(partAt(position()) + 1),
  again: () => goTo(partAt(position())),
  softer: () => setVolume(player.volume - 0.1),
  louder: () => setVolume(player.volume + 0.1),
  view: () => setView(!player.feeder),
  stop: () => (player.state === "paused" ? setState("stopped") : pause("stopped")),
  read: () => { setState("ready"); element("start").focus(); },
};
const KEYS = {
  " ": "start", ArrowLeft: "back", ArrowRight: "on", r: "again", ArrowDown: "softer", ArrowUp: "louder",
  f: "view", s: "stop",
};

const NAMED = { " ": "Space", ArrowLeft: "←", ArrowRight: "→", ArrowUp: "↑", ArrowDown: "↓" };

for (const [id, action] of Object.entries(DO)) element(id).addEventListener("click", action);

// The control that a key works, whatever was clicked last: a chosen button gets Enter, and the choice of draws all but Space.
function keyed(event) {
  const id = KEYS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!id || event.ctrlKey || event.metaKey || event.altKey || element(id).disabled || element(id).hidden) return null;
  if (event.key !== " " && event.target.closest("select")) return null;
  event.preventDefault();
  return id;
}
document.addEventListener("keydown", (event) => {
  const id = keyed(event);
  if (id && !(event.repeat && id === "start")) DO[id]();
});
document.addEventListener("keyup", keyed);  // where browsers press a button
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible" && player.state === "playing") { tick(); stayAwake(); }
});
addEventListener("resize", draw);

for (const [key, id] of Object.entries(KEYS)) element(id).title = `key: ${NAMED[key] ?? key.toUpperCase()}`;
const choice = element("draw");
data.draws.forEach(({ name }, index) => choice.add(new Option(`Draw ${name}`, index)));
choice.addEventListener("change", () => chooseDraw(Number(choice.value)));
choice.hidden = data.draws.length < 2;
element("view").hidden = element("stop").hidden = !data.partner;

player.state = data.gate ? "closed" : "ready";
choice.value = String(firstDraw());
chooseDraw(Number(choice.value));
setVolume(player.volume);
setInterval(tick, TICK);
(function paint() { if (player.state === "playing") draw(); requestAnimationFrame(paint); })();
