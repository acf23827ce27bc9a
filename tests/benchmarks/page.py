"""How long people wait for the page: first view, a typed change, a quick layout, and a job of 1,000 parts.

Run ``python tests/benchmarks/page.py`` on a quiet machine that has a browser and its driver (Debian:
chromium, chromium-driver) and Linux's /proc. ``--times N`` measures each N times, 7 if not said; the middle
of them counts, the worst is shown beside it. Exit 1 when the middle of anything is over its target.

Times are milliseconds in the browser: from the beginning of navigation, from the time stamp of the key or of
the press, until the frame after the new picture stands in the document. Start-up is CPU seconds of the
server's own process until it has answered for the first time.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from workshop import job_text

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

# Notes when something is first to be seen, from the very beginning of the document.
NOTE_FIRST = """
window.firstSeen = {};
const wanted = {picture: "[data-test=part-picture] svg", sheet: "[data-test=sheet] svg"};
new MutationObserver(() => {
  for (const [name, css] of Object.entries(wanted)) {
    if (name in firstSeen || !document.querySelector(css)) continue;
    firstSeen[name] = NaN;
    requestAnimationFrame(() => (firstSeen[name] = performance.now()));
  }
}).observe(document, {childList: true, subtree: true});
addEventListener("click", (event) => (window.pressedAt = event.timeStamp), true);
"""
# Notes of the next key when it came, when its frame was done, and when the drawing was new.
NOTE_KEY = """
window.key = {};
addEventListener("input", (event) => {
  key.typed = event.timeStamp;
  requestAnimationFrame(() => setTimeout(() => (key.shown = performance.now())));
}, {capture: true, once: true});
new MutationObserver((_, self) => {
  self.disconnect();
  requestAnimationFrame(() => (key.drawn = performance.now()));
}).observe(document.querySelector("[data-test=part-picture]"), {childList: true, subtree: true});
"""
SCROLL = """
const done = arguments[arguments.length - 1];
const took = [];
const frame = (act) => requestAnimationFrame(() => setTimeout(act));
const step = () => {
  if (took.length === 20) return done(took);
  const from = performance.now();
  window.scrollBy(0, (took.length % 2 ? 1 : 9) * innerHeight);
  frame(() => {
    took.push(performance.now() - from);
    step();
  });
};
frame(step);
"""
SETTLED_S = 6.0
"""Seconds after opening that the server has to make itself ready, while people look at the first part."""


def main(argv: list[str] | None = None) -> int:
    """Print a row a measure; return 1 when one is over its target."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--times", type=int, default=7)
    times = parser.parse_args(argv).times
    from tests.browser.driver import SAMPLES, boat, browser

    assert (SAMPLES / "solar_boat.toml").is_file()
    rows: list[tuple[str, float, list[float], str]] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        sample = boat(folder)
        many = folder / "many.toml"
        many.write_text(job_text(1000, 1000, 1), encoding="utf-8")
        rows.append(("start-up of the command", 1.0, [start_up(sample) for _ in range(times)], "CPU s"))
        with browser() as chrome:
            first, quick = zip(*(first_and_quick(chrome, sample) for _ in range(times)), strict=True)
            rows.append(("first view", 1000, list(first), "ms"))
            rows.append(("quick layout", 1000, list(quick), "ms"))
            with opened(chrome, sample) as tab:
                _, drawn = typed(tab, times)
            rows.append(("a typed change redrawn", 100, drawn, "ms"))
            with opened(chrome, many) as tab:
                shown, drawn = typed(tab, times)
                rows.append(("1,000 parts: a key shown", 200, shown, "ms"))
                rows.append(("1,000 parts: a typed change redrawn", 200, drawn, "ms"))
                rows.append(("1,000 parts: a screen scrolled", 200, scrolled(tab), "ms"))
    return report(rows)


def report(rows: list[tuple[str, float, list[float], str]]) -> int:
    """Print the table; return 1 when the middle of a row is over its target."""
    print(f"{'what':36} {'middle':>8} {'worst':>8} {'target':>8}")
    over = 0
    for what, most, found, unit in rows:
        middle = statistics.median(found)
        over += middle > most
        digits = 2 if unit == "CPU s" else 0
        mark = "  over" if middle > most else ""
        print(f"{what:36} {middle:8.{digits}f} {max(found):8.{digits}f} {most:8.{digits}f} {unit}{mark}")
    return int(over > 0)


def start_up(job: Path) -> float:
    """Return the CPU seconds of the server's process until its first answer."""
    from tests.browser.driver import serving

    with serving(job, job.parent) as server:
        with urllib.request.urlopen(f"{server.origin}/", timeout=30) as answer:
            answer.read()
        fields = Path(f"/proc/{server.process.pid}/stat").read_text().rpartition(")")[2].split()
    # utime and stime of proc(5), in hundredths of a second.
    return (int(fields[11]) + int(fields[12])) / 100


def first_and_quick(chrome: Any, job: Path) -> tuple[float, float]:
    """Return the time to the first drawing, and from the press on Layout to the first sheet."""
    with opened(chrome, job) as tab:
        first = tab.until("return window.firstSeen?.picture")
        time.sleep(SETTLED_S)
        tab.go("layout")
        sheet = tab.until("return window.firstSeen?.sheet")
        pressed = tab.driver.execute_script("return window.pressedAt")
    return first, sheet - pressed


def typed(tab: Any, times: int) -> tuple[list[float], list[float]]:
    """Return how long keys typed into a size took to show, and to be drawn."""
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys

    tab.see("[data-test=part-picture] svg")
    time.sleep(SETTLED_S)
    field = tab.driver.find_element(By.CSS_SELECTOR, "[data-test=rows-panel] > li [data-key=size]")
    tab.type_into(field, "17 x 12")
    tab.see("[data-test=part-title]", "17 x 12")
    shown, drawn = [], []
    for turn in range(times):
        time.sleep(1)
        tab.driver.execute_script(NOTE_KEY)
        field.send_keys(Keys.BACKSPACE if turn % 2 else "5")
        tab.until("return key.drawn && key.shown")
        key = tab.driver.execute_script("return key")
        shown.append(key["shown"] - key["typed"])
        drawn.append(key["drawn"] - key["typed"])
    return shown, drawn


def scrolled(tab: Any) -> list[float]:
    """Return how long each of twenty leaps through the list took to be on the screen."""
    found: list[float] = tab.driver.execute_async_script(SCROLL)
    return found


@contextmanager
def opened(chrome: Any, job: Path) -> Iterator[Any]:
    """Run a server on a job, and open its page in a tab that notes what is seen first."""
    from tests.browser.driver import serving
    from tests.browser.tab import Tab

    home = chrome.current_window_handle
    with serving(job, job.parent) as server:
        tab = Tab(chrome, "about:blank")
        tab.driver.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": NOTE_FIRST})
        tab.driver.get(server.address)
        try:
            yield tab
        finally:
            tab.close()
            chrome.switch_to.window(home)


if __name__ == "__main__":
    sys.exit(main())
