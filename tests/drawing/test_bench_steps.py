"""The steps of bench cards: the order of the trade, every drill once, what wants a trained hand marked."""

from __future__ import annotations

from pathlib import Path

import pytest

from nestkit.drawing.bench_drills import far_pair
from nestkit.drawing.bench_steps import copies, steps_of
from nestkit.drawing.marking_out import drilled
from nestkit.fit.drill_words import drill_said
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.job.reader import read_job, read_text
from nestkit.parts.holes import Drill, Hole

SAMPLES = Path(__file__).resolve().parent.parent.parent / "sample_parts"

JOB = """
job = "steps"
unit = "{unit}"
[cutting]
how = "{how}"
kerf = {kerf}
[[panel]]
name = "plate"
material = "{material}"
thickness = 3
{outline}
{more}
"""
RECTANGLE = "size = [300, 200]"
ODD = "points = [[0, 0], [300, 0], [300, 100], [100, 100], [100, 200], [0, 200]]"


def job(
    *,
    how: str = "saw",
    kerf: float = 3,
    material: str = "polycarbonate",
    outline: str = RECTANGLE,
    more: str = "",
) -> Job:
    """A job of one plate, in mm."""
    return read_text(
        JOB.format(unit="mm", how=how, kerf=kerf, material=material, outline=outline, more=more), Path()
    )


def said(job: Job, *, opposite: bool = False) -> list[str]:
    """The texts of the steps of the first panel."""
    return [step.text for step in steps_of(job, job.panels[0], opposite)]


def holes(name: str, of: str, *places: tuple[float, float]) -> str:
    """A group of holes in a job's text."""
    return f'[[panel.holes]]\nname = "{name}"\n{of}\nat = [{", ".join(f"[{x}, {y}]" for x, y in places)}]\n'


@pytest.mark.parametrize("sample", ["solar_boat", "rescue_float"])
def test_final_drills_make_every_hole_that_is_drilled_by_hand_once(sample):
    """Over all parts: the numbers of the final drills are the panel's holes to drill, each once."""
    job = read_job(SAMPLES / f"{sample}.toml")
    for panel in job.panels:
        for opposite in panel.hands:
            steps = steps_of(job, panel, opposite)
            numbers = [n for step in steps for n in step.holes]
            assert sorted(numbers) == [h.number for h in drilled(job, panel)], panel.name
            for step in steps:
                if step.holes:
                    count = f"{len(step.holes)} hole{'' if len(step.holes) == 1 else 's'}: "
                    assert count in step.text


def test_a_rectangle_is_sawn_before_it_is_drilled():
    """Saw, true the edges, template on the sawn corner, mark, pilot, drill, corners last, deburr."""
    steps = said(
        job(
            outline=f"{RECTANGLE}\ncorner_radius = 10", more=holes("a", 'drill = "5.5"', (20, 20), (280, 180))
        )
    )
    starts = ("Saw to 300 x 200 mm by the saw plan", "True the edges", "Measure both check rulers",
              "Mark holes 1, 2",
              "Pilot 3 mm: 2 holes: 1, 2", "Drill 5.5 mm: 2 holes: 1, 2", "Cut the corners last",
              "Deburr everything")  # fmt: skip
    assert [s.startswith(start) for s, start in zip(steps, starts, strict=True)] == [True] * len(starts)
    assert "its lines on the sawn edges" in steps[2]
    assert "hole 1 to hole 2: must read 305.3" in steps[3]


@pytest.mark.parametrize(("how", "first"), [("saw", "Saw the box around it"), ("jigsaw", "Measure both")])
def test_an_odd_outline_is_drilled_first_and_cut_last(how, first):
    """Template on the sheet, holes, inner corners, the outline last; a saw makes its box first."""
    steps = said(job(how=how, outline=ODD, more=holes("a", 'drill = "5.5"', (20, 20))))
    assert steps[0].startswith(first)
    order = [
        "Mark hole 1",
        "Pilot",
        "Drill 5.5 mm",
        "Drill the inner corner",
        "Cut the outline last",
        "Deburr",
    ]
    places = [next(i for i, s in enumerate(steps) if s.startswith(start)) for start in order]
    assert places == sorted(places)
    assert places[-1] == len(steps) - 1
    assert not any("Saw to" in s for s in steps)


