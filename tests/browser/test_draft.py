"""What is typed is kept until it is saved, into the file that it was read from, whoever else writes there."""

from __future__ import annotations

import tomllib
from pathlib import Path

from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.conftest import Pages
from tests.browser.tab import Tab

NOTES = ("# A tray for the bench", "# the blade of the table saw", "# as of spring", "# goes in last")
KEPT = "return Object.keys(localStorage).some((key) => key.startsWith('nestkit-draft/'))"


def test_each_change_is_taken_back_and_done_again(pages: Pages, tray: Path) -> None:
    """Undo and redo, by button and by key, go step by step through what was typed, added and deleted."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "12 x 9 3/4")
    tab.write("panel", "side", "quantity", "4")
    _press_in_row(tab, "bottom", "copy-panel")
    tab.row("panel", "bottom copy")
    _press_in_row(tab, "side", "delete-panel")
    tab.until("return document.querySelectorAll('[data-test=rows-panel] > li').length === 2")
    tab.click("[data-test=undo]")
    assert tab.value("panel", "side", "quantity") == "4"
    tab.keys("z", held=Keys.CONTROL)
    tab.until("return document.querySelectorAll('[data-test=rows-panel] > li').length === 2")
    tab.keys("z", held=Keys.CONTROL)
    assert tab.value("panel", "side", "quantity") == "2"
    tab.keys("z", held=Keys.CONTROL)
    assert tab.value("panel", "bottom", "size") == "14 1/2 x 9 3/4"
    tab.see("#file", "tray.toml: saved")
    assert tab.see("[data-test=undo]").get_attribute("aria-disabled") == "true"
    tab.keys("z", held=Keys.CONTROL + Keys.SHIFT)
    assert tab.value("panel", "bottom", "size") == "12 x 9 3/4"
    tab.click("[data-test=redo]")
    assert tab.value("panel", "side", "quantity") == "4"
    tab.row("panel", "bottom").find_element(By.CSS_SELECTOR, "[data-key=name]").click()
    tab.see("[data-test=part-title]", "12 x 9 3/4 in")


def test_what_is_typed_outlives_a_reload(pages: Pages, tray: Path) -> None:
    """What was typed and not saved is offered after a reload; the file is untouched until saved."""
    before = tray.read_bytes()
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "13 x 9 3/4")
    tab.driver.refresh()
    tab.click("[data-test=take-draft]")
    assert tab.value("panel", "bottom", "size") == "13 x 9 3/4"
    assert tray.read_bytes() == before
    _save(tab)
    tab.until(f"return !({KEPT.removeprefix('return ')})")
    tab.driver.refresh()
    assert tab.value("panel", "bottom", "size") == "13 x 9 3/4"
    tab.gone("[data-test=drafts]")


def test_what_was_thrown_away_is_not_offered_again(pages: Pages, tray: Path) -> None:
    """A draft that somebody throws away is gone, and the job is that of the file."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "13 x 9 3/4")
    tab.driver.refresh()
    tab.click("[data-test=drop-draft]")
    assert tab.value("panel", "bottom", "size") == "14 1/2 x 9 3/4"
    tab.driver.refresh()
    tab.row("panel", "bottom")
    tab.gone("[data-test=drafts]")


def test_saving_keeps_notes_and_order(pages: Pages, tray: Path) -> None:
    """Only what was changed differs in the saved file; notes, blanks and order of the rest stay."""
    before = tray.read_text(encoding="utf-8")
    tab = pages.open(tray)
    tab.write("panel", "side", "quantity", "3")
    tab.click("[data-test=add-panel]")
    tab.until("return document.querySelectorAll('[data-test=rows-panel] > li').length === 3")
    new = "[data-test=rows-panel] > li:nth-child(3) "
    tab.type(f"{new}[data-key=name]", "lid, left")
    tab.type(f"{new}[data-key=size]", "6 x 4 1/2")
    tab.until("return !document.querySelector('[data-test=rows-panel] [aria-invalid]')")
    tab.keys("s", held=Keys.CONTROL)
    tab.see("[data-test=saved]", "Saved.")
    after = tray.read_text(encoding="utf-8")
    assert after.startswith(before.replace("quantity  = 2", "quantity  = 3"))
    added = tomllib.loads(after)["panel"][2]
    assert (added["name"], added["size"], added["material"]) == ("lid, left", [6, "4 1/2"], "plywood birch")
    assert (tray.parent / "tray.toml.before").read_text(encoding="utf-8") == before


