"use strict";
// Plays a drill from the data in the page: sound on the audio clock. page.js follows in the same script.

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
    placed.push({ source, cue });
  }
  return next;
}

// ---- state: one player, what it does now and where it is

const player = {
  state: "closed",      // closed (cautions not yet read), ready, playing, paused, stopped, ended
  draw: data.draws[0], context: null, gain: null, buffers: null,
  origin: 0, held: 0, next: 0, placed: [], volume: 0.8, feeder: false, seen: 0,
  jumped: false,        // somebody went back or on: what was done is not what the drill asks for
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
  else if (player.state === "ended") { player.jumped = false; play(0); }
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

function partAt(now) {
  let part = 0;
  player.draw.parts.forEach((start, index) => { if (start <= now + 0.05) part = index; });
  return part;
}

function goTo(part) {
  const index = Math.min(Math.max(part, 0), player.draw.parts.length - 1);
  const from = player.draw.parts[index];
  player.jumped = true;
  if (player.state === "playing") play(from);
  else if (player.state !== "closed") { player.held = from; setState(player.state === "ready" ? "ready" : "paused"); }
}

function setVolume(volume) {
  player.volume = Math.min(Math.max(Math.round(volume * 10) / 10, 0.1), 1);
  if (player.gain) player.gain.gain.value = player.feeder ? 0 : player.volume;
  show("volume", player.feeder ? "0" : String(Math.round(player.volume * 10)));
}

async function stayAwake() {
  try { await navigator.wakeLock?.request("screen"); } catch { /* the browser does not allow it */ }
}
