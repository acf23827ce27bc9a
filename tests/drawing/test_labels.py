"""What labels say: one a piece and one an offcut, whole, and in an order that holds."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest

from nestkit.drawing.labels import label_pages
from nestkit.geometry.points import Rect
from nestkit.units import rest_text
from nestkit.writers.pdf import pdf_bytes
from tests import laid_boat
from tests.drawing import bench
from tests.drawing.labelled import (
    GRIDS,
    all_labels,
    boxes,
    by_label,
    hand_and_copy,
    laid_parts,
    printed,
    samples,
    sticks_said,
    with_labels,
    within,
)


@pytest.mark.parametrize(
    "table", [GRIDS["plain"], GRIDS["3 x 10"], GRIDS["2 x 4"]], ids=["plain", "3x10", "2x4"]
)
@pytest.mark.parametrize("sample", ["solar_boat", "rescue_float"])
def test_every_piece_has_exactly_one_label(sample, table):
    """pdfium reads one label for each piece and hand that is laid, and one for each offcut and rest."""
    job, layout = samples()[sample]
    job = with_labels(job, table)
    pages = label_pages(job, layout)
    found: list[list[str]] = []
    for page, read in zip(pages, bench.read(pdf_bytes(pages, title="labels")), strict=True):
        cells: dict[int, list[str]] = {}
        for text, at in read.texts:
            point = printed(job, page, Rect(*at, *at))
            cell = next(i for i, box in enumerate(boxes(job, page)) if within(point, box))
            cells.setdefault(cell, []).append(text)
        found += [cells[cell] for cell in sorted(cells)]
    parts = laid_parts(layout)
    counts = Counter((p.panel.name, p.opposite_hand) for p in parts)
    tubes = [said for stick in sticks_said(layout) for said in stick]
    wanted = Counter([*((p.panel.name, hand_and_copy(p, counts)) for p in parts), *tubes])
    offcuts = [o for group in layout.groups for sheet in group.sheets for o in sheet.offcuts]
    sizes = Counter(
        f"{rest_text(o.width, job.unit)} x {rest_text(o.height, job.unit)} {job.unit}" for o in offcuts
    )
    rests = [stick for laid in layout.bars for stick in laid.sticks if stick.kept]
    sizes += Counter(f"{rest_text(stick.left, job.unit)} {job.unit} long" for stick in rests)
    pieces = sum(wanted.values())
    # In large type hand and copy may take a line each.
    read_back = ((n, f"{a} · {b}" if a == "OPPOSITE HAND" else a) for n, a, b, *_ in found[:pieces])
    assert Counter(read_back) == wanted
    assert Counter(lines[1] for lines in found[pieces:]) == sizes
    assert {lines[0] for lines in found[pieces:]} == {"OFFCUT"}


def test_a_label_says_all_that_tells_a_piece_from_another():
    """Name, hand, copy, size, material as sold, bench, sheet, revision and date stand on a usual label."""
    job, layout = samples()["solar_boat"]
    found = all_labels(job, layout)
    lid = next(lines for lines in found if lines[0] == "console lid")
    assert lid[1:5] == [
        "1 of 1",
        "14 1/2 x 9 3/4 in",
        "polycarbonate, .118 in · sold as 1/8 in",
        "for console",
    ]
    assert re.search(r"sheet \d+ · revision B · 2026-03-02$", lid[5])
    assert next(lines for lines in found if lines[0] == "port light")[2] == "disc, 7 in across"
    assert next(lines for lines in found if lines[0] == "bulkhead")[2] == "24 x 12 in overall"
    floats = all_labels(*samples()["rescue_float"])
    assert [
        "handle plate",
        "OPPOSITE HAND · 1 of 1",
        "180 x 90 mm",
        "HDPE, 6 mm",
        "HDPE 6 mm, sheet 1",
    ] in floats


def test_offcuts_say_where_they_come_from_and_how_their_grain_runs():
    """Size, material, grain along one of its own sides, sheet, date and job."""
    job, layout = samples()["solar_boat"]
    for lines in all_labels(job, layout):
        if lines[0] == "OFFCUT" and lines[2].startswith("plywood"):
            assert lines[3] == f"grain along its {lines[1].split(' x ')[0]} in side"
            assert lines[4].startswith("from birch 6 mm 5x5, sheet ")
            assert lines[5] == f"2026-03-02 · {job.name}"
    job, layout = laid_boat.routed_job()
    assert all_labels(job, layout)[-1] == [
        "OFFCUT",
        "600 x 570 mm",
        "birch plywood, 12 mm",
        "grain along its 600 mm side",
        "from Ply 12, sheet 1",
        "Solar boat: drive",
    ]


def test_a_square_offcut_with_grain_asks_for_an_arrow():
    """Where both sides are alike no side tells how the grain runs."""
    job, layout = laid_boat.routed_job()
    group = layout.groups[0]
    first = group.sheets[0]
    square = replace(first, offcuts=(replace(first.offcuts[0], height=first.offcuts[0].width),))
    lines = all_labels(job, replace(layout, groups=(replace(group, sheets=(square,)),)))[-1]
    assert lines[3] == "draw an arrow along its grain"


def test_only_what_is_laid_has_a_label():
    """A part without a place has none, and is not counted."""
    job, layout = laid_boat.routed_job()
    assert len(layout.groups[0].unplaced) == 1
    found = [lines[:2] for lines in all_labels(job, layout) if lines[0] == "=gusset"]
    assert found == [["=gusset", "1 of 1"]]


def test_nothing_laid_is_no_file():
    """Without a piece and an offcut there are no pages."""
    job, layout = laid_boat.routed_job()
    empty = replace(layout, groups=(replace(layout.groups[0], sheets=()),))
    assert label_pages(job, empty) == ()


def test_faces_alike_have_no_opposite_hand():
    """Copies of a part whose faces are alike are counted over both hands, spares after them."""
    job, layout = laid_boat.routed_job()
    plate = laid_boat.simple_panel("plate", 100, 50, faces="alike", opposite_hand=1, spare=1)
    parts = tuple(laid_boat.placed(plate, n, 110 * n, 20, opposite=n == 2) for n in (1, 2, 3))
    sheet = replace(layout.groups[0].sheets[0], parts=parts, offcuts=())
    job = replace(job, panels=(plate,))
    found = all_labels(job, replace(layout, groups=(replace(layout.groups[0], sheets=(sheet,)),)))
    assert [lines[1] for lines in found] == ["1 of 3", "2 of 3", "3 of 3, spare"]


NASTY = {
    "sixty W": "W" * 60,
    "sixty W in words": "WWWWWWWWW " * 5 + "WWWWWWWWWW",
    "one long word": "a " + "Q" * 58,
    "CJK": "船舱盖" * 20,
    "quotes": "lid \"left\" 'aft' <b>&amp;",
    "accents": "Éclair à la crème, Ångström",
    "a letter": "i",
}


@pytest.mark.parametrize("text", NASTY.values(), ids=NASTY)
@pytest.mark.parametrize("table", GRIDS.values(), ids=GRIDS)
def test_extreme_texts_stay_in_their_label(text, table):
    """Whatever the names: no text leaves its label or lies on another, and only a part's name is ever cut."""
    job, layout = laid_boat.routed_job()
    panels = tuple(
        replace(p, name=f"{n}{text}"[:60], used_for=text, revision=text) for n, p in enumerate(job.panels)
    )
    named = dict(zip((p.name for p in job.panels), panels, strict=True))
    sheets = tuple(
        replace(
            s,
            stock=replace(s.stock, name=text, material=text),
            parts=tuple(replace(p, panel=named[p.panel.name]) for p in s.parts),
        )
        for s in layout.groups[0].sheets
    )
    group = replace(layout.groups[0], sheets=sheets, group=replace(layout.groups[0].group, material=text))
    job = replace(with_labels(job, table), name=text * 2, panels=panels)
    whole = (f"{text}, sheet 1", f"for {text}", f"revision {text}", f"{text}, 12 mm", f"from {text}, sheet 1")
    found = all_labels(job, replace(layout, groups=(group,)))
    assert len(found) == 7
    for lines in found:
        rest = " · ".join(lines[1:])
        for item in whole:
            # An item that is there at all is there to its end, over one line or two.
            head = item.split(" ")[0]
            if item.startswith(("for ", "revision ", "from ")) and f"{head} " in f"{rest} ":
                assert item.replace(" ", "") in rest.replace(" · ", " ").replace(" ", "")
        assert "…" not in " ".join(lines[2:])