def test_a_file_changed_meanwhile_is_shown_beside_the_draft(pages: Pages, tray: Path) -> None:
    """Where the file changed on disk, both are shown; keeping mine saves it, and notes of the file stay."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "13 x 9 3/4")
    theirs = tray.read_text(encoding="utf-8").replace("quantity  = 2", "quantity  = 6")
    tray.write_text(theirs, encoding="utf-8")
    tab.see("[data-test=on-disk]", "changed outside")
    tab.click("[data-test=save]")
    tab.see("dialog", "changed meanwhile")
    mine, other = (pre.text for pre in tab.driver.find_elements(By.CSS_SELECTOR, "dialog pre"))
    assert '[13, "9 3/4"]' in mine
    assert "quantity  = 6" in other
    assert '"14 1/2"' in other
    assert tray.read_text(encoding="utf-8") == theirs
    tab.click("[data-test=keep-mine]")
    tab.see("[data-test=saved]", "Saved.")
    after = tray.read_text(encoding="utf-8")
    assert tomllib.loads(after)["panel"][0]["size"] == [13, "9 3/4"]
    assert tomllib.loads(after)["panel"][1]["quantity"] == 2
    assert [note for note in NOTES if note not in after] == []
    assert (tray.parent / "tray.toml.before").read_text(encoding="utf-8") == theirs


def test_the_files_version_is_taken_where_it_is_chosen(pages: Pages, tray: Path) -> None:
    """Taking the file's version puts it in the page, and writes nothing."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "13 x 9 3/4")
    theirs = tray.read_text(encoding="utf-8").replace("quantity  = 2", "quantity  = 6")
    tray.write_text(theirs, encoding="utf-8")
    tab.click("[data-test=save]")
    tab.click("[data-test=take-theirs]")
    tab.gone("dialog")
    assert tab.value("panel", "side", "quantity") == "6"
    assert tab.value("panel", "bottom", "size") == "14 1/2 x 9 3/4"
    tab.see("#file", "tray.toml: saved")
    assert tray.read_text(encoding="utf-8") == theirs
    # Mine is not lost by that: Undo brings it back, as a change of the file as it is now.
    tab.click("[data-test=undo]")
    assert tab.value("panel", "bottom", "size") == "13 x 9 3/4"
    _save(tab)
    assert tomllib.loads(tray.read_text(encoding="utf-8"))["panel"][0]["size"] == [13, "9 3/4"]


def test_a_file_broken_meanwhile_is_never_taken_for_the_draft(pages: Pages, tray: Path) -> None:
    """Where the file on disk is no TOML it cannot be taken; mine is kept, and saved whole where chosen."""
    tab = pages.open(tray)
    tab.write("panel", "bottom", "size", "13 x 9 3/4")
    broken = tray.read_text(encoding="utf-8") + "[[broken\n"
    tray.write_text(broken, encoding="utf-8")
    tab.click("[data-test=save]")
    tab.see("dialog h2", "cannot be read")
    assert "line" in tab.see("dialog .must").text
    assert not tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=take-theirs]")
    tab.click("[data-test=not-now]")
    assert tab.value("panel", "bottom", "size") == "13 x 9 3/4"
    tab.click("[data-test=save]")
    tab.click("[data-test=keep-mine]")
    tab.see("[data-test=saved]", "Saved.")
    assert tomllib.loads(tray.read_text(encoding="utf-8"))["panel"][0]["size"] == [13, "9 3/4"]
    assert (tray.parent / "tray.toml.before").read_text(encoding="utf-8") == broken


def test_a_file_broken_on_disk_says_its_line_and_loses_nothing(pages: Pages, tray: Path) -> None:
    """A job file that is no TOML is shown with the line that is wrong; mended and read again, it opens."""
    good = tray.read_text(encoding="utf-8")
    tray.write_text(good.replace('kerf = "1/8"', 'kerf = "1/8'), encoding="utf-8")
    tab = pages.open(tray)
    tab.see("h1", "cannot be read")
    assert "line 8" in tab.see("main .must").text
    tray.write_text(good, encoding="utf-8")
    tab.click("[data-test=read-again]")
    assert tab.value("panel", "bottom", "size") == "14 1/2 x 9 3/4"


def test_two_tabs_do_not_disturb_one_another(pages: Pages, tray: Path) -> None:
    """Two tabs hold drafts of their own; the second to save is shown both, and each has its own layout."""
    server = pages.serve(tray)
    one, other = pages.tab(server), pages.tab(server)
    one.write("panel", "bottom", "size", "13 x 9 3/4")
    other.write("panel", "side", "quantity", "5")
    assert one.value("panel", "side", "quantity") == "2"
    assert other.value("panel", "bottom", "size") == "14 1/2 x 9 3/4"
    for tab in (one, other):
        tab.go("layout")
    counts = []
    for tab in (one, other):
        tab.laid_out()
        counts.append(len(tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=sheet-part]")))
    assert counts == [3, 6]
    _save(one)
    other.click("[data-test=save]")
    other.see("dialog", "changed meanwhile")
    other.click("[data-test=take-theirs]")
    other.go("parts")
    assert other.value("panel", "bottom", "size") == "13 x 9 3/4"
    saved = tomllib.loads(tray.read_text(encoding="utf-8"))
    assert [panel.get("quantity") for panel in saved["panel"]] == [None, 2]


def test_a_starter_job_needs_no_file(pages: Pages, tmp_path: Path) -> None:
    """Without a job file the page opens on a starter job, which is laid out and saved by a new name."""
    tab = pages.open(None, tmp_path)
    tab.see("#file", "no file yet")
    tab.see("[data-test=part-picture] svg")
    tab.go("layout")
    tab.see("[data-test=sheet] svg")
    assert list(tmp_path.iterdir()) == []
    tab.click("[data-test=save]")
    tab.type("[data-test=file-name]", "../bench.toml")
    tab.click("[data-test=save-as]")
    tab.see("dialog .mistake", "ends in .toml")
    tab.type("[data-test=file-name]", "bench.toml")
    tab.click("[data-test=save-as]")
    tab.gone("dialog")
    tab.see("#file", "bench.toml: saved")
    assert [path.name for path in tmp_path.iterdir()] == ["bench.toml"]
    assert tomllib.loads((tmp_path / "bench.toml").read_text(encoding="utf-8"))["panel"]
    tab.driver.refresh()
    tab.see("#file", "bench.toml: saved")


def _save(tab: Tab) -> None:
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")


def _press_in_row(tab: Tab, name: str, what: str) -> None:
    tab.row("panel", name).find_element(By.CSS_SELECTOR, f"[data-test={what}]").click()
