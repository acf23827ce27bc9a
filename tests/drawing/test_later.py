"""Holes that are drilled through another part: no print of their own part marks them."""

from __future__ import annotations

import re
from dataclasses import replace

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.bench_cards import bench_pages
from nestkit.drawing.bench_steps import steps_of
from nestkit.drawing.later_words import NOT_YET, PRINT, do_not_drill_said, not_yet_said
from nestkit.drawing.layers import Layer
from nestkit.drawing.marking_out import marking_pages
from nestkit.drawing.model import Drawing
from nestkit.drawing.record import record
from nestkit.drawing.template import template, template_pages
from nestkit.drawing.template_facts import facts_of
from nestkit.drawing.together_plan import Setup, setups_of
from nestkit.drawing.tube_card import tube_card_pages
from nestkit.drawing.tube_facts import tube_facts
from nestkit.drawing.tube_marking import tube_marking_pages
from nestkit.drawing.tube_template import tube_template, tube_template_pages
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.job.pairs import later_of
from nestkit.writers.pdf import pdf_bytes
from tests.drawing.legible import check_legible, on_paper, texts
from tests.drawing.together_bench import job, joint, own, own_on_b, panel, tube

OWN = own()
LONG = "the long name of a part that only a student would think of"


def apart(made: Job) -> Job:
    """The same job, its parts drilled apart."""
    return replace(made, joints=tuple(replace(j, together=False) for j in made.joints))


def words(pages: tuple[Drawing, ...]) -> str:
    """All that pdfium reads on some pages, in order."""
    document = pypdfium2.PdfDocument(pdf_bytes(pages, title="x"))
    found = " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in document)
    document.close()
    return found


def said(pages: tuple[Drawing, ...]) -> list[str]:
    """Every text of some pages."""
    return [text for page in pages for text, _ in texts(page)]


def pair(**more: str) -> Job:
    """A plate and a panel with a hole of its own, which is drilled through the plate."""
    return job(panel("plate"), panel("back", **more) + OWN, joint("plate", "back"))


@pytest.mark.parametrize("how", ["saw", "jigsaw", "router"])
def test_the_followers_card_keeps_the_drill_off(how):
    """It marks and drills its own hole only, and says of the others why; that of the leader is as ever."""
    made = job(panel("plate"), panel("back") + OWN, joint("plate", "back"), how=how)
    plate, back = made.panels
    steps = [step.text for step in steps_of(made, back, False)]
    [keep_off] = [text for text in steps if "DO NOT DRILL" in text]
    assert keep_off == f"DO NOT DRILL holes 1 to 3: drilled through plate, see {PRINT}."
    rest = " ".join(text for text in steps if text != keep_off)
    assert "5.5" not in rest
    assert not re.search(r"\b[123] to\b|\bholes? 1\b", rest)
    assert how == "router" or any(text.startswith("Drill 4 mm: 1 hole: 4") for text in steps)
    assert steps_of(made, plate, False) == steps_of(apart(made), plate, False)


def test_a_step_that_keeps_the_drill_off_is_read_on_the_card():
    """It stands on the printed card, before the first drill, large; nothing lies on anything else."""
    made = pair()
    pages = bench_pages(made)
    for page in pages:
        check_legible(page)
    text = words(pages[1:])
    assert text.index("DO NOT DRILL") < text.index("Mark hole 4") < text.index("Drill 4 mm")
    assert "Dashed: do not drill, see the steps." in text
    assert "Dashed" not in words(pages[:1])
    circles = record(pages[1]).circles
    assert sum(layer is Layer.LATER for layer, _, _ in circles) == 3
    assert sum(layer is Layer.DRILLED_HOLE for layer, _, _ in circles) == 1


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("spare = 1", "A spare stays undrilled there."),
        ("spare = 1\nspare_if_room = 1", "Spares stay undrilled there."),
        ("quantity = 4", "That drills 1 of 4; the rest stay undrilled there."),
        ("opposite_hand = 1", "see drill_together.pdf."),
    ],
)
def test_copies_that_no_joint_drills_are_told_of(more, says):
    """Spares, and copies beyond those of the joint, have no holes there when the bench is done."""
    made = pair(more=more)
    back = made.panels[1]
    assert do_not_drill_said(later_of(made, back, False), back, False).endswith(says)
    assert later_of(made, back, True) == {}


