"""The way of a group through a solver of true shapes and back; the solvers here are plain ones of our own."""

from __future__ import annotations

import random
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely

from nestkit.errors import ToolFault
from nestkit.geometry.shapes import disc, rectangle
from nestkit.layout.efforts import effort_named
from nestkit.layout.events import Progress
from nestkit.layout.lay_out import lay_out, lay_out_group
from nestkit.layout.rects.engine.twin import Kernels
from nestkit.layout.shapes import lay_out as shaping
from nestkit.layout.shapes.build import problems_of
from nestkit.layout.shapes.lay_out import worth
from nestkit.layout.shapes.lying import body_of
from nestkit.layout.shapes.placing import placed_layout, turn_of
from nestkit.layout.shapes.problem import Laid, LaidPlate, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.settled import settled
from nestkit.layout.shapes.verify import verify_shapes
from tests.layout.made import group, job, panel, sheet
from tests.layout.shapes.shaped import BORE, NONE, RING, WEDGE, boat_group, built_boat, in_rows, shaped
from tests.layout.shapes.test_verify_shapes import lying

QUICK = effort_named("quick")


class Rows:
    """A solver that lays rows of boxes; it keeps what it was given."""

    def __init__(self, seed: int = 1) -> None:
        """Lay rows in the order that a seed gives."""
        self.seed = seed
        self.seen: list[ShapesProblem] = []

    def __call__(self, problem, *, seed, effort, stop, on_event, start, least) -> ShapesLayout:
        """Return rows; tell of them once."""
        self.seen.append(problem)
        found = in_rows(problem, random.Random(self.seed))
        on_event(found)
        stop()
        return found


class Fixed:
    """A solver that always gives the same layout."""

    def __init__(self, *pieces: Laid, left: tuple[int, ...]) -> None:
        """Lay these pieces on one plate."""
        self.layout = ShapesLayout((LaidPlate(0, pieces),), left)

    def __call__(self, problem, *, seed, effort, stop, on_event, start, least) -> ShapesLayout:
        """Return the layout."""
        return self.layout


def ring_and_cap(**cap: object):
    """Return a ring and a cap for its bore, on sheets that hold no more than the ring."""
    return group(
        [shaped("ring", RING, BORE), shaped("cap", disc(98), **cap)],
        [sheet("full", 190, 190, price=Fraction(9))],
        "router", 4, 6, (5, 5, 5, 5),
    )  # fmt: skip


CAP = disc(98).turned(17.3).bounds
RING_AND_CAP = Fixed(Laid(0, 0.0, 0.0), Laid(1, 31 - CAP.left, 31 - CAP.bottom, 17.3), left=(0, 0))


def test_a_layout_of_true_shapes_is_taken_where_it_needs_fewer_sheets():
    """The cap goes into the ring's bore, where boxes cannot: one sheet instead of two, proved."""
    made = ring_and_cap()
    boxes, _ = lay_out_group(made, seed=1, effort=QUICK, shapes=None)
    assert len(boxes.sheets) == 2
    shaped_layout, stopped = lay_out_group(made, seed=1, effort=QUICK, shapes=RING_AND_CAP)
    assert not stopped
    assert len(shaped_layout.sheets) == 1
    assert shaped_layout.cost == 9
    assert shaped_layout.proved
    cap = next(p for p in shaped_layout.sheets[0].parts if p.panel.name == "cap")
    assert (cap.x, cap.y, cap.turn) == (36, 36, Fraction("17.3"))
    whole = lay_out(job(made), effort="quick", shapes=RING_AND_CAP)
    assert whole.groups[0] == shaped_layout


def test_boxes_are_kept_where_they_are_better():
    """A solver that leaves a part out, or wastes a sheet, changes nothing."""
    made = ring_and_cap()
    boxes, _ = lay_out_group(made, seed=1, effort=QUICK, shapes=None)
    only_ring = Fixed(Laid(0, 0.0, 0.0), left=(0, 1))
    assert lay_out_group(made, seed=1, effort=QUICK, shapes=only_ring)[0] == boxes
    boat = boat_group()
    plain, _ = lay_out_group(boat, seed=1, effort=QUICK, shapes=None)
    wasteful, _ = lay_out_group(boat, seed=1, effort=QUICK, shapes=Rows())
    assert worth(wasteful) <= worth(plain)


def test_of_equal_layouts_the_larger_rest_decides():
    """With cost and sheets alike, one large offcut is better than several."""
    built = built_boat()
    layouts = [
        placed_layout(built, in_rows(built.problem, random.Random(s)), NONE, "plain") for s in range(6)
    ]
    best = min(layouts, key=worth)
    rests = [max(o.width * o.height for o in x.sheets[0].offcuts) for x in layouts]
    assert max(o.width * o.height for o in best.sheets[0].offcuts) == max(rests)


