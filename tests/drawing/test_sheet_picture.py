"""The picture of a sheet: to scale, everything named, nothing over anything."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from fractions import Fraction

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis.strategies import booleans, integers, lists, sampled_from, tuples

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Inset, Path, Text
from nestkit.drawing.record import RecordPen
from nestkit.drawing.sheet_picture import (
    BOTTOM,
    LEFT,
    SCALES,
    picture_scale,
    sheet_picture,
    sheet_plan,
    signs_text,
)
from nestkit.drawing.sheet_words import key_lines, lying_size, numbers_of, part_lines
from nestkit.geometry.points import Rect
from nestkit.job.model import Group
from nestkit.layout.result import Cut, CutSheet, Offcut
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way
from nestkit.writers.svg import svg_bytes
from tests.laid_boat import BRACKET, holes, lid_job, placed, routed_job, simple_panel

GRAINED = Sheet("Ply 12", "sheet", "birch plywood", Fraction(12), Fraction(1220), Fraction(2440), grain="y")
SAW = Way("", "saw", Fraction(3))


def sheet_of(parts, *, stock=GRAINED, cuts=(), offcuts=()):
    """Return a sheet with some parts, and its group."""
    sheet = CutSheet(stock, 1, False, Fraction(0), tuple(parts), tuple(offcuts), tuple(cuts))
    panels = tuple(dict.fromkeys(p.panel for p in parts))
    return sheet, Group("birch plywood", Fraction(12), SAW, SAW.kerf, Margin(), panels, (stock,))


def texts_of(plan):
    """Return the texts that stand on the picture itself, with their boxes."""
    return [(m.text, m.bounds) for m in plan.drawing.marks if isinstance(m, Text)]


def every_sheet():
    """Return each sheet of both jobs with its group and unit."""
    return [
        (sheet, laid.group, job.unit)
        for job, layout in (lid_job(), routed_job())
        for laid in layout.groups
        for sheet in laid.sheets
    ]


@pytest.mark.parametrize(("sheet", "group", "unit"), every_sheet(), ids=["lid", "drive", "rack"])
def test_the_true_parts_stand_to_scale(sheet, group, unit):
    """Every hole lies on paper at its place divided by the scale, which is a round one."""
    plan = sheet_plan(sheet, group, unit=unit, scale=picture_scale(sheet))
    assert plan.scale in SCALES
    pen = RecordPen()
    plan.drawing.draw(pen)
    wanted = [
        (h.at, h.dia / 2) for p in sheet.parts for h in p.panel.holes if p.turn == 0 and not p.opposite_hand
    ]
    found = {
        (round(c.x, 6), round(c.y, 6), round(r, 6))
        for layer, c, r in pen.circles
        if layer is Layer.DRILLED_HOLE
    }
    for part in (p for p in sheet.parts if p.turn == 0 and not p.opposite_hand):
        for hole in part.panel.holes:
            x = LEFT + (float(part.x) + hole.at.x) / plan.scale
            y = BOTTOM + (float(part.y) + hole.at.y) / plan.scale
            assert (round(x, 6), round(y, 6), round(hole.dia / 2 / plan.scale, 6)) in found
    assert len(found) == sum(len(p.panel.holes) for p in sheet.parts)
    assert len(wanted) <= len(found)


def test_every_part_is_named_with_copy_hand_and_size():
    """A part with room shows name, copy, hand and its size as it lies, in the job's unit."""
    sheet, group, unit = every_sheet()[1]
    texts = [t for t, _ in texts_of(sheet_plan(sheet, group, unit=unit, scale=3))]
    assert texts.count("motor bracket") == 4
    assert texts.count("copy 2, OPPOSITE HAND") == 1
    assert texts.count("180 x 120 mm") == 2
    assert texts.count("120 x 180 mm") == 2
    assert "=gusset" in texts


