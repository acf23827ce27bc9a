"""Labels of tubes: each piece, each bag of short plain ones, each rest worth keeping."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nestkit.drawing.labels import label_pages
from nestkit.job.model import Labels
from tests import laid_boat, laid_tubes
from tests.drawing.labelled import GRIDS, all_labels, sticks_said, with_labels
from tests.laid_tubes import DECK_FRAME, EDGE_TRIM, SIDE_RAIL, SPACER, bar, job, laid, tube


def boat(unit="in"):
    """The deck's job and its layout."""
    made = laid_tubes.boat(unit)
    return made, laid(made)


def test_a_label_says_all_that_tells_a_tube_from_another():
    """Name, hand, copy, length, material and section, bench, stick, revision."""
    found = all_labels(*boat())
    assert found[0] == [
        "deck frame",
        "1 of 4",
        "22 in long",
        "aluminium 6061, square tube 1 x 1 x 1/16 in",
        "for deck",
        "square tube stock, stick 1 · revision B",
    ]
    assert next(lines for lines in found if "OPPOSITE" in lines[1])[:3] == [
        "side rail", "OPPOSITE HAND · 1 of 1", "48 in long",
    ]  # fmt: skip
    metric = all_labels(*boat("mm"))[0]
    assert metric[2:4] == ["558.8 mm long", "aluminium 6061, square tube 25.4 x 25.4 x 1.588 mm"]


def test_short_plain_pieces_of_a_stick_share_a_label():
    """Twelve spacers are one bag; with a hole, or as long as a hand, each piece has its own."""
    assert [lines[:2] for lines in all_labels(*boat()) if lines[0] == "spacer"] == [
        ["spacer", "1 to 12 of 12"]
    ]
    for other in (
        replace(SPACER, holes=DECK_FRAME.holes[:1]),
        replace(SPACER, length=6 * laid_tubes.INCH),
    ):
        made = job(other)
        assert [lines[1] for lines in all_labels(made, laid(made))[:2]] == ["1 of 12", "2 of 12"]
    made = job(replace(SPACER, quantity=3, spare=2), bars=[bar(SPACER.section, "4")])
    assert [lines[1] for lines in all_labels(made, laid(made))] == ["1, 2 of 5", "3, 4 of 5", "5 of 5, spare"]


def test_copies_are_counted_over_both_hands_where_they_are_one_part():
    """A tube that is its own mirror has no opposite hand; spares come after all that were asked for."""
    plain = replace(DECK_FRAME, holes=DECK_FRAME.holes[:6], quantity=2, opposite_hand=1, spare=1)
    assert plain.either_hand
    made = job(plain)
    numbers = [lines[1] for lines in all_labels(made, laid(made))[:4]]
    assert numbers == ["1 of 4", "2 of 4", "3 of 4", "4 of 4, spare"]


def test_a_rest_worth_keeping_has_a_label():
    """Length down to 1/16 in, section, stick; what is not kept has none, a roll's only where it is kept."""
    made, layout = boat()
    rests = [lines for lines in all_labels(made, layout) if lines[0] == "OFFCUT"]
    kept = [stick for group in layout.bars for stick in group.sticks if stick.kept]
    assert len(rests) == len(kept) == 5
    assert rests[0] == [
        "OFFCUT",
        "47 7/16 in long",
        "aluminium 6061, square tube 1 x 1 x 1/16 in",
        "from square tube stock, stick 2",
        "Solar boat: deck",
    ]
    (roll,) = (b for b in layout.bars if b.group.off_a_roll)
    left = replace(roll, sticks=(replace(roll.sticks[0], kept=True),))
    only = replace(layout, bars=(left,))
    assert all_labels(job(EDGE_TRIM), only)[-1][3] == "from goods off a roll stock, roll 1"


def test_by_bench_tubes_come_among_panels_and_by_sheet_after_them():
    """By bench: within one as the job has it, panels first. By sheet: sheets, then sticks, then rests."""
    panels, sheets = laid_boat.routed_job()
    tubes = job(
        replace(SIDE_RAIL, used_for=panels.panels[0].used_for), replace(SPACER, used_for=""), unit="mm"
    )
    both = replace(panels, tubes=tubes.tubes, bars=tubes.bars, bar_groups=tubes.bar_groups)
    layout = replace(sheets, bars=laid(tubes).bars)
    names = [lines[0] for lines in all_labels(both, layout)]
    benches = {p.name: p.used_for for p in (*both.panels, *both.tubes)}
    order = [p.name for p in (*both.panels, *both.tubes)]
    pieces = [n for n in names if n != "OFFCUT"]
    key = [(not benches[n], benches[n], order.index(n)) for n in pieces]
    assert key == sorted(key)
    by_sheet = [lines[0] for lines in all_labels(replace(both, labels=Labels(order="sheet")), layout)]
    cut = [n for n in by_sheet if n != "OFFCUT"]
    assert cut[-3:] == ["side rail", "side rail", "spacer"]
    assert by_sheet[len(cut) :] == ["OFFCUT"] * (len(by_sheet) - len(cut))


def test_every_tube_that_is_cut_has_a_label_in_the_order_of_sticks():
    """By sheet, stick by stick; a tube without a stick has no label and is not counted."""
    made, layout = boat()
    by_stick = replace(made, labels=Labels(order="sheet"))
    found = [tuple(lines[:2]) for lines in all_labels(by_stick, layout)]
    said = [label for stick in sticks_said(layout) for label in stick]
    assert found[: len(said)] == said
    long = job(tube("keel", "1 x 1 x 1/16", "200"), bars=[bar("1 x 1 x 1/16")])
    assert laid(long).bars[0].unplaced
    assert label_pages(long, laid(long)) == ()


@pytest.mark.parametrize("text", ["W" * 60, "a " + "Q" * 58, "船舱盖" * 20, "i"])
@pytest.mark.parametrize("table", GRIDS.values(), ids=GRIDS)
def test_extreme_texts_stay_in_their_label(text, table):
    """Whatever the names: no text leaves its label or lies on another, which the reader of labels holds."""
    parts = [
        replace(p, name=f"{n}{text}"[:60], used_for=text, revision=text, material=text)
        for n, p in enumerate((DECK_FRAME, SIDE_RAIL, SPACER))
    ]
    bars = [bar(p.section, name=f"{n}{text}"[:60], material=text) for n, p in enumerate(parts) if n != 1]
    made = with_labels(job(*parts, bars=bars, name=text * 2), table)
    found = all_labels(made, laid(made))
    assert len(found) == 4 + 2 + 1 + 3


def test_a_bench_alone_has_no_labels_of_rests():
    """Sticks of which only some parts are asked for, not kept, give labels of these parts alone."""
    made, layout = boat()
    (square, *_) = layout.bars
    only = [
        replace(s, parts=tuple(p for p in s.parts if p.tube.name == "side rail"), kept=False)
        for s in square.sticks
    ]
    lonely = replace(layout, bars=(replace(square, sticks=tuple(only)),))
    assert [lines[0] for lines in all_labels(made, lonely)] == ["side rail", "side rail"]
