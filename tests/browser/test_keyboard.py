"""The page without a mouse: every control is reached, seen when it is reached, and worked with keys."""

from __future__ import annotations

from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.conftest import Pages
from tests.browser.tab import VIEWS, Tab
from tests.browser.test_people import READY

# All that can be worked and is to be seen; the first of it takes the focus, the rest is left to the keys.
LISTEN = """
const shown = (one) => one.checkVisibility({visibilityProperty: true}) && !one.disabled;
const all = "a[href], button, input, select, textarea, summary, [tabindex='0']";
window.wantedStops = [...document.querySelectorAll(all)].filter(shown);
window.reached = new Set();
window.unmarked = [];
const marked = (one) => {
  const look = getComputedStyle(one);
  return one.matches(":focus-visible") && (look.outlineStyle !== "none" || look.boxShadow !== "none");
};
window.heard ??= document.addEventListener("focusin", (event) => {
  window.reached.add(event.target);
  if (!marked(event.target)) window.unmarked.push(event.target.outerHTML.slice(0, 120));
}) ?? true;
document.activeElement?.blur();
return window.wantedStops.length;
"""
MISSED = """
const missed = window.wantedStops.filter((one) => !window.reached.has(one));
return {missed: missed.map((one) => one.outerHTML.slice(0, 160)), unmarked: window.unmarked};
"""
# After a frame: the middle of what has the focus, and whether anything else lies over it there.
HIDDEN = """
const done = arguments[0];
requestAnimationFrame(() => setTimeout(() => {
  const at = document.activeElement;
  const box = at.getBoundingClientRect();
  const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  const seen = top && (at.contains(top) || top.contains(at) || top.closest("label")?.control === at);
  done(seen ? "" : `${at.outerHTML.slice(0, 120)} under ${top?.outerHTML.slice(0, 120) ?? "nothing"}`);
}));
"""
AT = "return [document.activeElement.dataset.test ?? '', document.activeElement.textContent.trim()]"


def test_every_control_is_reached_by_tab(pages: Pages, tray: Path) -> None:
    """On each view Tab goes to every control that is to be seen, and each shows that it has the focus."""
    tab = pages.open(tray)
    found = {}
    for view in VIEWS:
        tab.go(view)
        tab.see(READY[view])
        if view == "layout":
            tab.laid_out()
        stops = tab.driver.execute_script(LISTEN)
        assert stops > 12
        tab.keys(*[Keys.TAB] * (stops + 4))
        found[view] = tab.driver.execute_script(MISSED)
    assert found == {view: {"missed": [], "unmarked": []} for view in VIEWS}


def test_nothing_lies_over_what_has_the_focus(pages: Pages, sample: Path) -> None:
    """Going down the list of parts and back, the drawing above it never hides the field at work."""
    tab = pages.open(sample)
    tab.see(READY["parts"])
    tab.row("panel", "console lid").find_element(By.CSS_SELECTOR, "[data-key=name]").send_keys(Keys.NULL)
    hidden = set()
    for keys in ([Keys.TAB] * 40, [Keys.SHIFT + Keys.TAB] * 40):
        for key in keys:
            tab.keys(key[-1], held=key[:-1])
            hidden.add(tab.driver.execute_async_script(HIDDEN))
    assert hidden == {""}


