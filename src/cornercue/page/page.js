"use strict";
// Plays a drill from the data in the page: sound on the audio clock, words from the same positions.

const data = JSON.parse(document.getElementById("data").textContent);
const AHEAD = 1.5;   // seconds placed ahead on the audio clock: a page whose timers are slowed still plays in time
const LATE = 0.02;   // a call that is later than this is left out: better none than one out of time
const TICK = 100;    // milliseconds between two looks at the clock
const FROZEN = 5;    // seconds without a look after which the page was asleep: it pauses rather than run on alone

// ---- sound

function bytesOf(base64) {
  const text = atob(base64);
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0)).buffer;
}

// Every sound decoded, cut to its known length: decoders add padding behind an MP3.
async function decoded(context) {
  return Promise.all(data.sounds.map(async ({ mp3, seconds }) => {
    const whole = await context.decodeAudioData(bytesOf(mp3));
    const frames = Math.min(whole.length, Math.round(seconds * whole.sampleRate));
    const cut = context.createBuffer(1, Math.max(1, frames), whole.sampleRate);
    cut.copyToChannel(whole.getChannelData(0).subarray(0, frames), 0);
    return cut;
  }));
}

// Places cues from index `next` on that start before `until` (track seconds); track time 0 is `origin` on the clock.
function place(context, target, buffers, cues, next, until, origin, placed) {
  while (next < cues.length && cues[next].start < until) {
    const cue = cues[next++];
    const when = origin + cue.start;
    if (cue.sound === undefined || when < context.currentTime - LATE) continue;
    const source = context.createBufferSource();
    source.buffer = buffers[cue.sound];
    source.connect(target);
    source.start(Math.max(when, context.currentTime));
    if (placed) placed.push({ source, cue, when, at: context.currentTime });
  }
  return next;
}

// The first seconds of a draw through an offline clock: the same placing, for measuring.
async function renderedOffline(drawIndex, seconds, rate = 48000) {
  const context = new OfflineAudioContext(1, Math.ceil(seconds * rate), rate);
  const buffers = await decoded(context);
  place(context, context.destination, buffers, data.draws[drawIndex].cues, 0, seconds, 0);
  return (await context.startRendering()).getChannelData(0);
}

// ---- state: one player, what it does now and where it is

const player = {
  state: "closed",      // closed (cautions not yet read), ready, playing, paused, stopped, ended
  draw: data.draws[0], context: null, gain: null, buffers: null,
  origin: 0, held: 0, next: 0, placed: [], volume: 0.8, feeder: false, seen: 0,
};

function position() {
  if (player.state !== "playing") return player.held;
  const latency = player.context.outputLatency || 0;
  return Math.min(Math.max(player.context.currentTime - player.origin - latency, 0), player.draw.duration);
}

async function ready() {
  if (player.context) return;
  player.context = new AudioContext();
  player.gain = player.context.createGain();
  player.gain.connect(player.context.destination);
  player.buffers = await decoded(player.context);
  player.context.addEventListener("statechange", () => {
    if (player.state === "playing" && player.context.state !== "running") pause();
  });
}

function silence() {
  for (const { source } of player.placed) { try { source.stop(); } catch { /* it had not begun */ } }
  player.placed = [];
}

async function play(from = player.held) {
  await ready();
  silence();
  player.held = from;
  await player.context.resume();
  setVolume(player.volume);
  player.origin = player.context.currentTime + 0.1 - from;
  player.next = player.draw.cues.findIndex((cue) => cue.start >= from - 0.001);
  if (player.next < 0) player.next = player.draw.cues.length;
  player.seen = performance.now();
  setState("playing");
  tick();
  stayAwake();
}

// A call cut short is begun again; otherwise it goes on where it was.
function pause(state = "paused") {
  if (player.state !== "playing") return;
  const now = position();
  const cut = player.draw.cues.find((cue) => cue.start <= now && now < cue.end);
  player.held = cut ? cut.start : now;
  silence();
  setState(state);
}

function toggle() {
  if (player.state === "playing") pause();
  else if (player.state === "ended") play(0);
  else if (player.state !== "closed") play();
}

function tick() {
  if (player.state !== "playing") return;
  const slept = (performance.now() - player.seen) / 1000 > FROZEN;
  player.seen = performance.now();
  if (slept) return pause();
  const now = player.context.currentTime - player.origin;
  player.next = place(player.context, player.gain, player.buffers, player.draw.cues, player.next, now + AHEAD,
    player.origin, player.placed);
  player.placed = player.placed.filter(({ cue }) => cue.end > now - 1);
  if (now > player.draw.duration) { player.held = 0; setState("ended"); }
}

function blockAt(now) {
  let block = 0;
  player.draw.blocks.forEach((start, index) => { if (start <= now + 0.05) block = index; });
  return block;
}

function goTo(block) {
  const index = Math.min(Math.max(block, 0), player.draw.blocks.length - 1);
  const from = player.draw.blocks[index];
  if (player.state === "playing") play(from);
  else if (player.state !== "closed") { player.held = from; setState(player.state === "ready" ? "ready" : "paused"); }
}

function setVolume(volume) {
  player.volume = Math.min(Math.max(Math.round(volume * 10) / 10, 0.1), 1);
  if (player.gain) player.gain.gain.value = player.feeder ? 0 : player.volume;
  show("volume", player.feeder ? "silent" : `loudness ${Math.round(player.volume * 10)} of 10`);
}

async function stayAwake() {
  try { await navigator.wakeLock?.request("screen"); } catch { /* the browser does not allow it */ }
}

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

function draw() {
  const now = position();
  const { cues, spans } = player.draw;
  const said = cues.filter((cue) => cue.text && cue.start <= now);
  const current = said[said.length - 1];
  const following = cues.find((cue) => cue.start > now && cue.text);
  const words = player.feeder ? feederWords(now) : studentWords(current);
  if (player.state === "stopped") Object.assign(words, { call: "STOP", hands: "" });
  fitted("call", words.call);
  show("hands", words.hands);
  // A defence that is to be read or heard is not told beforehand.
  show("next", player.feeder || !following ? "" : `then: ${following.listener ? "wait for it" : following.text}`);
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

// The largest type in which the words fit their room.
function fitted(id, text) {
  const box = element(id);
  const room = `${innerWidth}x${innerHeight}`;
  if (box.textContent === text && box.dataset.room === room) return;
  box.textContent = text;
  box.dataset.room = room;
  let low = 12, high = Math.min(innerWidth, innerHeight) * 0.45;
  while (high - low > 1) {
    const size = (low + high) / 2;
    box.style.fontSize = `${size}px`;
    if (box.scrollWidth <= box.clientWidth && box.scrollHeight <= innerHeight * 0.4) low = size;
    else high = size;
  }
  box.style.fontSize = `${low}px`;
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

const DO = {
  start: toggle,
  back: () => goTo(blockAt(position()) - 1),
  on: () => goTo(blockAt(position()) + 1),
  again: () => goTo(blockAt(position())),
  softer: () => setVolume(player.volume - 0.1),
  louder: () => setVolume(player.volume + 0.1),
  view: () => setView(!player.feeder),
  stop: () => pause("stopped"),
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
setState(data.partner ? "closed" : "ready");
setVolume(player.volume);
setInterval(tick, TICK);
(function paint() { if (player.state === "playing") draw(); requestAnimationFrame(paint); })();
