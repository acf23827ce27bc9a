"""Parts held where they lie, and regions of a sheet kept clear: chosen, laid out around, and saved."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By

from tests.browser.conftest import Pages
from tests.browser.tab import Tab

# Boxes of the parts in the picture, in its own units, by what their names are.
BOXES = """
const box = (one) => { const {x, y, width, height} = one.getBBox(); return [x, y, width, height]; };
const parts = [...document.querySelectorAll("[data-test=sheet] .part")];
return Object.fromEntries(parts.map((one) => [one.querySelector("title").textContent, box(one)]));
"""


def test_a_held_part_stays_and_the_rest_is_laid_anew(pages: Pages, tray: Path) -> None:
    """A held part lies where it lay when another was changed, is said to be held, and is in the file."""
    tab = pages.open(tray)
    before = _laid(tab)
    tab.see("[data-test=sheet-part]", "side, copy 2").click()
    tab.click("[data-test=hold]")
    tab.see("[data-test=let-go]")
    tab.see("[data-test=outdated]", "Changed since this layout")
    tab.go("parts")
    tab.write("panel", "bottom", "size", "16 x 20")
    tab.go("layout")
    tab.click("[data-test=lay-out]", "Lay out the rest again")
    tab.laid_out()
    assert tab.see("[data-test=sheet-part]", "side, copy 2").text.endswith("held")
    after = tab.driver.execute_script(BOXES)
    assert after["side 2"] == before["side 2"]
    assert after["bottom 1"] != before["bottom 1"]
    assert len(tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=sheet] .part.held")) == 1
    _save(tab)
    (hold,) = _read(tray)["hold"]
    assert (hold["part"], hold["copy"], hold["sheet"], hold["on"]) == ("side", 2, "birch 1/4 2x4", 1)
    assert all(str(length).endswith(" mm") for length in hold["at"])
    tab.click("[data-test=let-go]")
    _save(tab)
    assert "hold" not in _read(tray)


def test_a_held_part_that_cannot_lie_there_is_said(pages: Pages, tray: Path) -> None:
    """Held off its sheet, a part is a mistake in words, and nothing is laid out until it is mended."""
    tab = pages.open(tray)
    _laid(tab)
    tab.see("[data-test=sheet-part]", "side, copy 1").click()
    tab.click("[data-test=hold]")
    tab.go("stock")
    tab.type("[data-test=rows-hold] [data-key=at]", "30, 1")
    tab.see("[data-test=state]", "mistake")
    tab.see("[data-test=findings] .must", "hold")
    tab.go("layout")
    tab.click("[data-test=lay-out]")
    tab.see(".wrong .must")
    tab.click("[data-test=undo]")
    tab.click("[data-test=lay-out]")
    tab.laid_out()


def test_a_region_typed_is_kept_clear(pages: Pages, tray: Path) -> None:
    """No part lies on a region that was typed; it is said, drawn, saved and taken out again."""
    tab = pages.open(tray)
    _laid(tab)
    tab.see("[data-test=keep-clear] summary").click()
    for key, text in (("x", "1"), ("y", "2"), ("w", "6"), ("h", "5 1/2"), ("why", "scratch")):
        tab.type(f"[data-test=keep-{key}]", text)
    tab.click("[data-test=keep-add]")
    tab.see("[data-test=keep-clear] li", "6 x 5 1/2 at 1, 2: scratch")
    tab.click("[data-test=lay-out]", "Lay out the rest again")
    tab.laid_out()
    boxes = tab.driver.execute_script(BOXES)
    region = [length * 25.4 for length in (1, 2, 6, 5.5)]
    assert [name for name, box in boxes.items() if _meet(box, region)] == []
    tab.see("[data-test=sheet] svg", "scratch")
    _save(tab)
    (kept,) = _read(tray)["sheet"][0]["keep_clear"]
    assert kept == {"at": [1, 2], "size": [6, "5 1/2"], "on": 1, "why": "scratch"}
    tab.click("[data-test=keep-remove]")
    tab.click("[data-test=lay-out]")
    tab.laid_out()
    _save(tab)
    assert "keep_clear" not in _read(tray)["sheet"][0]


def test_a_region_is_drawn_with_the_mouse(pages: Pages, tray: Path) -> None:
    """A box dragged over the picture fills the fields with its place and size in the job's unit."""
    tab = pages.open(tray)
    _laid(tab)
    tab.see("[data-test=keep-clear] summary").click()
    tab.click("[data-test=keep-draw]")
    tab.until("return document.querySelector('[data-test=sheet]').hasAttribute('data-drawing')")
    part = tab.driver.find_element(By.CSS_SELECTOR, "[data-test=sheet] [data-part='0']")
    x, y, width, height = tab.driver.execute_script(BOXES)[_title(tab)]
    chain = ActionChains(tab.driver)
    size = part.rect
    half = (round(size["width"] / 4), round(size["height"] / 4))
    chain.move_to_element_with_offset(part, -half[0], -half[1]).click_and_hold()
    chain.move_by_offset(half[0], half[1]).move_by_offset(half[0], half[1]).release().perform()
    typed = [float(tab.typed_in(f"[data-test=keep-{key}]")) * 25.4 for key in "xywh"]
    wanted = [x + width / 4, y + height / 4, width / 2, height / 2]
    assert max(abs(a - b) for a, b in zip(typed, wanted, strict=True)) < 12
    tab.click("[data-test=keep-add]")
    tab.see("[data-test=keep-clear] li", " at ")
    tab.click("[data-test=lay-out]", "Lay out the rest again")
    tab.laid_out()
    assert [name for name, box in tab.driver.execute_script(BOXES).items() if _meet(box, typed)] == []


def _laid(tab: Tab) -> dict[str, list[float]]:
    tab.go("layout")
    tab.laid_out()
    boxes: dict[str, list[float]] = tab.driver.execute_script(BOXES)
    return boxes


def _title(tab: Tab) -> str:
    title: str = tab.until(
        "return document.querySelector('[data-test=sheet] [data-part=\"0\"] title').textContent"
    )
    return title


def _meet(one: list[float], other: list[float]) -> bool:
    """Say whether two boxes (x, y, width, height; mm) lie on one another by more than a thousandth."""
    across = min(one[0] + one[2], other[0] + other[2]) - max(one[0], other[0])
    up = min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1])
    return min(across, up) > 0.001


def _save(tab: Tab) -> None:
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")
    tab.see("#file", ": saved")


def _read(job: Path) -> dict[str, Any]:
    return tomllib.loads(job.read_text(encoding="utf-8"))
