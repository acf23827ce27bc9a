"""A server of the page in a process of its own, and a client that can say anything to it."""

from __future__ import annotations

import http.client
import json
import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = "import sys; from nestkit.cli.app import main; sys.argv[0] = 'nestkit'; main()"
JOB = """\
# A job of the tests.
job  = "tests"
unit = "in"

[cutting]
how  = "saw"
kerf = "1/8"

[[sheet]]
name      = "PC 2x4"
material  = "polycarbonate"
thickness = "1/8"
size      = [24, 48]
price     = 38.50   # each

[[panel]]
name      = "lid"
material  = "polycarbonate"
thickness = "1/8"
size      = ["14 1/2", "9 3/4"]

  [[panel.holes]]
  name    = "rim"
  screw   = "10-32"
  corners = "3/4"
"""


@dataclass(frozen=True)
class Answer:
    """What came back."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        return json.loads(self.body)


@dataclass(frozen=True)
class Served:
    """A running server: where it is, its token, its job, its process, and where its terminal goes."""

    port: int
    token: str
    job: Path
    process: subprocess.Popen[str]
    terminal: Path

    def send(
        self,
        method: str,
        path: str,
        body: bytes | None = None,
        headers: dict[str, str] | None = None,
        *,
        token: bool = True,
        timeout: float = 120,
    ) -> Answer:
        """Send one request with a token and the right kind of body unless told otherwise."""
        given = {"X-Nestkit-Token": self.token} if token else {}
        if body is not None:
            given["Content-Type"] = "application/json"
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=timeout)
        try:
            line.request(method, path, body, {**given, **(headers or {})})
            got = line.getresponse()
            found = {name.lower(): value for name, value in got.getheaders()}
            return Answer(got.status, found, got.read())
        finally:
            line.close()

    def get(self, path: str, **how: Any) -> Answer:
        return self.send("GET", path, **how)

    def post(self, path: str, what: Any, **how: Any) -> Answer:
        return self.send("POST", path, json.dumps(what).encode(), **how)

    def raw(self, data: bytes, timeout: float = 30) -> bytes:
        """Send bytes as they are; return all that comes back."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=timeout) as line:
            line.sendall(data)
            line.shutdown(socket.SHUT_WR)
            found = b""
            while piece := line.recv(65536):
                found += piece
            return found

    def said(self) -> str:
        """Return what the server has said on its terminal."""
        return self.terminal.read_text(encoding="utf-8")


def begun(*options: str, folder: Path, terminal: Path) -> tuple[subprocess.Popen[str], str]:
    """Start the command and return its process and the address that it prints."""
    with terminal.open("w", encoding="utf-8") as errors:
        process = subprocess.Popen(
            [sys.executable, "-P", "-c", PROGRAM, "page", *options, "--no-open"],
            stdout=subprocess.PIPE,
            stderr=errors,
            text=True,
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            start_new_session=True,
        )
    assert process.stdout is not None
    return process, process.stdout.readline().strip()


@contextmanager
def serve(job: Path, text: str = JOB) -> Iterator[Served]:
    """Run a server on a job file made anew, and end it as Ctrl-C does."""
    job.write_text(text, encoding="utf-8")
    terminal = job.parent.parent / f"{job.parent.name}-terminal.txt"
    process, address = begun(str(job), folder=job.parent, terminal=terminal)
    try:
        assert address.startswith("http://127.0.0.1:"), terminal.read_text(encoding="utf-8")
        place, _, token = address.partition("/#token=")
        yield Served(int(place.rpartition(":")[2]), token, job, process, terminal)
    finally:
        end(process)


def end(process: subprocess.Popen[str]) -> int:
    """End a server as Ctrl-C does; return its exit code."""
    process.send_signal(signal.SIGINT)
    try:
        return process.wait(30)
    finally:
        process.kill()
        if process.stdout is not None:
            process.stdout.close()