def test_offcuts_and_saw_cuts_are_shown():
    """Offcuts carry their size, saw cuts their number; the signs are explained."""
    sheet, group, unit = every_sheet()[0]
    plan = sheet_plan(sheet, group, unit=unit, scale=6)
    texts = [t for t, _ in texts_of(plan)]
    assert "offcut 14 1/8 x 48 in" in texts
    assert {"1", "2", "24 in", "48 in", "DATUM", "console lid"} <= set(texts)
    rings = [m for m in plan.drawing.marks if isinstance(m, Circle)]
    assert len(rings) == 2
    said = signs_text(sheet, group, unit)
    assert "Figures in circles" in said
    assert "Hatched" in said
    assert "OPPOSITE" not in said
    pen = RecordPen()
    plan.drawing.draw(pen)
    saw = [points for layer, points, _ in pen.paths if layer is Layer.SAW_CUT]
    middle = LEFT + (247.65 + 3.175 / 2) / 6
    assert [p.x for p in saw[0]] == pytest.approx([middle, middle])


def test_a_cut_that_hangs_over_the_edge_is_drawn_on_the_sheet():
    """Where less than a kerf is left, the line runs in the middle of what there is."""
    cut = Cut(1, "sheet", "y", Fraction(2439), Fraction(0), Fraction(1220), True)
    part = placed(simple_panel("x", 600, 600), 1, 0, 0)
    sheet, group = sheet_of([part], cuts=[cut])
    pen = RecordPen()
    sheet_plan(sheet, group, unit="mm", scale=10).drawing.draw(pen)
    ((a, b),) = [points for layer, points, _ in pen.paths if layer is Layer.SAW_CUT]
    assert a.y == b.y == pytest.approx(BOTTOM + 243.95)


def test_grain_and_margin_are_shown():
    """The sheet's grain has an arrow and the word; a margin is a dashed line inside the edge."""
    part = placed(simple_panel("x", 600, 600), 1, 0, 0)
    sheet, group = sheet_of([part])
    assert "grain" in [t for t, _ in texts_of(sheet_plan(sheet, group, unit="mm", scale=10))]
    plain, _ = sheet_of([part], stock=replace(GRAINED, grain="none"))
    assert "grain" not in [t for t, _ in texts_of(sheet_plan(plain, group, unit="mm", scale=10))]
    pen = RecordPen()
    margin = replace(group, margin=Margin(*(Fraction(10),) * 4))
    sheet_plan(sheet, margin, unit="mm", scale=10).drawing.draw(pen)
    assert sum(layer is Layer.NOTE_NO_CUT for layer, _, _ in pen.paths) == 1


def test_small_parts_get_a_number_and_a_key():
    """What has no room for its name shows a number in a box; the key says what it is, copies in short."""
    shim = simple_panel("shim", 25, 25, quantity=6)
    other = replace(shim, name="cap", opposite_hand=2)
    parts = [placed(shim, n, 40 * n, 0) for n in (1, 2, 3, 5)] + [placed(other, 1, 400, 0, 90, True)]
    sheet, group = sheet_of(parts)
    plan = sheet_plan(sheet, group, unit="mm", scale=10)
    assert [(k.number, k.text) for k in plan.key] == [
        (1, "shim, drawn 25 x 25 mm: copies 1-3, 5"),
        (2, "cap, OPPOSITE HAND, drawn 25 x 25 mm: copy 1"),
    ]
    texts = [t for t, _ in texts_of(plan)]
    assert texts.count("1") == 4
    assert texts.count("2") == 1
    drawing = sheet_picture(sheet, group, unit="mm", stem="ply-12-01")
    pen = RecordPen()
    drawing.draw(pen)
    assert any("copies 1-3, 5" in text for text, _ in pen.texts)


def test_the_key_counts_only_what_it_holds():
    """Parts that show their name take no number: the key runs from 1 on without a gap."""
    lid, shim = simple_panel("lid", 500, 300), simple_panel("shim", 25, 25)
    cap = replace(shim, name="cap")
    sheet, group = sheet_of([placed(lid, 1, 0, 0), placed(shim, 1, 600, 0), placed(cap, 1, 700, 0)])
    plan = sheet_plan(sheet, group, unit="mm", scale=10)
    assert [(k.number, k.text.split(",")[0]) for k in plan.key] == [(1, "shim"), (2, "cap")]


