"""What the page says of a part it also leads to: mistakes, new items, names, joints, drills."""

from __future__ import annotations

import tomllib
from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.conftest import Pages
from tests.browser.tab import PHONE, Tab

FOCUSED = "return document.activeElement?.dataset.key"
INVALID = "return [...document.querySelectorAll('[data-test=rows-panel] [aria-invalid]')].length"
TOP = "return Math.round(arguments[0].getBoundingClientRect().top)"
FOOT_OF_PICTURE = "return Math.round(document.querySelector('.board').getBoundingClientRect().bottom)"


def test_what_cannot_be_made_is_said_wherever_it_would_be_cut(pages: Pages, tray: Path) -> None:
    """A hole over the edge stands in the header, above the sheets and above the files, and leads to it."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "12 x 9 3/4")
    tab.see("[data-test=state]", "1 part cannot be made")
    for view in ("prints", "layout"):
        tab.go(view)
        tab.see("[data-test=cannot]", "1 part cannot be made")
    tab.see("[data-test=sheet] svg")
    tab.click("[data-test=cannot] [data-test=show]")
    tab.see("h1", "Parts to make")
    tab.see("[data-test=item-form] .mistake", "reaches over the edge")
    tab.write("panel", "bottom", "size", "14 x 9 3/4")
    tab.gone("[data-test=state]", "cannot be made")


def test_a_mistake_of_another_view_leads_there(pages: Pages, tray: Path) -> None:
    """A joint that names no part is told with a button that opens its form in the view of joints."""
    text = tray.read_text(encoding="utf-8")
    tray.write_text(text.replace('"strap / ends"', '"strip / ends"'), encoding="utf-8")
    tab = pages.open(tray)
    tab.click("[data-test=findings] [data-test=show]")
    tab.see("h1", "Do the joints fit")
    assert tab.until(FOCUSED) == "through"
    tab.see("[data-test=rows-joint] .mistake", 'Did you mean "strap"?')


def test_a_new_part_is_not_blamed_before_it_is_left(pages: Pages, tray: Path) -> None:
    """Fields of a new part that nobody typed in say nothing until the part is left; the row is in sight."""
    tab = pages.open(tray)
    tab.click("[data-test=add-panel]")
    tab.see(".state", "Type a size to see it drawn.")
    assert tab.driver.execute_script(INVALID) == 0
    assert tab.typed_in("[data-test=item-form] [data-key=for]") == ""
    row = tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=rows-panel] > li")[2]
    tab.wait_for(lambda: 0 <= tab.driver.execute_script(TOP, row) < 900 - 200)
    tab.gone("[data-test=state]", "mistake")
    size = row.find_element(By.CSS_SELECTOR, ".row-line [data-key=size]")
    tab.type_into(size, "6 x four")
    tab.until("return arguments[0].hasAttribute('aria-invalid')", size)
    name = row.find_element(By.CSS_SELECTOR, ".row-line [data-key=name]")
    assert not name.get_attribute("aria-invalid")
    tab.bring(tab.row("panel", "bottom").find_element(By.CSS_SELECTOR, "[data-key=size]")).click()
    tab.see("[data-test=state]", "mistakes to put right")
    tab.until("return arguments[0].hasAttribute('aria-invalid')", name)


def test_what_opens_comes_into_sight(pages: Pages, tray: Path) -> None:
    """“More” brings the row to below the drawing, which stays on top in a third of the height at most."""
    tab = pages.open(tray, size=PHONE)
    tab.see("[data-test=part-picture] svg")
    row = tab.row("panel", "side")
    tab.driver.execute_script("arguments[0].click()", row.find_element(By.CSS_SELECTOR, "[data-test=more]"))
    tab.see("[data-test=item-form]")
    tab.wait_for(
        lambda: 0 <= tab.driver.execute_script(TOP, row) - tab.driver.execute_script(FOOT_OF_PICTURE) < 60
    )
    assert tab.driver.execute_script(FOOT_OF_PICTURE) <= PHONE[1] / 3
    assert tab.see("[data-test=save]").is_displayed()
    tab.keys("s", held=Keys.CONTROL)
    tab.see("[data-test=saved]", "Saved.")


def test_holes_are_added_from_the_drawing(pages: Pages, tray: Path) -> None:
    """A button under the drawing adds holes to the part; each group says its numbers and its drill."""
    tab = pages.open(tray)
    tab.see("[data-test=holes] li", "1 to 2: feet, drill #2")
    more = tab.row("panel", "bottom").find_element(By.CSS_SELECTOR, "[data-test=more]")
    more.click()
    assert tab.see("[data-section=holes] output.answer").text.startswith("drill #2")
    tab.bring(tab.see("[data-test=add-holes-here]")).click()
    groups = tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=item-form] [data-section=holes] .group")
    assert len(groups) == 2
    tab.type_into(groups[1].find_element(By.CSS_SELECTOR, "[data-key=bore]"), "dia 3/8")
    tab.type_into(groups[1].find_element(By.CSS_SELECTOR, "[data-key=at]"), "7, 5")
    tab.see("[data-test=holes] li", "3: holes, drill 3/8")


def test_a_new_name_is_followed_by_joints_and_holds(pages: Pages, tray: Path) -> None:
    """A part renamed is renamed in its joint too, in one step of Undo; deleting it says how many name it."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "name", "base plate")
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")
    assert _read(tray)["joint"][0]["through"] == ["base plate / feet", "strap / ends"]
    tab.gone("[data-test=state]", "mistake")
    tab.click("[data-test=undo]")
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")
    assert _read(tray)["joint"][0]["through"] == ["bottom / feet", "strap / ends"]
    assert _read(tray)["panel"][0]["name"] == "bottom"
    tab.row("panel", "bottom").find_element(By.CSS_SELECTOR, "[data-test=delete-panel]").click()
    tab.see("[data-test=saved]", "1 joint still names “bottom”")


def test_joints_stand_with_the_weakest_first(pages: Pages, tray: Path) -> None:
    """A table of joints begins with the one that does not go together, and leads to picture and form."""
    text = tray.read_text(encoding="utf-8")
    side = "size      = [14, 3]\nquantity  = 2\n"
    holes = '  [[panel.holes]]\n  name = "low"\n  dia  = ".206"\n  at   = [[1, 1], [6, 1]]\n'
    joint = (
        '\n[[joint]]\nname = "side to bottom"\nscrew = "10-32"\nthrough = ["bottom / feet", "side / low"]\n'
    )
    tray.write_text(text.replace(side, side + holes) + joint, encoding="utf-8")
    tab = pages.open(tray)
    tab.go("joints")
    tab.see("[data-test=joints] table tbody tr", "side to bottom")
    heads = [head.text for head in tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=joints] .joint h2")]
    assert heads == ["side to bottom", "strap under bottom"]
    tab.click("[data-test=change-joint]")
    assert _chosen_joint(tab) == "side to bottom"


def _chosen_joint(tab: Tab) -> str:
    name: str = tab.until(
        "return document.activeElement?.closest('li')?.querySelector('[data-key=name]')?.value"
    )
    return name


def _read(job: Path) -> dict[str, list[dict[str, object]]]:
    return tomllib.loads(job.read_text(encoding="utf-8"))
