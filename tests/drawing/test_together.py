"""The print of drilling together: the right order, the right drills, the parts as they lie, on any paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.bench_rows import SIGNED_OFF
from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Drawing, Inset
from nestkit.drawing.record import record
from nestkit.drawing.together import together_pages
from nestkit.drawing.together_plan import Setup, Stuck, drilling_order, setups_of
from nestkit.drawing.together_steps import together_steps
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.job.reader import read_job
from nestkit.writers.pdf import pdf_bytes
from tests.drawing.legible import check_legible, on_paper
from tests.drawing.together_bench import job, joint, own, panel, tube

BOAT = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"
LONG = "the long name of a part that only a student would think of"
HINGE = """
[[bought]]
name = "hinge"
quantity = 2
thickness = "2 mm"
  [[bought.holes]]
  name = "g"
  screw = "M5"
  at = [["0 mm", "0 mm"], ["80 mm", "0 mm"], ["160 mm", "0 mm"]]
"""


def printed(made: Job) -> list[str]:
    """The words of every page, as pdfium reads them in order."""
    document = pypdfium2.PdfDocument(pdf_bytes(together_pages(made), title="x"))
    pages = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    document.close()
    return pages


def steps(made: Job, number: int = 0) -> list[str]:
    """The steps of one setup of a job."""
    setup = setups_of(made)[number]
    assert isinstance(setup, Setup)
    return [step.text for step in together_steps(made, setup)]


def without_outlines(page: Drawing) -> Drawing:
    """A page whose pictures have no outlines of parts, which are drawn to scale and have no words."""
    marks = []
    for mark in page.marks:
        if isinstance(mark, Inset):
            if mark.scale_x != 1:
                assert not record(mark.drawing).texts
                continue
            mark = replace(mark, drawing=without_outlines(mark.drawing))
        marks.append(mark)
    return replace(page, marks=tuple(marks))


def in_order(text: str, *parts: str) -> None:
    """Say that some words are there, one after another."""
    at = 0
    for part in parts:
        found = text.find(part, at)
        assert found >= 0, (part, text[at:])
        at = found + len(part)


def test_the_boats_rails_are_drilled_through_their_decks():
    """A page a hand: clamp, one end, pin, far end, pin, the rest, loose first; of the mirrored one the holes
    meet the other way round."""
    pages = printed(read_job(BOAT))
    assert len(pages) == 2
    order = (
        "DRILL TOGETHER · 1 PAIR", "side rail through side deck", "no holes there yet", "Write or scratch 1",
        "Clamp them as in the picture", "both walls of side rail in one go",
        "One end first, hole 1: drill 3/16 in (.188) right through.", "Pin it",
        "The far end, hole 6", "Pin it",
        "The rest, holes 2 to 5", "Deburr every hole", "all screws in loose first", "Leave spares undrilled",
        "Clamp the work",
    )  # fmt: skip
    in_order(pages[0], *order)
    assert "face A up: its END 0 at the B edge 1/2 in up from the DATUM corner of side deck" in pages[0]
    in_order(pages[1], "side rail, OPPOSITE HAND through side deck, OPPOSITE HAND", "holes 1 to 6 to drill")
    assert "spares" not in pages[1]


def test_the_order_of_drilling():
    """One end, the hole furthest from it, then the rest by their numbers; numbers decide between equals."""
    corners = [Point(0, 0), Point(30, 0), Point(30, 40), Point(0, 40), Point(15, 20)]
    assert drilling_order(corners, [1, 2, 3, 4, 5]) == (0, 2, 1, 3, 4)
    assert drilling_order(corners, [5, 4, 3, 2, 1]) == (3, 1, 4, 2, 0)
    assert drilling_order(corners[:1], [7]) == (0,)


@given(st.lists(st.tuples(st.integers(0, 50), st.integers(0, 50)), min_size=2, max_size=12, unique=True))
def test_the_second_hole_is_as_far_as_any(places):
    """No two holes are further apart than the two that are pinned, and every hole comes once."""
    points = [Point(*map(float, at)) for at in places]
    order = drilling_order(points, range(1, len(points) + 1))
    assert sorted(order) == list(range(len(points)))
    furthest = max(a.to(b) for a in points for b in points)
    assert points[order[0]].to(points[order[1]]) == pytest.approx(furthest, abs=1e-5)


def test_a_tapped_follower():
    """The clearance drill makes a cone, the tap drill goes through; both ends are tapped to be pinned."""
    made = job(panel("plate"), panel("block", made='tap = "M5"', of="metal"), joint("plate", "block"))
    in_order(
        " ".join(steps(made)),
        "One end first, hole 1: spot with 5.5 mm, only a full cone. Drill 4.2 mm right through.",
        "Tap it M5x0.8 now, square. Pin it: turn in a screw (M5) by hand.",
        "The far end, hole 3: the same way.",
        "Tap it M5x0.8 now",
        "The rest, hole 2: the same way.",
        "Tap M5x0.8, square to the face: hole 2 of block",
    )


def test_what_is_wider_is_opened_up_apart():
    """What goes through all is no larger than any hole; wider ones are opened up at the end, large ones by
    whoever is signed off."""
    made = job(
        panel("plate"), tube("beam"), panel("back", made='drill = "9 mm"'),
        panel("end", made='drill = "16 mm"'),
        joint("plate", "beam", "back", "end"),
    )  # fmt: skip
    in_order(
        " ".join(steps(made)),
        "Write or scratch 1 on all 4",
        "hole 1: spot with 5.5 mm, only a full cone. Pilot in the cone: 3 mm. Drill 5.5 mm right through.",
        "Take the parts apart.",
        "Open up holes 1 to 3 of back: 9 mm",
        "Open up holes 1 to 3 of end: Ø16 mm (step drill or hole saw)",
        "Deburr",
    )
    [page] = [text for text in printed(made) if "Open up holes 1 to 3 of end" in text]
    assert SIGNED_OFF in page


def test_pilots_come_after_the_cone():
    """Over 6 mm (plastic: 4 mm) by rule R061; the drill of the hole that is there finds the middle."""
    made = job(panel("plate", made='drill = "8 mm"'), panel("back", of="ply", made='drill = "8 mm"'),
               joint("plate", "back"))  # fmt: skip
    assert (
        "One end first, hole 1: spot with 8 mm, only a full cone. Pilot in the cone: 3 mm. Drill 8 mm right "
        in " ".join(steps(made))
    )


def test_what_pins():
    """Rivets are not set to pin; a wood screw turns in by hand; a single hole needs no pin at all."""
    rivet = job(panel("plate", made='drill = "3.3 mm"'), panel("back", made='drill = "3.3 mm"'),
                joint("plate", "back", screw='rivet = "3.2 mm"'))  # fmt: skip
    assert "Pin it: push in a screw or a pin that just fits. No rivet yet." in steps(rivet)
    one = '[["20 mm", "50 mm"]]'
    single = steps(job(panel("plate", one), panel("back", one), joint("plate", "back")))
    assert not any("Pin it" in text or "far end" in text for text in single)
    assert "Hole 1: spot with" in " ".join(single)


def test_how_often_and_what_stays():
    """Pairs are numbered; spares stay undrilled until one is needed."""
    more = "quantity = 3\nspare = 1"
    made = job(panel("plate", more="quantity = 3"), panel("back", more=more), joint("plate", "back"))
    text = " ".join(steps(made))
    assert "The next pairs get 2, 3, and so on." in text
    assert "Do the same for pairs 2 to 3. 1 only goes with 1." in text
    assert "Leave spares undrilled: back." in text
    assert "DRILL TOGETHER · 3 PAIRS" in printed(made)[0]


def test_a_leader_behind_is_drilled_from_behind():
    """By its method the part at the heads follows: the stack is turned over, and looked at from there."""
    at = '[["20 mm", "30 mm"], ["100 mm", "50 mm"], ["180 mm", "50 mm"]]'
    made = job(
        panel("front", at, more='method = "match drilled"'),
        panel("back", at),
        joint("front", "back", more=""),
    )
    [setup] = setups_of(made)
    assert setup.turned
    assert [layer.part.name for layer in setup.layers] == ["back", "front"]
    points = {place.number: p for place, p in zip(setup.places, setup.leader.points, strict=True)}
    assert sorted(round(p.x) for p in points.values()) == [-180, -100, -20]
    assert "Seen from the far side" in printed(made)[0]
    assert "back on top, turned over, its back up" in " ".join(steps(made))


def test_a_leader_between_two_followers_takes_two_clampings():
    """Each follower is drilled once, from the leader's side that it lies on."""
    by = 'method = "match drilled"'
    made = job(panel("a", more=by), panel("b"), panel("c", more=by), joint("a", "b", "c", more=""))
    found = [(setup.turned, [layer.part.name for layer in setup.layers]) for setup in setups_of(made)]
    assert found == [(False, ["b", "c"]), (True, ["b", "a"])]