def test_two_leaders_are_named_by_their_holes():
    """Holes that go through different parts are told apart; a hole of either has both names."""
    made = job(
        panel("left"), panel("right"), panel("back", more="quantity = 2"),
        joint("left / g : 1, 2", "back / g : 1, 2", name="a"),
        joint("right / g : 3", "back / g : 3", name="b"),
    )  # fmt: skip
    back = made.panels[2]
    later = later_of(made, back, False)
    assert "holes 1 to 3: drilled later, 1, 2 through left; 3 through right" in do_not_drill_said(
        later, back, False
    )
    assert "holes 1, 2: drilled through left; hole 3: drilled through right" in not_yet_said(later)
    both = job(
        panel("left"), panel("right"), panel("back", more="quantity = 2"),
        joint("left", "back", name="a"), joint("right", "back", name="b"),
    )  # fmt: skip
    assert "drilled through left or right" in not_yet_said(later_of(both, both.panels[2], False))


def test_the_marking_out_leaves_the_rows_out_and_says_why():
    """Panels and tubes: the rows are those of the own holes, the checks go from them alone."""
    made = job(panel("plate"), panel("back") + OWN, tube("beam") + own_on_b(), joint("plate", "back", "beam"))
    for pages, number in ((marking_pages(made)[1:], "4"), (tube_marking_pages(made), "4")):
        found = said(pages)
        assert f"Not here: holes 1 to 3: drilled through plate, see {PRINT}." in " ".join(found)
        assert number in found
        assert not {"1", "2", "3"} & set(found)
        assert not any("Ø5.5" in text for text in found)
        for page in pages:
            check_legible(page)
    # The leader's page is as ever, but for how many there are.
    leader, as_ever = (said(marking_pages(one)[:1])[:-1] for one in (made, apart(made)))
    assert leader == as_ever


def test_what_has_nothing_to_mark_has_no_table():
    """Where all holes are drilled through other parts there is no row to print."""
    made = job(panel("plate"), panel("back"), tube("beam"), joint("plate", "back", "beam"))
    assert [page.title for page in marking_pages(made)] == ["marking out: plate"]
    assert tube_marking_pages(made) == ()


def crossed(page: Drawing, at: Point) -> bool:
    """Say whether a line of a punch mark points at a place."""
    for layer, points, _ in record(page).paths:
        if layer is Layer.FINE and len(points) == 2:
            (a, b) = points
            along = a.to(b)
            off = abs((b.x - a.x) * (a.y - at.y) - (a.x - at.x) * (b.y - a.y)) / along if along else 1.0
            if off < 1e-6 and min(a.to(at), b.to(at)) < 1.0:
                return True
    return False


@pytest.mark.parametrize("opposite", [False, True])
def test_the_template_has_dashed_circles_without_a_punch_mark(opposite):
    """The own hole has its cross; the others are dashed, named NOT YET, and in the table without a drill."""
    made = job(
        panel("plate", more="opposite_hand = 1"),
        panel("back", more="opposite_hand = 1") + OWN,
        joint("plate", "back"),
        joint("plate", "back", name="other", more='made = "together"\nopposite_hand = ["plate", "back"]'),
    )
    plate, back = made.panels
    page = template(made, back, opposite=opposite)
    circles = record(page).circles
    dashed = [centre for layer, centre, _ in circles if layer is Layer.LATER]
    full = [centre for layer, centre, _ in circles if layer is Layer.DRILLED_HOLE]
    assert len(dashed) == 3
    assert len(full) == 1
    assert not any(crossed(page, centre) for centre in dashed)
    assert crossed(page, full[0])
    found = said((page,)) if not opposite else [text for text, _ in record(page).texts]
    assert {f"{n}  {NOT_YET}" for n in (1, 2, 3)} <= set(found)
    assert NOT_YET in found
    hand = ", OPPOSITE HAND" if opposite else ""
    assert f"DO NOT DRILL holes 1 to 3: drilled through plate{hand}" in " ".join(found)
    facts = facts_of(made, back, opposite=opposite, back=False, corrected=False)
    assert [row.drill for row in facts.holes] == [NOT_YET, "4 mm"]
    assert {n for check in facts.checks for n in check.holes} <= {4}
    assert (
        record(template(made, plate, opposite=opposite)).lines
        == record(template(apart(made), plate, opposite=opposite)).lines
    )


def test_a_template_with_nothing_to_mark_is_for_checking():
    """As with a part that a machine made whole: it is printed, and asks for no punch."""
    made = job(panel("plate"), panel("back"), tube("beam"), joint("plate", "back", "beam"))
    facts = facts_of(made, made.panels[1], opposite=False, back=False, corrected=True)
    assert facts.punch == ""
    assert facts.drilled == ()
    assert template_pages(made, made.panels[1])
    rail = tube_facts(made, made.tubes[0], opposite=False, corrected=True)
    assert rail.punch == ""
    assert rail.drilled == ()
    assert [piece.name for piece, _ in rail.pieces] == ["A", "C"]
    pages = tube_template_pages(made, made.tubes[0])
    assert sum(layer is Layer.LATER for page in pages for layer, _, _ in record(page).circles) >= 6