@pytest.mark.parametrize(("turn", "up"), [(0, 90), (90, 180), (270, 0)])
def test_a_number_has_the_arrow_beside_it_where_there_is_room(turn, up):
    """A part with room for a number and the arrow shows how it is turned; a smaller one its number alone."""
    wide = simple_panel("a name that is far too long for a part of its size", 140, 140)
    plain = replace(GRAINED, grain="none")
    sheet, group = sheet_of([placed(wide, 1, 0, 0, turn)], stock=plain)
    plan = sheet_plan(sheet, group, unit="mm", scale=10)
    assert [k.number for k in plan.key] == [1]
    arrows = _arrows(plan)
    ((tail, tip),) = arrows
    assert math.degrees(math.atan2(tip.y - tail.y, tip.x - tail.x)) % 360 == pytest.approx(up)
    (number,) = [m.bounds for m in plan.drawing.marks if isinstance(m, Text) and m.text == "1"]
    assert min(tail.x, tip.x) > number.right
    assert max(p.x for p in (tail, tip)) < LEFT + 14.0
    small, _ = sheet_of([placed(simple_panel("shim", 50, 50), 1, 0, 0, turn)], stock=plain)
    assert not _arrows(sheet_plan(small, group, unit="mm", scale=10))


def _arrows(plan):
    """Return tail and tip of each arrow's shaft: the strokes between words, the heads left out."""
    strokes = [
        m.vertices
        for m in plan.drawing.marks
        if isinstance(m, Path) and m.layer is Layer.PART_EDGE and len(m.vertices) == 2
    ]
    return [(a.point, b.point) for a, b in strokes if a.point.to(b.point) > 2.5]


def test_words_for_parts():
    """A part alone of its kind needs no copy number; sizes are as the part lies."""
    one = simple_panel("lid", 100, 50)
    assert part_lines(placed(one, 1, 0, 0, 90), "mm") == ("lid", "", "50 x 100 mm")
    assert part_lines(placed(one, 1, 0, 0, 0, True), "mm") == ("lid", "OPPOSITE HAND", "100 x 50 mm")
    assert lying_size(Fraction("374.65"), Fraction("247.65"), "in") == "14 3/4 x 9 3/4 in"
    numbers = numbers_of([placed(one, 1, 0, 0), placed(one, 2, 0, 60)])
    assert numbers == {("lid", False): 1}
    assert key_lines([], numbers, "mm") == ()


@settings(max_examples=25, deadline=None)
@given(
    rows=lists(
        tuples(integers(20, 600), integers(20, 400), sampled_from([0, 90, 180, 270]), booleans()), max_size=12
    ),
    name=sampled_from(["x", "deck frame gusset, starboard", "W" * 60, "船の蓋", "<b>"]),
)
def test_labels_stay_in_their_part(rows, name):
    """Whatever the parts: a label lies in its part, and no two labels meet."""
    parts, x, y, tallest = [], 0, 0, 0
    for i, (width, height, turn, opposite) in enumerate(rows):
        panel = replace(
            simple_panel(f"{name[:56]} {i}", width, height), holes=holes((10, 10), (width / 2, height / 2))
        )
        part = placed(panel, 1, 0, 0, turn, opposite)
        if x + part.width > 1220:
            x, y, tallest = 0, y + tallest + 3, 0
        if y + part.height > 2440:
            break
        parts.append(replace(part, x=Fraction(x), y=Fraction(y)))
        x, tallest = x + part.width + 3, max(tallest, part.height)
    sheet, group = sheet_of(parts)
    plan = sheet_plan(sheet, group, unit="mm", scale=10)
    boxes = [
        Rect(LEFT + float(p.x) / 10, BOTTOM + float(p.y) / 10, LEFT + float(p.x + p.width) / 10,
             BOTTOM + float(p.y + p.height) / 10)
        for p in parts
    ]  # fmt: skip
    labels = [
        (text, box)
        for text, box in texts_of(plan)
        if text not in ("1220 mm", "2440 mm", "DATUM", "grain") and not text.startswith("offcut")
    ]
    for i, (text, box) in enumerate(labels):
        holders = [
            b for b in boxes if b.left <= box.centre.x <= b.right and b.bottom <= box.centre.y <= b.top
        ]
        assert len(holders) == 1
        if not text.isdigit():
            room = holders[0].grown(0.01)
            assert room.left <= box.left
            assert box.right <= room.right
            assert room.bottom <= box.bottom
            assert box.top <= room.top
        for _, other in labels[i + 1 :]:
            # Type boxes are a little taller than the letters.
            assert not box.grown(-0.3).meets(other.grown(-0.3))
    named = sum(not text.isdigit() and text.endswith(tuple("0123456789")) for text, _ in labels)
    keyed = sum(text.isdigit() for text, _ in labels)
    assert named + keyed >= len(parts)


