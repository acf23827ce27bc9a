"""Gang marking on paper: which tubes, which way up, which lines, whose holes; a picture to scale."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.gang_picture import gang_picture, letter_of
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Path, Text
from nestkit.drawing.tube_marking import tube_marking_pages
from nestkit.geometry.mitre import Mitre
from nestkit.job.model import Paper
from nestkit.job.settings import LEAST_PRINT
from nestkit.parts.gangs import gangs_of
from nestkit.parts.tube import Twin
from tests import laid_tubes
from tests.drawing.test_tube_marking import SIXTY, assert_clean, words
from tests.laid_tubes import DECK_FRAME, MAST, group, job, tube


def rail(name, *at, length="48", face="A", section="1 x 1 x 1/16", **more):
    """Return a tube with one row."""
    return tube(name, section, length, group("row", face, *at), **more)


def gang_pages(made):
    """Return the pages of gangs."""
    return [p for p in tube_marking_pages(made) if p.title.startswith("marking out: MARK TOGETHER")]


def test_a_page_says_who_lies_how_and_where_the_lines_are():
    """Heading, what to do, tubes with letters, which side is up, a row for each line with units and holes."""
    made = [rail("beam", "1", "4", "8", quantity=3), rail("spar", "4", "8", "20", face="D")]
    (page,) = gang_pages(job(*made))
    said = words(page)
    assert said.startswith("MARK TOGETHER 1 Clamp flush at end 0. Square these lines across all of them.")
    assert "a  beam, all 3 together: A up b  spar: D up" in said
    assert "1 1 exact 25.5 +0.10 only a 1" in said
    assert "2 4 exact 101.5 -0.10 a 2 · b 1" in said
    assert "4 20 exact 508 exact only b 3" in said
    assert "Where a row names some, only these have a hole there: no line on the others." in said


def test_copies_of_one_tube_need_no_letters_in_the_table():
    """All 4 together, rolled over for the other wall; hole numbers stand alone."""
    said = words(gang_pages(job(DECK_FRAME))[0])
    assert "a  deck frame, all 4 together: A up, then C" in said
    assert "Roll the tubes over for the next face: end 0 stays at your left." in said
    assert "1 1/2 exact 12.5 -0.20 1 2 4 exact" in said
    assert "no line on the others" not in said


def test_twins_of_unlike_height_are_packed_up():
    """Declared twins that are not equally high say how high they are and what to do."""
    made = [
        rail("low", "1", "2"),
        rail("high", "1", "2", section="1 x 2 x 1/8", twins=(Twin("row", "low", "row"),)),
    ]
    said = words(gang_pages(job(*made))[0])
    assert "They are 1 in and 2 in high: pack the lower ones up until all are level." in said
    assert "pack" not in words(gang_pages(job(DECK_FRAME))[0])


def test_many_are_marked_in_turns_from_a_pattern():
    """More tubes than a clamp holds are marked in turns; of many members a row names only letters."""
    many = words(gang_pages(job(replace(DECK_FRAME, quantity=20)))[0])
    assert "More than the clamp holds? Leave one that is marked in each turn, as the pattern." in many
    four = [rail(f"r{i}", "1", "2", *(["9"] if i < 2 else [])) for i in range(4)]
    said = words(gang_pages(job(*four))[0])
    assert "1 1 exact 25.5 +0.10 all" in said
    assert "3 9 exact 228.5 -0.10 only a, b" in said


def test_mitres_are_sawn_after_marking_together():
    """Where a tube is mitred the page says that its end is still square."""
    mitred = replace(DECK_FRAME, mitres=(Mitre.on("A", Fraction(45)), None))
    assert "Mitres are sawn last: every end 0 is still square." in words(gang_pages(job(mitred))[0])
    assert "Mitres" not in words(gang_pages(job(DECK_FRAME))[0])


def test_round_tubes_lie_with_their_line_up():
    """The angle of the line that is up stands for a face."""
    said = words(gang_pages(job(replace(MAST, quantity=2)))[0])
    assert "a  mast, all 2 together: 0° up, then 180°" in said


def test_the_picture_is_to_scale_and_flush_at_end_0():
    """Bars begin at the stop and are as long as their tubes; rings lie on the lines of their own tube."""
    made = [
        rail("beam", "1", "4", "8", length="20", quantity=2),
        rail("spar", "4", "8", "35", length="40", face="D"),
    ]
    (gang,) = gangs_of(made)
    picture = gang_picture(gang, 190.0)
    bars = [m.bounds for m in picture.marks if isinstance(m, Path) and m.closed]
    assert [round(bar.width / bars[-1].width, 6) for bar in bars] == [0.5, 0.5, 1.0]
    assert len({round(bar.left, 6) for bar in bars}) == 1
    scale = bars[-1].width / 40
    rings = [m.centre for m in picture.marks if isinstance(m, Circle)]
    for bar, at in zip(bars, ([1, 4, 8], [1, 4, 8], [4, 8, 35]), strict=True):
        mine = sorted(r.x for r in rings if bar.bottom < r.y < bar.top)
        assert mine == pytest.approx([bar.left + scale * x for x in at])
    assert sum(isinstance(m, Path) and m.layer == Layer.HEAVY for m in picture.marks) == 1 + len(rings)


@pytest.mark.parametrize(("step", "count"), [(2, 20), (30, 25), (60, 30), (400, 5), (1, 2)])
def test_numbers_of_near_lines_keep_apart(step, count):
    """Of lines too near for all their numbers the first and the last have theirs, none over another."""
    (gang,) = gangs_of([rail("beam", *range(100, 100 + step * count, step), length=2000, quantity=2)])
    picture = gang_picture(gang, 190.0)
    numbers = {m.text: m.bounds for m in picture.marks if isinstance(m, Text) and m.text.isdigit()}
    assert {"1", str(count)} <= set(numbers)
    assert len(numbers) == count or step < 60
    boxes = list(numbers.values())
    assert not any(a.meets(b) for i, a in enumerate(boxes) for b in boxes[:i])
    assert all(box.top <= picture.height for box in boxes)


@given(
    st.lists(st.tuples(st.integers(1, 30), st.integers(0, 30), st.integers(1, 20)), min_size=1, max_size=7),
    st.booleans(),
    st.booleans(),
)
@settings(max_examples=20, deadline=None)
def test_any_gang_stays_on_its_pages(rows, long, small):
    """However many tubes and lines, on usual and least paper: nothing over the edge, no text on another."""
    paper = Paper("least", float(LEAST_PRINT.short), float(LEAST_PRINT.long)) if small else "A4"
    made = [
        rail(f"{SIXTY[:-1]}{i}" if long else f"r{i}", *(20 + 30 * k for k in range(first, first + count)),
             length=2400, quantity=copies)
        for i, (count, first, copies) in enumerate(rows)
    ]  # fmt: skip
    for page in gang_pages(job(*made, paper=paper, unit="mm")):
        assert_clean(page)
        assert "…" not in words(page)


def test_letters_go_on():
    """Members are a, b, ..., then aa."""
    assert [letter_of(i) for i in (0, 1, 25, 26)] == ["a", "b", "z", "aa"]


def test_gangs_come_before_the_tables_and_pages_are_counted_through():
    """Marking together comes first, two gangs a page where both are whole; pages are counted through."""
    pages = tube_marking_pages(laid_tubes.boat())
    titles = [p.title.removeprefix("marking out: ") for p in pages]
    assert titles[:3] == [f"MARK TOGETHER {n}" for n in (1, 2, 4)]
    assert not any("MARK TOGETHER" in t for t in titles[3:])
    assert [words(p).rpartition("tubes: ")[2] for p in pages] == [f"page {n} of 8" for n in range(1, 9)]


@pytest.mark.parametrize("lines", [2, 8, 14, 60])
def test_a_gang_is_parted_only_where_one_page_cannot_hold_it(lines):
    """On a shared page a gang stands from its name to its last line, with all that is its own."""
    made = [
        rail(f"rail {letter}", *range(20 + step, 2000, 1900 // lines), length=2000, quantity=2)
        for letter, step in (("p", 0), ("q", 7), ("r", 15))
    ]
    pages = gang_pages(job(*made, unit="mm", paper="A4"))
    texts = [words(p) for p in pages]
    assert len(pages) == {2: 2, 8: 3, 14: 3, 60: 9}[lines]
    for number, one in enumerate(gangs_of(made), 1):
        name = f"MARK TOGETHER {number}"
        assert sum(f"{name} Clamp flush at end 0." in said for said in texts) == 1
        assert sum(f"{name} (continued)" in said for said in texts) == (2 if lines == 60 else 0)
        [here] = [said for said in texts if f"{name} Clamp" in said]
        own = here.partition(f"{name} Clamp")[2].partition("MARK TOGETHER")[0]
        assert f"a  {one.members[0].tube.name}, all 2 together" in own
        assert lines == 60 or f" {len(one.lines)} {int(one.lines[-1].at)} " in own
    general = "Push every end 0 against a straight stop, then clamp."
    assert all(said.count(general) == ("(continued)" not in said) for said in texts)
