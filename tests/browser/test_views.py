"""What each view is there for: stop, buy, joints, prints, calibration, stock."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.conftest import Pages
from tests.browser.tab import Tab

VIEW_BOX = "return document.querySelector('[data-test=sheet] svg').getAttribute('viewBox')"
PLACED = r"{}, 14 x 3 in, as drawn, (not turned|turned 90°)"


def test_stop_keeps_the_best(pages: Pages, sample: Path) -> None:
    """A search that is stopped leaves the best layout found; a change meanwhile is told at once."""
    tab = pages.open(sample)
    tab.see("[data-test=part-picture] svg")
    tab.go("layout")
    tab.see("[data-test=effort] option", "as long as it helps").click()
    tab.click("[data-test=lay-out]")
    tab.see("[data-test=sheet] svg")
    tab.go("parts")
    tab.write("panel", "console lid", "size", "14 x 9 3/4")
    tab.go("layout")
    tab.see("[data-test=outdated]", "changed after this layout was begun")
    tab.click("[data-test=stop]")
    tab.gone("[data-test=stop]")
    tab.see("[data-test=outdated]", "Changed since this layout.")
    assert "Buy: " in tab.see("[data-test=say]").text
    tab.gone(".left .must")
    assert len(tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=other-sheet]")) >= 4
    tab.see("[data-test=lay-out]", "Lay out again")


def test_the_picture_of_a_sheet_comes_closer_and_moves(pages: Pages, tray: Path) -> None:
    """Buttons and keys zoom a sheet's picture, move it, and show the whole again."""
    tab = pages.open(tray)
    tab.go("layout")
    tab.laid_out()
    whole = tab.until(VIEW_BOX)
    tab.click("[data-test=closer]")
    closer = _box(tab)
    assert closer[2] < _numbers(whole)[2] / 1.2
    tab.see("[data-test=sheet]").send_keys(Keys.ARROW_RIGHT, Keys.ARROW_DOWN)
    moved = _box(tab)
    assert (moved[0] > closer[0], moved[1] > closer[1]) == (True, True)
    assert moved[2:] == closer[2:]
    tab.see("[data-test=sheet]").send_keys("+")
    assert _box(tab)[2] < closer[2]
    tab.click("[data-test=whole]")
    assert tab.until(VIEW_BOX) == whole


def test_a_part_is_marked_in_picture_and_list(pages: Pages, tray: Path) -> None:
    """A part pressed in the picture is chosen in the list, with size and turn, and the other way round."""
    tab = pages.open(tray)
    tab.go("layout")
    tab.laid_out()
    chosen = "return document.querySelector('[data-test=sheet] .part.chosen')?.dataset.part"
    for index in ("1", "2"):
        tab.driver.find_element(By.CSS_SELECTOR, f"[data-test=sheet] [data-part='{index}']").click()
        assert tab.until(chosen) == index
        name = tab.see("[data-test=sheet-part][aria-pressed=true]").text.partition(", turned")[0]
        assert name == f"side, copy {index}"
        assert re.fullmatch(PLACED.format(name), tab.see("[data-test=pointed]", name).text)
    first = tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=sheet-part]")[0]
    first.click()
    assert tab.until(chosen) == "0"
    assert first.get_attribute("aria-pressed") == "true"


def test_what_if_is_shown_beside_the_job(pages: Pages, tray: Path) -> None:
    """Spares, another way of cutting and stock left out are laid out and shown beside the job as it is."""
    tab = pages.open(tray)
    tab.go("buy")
    tab.see("[data-test=buy-lead]", "1 x birch 1/4 2x4, 1 x strap = 25.70")
    assert "birch 1/4 2x4" in tab.see("[data-test=buy-rows] tbody tr").text
    tab.type("[data-test=if-spare]", "2")
    tab.click("[data-test=if-how] option[value=router]")
    tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=if-stock]")[0].click()
    tab.click("[data-test=compare]")
    tab.see("[data-test=cases] .case h3", "By router")
    cases = tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=cases] .case")
    heads = [case.find_element(By.TAG_NAME, "h3").text for case in cases]
    assert heads == ["The job as it is", "2 more spare of each part", "Without birch 1/4 2x4", "By router"]
    assert "25.70" in cases[0].text
    assert "43.20" in cases[2].text
    assert "birch 1/4 4x4" in cases[2].text
    # Asking changes nothing of the job.
    tab.see("#file", "tray.toml: saved")


