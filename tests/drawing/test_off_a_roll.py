"""What prints and cutting files say of a piece off a roll."""

from __future__ import annotations

from pathlib import Path

from nestkit.drawing.labels import label_pages
from nestkit.drawing.model import Text
from nestkit.drawing.roll_picture import piece_off_the_roll
from nestkit.drawing.saw_picture import BENCH
from nestkit.drawing.saw_plan import saw_plan_pages
from nestkit.drawing.sheet import sheet_notes, size_text
from nestkit.geometry.points import Rect
from nestkit.job.reader import read_text
from nestkit.layout.lay_out import lay_out
from tests.laid_roll import LINER, liner

BESIDE = """
[[sheet]]
name = "ply"
material = "plywood"
thickness = 6
size = [24, 24]
[[panel]]
name = "frame"
for = "locker"
material = "plywood"
thickness = 6
size = [20, 20]
"""


def texts(pages) -> str:
    """Return the texts of pages that are no pictures."""
    return "\n".join(m.text for page in pages for m in page.marks if isinstance(m, Text))


def test_notes_tell_a_shop_where_the_piece_comes_from():
    """Width, where to cut it off, and which way y runs; a piece is cut, not a sheet."""
    _, layout = liner("router")
    (laid,) = layout.groups
    piece = laid.sheets[0]
    assert size_text(piece.stock, "in") == "24 in wide, cut off the roll at 63 1/2 in"
    assert size_text(piece.stock, "mm") == "609.6 mm wide, cut off the roll at 1612.9 mm"
    notes = sheet_notes(piece, laid.group, unit="in", stem="liner-01")
    assert "SIZE: 24 in wide, cut off the roll at 63 1/2 in" in notes
    assert "OFF THE ROLL: y runs along it, from its end, which must be square" in notes
    assert "QUANTITY: cut this piece once, 3 parts" in notes


def test_labels_name_the_piece():
    """Of one piece there is no number; its offcuts come from it, too."""
    job, layout = liner("jigsaw", "'1/8'")
    said = texts(label_pages(job, layout))
    assert "liner, piece off the roll" in said
    assert "sheet 1" not in said


def test_a_bench_waits_for_the_piece():
    """Beside sheets, who can start when names the piece off the roll without a number."""
    text = LINER.replace("{how}", "saw").replace("{margin}", "0") + BESIDE
    job = read_text(text, Path())
    said = texts(saw_plan_pages(job, lay_out(job, effort="quick")))
    assert "after liner, piece off the roll (saw)" in said
    assert "after ply, sheet 1 (saw)" in said


def test_the_picture_of_the_roll_stays_in_its_room():
    """Whatever the length, its figure stands beside the piece and in the picture, over no other words."""
    for size in ("8 in", "515 9/16 in", "100000 mm"):
        picture = piece_off_the_roll(size)
        room = Rect(0.0, 0.0, BENCH.width, BENCH.height)
        for mark in picture.marks:
            box = mark.bounds
            assert room.left <= box.left
            assert box.right <= room.right
            assert room.bottom <= box.bottom
            assert box.top <= room.top
        boxes = [m.bounds for m in picture.marks if isinstance(m, Text)]
        assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[:i])
