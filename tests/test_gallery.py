"""The pictures that the README shows are what nestkit makes today."""

from __future__ import annotations

import importlib.util
import io
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import PIL.Image
import pytest

from tests.page_pictures import PICTURES

HERE = Path(__file__).resolve().parent
spec = importlib.util.spec_from_file_location("gallery", HERE / "gallery.py")
gallery = importlib.util.module_from_spec(spec)
spec.loader.exec_module(gallery)
ROUTED = "routed-sheet.svg"


@pytest.fixture(scope="module")
def fresh():
    """The gallery made afresh."""
    return gallery.gallery()


def marks(svg: bytes) -> list[tuple[str, str, list[float]]]:
    """Return tag, text and all numbers of each element, in drawing order."""
    found = []
    for element in ET.fromstring(svg).iter():
        numbers = [
            float(n)
            for key, value in sorted(element.attrib.items())
            if key not in {"id", "font-family"} and "clip" not in key
            for n in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", value)
        ]
        found.append((element.tag, (element.text or "").strip(), numbers))
    return found


def test_the_gallery_is_complete_and_nothing_else():
    """Each file of the gallery is made by one of the two commands, and the README shows each of them."""
    made = {*gallery.SVGS, *gallery.PNGS, *PICTURES}
    assert {p.name for p in gallery.GALLERY.iterdir()} == made
    readme = (gallery.ROOT / "README.md").read_text(encoding="utf-8")
    for name in made:
        assert f"output/gallery/{name}" in readme


@pytest.mark.parametrize("name", [n for n in gallery.SVGS if n != ROUTED])
def test_the_drawings_are_todays(fresh, name):
    """Geometry and texts of each committed SVG are those of a fresh one, to 0.001 mm."""
    kept, made = marks((gallery.GALLERY / name).read_bytes()), marks(fresh[name])
    assert [m[:2] for m in kept] == [m[:2] for m in made]
    for (_, _, a), (_, _, b) in zip(kept, made, strict=True):
        assert a == pytest.approx(b, abs=0.001)


def test_the_routed_sheet_has_todays_parts(fresh):
    """Its places come from a search in floats: heading and part names are those of a fresh picture."""
    kept, made = (
        [text for _, text, _ in marks(svg) if text]
        for svg in ((gallery.GALLERY / ROUTED).read_bytes(), fresh[ROUTED])
    )
    # The title of the file, then the heading.
    assert kept[:3] == made[:3]
    for name in ("motor bracket", "pulley plate", "gusset", "hatch ring", "rudder horn", "cable clip"):
        for texts in (kept, made):
            assert any(text.startswith(name) for text in texts), name


@pytest.mark.parametrize("name", gallery.PNGS)
def test_the_pictures_are_todays(fresh, name):
    """Each committed PNG has the size of a fresh one, and something is on it."""
    kept = PIL.Image.open(gallery.GALLERY / name)
    made = PIL.Image.open(io.BytesIO(fresh[name]))
    assert kept.size == made.size
    assert len(kept.convert("L").getcolors()) > 2
