"""The sound of the offline page and its time, by what the browser is asked: no name of the page's script is used.

The page plays by the browser's audio clock. `EAR`, run before the page's script, keeps what sounds the browser is
asked for, and lets a test hold that clock still and set it: a drill of four minutes is looked at in a second, and a
moment lasts for as long as it is looked at, however busy the machine is.
"""

from __future__ import annotations

import base64
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt
    from playwright.sync_api import Page

    from cornercue.timing.timeline import Timeline

EAR = """(() => {
  const ear = window.ear = { sounds: [], still: null, ahead: 0, latency: null, origin: 0, context: null };
  const own = (kind, name) => Object.getOwnPropertyDescriptor(kind.prototype, name).get;
  const clock = own(BaseAudioContext, "currentTime"), latency = own(AudioContext, "outputLatency");
  Object.defineProperty(BaseAudioContext.prototype, "currentTime", { get() {
    ear.context = this;
    return ear.still ?? clock.call(this) + ear.ahead;
  } });
  Object.defineProperty(AudioContext.prototype, "outputLatency", {
    get() { return ear.latency ?? latency.call(this); },
  });
  const { connect } = AudioNode.prototype, { start } = AudioBufferSourceNode.prototype;
  const { stop } = AudioScheduledSourceNode.prototype, leads = new Map();
  AudioNode.prototype.connect = function (to, ...rest) { leads.set(this, to); return connect.call(this, to, ...rest); };
  AudioBufferSourceNode.prototype.start = function (when = 0) {
    ear.sounds.push({ source: this, when, stopped: false });
    start.call(this, Math.max(0, when - this.context.currentTime + clock.call(this.context)));
  };
  AudioScheduledSourceNode.prototype.stop = function (...when) {
    for (const sound of ear.sounds) if (sound.source === this) sound.stopped = true;
    stop.call(this, ...when);
  };
  ear.set = (time) => { ear.still === null ? ear.ahead += time - ear.context.currentTime : ear.still = time; };
  ear.loudness = () => {
    let gain = 1;
    for (let node = ear.sounds.at(-1).source; node; node = leads.get(node)) gain *= node.gain?.value ?? 1;
    return gain;
  };
  ear.recorded = async (seconds, rate) => {
    const tape = new OfflineAudioContext(1, seconds * rate, rate);
    for (const { source, when } of ear.sounds) {
      const copy = tape.createBufferSource();
      copy.buffer = source.buffer;
      copy.connect(tape.destination);
      if (when - ear.origin < seconds) start.call(copy, when - ear.origin);
    }
    const bytes = new Uint8Array((await tape.startRendering()).getChannelData(0).buffer);
    return new Promise((done) => {
      const reader = new FileReader();
      reader.onload = () => done(reader.result.split(",")[1]);
      reader.readAsDataURL(new Blob([bytes]));
    });
  };
})();"""

STILL = "window.ear.still = 0; window.ear.latency = 0;"
"""The audio clock stands, and what is heard is heard at once: the moment is the one that a test has set."""

CLOSE = 0.001
"""Seconds; the page has its times in tenths of a millisecond, so a cue has begun for certain this long after it."""


@dataclass(frozen=True, slots=True)
class Sound:
    """A sound that the browser was asked for: when, in seconds of the drill; how long it is; whether it was cut off."""

    start: float
    seconds: float
    stopped: bool


def until(view: Page, holds: Callable[[], bool]) -> None:
    """Wait until something holds."""
    for _ in range(400):
        if holds():
            return
        view.wait_for_timeout(25)
    pytest.fail("it never came about")


def painted(view: Page) -> None:
    """Wait until the browser has painted what is to be seen now."""
    view.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def follow(view: Page, line: Timeline, since: float = 0.0) -> None:
    """Know the drill's time by its first sound, once it has been started at its second `since`."""
    first = next(cue.start for cue in line.cues if cue.start >= since - CLOSE)
    until(view, lambda: bool(view.evaluate("ear.sounds.length")))
    view.evaluate("(first) => { ear.origin = ear.sounds[0].when - first; }", first)


def forget(view: Page) -> None:
    """Forget the sounds so far."""
    view.evaluate("ear.sounds.length = 0")


def at(view: Page, seconds: float) -> None:
    """A moment of the drill in seconds, later than now, and seen there: the drill plays and nobody has paused it."""
    view.evaluate("(seconds) => ear.set(ear.origin + seconds)", seconds + CLOSE)
    painted(view)


def wind(view: Page, seconds: float) -> None:
    """So many seconds later, and seen there."""
    view.evaluate("(seconds) => ear.set(ear.context.currentTime + seconds)", seconds)
    painted(view)


def sounds(view: Page) -> list[Sound]:
    """What was asked for since the drill was started."""
    told = view.evaluate("ear.sounds.map((one) => [one.when - ear.origin, one.source.buffer.duration, one.stopped])")
    return [Sound(*one) for one in told]


def sounding(view: Page) -> list[Sound]:
    """What sounds now or is about to."""
    now = view.evaluate("ear.context.currentTime - ear.origin")
    return [sound for sound in sounds(view) if not sound.stopped and sound.start + sound.seconds > now]


def loudness(view: Page) -> float:
    """How loud the last sound is on its way to the loudspeaker, as a share of how loud it was made."""
    return float(view.evaluate("ear.loudness()"))


def recorded(view: Page, seconds: int, rate: int) -> npt.NDArray[np.float64]:
    """The first seconds of the drill as the browser renders what it was asked for, in samples from -1 to 1."""
    import numpy as np

    tape = view.evaluate("([seconds, rate]) => ear.recorded(seconds, rate)", [seconds, rate])
    return np.frombuffer(base64.b64decode(tape), "<f4").astype(float)