def test_the_name_is_the_largest_text_of_a_label():
    """Heads are set larger than all other words, and bold."""
    for table in (GRIDS["plain"], GRIDS["3 x 10"], GRIDS["small"]):
        job, layout = samples()["solar_boat"]
        job = with_labels(job, table)
        for page in label_pages(job, layout):
            for texts in filter(None, by_label(job, page)):
                assert texts[0].bold
                # A long name takes two lines.
                rest = [t for t in texts if not (t.bold and t.height == texts[0].height)]
                assert len(texts) - len(rest) <= 2
                assert all(t.height < texts[0].height for t in rest)


def test_small_labels_say_name_hand_copy_and_sheet():
    """On 25 x 10 mm stands what matters most, and each hand in full words."""
    job, layout = samples()["solar_boat"]
    found = all_labels(with_labels(job, GRIDS["small"]), layout)
    side = next(lines for lines in found if lines[0] == "console side" and len(lines) == 3)
    assert side[1] == "OPPOSITE HAND · 1 of 1"
    assert re.search(r", sheet \d+$", side[2])
    assert sum("OPPOSITE HAND" in " ".join(lines) for lines in found) == sum(
        p.opposite_hand and p.panel.faces == "differ" for p in laid_parts(layout)
    ) + sum(said.startswith("OPPOSITE HAND") for stick in sticks_said(layout) for _, said in stick)