@pytest.mark.parametrize("how", ["router", "laser", "waterjet"])
def test_a_machine_leaves_only_what_it_cannot_make(how):
    """Edges and large holes are cut; what is narrower than the cut is drilled; a cut hole may be tapped."""
    more = holes("small", 'drill = "3.3"', (50, 50)) + holes("large", 'tap = "M12"', (100, 100), (150, 100))
    plan = job(how=how, kerf=6, material="aluminium 6061", more=more)
    steps = steps_of(plan, plan.panels[0], False)
    texts = [step.text for step in steps]
    assert texts[0] == f"Cut by {how}: edges, holes 2, 3."
    assert steps[0].signed_off
    assert "Mark hole 1. Centre punch each cross, on a solid support." in texts
    assert "Drill 3.3 mm: 1 hole: 1" in texts
    assert texts[-2] == "Tap M12x1.75, square to the face: 2 holes: 2, 3"
    assert not any("Saw" in text for text in texts)


def test_nothing_to_drill_needs_no_template():
    """A plain rectangle, and a part that the machine makes whole, have no step with a template."""
    assert len(said(job())) == 2
    whole = said(job(how="router", kerf=6, more=holes("a", "dia = 8", (50, 50))))
    assert whole == [
        "Cut by router: edges, hole 1.",
        "Deburr edges and holes, both sides. Fill in the sizes.",
    ]


def test_each_drill_is_a_step_the_pilots_first():
    """Pilot for all that need one, the drill between for the large, then each size, a tap after its drill."""
    more = (
        holes("big", 'drill = "10"', (20, 20), (40, 20))
        + holes("fit", 'drill = "5.5"', (60, 20))
        + holes("thread", 'tap = "M5"', (80, 20), (100, 20))
        + holes("small", 'drill = "3"', (120, 20))
        + holes("port", "dia = 20", (160, 60))
    )
    plan = job(more=more)
    steps = steps_of(plan, plan.panels[0], False)
    drills = [step.text for step in steps if step.large]
    assert drills == [
        "Pilot 3 mm: 6 holes: 1 to 5, 7",
        "Open up with 6 mm: 2 holes: 1, 2",
        "Drill 3 mm: 1 hole: 6",
        "Drill 4.2 mm: 2 holes: 4, 5",
        "Tap M5x0.8, square to the face: 2 holes: 4, 5",
        "Drill 5.5 mm: 1 hole: 3",
        "Drill 10 mm: 2 holes: 1, 2",
        "Step drill or hole saw Ø20 mm: 1 hole: 7",
    ]


def test_what_wants_a_trained_hand_is_marked():
    """Saws, machines and hole saws are for an adult or a signed-off person; hand drill and tap are not."""
    more = holes("a", 'tap = "M5"', (20, 20)) + holes("b", "dia = 20", (60, 60))
    more += "[[panel.cutouts]]\nat = [150, 100]\ndisc = 60\n"
    plan = job(outline=f"{RECTANGLE}\nchamfer = 10", more=more)
    marked = [step.text for step in steps_of(plan, plan.panels[0], False) if step.signed_off]
    assert [text.split()[0] for text in marked] == ["Saw", "Step", "Cut", "Cut"]
    assert not any(text.startswith(("Drill", "Pilot", "Tap", "Mark")) for text in marked)


