"""What the tests in a browser share: the browser, the page opened on a job, jobs to open it on."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from selenium import webdriver

from tests.browser.driver import Server, boat, browser, programs, serving, wanted
from tests.browser.tab import DESKTOP, Tab, entries_of

TRAY = """\
# A tray for the bench; the numbers are those of the caliper.
job  = "Bench tray"
unit = "in"
date = 2026-03-02

[cutting]
how  = "saw"
kerf = "1/8"        # the blade of the table saw

[[sheet]]
name      = "birch 1/4 2x4"
material  = "plywood birch"
thickness = "1/4"
size      = [24, 48]
price     = 21.50   # as of spring

[[sheet]]
name      = "birch 1/4 4x4"
material  = "plywood birch"
thickness = "1/4"
size      = [48, 48]
price     = 39.00

[[bought]]
name      = "strap"
price     = 4.20
material  = "steel stainless"
thickness = ".06"
  [[bought.holes]]
  name = "ends"
  dia  = ".206"
  at   = [["1/2", "1/2"], [13, "1/2"]]

[[joint]]
name    = "strap under bottom"
screw   = "10-32"
through = ["bottom / feet", "strap / ends"]

[[panel]]
name      = "bottom"    # goes in last
material  = "plywood birch"
thickness = "1/4"
size      = ["14 1/2", "9 3/4"]
  [[panel.holes]]
  name  = "feet"
  screw = "10-32"
  at    = [[1, 1], ["13 1/2", 1]]

[[panel]]
name      = "side"
material  = "plywood birch"
thickness = "1/4"
size      = [14, 3]
quantity  = 2
"""
"""A job of two parts and what holds them, for tests that need no more."""


@pytest.fixture(scope="session")
def chrome() -> Iterator[webdriver.Chrome]:
    """One browser for all tests of a process; each test has tabs of its own."""
    wanted(programs() is not None, "a browser with its driver (Debian: chromium, chromium-driver)")
    with browser() as started:
        yield started


class Pages:
    """Servers and tabs of one test, ended with it."""

    def __init__(self, chrome: webdriver.Chrome, stack: ExitStack) -> None:
        self._chrome, self._stack = chrome, stack
        self.servers: list[Server] = []
        self.tabs: list[Tab] = []

    def serve(self, job: Path | None, folder: Path | None = None) -> Server:
        """Run a server on a job until the test ends; without a job, in a folder."""
        where = folder or (job.parent if job else None)
        assert where is not None
        server = self._stack.enter_context(serving(job, where))
        self.servers.append(server)
        return server

    def tab(self, server: Server, size: tuple[int, int] = DESKTOP) -> Tab:
        """Open a tab on a server's page."""
        tab = Tab(self._chrome, server.address, size)
        self.tabs.append(tab)
        return tab

    def open(self, job: Path | None, folder: Path | None = None, size: tuple[int, int] = DESKTOP) -> Tab:
        """Run a server on a job, and open its page in a tab."""
        return self.tab(self.serve(job, folder), size)


@pytest.fixture
def pages(chrome: webdriver.Chrome) -> Iterator[Pages]:
    """Servers and tabs; afterwards, no other host was asked, and the browser had nothing to complain of."""
    home = chrome.current_window_handle
    for kind in ("performance", "browser"):
        entries_of(chrome, kind)
    with ExitStack() as stack:
        made = Pages(chrome, stack)
        try:
            yield made
            if made.tabs:
                asked = {url for url in made.tabs[-1].requests() if not url.startswith(("blob:", "data:"))}
                own = tuple(server.origin + "/" for server in made.servers)
                assert not {url for url in asked if not url.startswith(own)}
                assert made.tabs[-1].complaints() == []
        finally:
            for tab in made.tabs:
                tab.close()
            chrome.switch_to.window(home)


@pytest.fixture
def tray(tmp_path: Path) -> Path:
    """Return the small job in a folder of its own."""
    job = tmp_path / "tray.toml"
    job.write_text(TRAY, encoding="utf-8")
    return job


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    """Return the sample job in a folder of its own, with what it reads."""
    return boat(tmp_path)