def test_numbers_of_close_cuts_do_not_cover_each_other():
    """Saw cuts 60 mm apart at 1:10, no two of them equal, keep their numbers apart."""
    panel = simple_panel("strip", 300, 57, quantity=20)
    parts = [placed(panel, i + 1, 0, 60 * i) for i in range(20)]
    cuts = [Cut(1, "sheet", "x", Fraction(300), Fraction(0), Fraction(2440), False)]
    cuts += [
        Cut(i + 2, f"{i + 1}{'b' if i else 'a'}", "y", Fraction(60 * i + 57 + i % 2), *ends, False)
        for i in range(20)
        for ends in [(Fraction(0), Fraction(300))]
    ]
    sheet, group = sheet_of(
        parts, cuts=cuts, offcuts=[Offcut(Fraction(303), *(Fraction(v) for v in (0, 917, 2440)))]
    )
    plan = sheet_plan(sheet, group, unit="mm", scale=10)
    rings = [m.bounds for m in plan.drawing.marks if isinstance(m, Circle)]
    assert len(rings) == 21
    assert not any(a.meets(b) for i, a in enumerate(rings) for b in rings[i + 1 :])


def test_an_outside_reader_finds_the_svg_at_true_size():
    """Read in millimetres, the SVG of a sheet has its holes and parts at full size, to 0.01 mm."""
    sheet, group, unit = every_sheet()[1]
    scale = picture_scale(sheet)
    data = svg_bytes(sheet_picture(sheet, group, unit=unit, stem="x"), scale=scale)
    # One millimetre at 96 dots an inch, as the SVG standard has it.
    svg = svgelements.SVG.parse(io.BytesIO(data), ppi=96)
    found = sorted(
        round(c.bbox()[2] - c.bbox()[0], 3) / (96 / 25.4)
        for c in svg.elements()
        if isinstance(c, svgelements.Circle)
    )
    wanted = sorted(h.dia for p in sheet.parts for h in p.panel.holes)
    assert found == pytest.approx(wanted, abs=0.01)
    boxes = [
        [v / (96 / 25.4) for v in e.bbox()]
        for e in svg.elements()
        if isinstance(e, svgelements.Path) and e.values.get("stroke-width") and e.bbox() is not None
    ]
    sizes = {(round(b[2] - b[0], 2), round(b[3] - b[1], 2)) for b in boxes}
    assert {(180.0, 120.0), (120.0, 180.0), (1220.0, 610.0)} <= sizes


def test_the_picture_can_stand_without_its_heading():
    """Without a heading the picture is lower and has no title; nothing else changes."""
    sheet, group, unit = every_sheet()[0]
    full = sheet_picture(sheet, group, unit=unit, stem="x")
    bare = sheet_picture(sheet, group, unit=unit, stem="x", heading=False)
    assert bare.height < full.height
    assert any(isinstance(m, Inset) for m in bare.marks)
    assert BRACKET.name not in str(bare.title)
