"""The printed cut plan: both ways, every piece, nothing over anything, large jobs in a moment."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pypdfium2
import pytest

from nestkit.drawing.cut_plan import cut_plan_pages
from nestkit.drawing.model import Inset, Text
from nestkit.estimate.cut_steps import sticks_alike, stop_settings
from nestkit.estimate.cut_words import StockNames, pieces_text, sticks_title, take_texts
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.points import Point, Rect
from nestkit.layout.bars.result import UnplacedTube
from nestkit.trade.cautions import cautions
from nestkit.writers.pdf import pdf_bytes
from tests.cut_sticks import (
    HACKSAW,
    PAPERS,
    bar,
    boat_angle,
    boat_frames,
    boat_trim,
    inch,
    large_list,
    layout_of,
    metric_rails,
    stick,
    tube,
    whole,
)
from tests.drawing.bench import read


def words(pages) -> str:
    """All text of the pages as pdfium reads it."""
    document = pypdfium2.PdfDocument(pdf_bytes(pages, title="cut plan"))
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return " ".join(text.split())


def long_names():
    """Stocks and parts with names of 60 letters, and so many lengths that a stick takes pages."""
    copies: Counter = Counter()
    parts = [tube("W" * 57 + f"{n:03}", Fraction(15 + 3 * n)) for n in range(20)]
    return layout_of(
        [
            stick(bar("W" * 60), 1, [(part, 2) for part in parts], HACKSAW.kerf, copies),
            stick(bar("V" * 60), 1, [(parts[0], 30), (parts[3], 1)], HACKSAW.kerf, copies, on_hand=True),
        ]
    )


def many_parts():
    """A hundred parts of one length, sticks alike whose numbers lie apart, many without a stick."""
    copies: Counter = Counter()
    parts = [tube(f"spacer of the {n}th kind", "2") for n in range(100)]
    rail = tube("side rail", "40")
    stock = bar("square")
    sticks = [stick(stock, 2 * n + 1, [(p, 40)], HACKSAW.kerf, copies) for n, p in enumerate(parts)]
    sticks += [stick(stock, 2 * n + 2, [(rail, 2)], HACKSAW.kerf, copies) for n in range(100)]
    lost = tuple(
        UnplacedTube(tube(f"mast {n} " + "W" * 50, "200"), 1, False, f"it is longer than stick {n}")
        for n in range(90)
    )
    return layout_of(sticks, unplaced=lost)


JOBS = {
    "boat": (lambda: (boat_frames(), boat_angle(), boat_trim()), "in"),
    "rails": (lambda: (metric_rails("W" * 50),), "mm"),
    "long names": (lambda: (long_names(),), "mm"),
    "many parts": (lambda: (many_parts(),), "in"),
}


def placed(drawing, at, scale=1.0, room=None):
    """Yield every text, also in pictures, as it stands on the page, with its room."""
    room = room or Rect(0.0, 0.0, drawing.width, drawing.height)
    for mark in drawing.marks:
        if isinstance(mark, Text):
            box = Rect(*(side * scale for side in mark.bounds))
            yield Rect(box.left + at.x, box.bottom + at.y, box.right + at.x, box.top + at.y), room, mark
        elif isinstance(mark, Inset):
            seen = [side * scale for side in mark.bounds]
            inner = Rect(seen[0] + at.x, seen[1] + at.y, seen[2] + at.x, seen[3] + at.y)
            corner = Point(at.x + mark.at.x * scale, at.y + mark.at.y * scale)
            yield from placed(mark.drawing, corner, scale * mark.scale_x, inner)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", JOBS)
def test_texts_stay_on_the_page_and_apart(name, paper):
    """Whatever the names, the numbers and the paper: no text over another, none cut off, none at the edge."""
    groups, unit = JOBS[name]
    for page in cut_plan_pages(*whole(*groups(), unit=unit, paper=PAPERS[paper])):
        boxes = list(placed(page, Point(0.0, 0.0)))
        border = 6.0 * (0.5 if paper == "smallest" else 0.74 if paper == "A5" else 1.0)
        paper_room = Rect(0.0, 0.0, page.width, page.height).grown(-border)
        for box, room, mark in boxes:
            assert paper_room.left <= box.left, mark
            assert box.right <= paper_room.right, mark
            assert paper_room.bottom <= box.bottom, mark
            assert box.top <= paper_room.top, mark
            assert room.grown(0.01).holds(box), mark
        boxes.sort(key=lambda b: b[0].bottom)
        for (a, _, one), (b, _, other) in combinations(boxes, 2):
            assert not a.grown(-0.02).meets(b.grown(-0.02)), (one, other)


def test_every_stick_and_every_setting_stands_in_the_plan():
    """pdfium finds each kind with its rows, then each setting with its sticks, in their order.

    The only setting of the angle is said below its stick.
    """
    groups = boat_frames(), boat_angle(), boat_trim()
    text = words(cut_plan_pages(*whole(*groups)))
    at = 0
    for laid in groups:
        kinds = sticks_alike(laid)
        names = StockNames(kinds, "in")
        for alike in kinds:
            at = text.index(sticks_title(alike, names), at)
            for row in alike.rows:
                at = text.index(pieces_text(row, alike, "in"), at)
        if laid.group.off_a_roll:
            continue
        if laid is groups[1]:
            at = text.index("Or at a stop block: stop 4 1/8 in, 8 pieces from stick 1 Clamp the stop", at)
            continue
        for setting in stop_settings(kinds):
            at = text.index(f"Setting {setting.number}", at)
            for take in setting.takes:
                for said in take_texts(take, names, "in"):
                    at = text.index(said, at)
    assert "Cut with scissors: a cut takes no length." in text
    assert "NOT IN THIS PLAN, no stick found: 1 piece" in text
    assert "1 x keel angle: It is longer than any stick" in text
    assert "2 x bow frame, OPPOSITE HAND, rev B. End 0: 45 degrees, long side A." in text
    assert "4 settings, 50 pieces." in text


def one_length(*sticks, mitres=(None, None)):
    """A group of one length: how many pieces each kind of sticks gives, and how many sticks there are."""
    part = tube("spacer", "1 1/4", mitres=mitres)
    copies: Counter = Counter()
    counts = [count for count, many in sticks for _ in range(many)]
    return layout_of(
        [stick(bar("square"), n, [(part, c)], HACKSAW.kerf, copies) for n, c in enumerate(counts, 1)]
    )


@pytest.mark.parametrize(
    ("sticks", "said"),
    [
        ([(2, 1)], "Or at a stop block: stop 1 1/4 in, 2 pieces from stick 1 Clamp"),
        ([(2, 3)], "Or at a stop block: stop 1 1/4 in, 6 pieces, 2 each from sticks 1 to 3 Clamp"),
        ([(36, 2), (4, 1)], "stop 1 1/4 in, 76 pieces 72 from sticks 1, 2; 4 from stick 3. Clamp"),
    ],
)
def test_a_single_setting_is_said_shortly_on_the_page_of_its_sticks(sticks, said):
    """One length in the group: no page of its own, no rules twice; which stick gives how many is told."""
    pages = cut_plan_pages(*whole(one_length(*sticks)))
    assert len(pages) == 1
    text = words(pages)
    assert said in text
    assert "Cut at a stop block" not in text
    assert "cut ONE piece and measure it" in text


def test_no_stop_is_set_for_a_single_piece():
    """A stop block is for pieces that are alike: for one there is no second way."""
    assert "stop block" not in words(cut_plan_pages(*whole(one_length((1, 1)))))


def test_mitres_come_after_both_ways_of_cutting():
    """Whichever way pieces were cut, their mitres are sawn after: so it stands on the page."""
    text = words(cut_plan_pages(*whole(one_length((2, 1), mitres=(Mitre.on("A", Fraction(45)), None)))))
    assert text.index("Or at a stop block") < text.index("Mitres: sawn last")


def test_both_ways_share_a_page_where_all_of_the_second_fits():
    """Two lengths on one stick: the stop's section stands below, with a title of its own, as large."""
    copies: Counter = Counter()
    parts = [(tube("post", "12"), 2), (tube("spacer", "3"), 2)]
    laid = layout_of([stick(bar("square"), 1, parts, HACKSAW.kerf, copies)])
    (page,) = cut_plan_pages(*whole(laid))
    titles = [m for _, _, m in placed(page, Point(0.0, 0.0)) if m.text.startswith("Cut ")]
    assert [t.text.partition(":")[0] for t in titles] == ["Cut by hand saw", "Cut at a stop block"]
    assert abs(titles[0].height - titles[1].height) < 0.8
    text = words((page,))
    assert text.count(cautions("defer")[0]) == 1
    assert (
        text.index("Cut at a stop block")
        < text.index("Setting 1 Stop 12 in")
        < text.index("Setting 2 Stop 3 in")
    )
    assert len(cut_plan_pages(*whole(laid, paper=PAPERS["A5"]))) > 1