def test_what_a_solver_lays_wrong_is_a_fault():
    """Overlaps, pieces over the border, too many of a kind and lost ones are faults of the tool."""
    made = ring_and_cap()
    for pieces, left, words in (
        ((Laid(0, 0.0, 0.0), Laid(1, 30.0, 31.0)), (0, 0), "nearer than the gap"),
        ((Laid(0, 21.0, 0.0), Laid(1, 52.0, 31.0)), (0, 0), "border"),
        ((Laid(0, 0.0, 0.0), Laid(0, 0.0, 0.0)), (0, 0), "more pieces of a kind"),
        ((Laid(0, 0.0, 0.0),), (0, 0), "is lost"),
    ):
        with pytest.raises(ToolFault, match=words):
            lay_out_group(made, seed=1, effort=QUICK, shapes=Fixed(*pieces, left=left))


def test_extras_are_laid_last_and_never_missed():
    """A spare that is wanted only if there is room lies where the solver put it, and is else not unplaced."""
    made = ring_and_cap(spare_if_room=1)
    laid, _ = lay_out_group(made, seed=1, effort=QUICK, shapes=RING_AND_CAP)
    assert not laid.unplaced
    assert sorted(p.copy for p in laid.sheets[0].parts if p.panel.name == "cap") == [1]


def test_parts_without_a_place_have_a_reason():
    """With one sheet and no more the parts left over are listed, and nothing is proved."""
    made = group(
        [shaped("ring", RING, BORE, quantity=2)],
        [sheet("full", 190, 190, price=Fraction(9), on_hand=1, buy=False)],
        "router", 4, 6, (5, 5, 5, 5),
    )  # fmt: skip
    (built,) = problems_of(made)
    layout = placed_layout(built, Fixed(Laid(0, 0.0, 0.0), left=(1,)).layout, NONE, "plain")
    verify_shapes(layout)
    assert [(u.panel.name, u.copy) for u in layout.unplaced] == [("ring", 2)]
    assert layout.unplaced[0].why
    assert layout.least_cost is None
    assert not layout.proved


def test_only_groups_of_true_shapes_go_there():
    """Sawn parts and plain ones never meet the solver; without one nothing changes."""
    stock = [sheet("full", 900, 500)]
    rows = Rows()
    plain = group([panel("plate", 100, 60, quantity=3)], stock, "router")
    sawn = group([shaped("wedge", WEDGE, turn="quarter")], stock, "saw")
    lay_out(job(plain, sawn), effort="quick", shapes=rows)
    assert rows.seen == []
    lay_out(job(group([shaped("wedge", WEDGE)], stock, "router")), effort="quick", shapes=rows)
    assert len(rows.seen) == 1


def test_sheets_of_each_grain_are_tried():
    """Sheets with their grain across are a problem of their own, and the better one is taken."""
    wedge = shaped("wedge", WEDGE, grain="x")
    stock = [
        sheet("along", 900, 500, grain="x", price=Fraction(20)),
        sheet("across", 300, 200, grain="y", price=Fraction(5)),
    ]
    rows = Rows()
    laid, _ = lay_out_group(group([wedge], stock, "router"), seed=1, effort=QUICK, shapes=rows)
    assert len(rows.seen) == 2
    assert laid.cost == 5


def test_a_user_who_stops_gets_the_best_so_far():
    """What is asked of the user reaches the solver; once stopped, no further problem is begun."""

    def once_begun() -> bool:
        return bool(rows.seen)

    rows = Rows()
    laid, stopped = lay_out_group(ring_and_cap(), seed=1, effort=QUICK, shapes=rows, stop=once_begun)
    assert stopped
    assert len(laid.sheets) == 2
    assert len(rows.seen) == 1
    rows = Rows()
    _, stopped = lay_out_group(ring_and_cap(), seed=1, effort=QUICK, shapes=rows, stop=lambda: True)
    assert stopped
    assert rows.seen == []


def test_the_search_is_told_of():
    """Sheets, cost and parts left are said in the words of any other search."""
    events = []
    lay_out_group(ring_and_cap(), seed=1, effort=QUICK, shapes=Rows(), on_event=events.append)
    assert events[-1].sheets == 2
    assert events[-1].cost == 18
    assert "2 sheets so far" in events[-1].sentence()


def test_turns_are_written_exactly():
    """Quarter turns are whole numbers, all others have nine decimals and are less than a whole turn."""
    assert [turn_of(a) for a in (0.0, -0.0, 90.0, 359.9999999999, -90.0, 450.0, 90 + 1e-12)] == [
        0, 0, 90, 0, 270, 90, 90,
    ]  # fmt: skip
    assert isinstance(turn_of(90.0), int)
    assert turn_of(17.3) == Fraction("17.3")
    assert turn_of(-1 / 3) == Fraction("359.666666667")


def test_what_is_laid_holds_what_is_cut():
    """The shape as the solver placed it covers the true part as it is written, whatever turn and hand."""
    for seed in range(12):
        built = built_boat()
        laid = in_rows(built.problem, random.Random(seed))
        layout = placed_layout(built, laid, NONE, "plain")
        verify_shapes(layout)
        for plate, on in zip(laid.plates, layout.sheets, strict=True):
            covers = []
            for piece in plate.pieces:
                ring = built.problem.kinds[piece.kind].shape.outer
                sign = -1 if piece.mirrored else 1
                area = shapely.Polygon([(sign * x, y) for x, y in ring])
                turned = shapely.affinity.rotate(area, piece.turn_deg, origin=(0, 0))
                moved = shapely.affinity.translate(turned, piece.x + 10, piece.y + 10)
                covers.append(moved.buffer(1.5e-5, join_style="mitre"))
            for part in on.parts:
                area = shapely.Polygon(body_of(part).outline.flattened(1e-5))
                assert any(c.covers(area) for c in covers), part


