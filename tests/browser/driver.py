"""A headless browser and the page's server for tests, and what they need on this machine."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from queue import Empty, Queue
from typing import IO

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_parts"
PATIENCE = 40
"""Seconds that a test waits for the page at most: machines that run tests are busy."""


def wanted(there: bool, what: str) -> None:
    """Skip a test that lacks something on this machine; where all must run, fail it."""
    if there:
        return
    if os.environ.get("NESTKIT_TESTS") == "all":
        pytest.fail(f"{what} is not on this machine, and every test must run")
    pytest.skip(f"{what} is not on this machine")


def program(*names: str) -> str | None:
    """Return the path of the first of some programs that is there."""
    return next((path for name in names if (path := shutil.which(name))), None)


def programs() -> tuple[str, str] | None:
    """Return the paths of a browser and its driver, None where one of them is not on this machine."""
    chrome, driver = program("chromium", "chromium-browser", "google-chrome"), program("chromedriver")
    return (chrome, driver) if chrome and driver else None


@contextmanager
def browser() -> Iterator[webdriver.Chrome]:
    """Run a headless browser that finds no host but this machine's loopback address."""
    found = programs()
    if found is None:
        raise RuntimeError("no browser with its driver on this machine (Debian: chromium, chromium-driver)")
    options = webdriver.ChromeOptions()
    options.binary_location = found[0]
    for word in (
        "headless=new",
        "no-sandbox",
        "disable-dev-shm-usage",
        "disable-gpu",
        "disable-background-networking",
        "force-prefers-reduced-motion",
        "host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    ):
        options.add_argument(f"--{word}")
    options.set_capability("goog:loggingPrefs", {"performance": "ALL", "browser": "ALL"})
    options.set_capability("goog:perfLoggingPrefs", {"enableNetwork": True, "enablePage": False})
    started = webdriver.Chrome(options=options, service=Service(found[1]))
    try:
        yield started
    finally:
        started.quit()


@dataclass(frozen=True)
class Server:
    """A running server: its address with the token of the run, and its process."""

    address: str
    process: subprocess.Popen[str]

    @property
    def origin(self) -> str:
        """The address without what follows the port."""
        return self.address.partition("/#")[0]


@contextmanager
def serving(job: Path | None, folder: Path) -> Iterator[Server]:
    """Run the page's server on a job from a folder until Ctrl-C, and see that it ends well."""
    command = [sys.executable, "-m", "nestkit", "page", *([str(job)] if job else []), "--no-open"]
    # Run from the job's folder, the command must still be the one that lies beside these tests.
    paths = [str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    environ = {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}
    with (
        tempfile.TemporaryFile("w+") as told,
        subprocess.Popen(
            command, cwd=folder, env=environ, stdout=subprocess.PIPE, stderr=told, text=True
        ) as process,
    ):
        try:
            yield Server(_address(process, told), process)
            process.send_signal(signal.SIGINT)
            assert process.wait(30) == 0, f"the server did not end well:\n{_text(told)}"
            assert "Traceback" not in _text(told), _text(told)
        finally:
            process.kill()


def _address(process: subprocess.Popen[str], told: IO[str]) -> str:
    """Return the address that the command says, within the patience of the tests."""
    lines: Queue[str] = Queue()

    def listen() -> None:
        assert process.stdout is not None
        for line in process.stdout:
            lines.put(line)
        lines.put("")

    threading.Thread(target=listen, daemon=True).start()
    while True:
        try:
            line = lines.get(timeout=PATIENCE)
        except Empty:
            raise AssertionError(f"the command says no address:\n{_text(told)}") from None
        assert line, f"the command ended without an address:\n{_text(told)}"
        if found := re.search(r"http://127\.0\.0\.1:\d+/\S*", line):
            return found[0]


def _text(told: IO[str]) -> str:
    told.seek(0)
    return told.read()


def boat(folder: Path) -> Path:
    """Return the job file of a copy of the solar boat in a folder, with what it reads."""
    for name in ("solar_boat.toml", "deck_parts.csv"):
        shutil.copy(SAMPLES / name, folder)
    shutil.copytree(SAMPLES / "outlines", folder / "outlines")
    return folder / "solar_boat.toml"