def test_a_part_is_added_with_keys_alone(pages: Pages, tray: Path) -> None:
    """From the skip link to a saved part with a hole, nothing needs a mouse."""
    tab = pages.open(tray)
    tab.see(READY["parts"])
    tab.driver.execute_script("document.activeElement?.blur()")
    tab.keys(Keys.TAB)
    assert "To the work" in tab.driver.execute_script(AT)[1]
    tab.keys(Keys.ENTER)
    _tab_to(tab, "add-panel")
    tab.keys(Keys.ENTER)
    tab.until("return document.querySelectorAll('[data-test=rows-panel] > li').length === 3")
    assert _at(tab) == "field-name"
    tab.keys(*"lid")
    _tab_to(tab, "field-size")
    tab.keys(*"8 x 5 1/2")
    tab.see("[data-test=part-title]", "8 x 5 1/2 in")
    _tab_to(tab, "more")
    if tab.driver.execute_script("return document.activeElement.getAttribute('aria-expanded')") == "false":
        tab.keys(Keys.ENTER)
    _to_section(tab, "holes")
    tab.keys(Keys.ENTER)
    _tab_to(tab, "add-holes")
    tab.keys(Keys.ENTER)
    _tab_to(tab, "bore")
    _retype(tab, "10-32 loose")
    _tab_to(tab, "field-at")
    _retype(tab, "1, 1; 7, 1")
    tab.see("[data-test=understood]", "2 x")
    tab.keys("s", held=Keys.CONTROL)
    tab.see("[data-test=saved]", "Saved.")
    assert 'name = "lid"' in " ".join(tray.read_text(encoding="utf-8").split())


def test_a_layout_is_worked_with_keys_alone(pages: Pages, tray: Path) -> None:
    """Views, sheet, parts and saw steps of a layout are reached and worked with Tab, Enter and arrows."""
    tab = pages.open(tray)
    tab.see(READY["parts"])
    _tab_to(tab, "nav-layout")
    tab.keys(Keys.ENTER)
    tab.see("h1", "Layout")
    assert tab.driver.execute_script(AT)[1] == "Layout"
    tab.laid_out()
    _tab_to(tab, "sheet")
    box = "return document.querySelector('[data-test=sheet] svg').getAttribute('viewBox')"
    whole = tab.until(box)
    tab.keys("+", Keys.ARROW_RIGHT)
    assert tab.until(box) != whole
    tab.keys("0")
    assert tab.until(box) == whole
    _tab_to(tab, "sheet-part")
    tab.keys(Keys.ARROW_DOWN, Keys.ENTER)
    chosen = tab.see("[data-test=sheet-part][aria-pressed=true]")
    assert tab.driver.execute_script(AT)[1] == chosen.text
    _tab_to(tab, "cut-next")
    tab.keys(Keys.ENTER, Keys.ENTER)
    tab.see("[data-test=cut-say]", "Cut")
    assert _at(tab) == "cut-next"


def test_a_dialogue_is_left_with_keys(pages: Pages, tmp_path: Path) -> None:
    """Where a name is asked for, the focus is in its field, stays there, and goes back after Escape."""
    tab = pages.open(None, tmp_path)
    tab.see(READY["parts"])
    tab.see("[data-test=save]").send_keys(Keys.ENTER)
    tab.see("[data-test=file-name]")
    assert _at(tab) == "file-name"
    inside = "return document.activeElement === document.body || !!document.activeElement.closest('dialog')"
    for _ in range(6):
        tab.keys(Keys.TAB)
        assert tab.driver.execute_script(inside)
    tab.keys(Keys.ESCAPE)
    tab.gone("dialog")
    assert _at(tab) == "save"
    assert list(tmp_path.iterdir()) == []


def _retype(tab: Tab, text: str) -> None:
    """Type over all that stands in the field that has the focus."""
    tab.keys("a", held=Keys.CONTROL)
    tab.keys(*text)


def _at(tab: Tab) -> str:
    at: str = tab.driver.execute_script(AT)[0]
    return at


def _tab_to(tab: Tab, test: str, most: int = 80) -> None:
    """Press Tab until the control with a hook has the focus."""
    for _ in range(most):
        if _at(tab) == test:
            return
        tab.keys(Keys.TAB)
    raise AssertionError(f"Tab does not reach {test}")


def _to_section(tab: Tab, name: str) -> None:
    """Press Tab until the heading of a section of the form has the focus."""
    script = "return document.activeElement.closest('summary')?.parentElement.dataset.section"
    for _ in range(80):
        if tab.driver.execute_script(script) == name:
            return
        tab.keys(Keys.TAB)
    raise AssertionError(f"Tab does not reach the section {name}")
