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
  for (const button of document.querySelectorAll("footer button")) button.disabled = state === "closed";
  draw();
}

const isPartner = (cue) => cue.feed !== undefined;

// What the student sees: never what only the feeder may know.
function studentWords(cue) {
  if (!cue) return { call: data.title, hands: "" };
  if (cue.listener === "feeder") return { call: "Watch the stick", hands: "" };
  return { call: cue.text, hands: cue.hands || "" };
}

// What the feeder sees: the feed that is due next, from the moment its call sounds or the one before is over.
function feederWords(now) {
  const cue = player.draw.cues.find((one) => isPartner(one) && one.due > now);
  if (!cue) return { call: "No feed now", hands: "", cue: null };
  const left = cue.due - now;
  return { call: cue.feed, hands: left > 0.9 ? `in ${Math.ceil(left)}` : "now", cue };
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

function draw() {
  const now = position();
  const { cues, spans } = player.draw;
  const said = cues.filter((cue) => cue.text && cue.start <= now);
  const current = said[said.length - 1];
  const following = cues.find((cue) => cue.start > now && cue.text);
  const words = player.feeder ? feederWords(now) : studentWords(current);
  const stopped = player.state === "stopped";
  if (stopped) Object.assign(words, { call: "STOP", hands: "" });
  drawFeed(stopped ? null : words.cue);
  fitted("call", words.call);
  show("hands", words.hands);
  // A defence that is to be read or heard is not told beforehand; nothing comes after a stop until somebody goes on.
  const then = following && (following.listener ? "wait for it" : following.text);
  show("next", player.feeder || stopped || !then ? "" : `then: ${then}`);
  drawSpan(spans.find((span) => span.start <= now && now < span.end), now);
  const block = blockAt(now);
  show("where", `${block + 1} of ${player.draw.blocks.length}: ${data.blocks[block].title}`);
  drawPoints(block);
  if (player.feeder && words.cue && words.cue !== player.felt && player.state === "playing" && words.cue.start <= now) {
    player.felt = words.cue;
    navigator.vibrate?.(120);
  }
}

function drawSpan(span, now) {
  const body = document.body;
  body.dataset.span = span ? span.kind : "none";
  const left = span ? span.end - now : 0;
  const share = span ? left / (span.end - span.start) : 0;
  // Work runs out: the water falls. Rest fills: it rises.
  const level = span ? (span.kind === "work" ? share : 1 - share) : 0;
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  element("water").style.transform = `scaleY(${calm ? Math.round(level * 10) / 10 : level.toFixed(4)})`;
  const seconds = Math.ceil(left);
  show("left", span ? `${span.kind} ${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}` : "");
}

function drawPoints(block) {
  const list = element("points");
  if (list.dataset.block === String(block)) return;
  list.dataset.block = block;
  list.replaceChildren(...data.blocks[block].points.map((point) => {
    const item = document.createElement("li");
    item.textContent = point;
    return item;
  }));
}

// The largest type in which the words fit their room; a word is broken only where the smallest is too large for it.
function fitted(id, text) {
  const box = element(id);
  const beside = innerWidth >= 1.25 * innerHeight;  // as in page.css: there the picture leaves the words their height
  const share = beside || element("feed").hasAttribute("hidden") ? 0.4 : 0.22;
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
  draw();
}

// A browser fills the screen only for a touch or a key. Once left, it is left.
function fillScreen() {
  if (data.fullScreen) document.documentElement.requestFullscreen?.().catch(() => {});
  data.fullScreen = false;
}

const DO = {
  start: () => { fillScreen(); toggle(); },
  back: () => goTo(blockAt(position()) - 1),
  on: () => goTo(blockAt(position()) + 1),
  again: () => goTo(blockAt(position())),
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

for (const [id, action] of Object.entries(DO)) element(id).addEventListener("click", action);
document.addEventListener("keydown", (event) => {
  const id = KEYS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  const own = event.target.closest("select") || (event.key === " " && event.target.closest("button"));
  if (!id || own || event.ctrlKey || event.metaKey || event.altKey || element(id).disabled || element(id).hidden) return;
  event.preventDefault();
  DO[id]();
});
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible" && player.state === "playing") { tick(); stayAwake(); }
});
addEventListener("resize", draw);

const choice = element("draw");
data.draws.forEach(({ name }, index) => choice.add(new Option(name, index)));
choice.addEventListener("change", () => chooseDraw(Number(choice.value)));
choice.closest("label").hidden = data.draws.length < 2;
element("view").hidden = element("stop").hidden = !data.partner;

choice.value = String(firstDraw());
player.draw = data.draws[Number(choice.value)];
remember(Number(choice.value));
setState(data.gate ? "closed" : "ready");
setVolume(player.volume);
setInterval(tick, TICK);
(function paint() { if (player.state === "playing") draw(); requestAnimationFrame(paint); })();