def test_noise_of_a_solver_is_rounded_away():
    """Places a billionth off become exact; boxes keep the gap to the last digit."""
    made = group(
        [panel("plate", 100, 60, quantity=2), shaped("wedge", WEDGE)],
        [sheet("full", 226, 200, price=Fraction(1))],
        "router", 4, 6, (10, 10, 10, 10),
    )  # fmt: skip
    (built,) = problems_of(made)
    pieces = (Laid(0, -1e-9, 1e-9), Laid(0, 106 - 3e-9, 0.0), Laid(1, 0.0, 66 + 1e-9, -1e-11))
    layout = placed_layout(built, ShapesLayout((LaidPlate(0, pieces),), (0, 0)), NONE, "plain")
    verify_shapes(layout)
    assert [(p.x, p.y, p.turn) for p in layout.sheets[0].parts] == [(10, 10, 0), (116, 10, 0), (10, 76, 0)]


def test_boxes_that_lack_a_millionth_are_moved_apart():
    """Where rounding takes a millionth the right or upper box gives way; what lacks more is left."""
    plate = panel("plate", 100, 60)
    first = lying(plate, 0, 0)
    step = Fraction(1, 10**6)
    for x, y in ((106 - step, 0), (0, 66 - 2 * step), (Fraction("103.6"), Fraction("64.8") - step)):
        one, two = settled([first, lying(plate, x, y, copy=2)], Fraction(6))
        assert one == first
        dx, dy = max(two.x - 100, 0), max(two.y - 60, 0)
        assert dx * dx + dy * dy >= 36
        assert abs(two.x - x) + abs(two.y - y) <= 3 * step
    far = [first, lying(plate, 105, 0, copy=2)]
    assert list(settled(far, Fraction(6))) == far


def test_offcuts_reach_into_what_a_part_leaves_of_its_box():
    """Beside a large gusset lies an offcut that its box would not have left, and it is verified."""
    gusset = shaped("gusset", WEDGE.turned(0), turn="none", quantity=1)
    big = shaped(
        "big gusset",
        type(WEDGE)(tuple(type(v)(v.x * 9, v.y * 9, v.bulge) for v in WEDGE.vertices)),
        turn="none",
    )
    made = group(
        [big, replace(gusset, quantity=0)], [sheet("full", 820, 505, price=Fraction(1))], "router", 4, 6
    )
    (built,) = problems_of(made)
    layout = placed_layout(built, ShapesLayout((LaidPlate(0, (Laid(0, 0.0, 0.0),)),), (0,)), NONE, "plain")
    verify_shapes(layout)
    assert max(o.width * o.height for o in layout.sheets[0].offcuts) > 250 * 200


def test_a_plain_sheet_has_the_offcuts_that_boxes_leave():
    """Where parts fill their boxes, rests are exactly those of the layout by boxes."""
    plate = panel("plate", 100, 60, turn="any", outline=rectangle(100, 60))
    made = group([plate], [sheet("full", 400, 300, price=Fraction(1))], "router", 4, 6)
    (built,) = problems_of(made)
    layout = placed_layout(
        built, ShapesLayout((LaidPlate(0, (Laid(0, 60.0, 0.0, 90.0),)),), (0,)), NONE, "plain"
    )
    boxes, _ = lay_out_group(made, seed=1, effort=QUICK, shapes=None)
    assert {(o.width, o.height) for o in layout.sheets[0].offcuts} == {
        (o.width, o.height) for o in boxes.sheets[0].offcuts
    }


def test_jobs_without_true_shapes_do_not_load_the_library():
    """Laying out plain parts, with a solver at hand, imports neither shapely nor the modules that need it."""
    code = (
        "import sys; from tests.layout.made import *; from nestkit.layout.lay_out import lay_out;"
        "lay_out(job(group([panel('plate', 100, 60)], [sheet('full', 900, 500)], 'router')), effort='quick',"
        " shapes=print); print({'shapely', 'nestkit.layout.shapes.verify'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


@pytest.mark.parametrize("compiles", [True, False])
def test_what_the_search_runs_on_is_said_once(monkeypatch, compiles):
    """That it is compiled first, or cannot be had here, is said before anything is laid, and once."""
    monkeypatch.setattr(shaping, "can_compile", lambda: compiles)
    monkeypatch.setattr(Kernels, "is_kept", lambda self: False)
    told: list[Progress] = []
    lay_out_group(ring_and_cap(), seed=1, effort=QUICK, shapes=RING_AND_CAP, on_event=told.append)
    notices = [e.sentence() for e in told if e.preparing or e.one_by_one]
    assert len(notices) == 1
    assert ("once on this computer" if compiles else "one by one") in notices[0]