def test_a_chain_says_what_comes_first():
    """What is drilled through one part may lead the next: its page asks for the other page first."""
    made = job(panel("a"), panel("b"), panel("c"), joint("a", "b", name="one"), joint("b", "c", name="two"))
    assert "Drill these together first: one." in steps(made, 1)
    assert not any("first:" in text for text in steps(made, 0))


def test_what_is_bought_leads():
    """A hinge has its holes: the lid is drilled through it."""
    made = job(panel("lid"), HINGE, joint("hinge", "lid"))
    text = " ".join(steps(made))
    in_order(text, "hinge: holes 1 to 3 there, deburred. lid: no holes there yet.", "hinge on top",
             "its DATUM corner 20 mm left and 50 mm down from the origin of hinge")  # fmt: skip


def test_a_spacer_is_left_out():
    """What goes loose over the screws would keep the parts apart."""
    spacer = '\n[[bought]]\nname = "spacer"\nquantity = 9\nthickness = "5 mm"\n'
    made = job(
        panel("lid"), panel("back"), spacer, joint("lid", "spacer", "back").replace("spacer / g", "spacer")
    )
    assert "Leave spacer out for now." in " ".join(steps(made))


def test_parts_that_cannot_meet_are_not_drilled():
    """The page of such a joint says so instead of how, with the fault and the remedy."""
    at = '[["20 mm", "50 mm"], ["110 mm", "50 mm"], ["180 mm", "50 mm"]]'
    made = job(panel("plate"), panel("back", at), joint("plate", "back"))
    [stuck] = setups_of(made)
    assert isinstance(stuck, Stuck)
    [page] = printed(made)
    in_order(page, "DO NOT DRILL holes 1 to 3 of back", "Mend the places.", "Mend the job, print again.")