def test_the_usual_order_is_by_bench_then_job_then_hand_then_copy():
    """Benches come by name, parts for none last; within a bench as the job has them."""
    job, layout = samples()["solar_boat"]
    order = [p.name for p in job.panels]
    parts = sorted(
        laid_parts(layout),
        key=lambda p: (
            not p.panel.used_for, p.panel.used_for, order.index(p.panel.name), p.opposite_hand, p.copy,
        ),
    )  # fmt: skip
    counts = Counter((p.panel.name, p.opposite_hand) for p in parts)
    found = [tuple(lines[:2]) for lines in all_labels(job, layout) if lines[0] in order]
    assert found == [(p.panel.name, hand_and_copy(p, counts)) for p in parts]


def test_labels_by_sheet_come_as_the_sheets_are_cut():
    """With sort = "sheet" all pieces of a sheet follow each other, by bench within it; then sticks."""
    job, layout = samples()["solar_boat"]
    found = all_labels(with_labels(job, '[labels]\nsort = "sheet"\n'), layout)
    order = [p.name for p in job.panels]
    at = 0
    for group in layout.groups:
        for sheet in group.sheets:
            here = found[at : at + len(sheet.parts)]
            assert Counter(lines[0] for lines in here) == Counter(p.panel.name for p in sheet.parts)
            benches = [next(p for p in job.panels if p.name == lines[0]).used_for for lines in here]
            assert [*zip(benches, (order.index(lines[0]) for lines in here), strict=True)] == sorted(
                zip(benches, (order.index(lines[0]) for lines in here), strict=True)
            )
            at += len(sheet.parts)
    for stick in sticks_said(layout):
        assert Counter(tuple(lines[:2]) for lines in found[at : at + len(stick)]) == Counter(stick)
        at += len(stick)
    assert all(lines[0] == "OFFCUT" for lines in found[at:])


def test_the_same_layout_gives_the_same_bytes():
    """Labels are written twice alike."""
    first, second = (pdf_bytes(label_pages(*samples()["solar_boat"]), title="x") for _ in range(2))
    assert first == second