def test_a_tubes_template_prints_the_faces_that_are_marked():
    """Strips of faces on which all waits are left out; where both are on one paper the waiting are dashed."""
    made = job(panel("plate"), tube("beam") + own_on_b(), joint("plate", "beam"))
    facts = tube_facts(made, made.tubes[0], opposite=False, corrected=False)
    assert [piece.name for piece, _ in facts.pieces] == ["B"]
    assert [row.drill for row in facts.holes] == [NOT_YET, "4 mm"]
    wrapped = replace(made, tubes=(replace(made.tubes[0], paper="wrap"),))
    page = tube_template(wrapped, wrapped.tubes[0])
    circles = [(layer, centre) for layer, centre, _ in record(page).circles]
    dashed = [centre for layer, centre in circles if layer is Layer.LATER]
    assert len(dashed) == 6
    assert not any(crossed(page, centre) for centre in dashed)
    assert [layer for layer, _ in circles].count(Layer.DRILLED_HOLE) == 1
    assert sum(text.endswith(NOT_YET) for text, _ in record(page).texts) >= 6


def test_a_tubes_card_keeps_the_drill_off():
    """Its steps speak of its own hole alone; without one there is nothing to lay a template for."""
    made = job(panel("plate"), tube("beam", more="spare = 1") + own_on_b(), joint("plate", "beam"))
    text = words(tube_card_pages(made))
    assert (
        f"DO NOT DRILL holes 1 to 3: drilled through plate, see {PRINT}. A spare stays undrilled there."
        in text
    )
    assert "Mark hole 4." in text
    assert "5.5 mm" not in text
    bare = job(panel("plate"), tube("beam"), joint("plate", "beam"))
    steps = words(tube_card_pages(bare))
    assert "DO NOT DRILL holes 1 to 3" in steps
    assert "Template" not in steps
    assert "Mark " not in steps.replace("Mark ONE length", "")


@pytest.mark.parametrize("paper", ["letter", "A5"])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_long_names_stay_whole(unit, paper):
    """With 60 letters in every name cards and tables keep every text on the page and off the others."""
    a, b, c = f"{LONG} 1", f"{LONG} 2", f"{LONG} 3"
    made = job(
        panel(a),
        panel(b, more="spare = 1") + OWN,
        tube(c, more="spare = 1") + own_on_b(),
        joint(a, b, c),
        unit=unit,
    )
    made = on_paper(made, paper)
    for page in (
        *bench_pages(made), *tube_card_pages(made), *marking_pages(made), *tube_marking_pages(made)
    ):  # fmt: skip
        check_legible(page)


@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_every_hole_is_marked_or_on_one_page_of_drilling_together(data):
    """Whatever is drilled through whatever: each hole of each hand has its mark, or one page for it."""
    names = ["a", "b", "c", "d"]
    hands = data.draw(st.sampled_from(["", "opposite_hand = 1"]))
    kinds = data.draw(st.lists(st.sampled_from([panel, tube]), min_size=4, max_size=4))
    parts = [make(name, more=hands) for name, make in zip(names, kinds, strict=True)]
    ways = data.draw(
        st.lists(
            st.lists(st.sampled_from(names), min_size=2, max_size=3, unique=True), min_size=1, max_size=3
        )
    )
    joints = []
    free = {name: [1, 2, 3] for name in names}
    for i, way in enumerate(ways):
        if all(free[name] for name in way):
            numbers = [free[name].pop(0) for name in way]
            more = 'made = "together"'
            if hands and data.draw(st.booleans()):
                more += "\nopposite_hand = [" + ", ".join(f'"{name}"' for name in way) + "]"
            holes = [f"{name} / g : {n}" for name, n in zip(way, numbers, strict=True)]
            joints.append(joint(*holes, name=f"j{i}", more=more))
    made = job(*parts, *joints)
    setups = setups_of(made)
    assert all(isinstance(setup, Setup) for setup in setups)
    drilled: dict[tuple[str, bool, int], int] = {}
    for setup in setups:
        for index, layer in enumerate(setup.followers):
            for place in setup.places:
                key = (layer.part.name, layer.plane.mate.opposite, place.numbers[index])
                drilled[key] = drilled.get(key, 0) + 1
    for part in made.parts:
        for opposite in part.hands:
            if part in made.panels:
                facts = facts_of(made, part, opposite=opposite, back=False, corrected=False)
            else:
                facts = tube_facts(made, part, opposite=opposite, corrected=False)
            marked = {hole.number for hole in facts.drilled}
            for hole in part.holes:
                pages = sum(
                    count
                    for (name, hand, number), count in drilled.items()
                    if (name, number) == (part.name, hole.number)
                    and (hand and not part.either_hand) == opposite
                )
                assert pages + (hole.number in marked) == 1
