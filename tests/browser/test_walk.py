"""One job from its first view to its saved file, as somebody at the bench goes through it."""

from __future__ import annotations

import io
import re
import tomllib
import zipfile
from pathlib import Path

from selenium.webdriver.common.by import By

from tests.browser.conftest import Pages
from tests.browser.tab import Tab

PICTURE = "[data-test=part-picture] svg"
TITLE = "[data-test=part-title]"
HATCHED = "return document.querySelectorAll('[data-test=sheet] .over .piece').length"
CUTS = "return document.querySelectorAll('[data-test=sheet] .over .cut').length"


def test_a_size_is_typed_drawn_and_put_right(pages: Pages, sample: Path) -> None:
    """A size that is typed changes the drawing; what is wrong stands at that very field until mended."""
    tab = pages.open(sample)
    tab.see(PICTURE)
    tab.see(TITLE, "14 1/2 x 9 3/4 in")
    before = _drawn(tab)
    tab.write("panel", "console lid", "size", "15 1/4 x 9 3/4")
    tab.see(TITLE, "15 1/4 x 9 3/4 in")
    good = _drawn(tab)
    assert good != before
    tab.write("panel", "console lid", "size", "15 1/4 x nine")
    field = tab.row("panel", "console lid").find_element(By.CSS_SELECTOR, "[data-key=size]")
    tab.until("return arguments[0].getAttribute('aria-invalid') === 'true'", field)
    said = _said_of(tab, field)
    assert "nine" in said
    assert tab.see("[data-test=state]").text == "1 mistake to put right"
    # The last drawing stays, and says that it is an old one.
    assert _drawn(tab) == good
    tab.see(".state", "Drawn as it was before")
    tab.write("panel", "console lid", "size", "14 1/2 x 9 3/4")
    tab.until("return !arguments[0].hasAttribute('aria-invalid')", field)
    tab.until("return document.querySelector('[data-test=part-picture]').innerHTML === arguments[0]", before)
    tab.gone("[data-test=state]", "mistake")


def test_a_hole_off_the_part_is_said_where_it_is_typed(pages: Pages, tray: Path) -> None:
    """A hole over the edge of its part is said among what cannot be made, and in the part's own form."""
    tab = pages.open(tray)
    tab.see(TITLE, "14 1/2 x 9 3/4 in")
    tab.write("panel", "bottom", "size", "10 x 9 3/4")
    assert "bottom" in tab.see("[data-test=findings] .must li", "reaches over the edge").text
    tab.row("panel", "bottom").find_element(By.CSS_SELECTOR, "[data-test=more]").click()
    tab.see("[data-test=item-form] .mistake", "reaches over the edge")
    tab.write("panel", "bottom", "size", "14 x 9 3/4")
    tab.gone("[data-test=findings] .must li", "reaches over the edge")
    tab.gone("[data-test=item-form] .mistake", "reaches over the edge")


def test_from_the_first_view_to_the_saved_file(pages: Pages, sample: Path, tmp_path: Path) -> None:
    """A size is changed, the job laid out, sawn, printed, saved and read again, with its comments."""
    before = sample.read_text(encoding="utf-8")
    server = pages.serve(sample)
    tab = pages.tab(server)
    tab.see(PICTURE)
    tab.write("panel", "console lid", "size", "15 x 9 3/4")
    tab.see(TITLE, "15 x 9 3/4 in")
    tab.see("#file", "changed since saving")
    _lay_out(tab)
    _step_through_the_saw_plan(tab)
    _look_at_prints(tab, tmp_path / "taken")
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")
    tab.see("#file", "solar_boat.toml: saved")
    after = sample.read_text(encoding="utf-8")
    changed = [(a, b) for a, b in zip(before.splitlines(), after.splitlines(), strict=True) if a != b]
    assert changed == [('size      = ["14 1/2", "9 3/4"]', 'size      = [15, "9 3/4"]')]
    assert (sample.parent / "solar_boat.toml.before").read_text(encoding="utf-8") == before
    tab.driver.refresh()
    tab.go("parts")
    tab.see(TITLE, "15 x 9 3/4 in")
    assert tab.value("panel", "console lid", "size") == "15 x 9 3/4"
    tab.see("#file", "solar_boat.toml: saved")
    assert tomllib.loads(after)["panel"][0]["size"] == [15, "9 3/4"]


def _lay_out(tab: Tab) -> None:
    tab.go("layout")
    tab.see("[data-test=sheet] svg")
    tab.see("[data-test=lead] li", "no layout needs fewer")
    assert len(tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=other-sheet]")) >= 4
    tab.laid_out(stop=True)
    assert tab.see("[data-test=say]").text.startswith("Buy: ")
    tab.click("[data-test=sheet-part]", "console lid")
    said = tab.see("[data-test=pointed]", "console lid, copy 1").text
    assert re.search(r"15 x 9 3/4|9 3/4 x 15", said)
    assert tab.until("return document.querySelectorAll('[data-test=sheet] .part.chosen').length") == 1


def _step_through_the_saw_plan(tab: Tab) -> None:
    said = []
    tab.see("[data-test=cut-say]", "Begin with the first")
    while tab.see("[data-test=cut-next]").get_attribute("aria-disabled") == "false":
        tab.click("[data-test=cut-next]")
        said.append(tab.see("[data-test=cut-say]").text)
        assert tab.driver.execute_script(CUTS) >= 1, said[-1]
        assert tab.driver.execute_script(HATCHED) >= 1, said[-1]
    assert len(said) >= 4
    assert all(re.match(r"Cuts? \d+", line) for line in said), said
    assert len(set(said)) == len(said)
    tab.click("[data-test=cut-back]")
    assert tab.see("[data-test=cut-say]").text == said[-2]


def _look_at_prints(tab: Tab, taken: Path) -> None:
    taken.mkdir()
    how = {"behavior": "allow", "downloadPath": str(taken), "eventsEnabled": False}
    tab.driver.execute_cdp_cmd("Browser.setDownloadBehavior", how)
    tab.go("prints")
    tab.see("[data-test=pages] svg")
    tab.see("[data-test=pages]", "as they will print")
    tab.click("[data-test=make-files]")
    tab.click("[data-test=files] summary", "What to buy")
    tab.click("[data-test=file]", "buy")
    tab.click("[data-test=all-zip]")
    tab.wait_for(lambda: len([p for p in taken.iterdir() if p.suffix != ".crdownload"]) == 2)
    archive = next(taken.glob("*.zip"))
    with zipfile.ZipFile(io.BytesIO(archive.read_bytes())) as held:
        assert held.testzip() is None
        names = held.namelist()
    assert any(name.endswith(".dxf") for name in names)
    assert any("lid" in name and name.endswith(".pdf") for name in names)
    other = next(path for path in taken.iterdir() if path.suffix != ".zip")
    assert any(name.endswith(other.name) for name in names)


def _drawn(tab: Tab) -> str:
    drawn: str = tab.until("return document.querySelector('[data-test=part-picture]').innerHTML")
    return drawn


def _said_of(tab: Tab, field: object) -> str:
    """Return what stands under a field, found as a screen reader finds it."""
    script = """
    const ids = arguments[0].getAttribute("aria-describedby")?.split(" ") ?? [];
    return ids.map((id) => document.getElementById(id).textContent).join(" ");
    """
    said: str = tab.until(script, field)
    return said
