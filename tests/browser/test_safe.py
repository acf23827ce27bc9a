"""Names that look like markup are text everywhere, and nothing goes anywhere but to this computer."""

from __future__ import annotations

from pathlib import Path

from tests.browser.conftest import Pages
from tests.browser.tab import VIEWS, Tab
from tests.browser.test_people import OPENED, READY

EVIL = '<img src=x onerror=hit=1><script>hit=1 "&lt;'
"""A name as the job file takes it: of at most 60 signs, without a stroke."""
CLOSED = "</title><script>hit=1</script>'"
NAMED = r"""
job  = 'JOB %(evil)s'
unit = "in"
date = 2026-03-02

[cutting]
how  = "saw"
kerf = "1/8"

[[sheet]]
name      = 'SHEET %(evil)s'
material  = 'WOOD %(evil)s'
thickness = "1/4"
size      = [24, 48]
price     = 21.50

[[bar]]
name     = 'BAR %(evil)s'
material = 'TUBE %(evil)s'
section  = "1 x 1 x 1/16"
length   = 96
price    = 14.00

[[panel]]
name      = 'PANEL %(evil)s'
for       = 'BENCH %(evil)s'
material  = 'WOOD %(evil)s'
thickness = "1/4"
size      = [14, 9]
revision  = 'R %(evil)s'
  [[panel.holes]]
  name  = 'HOLES %(evil)s'
  screw = "10-32"
  at    = [[1, 1], [13, 1]]
  [[panel.marks]]
  at     = [2, 4]
  text   = 'MARK %(evil)s'
  height = "1/8"

[[tube]]
name     = 'LENGTH %(evil)s'
material = 'TUBE %(evil)s'
section  = "1 x 1 x 1/16"
length   = 22

[[bought]]
name      = 'BOUGHT %(evil)s'
price     = 4.20
material  = 'STEEL %(evil)s'
thickness = ".06"
  [[bought.holes]]
  name = "ends"
  dia  = ".206"
  at   = [["1/2", "1/2"], ["12 1/2", "1/2"]]

[[joint]]
name    = 'JOINT %(evil)s'
screw   = "10-32"
through = ['PANEL %(evil)s / HOLES %(evil)s', 'BOUGHT %(evil)s / ends']
"""
# What a name would make if it were taken for markup, and where a name stands that was taken so in part.
MADE = """
const kinds = "main img, main title:not(svg title), body script, svg script, [onerror]";
const made = document.querySelectorAll(kinds);
return [window.hit ?? 0, [...made].map((one) => one.outerHTML.slice(0, 100))];
"""
# Fields, choices and texts alike.
SHOWN = """
const [start, evil] = arguments;
const fields = [...document.querySelectorAll("main input, main textarea")].map((one) => one.value);
const leaves = [...document.querySelectorAll("main *")].filter((one) => !one.children.length);
const texts = leaves.map((one) => one.textContent);
const all = [...fields, ...texts, document.getElementById("job-name").textContent];
return all.some((text) => text.includes(`${start} ${evil}`));
"""


def test_names_that_look_like_markup_are_text_everywhere(pages: Pages, tmp_path: Path) -> None:
    """No name of the job makes an element or runs; each stands where it should, as it was typed."""
    job = tmp_path / "job.toml"
    job.write_text(NAMED % {"evil": EVIL}, encoding="utf-8")
    tab = pages.open(job)
    expected = {
        "parts": ("JOB", "PANEL", "LENGTH", "BOUGHT"),
        "stock": ("SHEET", "BAR", "WOOD"),
        "layout": ("PANEL", "SHEET"),
        "buy": ("SHEET", "BAR", "BOUGHT"),
        "joints": ("JOINT", "BOUGHT"),
        "prints": ("PANEL", "LENGTH"),
        "job": ("JOB",),
    }
    for view in VIEWS:
        tab.go(view)
        tab.see(READY[view])
        if view == "layout":
            tab.laid_out()
            tab.see("[data-test=sheet-part]").click()
        tab.driver.execute_script(OPENED)
        lacking = [start for start in expected[view] if not tab.driver.execute_script(SHOWN, start, EVIL)]
        assert (view, lacking) == (view, [])
        assert (view, tab.driver.execute_script(MADE)) == (view, [0, []])


def test_a_name_typed_as_markup_is_text(pages: Pages, tray: Path) -> None:
    """A name with a script in it, typed, is drawn and listed as text, also where it is a mistake."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "name", EVIL)
    tab.see("[data-test=part-title]", "<script>")
    tab.write("panel", "side", "name", CLOSED)
    tab.see("[data-test=findings]", "<script>")
    tab.write("panel", EVIL, "size", "<b>x</b>")
    tab.see("[data-test=rows-panel] .mistake", "<b>x</b>")
    assert tab.driver.execute_script(MADE) == [0, []]


def test_the_token_stands_in_no_address_and_is_needed(pages: Pages, tray: Path) -> None:
    """The address shown has no token once the page is open; without one, the page says where to find it."""
    server = pages.serve(tray)
    tab = pages.tab(server)
    tab.see(READY["parts"])
    assert tab.driver.current_url == f"{server.origin}/"
    _without_token(tab)
    tab.see("h1", "Open this page from nestkit")
    assert "tray" not in tab.see("body").text


def test_no_request_leaves_this_computer(pages: Pages, tray: Path) -> None:
    """Going through all views, the browser asks the page's own server alone, on this computer."""
    server = pages.serve(tray)
    tab = pages.tab(server)
    for view in VIEWS:
        tab.go(view)
        tab.see(READY[view])
    asked = [url for url in tab.requests() if not url.startswith(("blob:", "data:"))]
    assert server.origin.startswith("http://127.0.0.1:")
    assert len(asked) > 30
    assert [url for url in asked if not url.startswith(f"{server.origin}/")] == []


def _without_token(tab: Tab) -> None:
    tab.driver.execute_script("sessionStorage.clear()")
    tab.driver.refresh()
