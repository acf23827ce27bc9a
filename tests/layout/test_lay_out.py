"""Whole layouts: whatever the job, they can be made, nothing is lost, and they come out the same again."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from nestkit.errors import ToolFault, UserError
from nestkit.layout import lay_out as module
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import CutSheet, GroupLayout
from nestkit.layout.shapes.build import uses_shapes
from nestkit.layout.shapes.verify import verify_shapes
from nestkit.layout.verify import verify
from nestkit.stock.ways import Way
from tests.layout.made import group, groups, job, panel, sheet

FEW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def saw_apart(cut_sheet: CutSheet, way: Way) -> list[tuple[Fraction, ...]]:
    """Do the cuts on a sheet in plain millimetres; return the pieces that are left on the bench."""
    bench = {"sheet": (Fraction(0), Fraction(0), cut_sheet.stock.width, cut_sheet.stock.height)}
    for cut in cut_sheet.cuts:
        x1, y1, x2, y2 = bench.pop(cut.piece)
        after = cut.at + way.kerf
        if cut.axis == "x":
            assert (cut.start, cut.end) == (y1, y2)
            assert cut.at < x2
            assert after > x1
            halves = (x1, y1, cut.at, y2), (after, y1, x2, y2)
        else:
            assert (cut.start, cut.end) == (x1, x2)
            assert cut.at < y2
            assert after > y1
            halves = (x1, y1, x2, cut.at), (x1, after, x2, y2)
        for name, half in zip("ab", halves, strict=True):
            if half[0] < half[2] and half[1] < half[3]:
                bench[f"{cut.step}{name}"] = half
    return sorted(bench.values())


def boxes(cut_sheet: CutSheet) -> list[tuple[Fraction, ...]]:
    """Return the boxes of the parts of a sheet."""
    return [(p.x, p.y, p.x + p.width, p.y + p.height) for p in cut_sheet.parts]


@FEW
@given(groups())
def test_any_small_job_is_sound(made):
    """Whatever panels, hands, grain, stock, kerf, gap, margin and way: verified, and nothing is lost."""
    layout = lay_out(job(made), effort="quick").groups[0]
    (verify_shapes if uses_shapes(made) else verify)(layout)
    placed = sum(len(s.parts) for s in layout.sheets)
    needed = sum(p.needed for p in made.panels)
    assert placed + len(layout.unplaced) >= needed
    names = Counter(
        (p.panel.name, p.opposite_hand, p.copy)
        for row in ([q for s in layout.sheets for q in s.parts], layout.unplaced)
        for p in row
    )
    assert not names or max(names.values()) == 1
    assert all(u.why for u in layout.unplaced)
    assert layout.unplaced == () or layout.least_cost is None


@FEW
@given(groups().filter(lambda g: g.way.how == "saw"))
def test_a_saw_plan_leaves_exactly_the_parts(made):
    """Doing the cuts one by one leaves every part as a piece of its own size, and every offcut."""
    made_on_grid = made
    layout = lay_out(job(made_on_grid), effort="quick").groups[0]
    for cut_sheet in layout.sheets:
        bench = saw_apart(cut_sheet, made.way)
        parts = boxes(cut_sheet)
        assert all(p in bench for p in parts)
        rest = [b for b in bench if b not in parts]
        for offcut in cut_sheet.offcuts:
            assert (offcut.x, offcut.y, offcut.x + offcut.width, offcut.y + offcut.height) in rest
        for x1, y1, x2, y2 in rest:
            assert not any(a < x2 and x1 < c and b < y2 and y1 < d for a, b, c, d in parts)


def sample(how: str = "saw", **way: object):
    """Return a job that needs some search: a console and hatches of a boat."""
    sizes = [(610, 400), (520, 330), (480, 480), (300, 700), (250, 250), (820, 210), (150, 640), (330, 330)]
    made = [
        panel(f"hatch {i}", w, h, quantity=1 + i % 3, opposite_hand=i % 2) for i, (w, h) in enumerate(sizes)
    ]
    stock = [
        sheet("full", 1220, 2440, price=Fraction(62)),
        sheet("half", 1220, 1220, price=Fraction(35), on_hand=1),
    ]
    return job(group(made, stock, how, 3, 3 if how == "saw" else 8, **way))


@pytest.mark.parametrize("how", ["saw", "router"])
def test_the_same_seed_gives_the_same_layout(how):
    """Two runs with one seed agree in every place and cut."""
    assert lay_out(sample(how), seed=5, effort="quick") == lay_out(sample(how), seed=5, effort="quick")


PRINT = (
    "from tests.layout.test_lay_out import *; print(lay_out(sample('saw'), effort='quick').groups[0].sheets)"
)


def test_no_hash_order_shows():
    """Processes with other hash seeds lay out alike."""
    root = Path(__file__).resolve().parents[2]
    answers = {
        subprocess.run(
            [sys.executable, "-c", PRINT],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=root,
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "77")
    }
    assert len(answers) == 1


def test_an_interrupt_keeps_a_verified_layout():
    """A user who stops the search at once still gets every part placed, and the layout says so."""
    asked = []
    layout = lay_out(sample(), effort="thorough", stop=lambda: not asked.append(1))
    assert layout.stopped
    assert len(asked) == 1, "the search went on after it was asked to stop"
    verify(layout.groups[0])
    assert layout.groups[0].unplaced == ()
    assert not lay_out(sample(), effort="quick").stopped


def test_progress_tells_of_each_round():
    """Events carry group, best so far and bounds, and never get worse."""
    events = []
    layout = lay_out(sample(), effort="quick", on_event=events.append).groups[0]
    scores = [(e.left_over, e.cost, e.sheets) for e in events]
    assert scores == sorted(scores, reverse=True)
    assert [e.round for e in events] == list(range(1, len(events) + 1))
    assert events[-1].least_cost == layout.least_cost.value
    assert "so far" in events[-1].sentence()


def test_an_unknown_effort_is_the_users_mistake():
    """Another effort than the three is refused with their names."""
    with pytest.raises(UserError, match="quick, normal or thorough"):
        lay_out(sample(), effort="heroic")


def test_a_layout_that_fails_its_check_is_never_handed_out(monkeypatch):
    """What verify refuses is a fault of the tool and not returned."""

    def refuse(layout: GroupLayout) -> None:
        raise ToolFault("planted")

    monkeypatch.setattr(module, "verify", refuse)
    with pytest.raises(ToolFault, match="planted"):
        lay_out(sample(), effort="quick")


def test_on_hand_is_used_before_buying_and_numbered_together():
    """Free sheets lead, cost nothing, and share their numbers with bought ones of the same kind."""
    made = group(
        [panel("lid", 900, 500, quantity=5)],
        [sheet("full", 1000, 600, price=Fraction(20), on_hand=2)],
        "router",
        3,
    )
    layout = lay_out(job(made)).groups[0]
    assert [s.on_hand for s in layout.sheets].count(True) == 2
    assert layout.cost == 60
    assert layout.proved
    assert sorted(s.number for s in layout.sheets) == [1, 2, 3, 4, 5]
    assert layout.least_sheets.value == 5


def test_without_prices_square_metres_count():
    """Without prices the cost is the area bought, in square metres."""
    made = group([panel("lid", 900, 500)], [sheet("full", 1000, 600)], "router", 3)
    layout = lay_out(job(made)).groups[0]
    assert (layout.cost_in, layout.cost) == ("m2", Fraction(6, 10))


def test_short_stock_places_most_parts():
    """When nothing can be bought, many small parts go before a large one, and the rest is named."""
    made = group(
        [panel("door", 980, 580), panel("clip", 300, 180, quantity=9)],
        [sheet("rest", 1000, 600, on_hand=1, buy=False)],
        "router",
        3,
    )
    layout = lay_out(job(made)).groups[0]
    assert [u.panel.name for u in layout.unplaced] == ["door"]
    assert layout.unplaced[0].why == "only 1 sheet is on hand and none can be bought"
    assert layout.least_cost is None
    assert not layout.proved


def test_spares_if_room_never_cost_a_sheet():
    """Copies laid only if there is room fill what is bought anyway, and are not missed."""
    made = group(
        [panel("lid", 480, 580, spare_if_room=9)], [sheet("full", 1000, 600, price=Fraction(20))], "router", 3
    )
    layout = lay_out(job(made)).groups[0]
    assert len(layout.sheets) == 1
    assert [p.copy for p in layout.sheets[0].parts] == [1, 2]
    assert layout.unplaced == ()


def test_spares_come_after_what_is_asked_for():
    """Where stock is short, spares are what is left over; copies count per hand, spares last."""
    made = group(
        [panel("lid", 480, 580, quantity=2, opposite_hand=1, spare=2)],
        [sheet("rest", 1000, 600, on_hand=2, buy=False)],
        "router",
        3,
    )
    layout = lay_out(job(made)).groups[0]
    placed = {(p.copy, p.opposite_hand) for s in layout.sheets for p in s.parts}
    assert placed == {(1, False), (2, False), (1, True), (3, False)}
    assert [(u.copy, u.opposite_hand) for u in layout.unplaced] == [(4, False)]


def test_a_group_without_stock_names_every_part():
    """Without any sheet all parts are unplaced with the reason."""
    layout = lay_out(job(group([panel("lid", 480, 580, quantity=2)], []))).groups[0]
    assert [u.why for u in layout.unplaced] == ["there is no stock of this material and thickness"] * 2


def test_the_fullest_sheet_leads_and_equal_ones_are_alike():
    """Sheets fall in fill; those with the same boxes lie the same and stand together."""
    made = group(
        [panel("lid", 480, 580, quantity=7)], [sheet("full", 1000, 600, price=Fraction(20))], "saw", 3
    )
    layout = lay_out(job(made)).groups[0]
    places = [[(p.x, p.y, p.turn) for p in s.parts] for s in layout.sheets]
    assert places[0] == places[1] == places[2]
    assert [len(p) for p in places] == [2, 2, 2, 1]


def test_the_rest_of_the_last_sheet_stays_together():
    """With prefer "offcut" one strip over a whole side is left of a sheet that is not full."""
    made = group(
        [panel("slat", 190, 390, quantity=4)], [sheet("full", 1220, 1220, price=Fraction(20))], "router", 3
    )
    offcuts = lay_out(job(made)).groups[0].sheets[0].offcuts
    assert max(o.width * o.height for o in offcuts) >= Fraction(1220) * 817


@pytest.mark.slow
def test_a_thousand_pieces_take_no_coffee_break():
    """A thousand pieces of fifty panels are laid out, verified, under a saw and under a router."""
    made = [panel(f"part {i}", 60 + 37 * i % 640, 60 + 53 * i % 440, quantity=20) for i in range(50)]
    stock = [sheet("full", 2440, 1220, price=Fraction(80))]
    for how in ("saw", "router"):
        layout = lay_out(job(group(made, stock, how, 3, 3 if how == "saw" else 12)), effort="quick").groups[0]
        assert layout.unplaced == ()
        assert layout.cost <= Fraction(115, 100) * layout.least_cost.value


def test_parts_nested_as_deep_as_they_like_are_sawn():
    """Without a limit of stages, four hundred cuts in as many directions in a row are no obstacle."""
    count, kerf = 400, Fraction(1, 1000)
    panels, width, height = [], Fraction(3 * count), Fraction(3 * count)
    for i in range(count):
        if i % 2:
            panels.append(panel(f"rib {i}", 3 - kerf, height - kerf, turn="none"))
            width -= 3
        else:
            panels.append(panel(f"rib {i}", width - kerf, 3 - kerf, turn="none"))
            height -= 3
    stock = [sheet("full", 3 * count, 3 * count, price=Fraction(20))]
    layout = lay_out(job(group(panels, stock, "saw", kerf, stages=0)), effort="quick").groups[0]
    assert layout.proved
    assert len(layout.sheets[0].parts) == count
