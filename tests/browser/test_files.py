"""Files brought to the page: a parts list, an outline, and what is neither."""

from __future__ import annotations

import re
import shutil
import tomllib
from pathlib import Path

from selenium.webdriver.common.by import By

from tests.browser.conftest import Pages
from tests.browser.driver import SAMPLES
from tests.browser.tab import Tab

DROPPED = """
const [name, text] = arguments;
const dataTransfer = new DataTransfer();
dataTransfer.items.add(new File([text], name));
const event = (kind) => new DragEvent(kind, {dataTransfer, bubbles: true, cancelable: true});
const zone = document.querySelector("[data-test=drop]");
zone.dispatchEvent(event("dragover"));
zone.dispatchEvent(event("drop"));
"""
LIST = """\
name,material,thickness,width,height,quantity
divider,plywood birch,1/4,9 1/2,3,4
rail,plywood birch,1/4,20,1 1/2,2
"""


def test_a_parts_list_is_dropped_and_laid_out(pages: Pages, tray: Path) -> None:
    """A CSV that is dropped lies beside the job file, its rows are laid out, and the job names it."""
    tab = pages.open(tray)
    _drop(tab, "bench parts.csv", LIST)
    tab.see("[data-test=drop-said]", "2 rows read")
    name = next(path.name for path in tray.parent.glob("*.csv"))
    assert (tray.parent / name).read_text(encoding="utf-8") == LIST
    tab.go("layout")
    tab.laid_out()
    parts = [one.text for one in tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=sheet-part]")]
    assert sum("divider" in words for words in parts) == 4
    assert sum("rail" in words for words in parts) == 2
    tab.click("[data-test=save]")
    tab.see("[data-test=saved]", "Saved.")
    assert tomllib.loads(tray.read_text(encoding="utf-8"))["import"] == [{"file": name}]


def test_a_parts_list_with_a_wrong_size_says_its_row(pages: Pages, tray: Path) -> None:
    """A CSV with a mistake is refused with the row and the word that is wrong; the job does not change."""
    tab = pages.open(tray)
    _drop(tab, "parts.csv", LIST.replace("9 1/2", "nine"))
    said = tab.see("[data-test=drop-said] .mistake", "nine").text
    assert "parts.csv" in said
    assert "2" in said
    tab.see("#file", "tray.toml: saved")
    assert not tab.driver.find_elements(By.CSS_SELECTOR, "[data-test=rows-import] > li")


def test_an_outline_is_dropped_and_becomes_a_part(pages: Pages, tray: Path) -> None:
    """A DXF that is dropped becomes a part, drawn as soon as its stock is said; no file is written over."""
    content = (SAMPLES / "outlines" / "gusset.dxf").read_text(encoding="utf-8")
    (tray.parent / "gusset.dxf").write_text("another file of this name", encoding="utf-8")
    tab = pages.open(tray)
    _drop(tab, "gusset.dxf", content)
    tab.see("[data-test=drop-said]", "in")
    assert (tray.parent / "gusset.dxf").read_text(encoding="utf-8") == "another file of this name"
    row = tab.until("return document.querySelector('[data-test=rows-panel] > li:nth-child(3)')")
    written = row.find_element(By.CSS_SELECTOR, "[data-key=outline]").get_property("value")
    assert (tray.parent / written).read_text(encoding="utf-8") == content
    for key, text in (("material", "plywood birch"), ("thickness", "1/4")):
        tab.type_into(row.find_element(By.CSS_SELECTOR, f"[data-key={key}]"), text)
    tab.see("[data-test=part-title]", "gusset")
    tab.see("[data-test=part-picture] svg path")
    tab.gone("[data-test=state]", "mistake")


def test_a_file_is_chosen_without_a_mouse(pages: Pages, tray: Path) -> None:
    """A file chosen in the browser's own dialogue does what a dropped one does."""
    elsewhere = tray.parent / "elsewhere"
    elsewhere.mkdir()
    shutil.copy(SAMPLES / "outlines" / "cable_clip.dxf", elsewhere)
    tab = pages.open(tray)
    tab.see("[data-test=drop-file]").send_keys(str(elsewhere / "cable_clip.dxf"))
    tab.row("panel", "cable-clip")
    assert (tray.parent / "cable-clip.dxf").is_file()


def test_what_is_neither_list_nor_outline_is_refused(pages: Pages, tray: Path) -> None:
    """A file that is no DXF in spite of its name, or of another kind, is refused in a sentence."""
    tab = pages.open(tray)
    for name in ("broken.dxf", "notes.docx"):
        _drop(tab, name, "This is a letter to the workshop.")
        tab.see("[data-test=drop-said] .mistake", name)
    tab.see("#file", "tray.toml: saved")


def test_a_template_is_taken_true_to_size(pages: Pages, tray: Path) -> None:
    """The template shown is taken as a PDF of the chosen paper that asks not to be scaled."""
    taken = tray.parent / "taken"
    taken.mkdir()
    tab = pages.open(tray)
    how = {"behavior": "allow", "downloadPath": str(taken), "eventsEnabled": False}
    tab.driver.execute_cdp_cmd("Browser.setDownloadBehavior", how)
    tab.go("prints")
    tab.see("[data-test=pages] svg")
    tab.click("[data-test=take-template]")
    tab.wait_for(lambda: [path.name for path in taken.iterdir()] == ["bottom.pdf"])
    content = (taken / "bottom.pdf").read_bytes()
    assert content.startswith(b"%PDF")
    assert re.search(rb"/MediaBox\s*\[\s*0 0 612(\.0+)? 792(\.0+)?\s*\]", content)
    assert b"/PrintScaling /None" in content


def test_files_say_when_they_are_of_an_older_job(pages: Pages, tray: Path) -> None:
    """Files made are sorted by whom they are for, and marked once the job is another."""
    tab = pages.open(tray)
    tab.go("prints")
    tab.click("[data-test=make-files]")
    tab.see("[data-test=all-zip]")
    tab.see("[data-test=files] summary", "To print")
    tab.see("[data-test=files] summary", "For the shop that cuts")
    tab.gone("[data-test=files-old]")
    tab.go("parts")
    tab.write("panel", "side", "quantity", "3")
    tab.go("prints")
    tab.see("[data-test=files-old]", "changed since these files were made")
    tab.click("[data-test=undo]")
    tab.gone("[data-test=files-old]")


def _drop(tab: Tab, name: str, text: str) -> None:
    tab.see("[data-test=drop]")
    tab.driver.execute_script(DROPPED, name, text)
