"""Firefox and WebKit as a user has them, driven by the W3C's WebDriver commands; nothing but the browsers is needed.

Firefox answers them on a socket of its own (`--marionette`), WebKit through Debian's `WebKitWebDriver` over HTTP. The
names of the commands and what they take are those of https://www.w3.org/TR/webdriver2/.
"""

from __future__ import annotations

import json
import os
import shutil
import socket
import subprocess
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

FIREFOX = shutil.which("firefox-esr") or shutil.which("firefox")
WEBKIT = shutil.which("WebKitWebDriver")
MINI_BROWSER = next(iter(sorted(Path("/usr/lib").glob("*/webkit2gtk-4.*/MiniBrowser"))), None)
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
"""The key of an element, by the standard."""

SOUND_WITHOUT_A_TOUCH = {"media.autoplay.default": 0, "media.autoplay.blocking_policy": 0}

IN_TURN = ("--realtime=no", "--high-priority=no")
"""For PulseAudio, which Linux ends where it asks for real time and a busy machine lets it run over."""


class Wire(Protocol):
    """How commands get to a browser."""

    def send(self, command: str, body: dict[str, Any]) -> Any: ...


@dataclass(frozen=True)
class View:
    """What a person can do with a page, and what can be asked of it."""

    wire: Wire

    def open(self, address: str) -> None:
        self.wire.send("Navigate", {"url": address})

    def evaluate(self, expression: str) -> Any:
        return self.wire.send("ExecuteScript", {"script": f"return ({expression});", "args": []})

    def click(self, name: str) -> None:
        found = self.wire.send("FindElement", {"using": "css selector", "value": f"#{name}"})
        self.wire.send("ElementClick", {"id": found[ELEMENT]})

    def press(self, key: str) -> None:
        actions = [{"type": kind, "value": key} for kind in ("keyDown", "keyUp")]
        self.wire.send("PerformActions", {"actions": [{"type": "key", "id": "keys", "actions": actions}]})

    def resize(self, width: int, height: int) -> None:
        self.wire.send("SetWindowRect", {"x": 0, "y": 0, "width": width, "height": height})

    def until(self, expression: str, seconds: float = 20.0) -> None:
        end = time.monotonic() + seconds
        while not self.evaluate(expression):
            assert time.monotonic() < end, f"never: {expression}\n{self.evaluate('document.body.innerText')}"
            time.sleep(0.05)


class Marionette:
    """Firefox's own wire: each message is its length, a colon and JSON."""

    def __init__(self, port: int) -> None:
        self._socket = _connected(port)
        self._file = self._socket.makefile("rwb")
        self._sent = 0
        self._take()  # its greeting

    def close(self) -> None:
        self._file.close()
        self._socket.close()

    def _take(self) -> Any:
        digits = b""
        while (one := self._file.read(1)) != b":":
            assert one, "Firefox hung up"
            digits += one
        return json.loads(self._file.read(int(digits)))

    def send(self, command: str, body: dict[str, Any]) -> Any:
        self._sent += 1
        text = json.dumps([0, self._sent, f"WebDriver:{command}", body]).encode()
        self._file.write(b"%d:%s" % (len(text), text))
        self._file.flush()
        _, _, fault, result = self._take()
        assert fault is None, fault
        return result["value"] if isinstance(result, dict) and set(result) == {"value"} else result


PATHS = {"Navigate": "url", "ExecuteScript": "execute/sync", "FindElement": "element", "PerformActions": "actions",
         "SetWindowRect": "window/rect"}  # fmt: skip


class Http:
    """The standard's own wire."""

    def __init__(self, port: int, capabilities: dict[str, Any]) -> None:
        self._at = f"http://127.0.0.1:{port}/session"
        _connected(port).close()
        self._at += "/" + self._post("", {"capabilities": {"alwaysMatch": capabilities}})["sessionId"]

    def send(self, command: str, body: dict[str, Any]) -> Any:
        if command == "ElementClick":
            return self._post(f"/element/{body['id']}/click", {})
        return self._post(f"/{PATHS[command]}", body)

    def _post(self, path: str, body: dict[str, Any]) -> Any:
        request = urllib.request.Request(self._at + path, json.dumps(body).encode(), method="POST")
        try:
            with urllib.request.urlopen(request, timeout=60) as answer:
                return json.load(answer)["value"]
        except urllib.error.HTTPError as fault:
            raise AssertionError(fault.read().decode()) from None


def _free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def _connected(port: int) -> socket.socket:
    end = time.monotonic() + 60
    while True:
        try:
            return socket.create_connection(("127.0.0.1", port), timeout=180)
        except ConnectionRefusedError:
            assert time.monotonic() < end, f"nothing listens on port {port}"
            time.sleep(0.1)


@contextmanager
def quiet_loudspeaker(folder: Path) -> Iterator[dict[str, str]]:
    """The environment of a program that plays in time to nobody: without a device Firefox's clock of sound stands."""
    env = {**os.environ, "HOME": str(folder), "XDG_RUNTIME_DIR": str(folder)}
    modules = ("-L", "module-null-sink", "-L", "module-native-protocol-unix")
    command = ["pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", *IN_TURN, *modules]
    with _started(command, env):
        yield {**env, "PULSE_SERVER": f"unix:{folder}/pulse/native"}


@contextmanager
def firefox(folder: Path) -> Iterator[View]:
    """A new Firefox without a window, whose profile is in `folder`."""
    assert FIREFOX is not None
    port = _free_port()
    wanted = {"marionette.port": port, **SOUND_WITHOUT_A_TOUCH}
    (folder / "user.js").write_text("".join(f'user_pref("{key}", {value});\n' for key, value in wanted.items()))
    command = [FIREFOX, "--headless", "--marionette", "--no-remote", "--profile", str(folder)]
    with quiet_loudspeaker(folder) as env, _started(command, env), closing(Marionette(port)) as wire:
        wire.send("NewSession", {})
        yield View(wire)


@contextmanager
def _started(command: list[str], env: dict[str, str]) -> Iterator[None]:
    """A program as long as the block lasts."""
    with subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as process:
        try:
            yield
        finally:
            process.terminate()


@contextmanager
def webkit(folder: Path) -> Iterator[View]:
    """A new WebKit in GTK's little browser, in a window on the display that there is; its home is `folder`."""
    assert WEBKIT is not None
    port = _free_port()
    env = {**os.environ, "HOME": str(folder), "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}
    wanted = {"binary": str(MINI_BROWSER), "args": ["--automation", "--autoplay-policy=allow"]}
    with _started([WEBKIT, f"--port={port}"], env):
        yield View(Http(port, {"webkitgtk:browserOptions": wanted}))