def test_equal_sticks_are_drawn_once_with_a_box_each():
    """Three sticks alike: one picture, three numbered boxes to tick."""
    pages = cut_plan_pages(*whole(boat_frames()))
    assert words(pages).count("Sticks 1 to 3 (96 in): cut 3 alike") == 1
    # A box for each of three sticks, and for each row of the two sticks that are single.
    page = read(pdf_bytes(pages, title="x"))[0]
    boxes = [
        p for p in page.paths if p.closed and abs(p.box.width - 5) < 0.01 and abs(p.box.height - 5) < 0.01
    ]
    assert len(boxes) == 3 + 3


def test_sticks_are_to_scale_on_the_page():
    """On the printed pages all sticks of a group have one scale: 22 in is 22/96 of the long stick."""
    pages = read(pdf_bytes(cut_plan_pages(*whole(boat_frames())), title="x"))
    bars = [p.box.width for page in pages for p in page.paths if p.closed and abs(p.box.height - 11.0) < 0.01]
    longest = max(bars)
    scale = longest / float(inch("96"))
    for length, least in (("22", 4), ("14 1/2", 1), ("1 1/2", 21), ("30", 2), ("48", 1)):
        there = [b for b in bars if abs(b - float(inch(length)) * scale) < 0.01]
        assert len(there) >= least, length