def test_a_joint_says_whether_its_holes_meet(pages: Pages, tray: Path) -> None:
    """A joint has its picture and its chance; with a hole moved it is reckoned again, and fits no more."""
    tab = pages.open(tray)
    tab.go("joints")
    tab.see("[data-test=joints] h2", "strap under bottom")
    tab.see("[data-test=joints] svg")
    tab.see("[data-test=joints] .joint", "99 in 100 go together")
    tab.go("parts")
    tab.row("panel", "bottom").find_element(By.CSS_SELECTOR, "[data-test=more]").click()
    tab.type("[data-test=item-form] [data-section=holes] [data-key=at]", "1, 1; 13 1/4, 1")
    tab.go("joints")
    tab.gone("[data-test=joints] .joint", "99 in 100 go together")
    tab.see("[data-test=joints] .joint", "strap under bottom")


def test_a_template_is_shown_as_it_will_print(pages: Pages, tray: Path) -> None:
    """Pages follow the part, the paper and the printer's scale that are chosen."""
    tab = pages.open(tray)
    tab.go("prints")
    tab.see("[data-test=pages] svg")
    letter = _sizes(tab)
    tab.type("[data-test=print-paper]", "A3")
    tab.keys(Keys.TAB)
    tab.until("return JSON.stringify(arguments[0]) !== JSON.stringify(" + SIZES + ")", letter)
    tab.see("[data-test=pages]", "as they will print")
    tab.click("[data-test=print-part] option[value=side]")
    tab.see("[data-test=pages]", "side")
    tab.see("#file", "tray.toml: saved")


def test_the_printers_scale_is_reckoned_from_readings(pages: Pages, tray: Path) -> None:
    """Readings of the print test give the scale that the job and the preview then use, and that is saved."""
    tab = pages.open(tray)
    tab.go("prints")
    tab.see("[data-test=pages] svg")
    tab.click("[data-test=calibration] summary")
    # On letter paper the rulers are 8 and 9 1/2 inches long; a hundredth of that more was read on each.
    for axis, text in (("x", "8.08"), ("y", "9.595")):
        for number in (0, 1):
            tab.type(f"[data-test=reading-{axis}-{number}]", text)
    tab.click("[data-test=calibrate]")
    tab.click("[data-test=use-scale]")
    scale = float(tab.typed_in("[data-test=print-scale_x]"))
    assert scale == 1.01
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")
    assert tomllib.loads(tray.read_text(encoding="utf-8"))["printing"]["scale_x"] == 1.01


def test_stock_is_changed_like_parts(pages: Pages, tray: Path) -> None:
    """A sheet's size is typed, drawn and saved; a sheet that no longer holds a part is said in the layout."""
    tab = pages.open(tray)
    tab.go("stock")
    tab.see("[data-test=part-picture] svg")
    tab.write("sheet", "birch 1/4 2x4", "size", "24 x 36")
    tab.see("[data-test=part-title]", "24 x 36")
    tab.write("sheet", "birch 1/4 4x4", "size", "8 x")
    tab.see("[data-test=rows-sheet] .mistake")
    tab.go("layout")
    tab.see(".wrong .must")
    tab.go("stock")
    tab.write("sheet", "birch 1/4 4x4", "size", "8 x 8")
    tab.gone("[data-test=rows-sheet] .mistake")
    tab.go("layout")
    tab.click("[data-test=lay-out]")
    tab.laid_out()
    assert "birch 1/4 2x4" in tab.see(".sheet-large h2").text


SIZES = "[...document.querySelectorAll('[data-test=pages] svg')].map((one) => one.getAttribute('viewBox'))"


def _sizes(tab: Tab) -> list[str]:
    sizes: list[str] = tab.until(f"return {SIZES}")
    return sizes


def _numbers(box: str) -> list[float]:
    return [float(word) for word in box.replace(",", " ").split()]


def _box(tab: Tab) -> list[float]:
    return _numbers(tab.until(VIEW_BOX))