@pytest.mark.parametrize(
    ("counts", "opposite", "many"),
    [
        ("quantity = 2", False, True),
        ("spare = 1", False, True),
        ("opposite_hand = 1", False, False),
        ("opposite_hand = 1", True, False),
        ("opposite_hand = 3", True, True),
    ],
)
def test_the_first_of_a_batch_is_tried_before_the_rest(counts, opposite, many):
    """The last step asks for a signature where more than one of a hand is made, and only there."""
    plan = job(outline=f"{RECTANGLE}\n{counts}", more=holes("a", 'drill = "3"', (20, 20)))
    last = steps_of(plan, plan.panels[0], opposite)[-1]
    assert last.signature is many
    assert (last.text == "Try the first one on the machine before drilling the rest.") is many
    assert (copies(plan.panels[0], opposite) > 1) is many


def test_openings_say_where_the_first_hole_goes():
    """A slot is drilled at both ends, a round cut-out started inside, a square one drilled in its corners."""
    more = "[[panel.slots]]\nat = [50, 50]\nlength = 40\nwidth = 10\n"
    more += (
        "[[panel.cutouts]]\nat = [150, 100]\ndisc = 60\n[[panel.cutouts]]\nat = [220, 20]\nsize = [50, 40]\n"
    )
    text = next(s for s in said(job(more=more)) if s.startswith("Cut the openings"))
    assert "1 slot: drill both ends" in text
    assert "1 round cut-out: a start hole inside the line" in text
    assert "1 cut-out: drill the corners first" in text


def test_inner_corners_are_counted_sharp_and_round():
    """A notch has one inner corner in a corner of the part, two in a side (rule R104, common practice)."""
    notch = '[[panel.notches]]\ncorner = "top right"\nsize = [30, 20]\n'
    notch += '[[panel.notches]]\nside = "top"\nat = 80\nsize = [40, 30]\ncorner_radius = 5\n'
    assert "Drill the 3 inner corners of the outline, 3 to 6 mm, inside both lines." in said(job(more=notch))
    assert any("corners and notches last" in s for s in said(job(more=notch)))


def test_marks_are_written_unless_the_shop_engraved_them():
    """Texts of the face are a step; a machine may have made them."""
    mark = '[[panel.marks]]\nat = [20, 100]\ntext = "BILGE"\nheight = 6\n'
    assert said(job(more=mark))[-1] == "Write on this face: BILGE."
    assert "unless the shop engraved them: BILGE." in said(job(how="laser", material="MDF", more=mark))[-1]


@pytest.mark.parametrize(
    ("drill", "inch", "metric"),
    [
        (Drill(5.6134, "#2", ""), "#2 (.221)", "#2 (5.61)"),
        (Drill(6.35, "1/4", ""), "1/4 in (.250)", "1/4 in (6.35)"),
        (Drill(5.5, "5.5 mm", ""), "5.5 mm (.217)", "5.5 mm"),
        (Drill(25.4, "1 in", ""), "1 in (1.000)", "1 in (25.4)"),
        (Drill(12.05, "", ""), "Ø.474 in, no drill of the tables", "Ø12.05 mm, no drill of the tables"),
        (Drill(40.0, "", ""), "Ø1.575 in", "Ø40 mm"),
    ],
)
def test_a_drill_is_said_by_name_and_diameter(drill, inch, metric):
    """The name as the shop says it, the diameter in the job's unit where the name does not say it."""
    assert drill_said(drill, "in") == inch
    assert drill_said(drill, "mm") == metric


def test_two_holes_far_apart_of_few_and_of_many():
    """Of few holes the two furthest apart; of a thousand two of its corners, without comparing all."""
    row = [Hole(n, Point(10.0 * n, 0.0), Drill(5, "5 mm", ""), "") for n in range(1, 5)]
    assert far_pair(row) == (1, 4, 30.0)
    assert far_pair(row[:1]) is None
    grid = [
        Hole(1 + x + 40 * y, Point(10.0 * x, 10.0 * y), Drill(5, "5 mm", ""), "")
        for y in range(25)
        for x in range(40)
    ]
    assert far_pair(grid) == (1, 1000, pytest.approx((390**2 + 240**2) ** 0.5))
