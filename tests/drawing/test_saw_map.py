"""The sheet in small: what is thin is an outline and not a black bar, nothing is hidden."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset, Path
from nestkit.drawing.saw_map import MAP, sheet_map
from nestkit.estimate.saw_repeats import folded
from nestkit.estimate.saw_steps import saw_steps
from nestkit.geometry.points import Point
from nestkit.writers.pdf import pdf_bytes
from tests.laid_roll import laid, liner
from tests.many_cuts import OFF_A_ROLL, ON_A_SHEET


def maps(layout, unit):
    """Return the small pictures of the first sheet, each with its repeat."""
    sheet = layout.groups[0].sheets[0]
    steps = saw_steps(sheet, layout.groups[0].group.way.kerf, unit)
    repeats = folded(steps)
    assert repeats
    return [(sheet_map(sheet, steps[: r.first.cut.step - 1], r), r) for r in repeats]


def blackest(picture, side=2.0):
    """Return the share of black in the darkest square of ``side`` mm of a picture, as pdfium draws it."""
    page = Drawing(MAP.width + 2, picture.height + 2, (Inset(picture, Point(1.0, 1.0)),), "map")
    document = pypdfium2.PdfDocument(pdf_bytes([page], title="map"))
    drawn = document[0].render(scale=10 * 25.4 / 72).to_pil().convert("L")
    document.close()
    black = 1.0 - np.asarray(drawn) / 255.0
    step = int(side * 10)
    return np.lib.stride_tricks.sliding_window_view(black, (step, step)).mean(axis=(2, 3)).max()


@pytest.mark.parametrize(("text", "unit"), [(ON_A_SHEET, "mm"), (OFF_A_ROLL, "in")])
def test_no_thin_piece_is_a_black_bar(text, unit):
    """However many strips and slivers there are, no square of 2 mm is darker than a heavy frame makes it."""
    for picture, _ in maps(laid(text)[1], unit):
        assert blackest(picture) < 0.8


def test_a_sliver_of_waste_is_seen_as_an_outline():
    """The 8 mm of waste beside twelve columns, 0.1 mm in the picture, are a box of 1 mm, on the sheet."""
    layout = laid(ON_A_SHEET)[1]
    for picture, repeat in maps(layout, "mm"):
        thin = [m.bounds for m in picture.marks if isinstance(m, Path) and m.closed and m.layer is Layer.FINE]
        assert all(min(box.width, box.height) >= 0.9 for box in thin)
        assert all(box.left >= -1e-9 and box.top <= picture.height + 1e-9 for box in thin)
        heavy = [m.bounds for m in picture.marks if isinstance(m, Path) and m.layer is Layer.HEAVY]
        assert heavy
        assert all(min(box.width, box.height) >= 1.7 for box in heavy), repeat.first.cut.step


def test_equal_pieces_side_by_side_share_one_heavy_frame():
    """Sixty strips on the saw one after the other are one block, not sixty frames."""
    picture, repeat = maps(laid(ON_A_SHEET)[1], "mm")[-1]
    assert repeat.pieces == 60
    heavy = [m for m in picture.marks if isinstance(m, Path) and m.layer is Layer.HEAVY]
    assert len(heavy) == 1


def test_a_long_piece_is_drawn_wide_enough_to_see():
    """The small picture of a piece of 305 in by 24 is 12 mm wide, the pieces at the saw inside it."""
    for n, (picture, _) in enumerate(maps(liner("saw", "0", 14)[1], "in")):
        frames = [m.bounds for m in picture.marks if isinstance(m, Path) and m.layer == Layer.HEAVY]
        for frame in frames:
            assert frame.left >= -1e-9
            assert frame.right <= 12.0 + 1e-9
            assert frame.top <= picture.height + 1e-9
        assert n or frames[0].width == pytest.approx(12.0)
