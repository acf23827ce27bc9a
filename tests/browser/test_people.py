"""The page at phone width, in large type, on paper, and as the accessibility checker finds it."""

from __future__ import annotations

from pathlib import Path

from selenium.webdriver.common.by import By

from tests.browser.conftest import Pages
from tests.browser.tab import DESKTOP, PHONE, VIEWS, Tab

READY = {
    "parts": "[data-test=part-picture] svg",
    "stock": "[data-test=part-picture] svg",
    "layout": "[data-test=sheet] svg",
    "buy": "[data-test=buy-rows] table",
    "joints": "[data-test=joints] svg",
    "prints": "[data-test=pages] svg",
    "job": "[data-test=since-saving]",
}
"""What shows that a view has all that it is about."""
OPENED = "document.querySelectorAll('main details:not([open])').forEach((one) => (one.open = true))"
"""Opens everything that is folded, so that nothing is passed over."""
SEEN_OF = """
const shown = (one) => one.checkVisibility({visibilityProperty: true});
const words = (one) => one.textContent.trim().slice(0, 40);
return [...document.querySelectorAll(arguments[0])].filter(shown).map(words);
"""


def test_no_view_scrolls_sideways(pages: Pages, sample: Path) -> None:
    """Nothing is wider than the page: at phone width, and with text of twice the size on a desktop."""
    tab = pages.open(sample)
    found = {}
    for view in VIEWS:
        _show(tab, view)
        for case, size, text in (("phone", PHONE, "100%"), ("large text", DESKTOP, "200%")):
            tab.resize(size)
            tab.driver.execute_script("document.documentElement.style.fontSize = arguments[0]", text)
            if wide := tab.sideways():
                found[f"{view}, {case}"] = wide
        tab.resize(DESKTOP)
        tab.driver.execute_script("document.documentElement.style.fontSize = ''")
    assert found == {}


def test_the_checker_finds_nothing_serious(pages: Pages, tray: Path) -> None:
    """On no view, wide or narrow and all unfolded, does the accessibility checker find a serious fault."""
    tab = pages.open(tray)
    found = {}
    for view in VIEWS:
        _show(tab, view)
        for size in (PHONE, DESKTOP):
            tab.resize(size)
            if faults := tab.faults():
                found[f"{view}, {size[0]} wide"] = faults
    assert found == {}


def test_the_checker_finds_nothing_serious_where_something_is_wrong(pages: Pages, tray: Path) -> None:
    """Mistakes at their fields, the dialogue of two versions and a broken file have no serious fault."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "14 x nine")
    tab.see("[data-test=rows-panel] .mistake")
    found = tab.faults()
    good = tray.read_text(encoding="utf-8")
    tray.write_text(good.replace("quantity  = 2", "quantity  = 3"), encoding="utf-8")
    tab.click("[data-test=save]")
    tab.see("dialog")
    found += tab.faults()
    tray.write_text(good + "[[", encoding="utf-8")
    tab.driver.refresh()
    tab.see("h1", "cannot be read")
    assert found + tab.faults() == []


def test_paper_shows_the_work_alone(pages: Pages, tray: Path) -> None:
    """Printed, each view has its heading and pictures and neither navigation nor buttons nor hints.

    Templates, which come out true to size from their PDF only, are left out, and it is said.
    """
    tab = pages.open(tray)
    left, lost = {}, []
    for view in VIEWS:
        _show(tab, view)
        tab.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
        if seen := tab.driver.execute_script(
            SEEN_OF, "nav, nav a, .skip, [data-test=hint], .doing button, [data-test=drop]"
        ):
            left[view] = seen
        for css in ("h1", ".paper-only" if view == "prints" else READY[view]):
            if not tab.driver.execute_script(SEEN_OF, css):
                lost.append(f"{view}: {css}")
        if view == "prints":
            assert tab.driver.execute_script(SEEN_OF, READY[view]) == []
        tab.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert (left, lost) == ({}, [])


def test_a_hint_that_was_put_away_stays_away(pages: Pages, tray: Path) -> None:
    """A hint for the first time is put away with a button, and does not come back after a reload."""
    tab = pages.open(tray)
    tab.click("[data-test=hint-away]")
    tab.gone("[data-test=hint]")
    tab.driver.refresh()
    tab.see(READY["parts"])
    assert not tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=hint]")


def _show(tab: Tab, view: str) -> None:
    """Open a view, wait for all that it is about, and unfold it: the first part with its form, too."""
    tab.go(view)
    tab.see(READY[view])
    if view == "layout":
        tab.laid_out(stop=True)
        tab.see("[data-test=sheet-part]").click()
    for more in tab.driver.find_elements(By.CSS_SELECTOR, "main ol > li:first-child [data-test=more]"):
        tab.driver.execute_script("arguments[0].click()", more)
    tab.driver.execute_script(OPENED)