def test_lengths_are_large_and_words_are_readable():
    """On letter paper lengths stand in 7 mm, stops in 9 mm, all else in 2 mm or more."""
    pages = cut_plan_pages(*whole(boat_frames()))
    texts = [mark for page in pages for _, _, mark in placed(page, Point(0.0, 0.0))]
    assert sum(t.text == "22 in" and t.height == 7.0 for t in texts) == 2
    assert sum(t.text.startswith("Stop ") and t.height == 9.0 for t in texts) == 4
    assert min(t.height for t in texts) >= 2.0


def test_the_shops_rules_come_first():
    """Each saw page says whose rules hold; a roll has no words on saws."""
    text = words(cut_plan_pages(*whole(boat_frames())))
    for said in (cautions("defer")[0], *cautions("tube")[:2], cautions("cover")[7]):
        assert said in text
    angle = words(cut_plan_pages(*whole(boat_angle())))
    assert cautions("tube")[0] not in angle
    assert cautions("tube")[1] in angle
    roll = words(cut_plan_pages(*whole(boat_trim())))
    assert " saw" not in roll.lower().replace("powered saws", "")
    assert "kerf" not in roll


def test_a_job_without_sticks_has_no_plan():
    """Nothing is printed without bars; parts that all lack a stick are still named."""
    assert cut_plan_pages(*whole()) == ()
    text = words(cut_plan_pages(*whole(layout_of([], unplaced=boat_angle().unplaced))))
    assert "no stick found: 1 piece" in text
    assert "stop block" not in text


def test_thousands_of_tubes_take_few_pages():
    """5,000 tubes of 60 lengths on over a thousand sticks take some dozens of pages."""
    laid = large_list()
    assert len(laid.sticks) > 1000
    assert len(cut_plan_pages(*whole(laid))) < 80


def test_the_same_layout_gives_the_same_bytes():
    """The plan is written twice alike."""
    job, layout = whole(boat_frames(), boat_angle(), boat_trim())
    again = replace(layout)
    assert pdf_bytes(cut_plan_pages(job, layout), title="x") == pdf_bytes(
        cut_plan_pages(job, again), title="x"
    )