def test_only_the_pages_of_some_parts():
    """A bench gets the pages on which its parts lead or follow."""
    made = job(
        panel("a"), panel("b"), panel("c"), panel("d"), joint("a", "b", name="x"), joint("c", "d", name="y")
    )
    assert [page.title for page in together_pages(made, frozenset({"b"}))] == ["drill together: x"]
    assert [page.title for page in together_pages(made, frozenset({"c"}))] == ["drill together: y"]
    assert together_pages(made, frozenset({"e"})) == ()
    assert together_pages(job(panel("a"))) == ()


def test_the_picture_has_every_hole_and_rings_the_two_ends():
    """Each hole of the part on top is a circle; the first and the far one have a heavy ring."""
    [page] = together_pages(job(panel("plate"), tube("beam"), joint("plate", "beam")))
    circles = record(page).circles
    holes = sorted(centre for layer, centre, _ in circles if layer is Layer.DRILLED_HOLE)
    rings = sorted(centre for layer, centre, _ in circles if layer is Layer.HEAVY)
    assert len(holes) == 3
    assert rings == [holes[0], holes[2]]
    found = {text for text, _ in record(page).texts}
    assert {"1 FIRST", "2", "3 SECOND", "P: DATUM", "Q: END 0"} <= found


@pytest.mark.parametrize("paper", ["letter", "A4", "A5"])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_long_names_stay_whole(unit, paper):
    """With 60 letters in every name no text leaves the page or lies on another; all steps are there."""
    names = [f"{LONG} {i}" for i in range(4)]
    made = job(
        panel(names[0], more="quantity = 2"), tube(names[1], more="quantity = 2\nspare = 1"),
        panel(names[2], more="quantity = 2", made='drill = "16 mm"', of="metal"),
        joint(*names[:3], name=names[3]), unit=unit,
    )  # fmt: skip
    pages = together_pages(on_paper(made, paper))
    for page in pages:
        check_legible(without_outlines(page))
    text = " ".join(printed(on_paper(made, paper)))
    assert all(name in text for name in names)


@settings(max_examples=12, deadline=None)
@given(
    places=st.lists(st.tuples(st.integers(1, 19), st.integers(1, 9)), min_size=1, max_size=14, unique=True),
    paper=st.sampled_from(["letter", "A5"]),
)
def test_any_pattern_is_legible(places, paper):
    """Wherever holes are, no number lies on another word; what has no number is said."""
    at = "[" + ", ".join(f'["{10 * x} mm", "{10 * y} mm"]' for x, y in places) + "]"
    made = on_paper(job(panel("plate", at), panel("back", at), joint("plate", "back")), paper)
    for page in together_pages(made):
        check_legible(without_outlines(page))


def test_a_machine_made_leader_and_follower():
    """Where a router cuts both, only the leader's holes are there when they come to the bench."""
    made = job(panel("plate"), panel("back") + own(), joint("plate", "back"), how="router")
    assert (
        steps(made)[0]
        == "plate: holes 1 to 3 made as its own prints say, deburred. back: no holes there yet."
    )
