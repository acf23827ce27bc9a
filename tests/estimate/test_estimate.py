"""What a job takes: stock, cost, weight, holes, cuts."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely
from hypothesis import given
from hypothesis.strategies import floats, integers, lists, sampled_from, tuples

from nestkit.estimate.estimate import contour_length, estimate, net_area
from nestkit.geometry.points import Point
from nestkit.geometry.regions import region
from nestkit.geometry.shapes import rectangle, slot
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.parts.holes import Opening
from nestkit.stock.ways import Way
from tests.laid_boat import (
    BRACKET,
    HATCH,
    LID,
    PC,
    ROUTER,
    SAW,
    holes,
    lid_job,
    placed,
    routed_job,
    simple_panel,
)


def test_a_row_for_each_stock_that_is_used():
    """Bought and on-hand pieces are counted apart; only bought ones cost."""
    job, layout = routed_job()
    rows = estimate(job, layout).rows
    assert [(r.stock.name, r.buy, r.on_hand, r.price, r.cost) for r in rows] == [
        ("Ply 12", 1, 0, None, None),
        ("ply 12!", 0, 1, None, 0),
    ]


def test_prices_add_up_exactly():
    """Two sheets bought and one from the rack cost two prices, to the last digit."""
    job, layout = lid_job()
    laid = layout.groups[0]
    one = laid.sheets[0]
    stock = replace(PC, price=Fraction("38.10"), on_hand=1)
    sheets = tuple(
        replace(one, stock=stock, number=n, on_hand=n == 1, cost=Fraction(0) if n == 1 else stock.price)
        for n in (1, 2, 3)
    )
    laid = replace(laid, sheets=sheets, cost=Fraction("76.2"))
    found = estimate(replace(job, sheets=(stock,)), replace(layout, groups=(laid,)))
    assert found.cost == Fraction("76.2")
    assert [(r.buy, r.on_hand, r.cost) for r in found.rows] == [(2, 1, Fraction("76.2"))]
    assert found.m2 == 0


def test_stock_without_prices_is_counted_in_square_metres():
    """Without prices there is no cost, but the square metres that have to be bought."""
    job, layout = routed_job()
    found = estimate(job, layout)
    assert found.cost is None
    assert found.m2 == Fraction("0.7442")


def test_stock_that_is_not_used_is_not_bought():
    """A stock on which nothing lies has no row."""
    job, layout = lid_job()
    job = replace(job, sheets=(*job.sheets, replace(PC, name="spare stock")))
    assert [r.stock.name for r in estimate(job, layout).rows] == [PC.name]


def test_parts_weigh_what_is_left_of_them():
    """A part's weight is its area less openings and holes, times real thickness and density."""
    job, layout = lid_job()
    weight = estimate(job, layout).groups[0].weight
    assert weight is not None
    area = region(LID.outline, [o.outline for o in LID.openings]).area
    area -= sum(math.pi * h.dia**2 / 4 for h in LID.holes)
    assert net_area(LID) == pytest.approx(area, rel=1e-6)
    assert weight.parts == pytest.approx(area * 2.9972 * 1200e-9, rel=1e-6)
    assert weight.sheets == pytest.approx(0.6096 * 1.2192 * 2.9972e-3 * 1200)
    assert weight.heaviest == pytest.approx(weight.sheets)


def test_a_material_that_is_not_known_has_no_weight():
    """No density is made up for a material that the tables lack."""
    job, layout = lid_job()
    laid = layout.groups[0]
    laid = replace(laid, group=replace(laid.group, material="unobtainium"))
    assert estimate(job, replace(layout, groups=(laid,))).groups[0].weight is None


def test_a_saw_leaves_all_holes_to_the_drill():
    """By saw and jigsaw holes are drilled; a router drills only what is narrower than its cutter."""
    assert SAW.by_hand(50.0)
    assert Way("", "jigsaw", Fraction(1)).by_hand(50.0)
    assert ROUTER.by_hand(6.34)
    assert not ROUTER.by_hand(6.35)
    job, layout = routed_job()
    taken = estimate(job, layout).groups[0]
    assert (taken.drilled, taken.machined) == (12, 4)


def test_drilling_time_follows_the_rule():
    """Least, typical and most minutes a hole by rule R107 (1, 2 and 4), which is named."""
    job, layout = lid_job()
    found = estimate(job, layout)
    assert found.minutes == (4, 8, 16)
    assert found.minutes_said.startswith("R107")


def test_saw_cuts_are_counted_and_measured():
    """Straight cuts: how many, and the sum of their lengths."""
    job, layout = lid_job()
    taken = estimate(job, layout).groups[0]
    assert (taken.saw_cuts, taken.saw_mm) == (2, Fraction("1219.2") + Fraction("247.65"))
    assert taken.contour_mm == 0


@pytest.mark.parametrize("panel", [BRACKET, HATCH, LID], ids=lambda p: p.name)
def test_the_cutter_runs_beside_the_line(panel):
    """The cutter's way is that of the outline grown, and of the openings shrunk, by half its width."""
    way = Way("", "router", Fraction(3))
    wanted = region(panel.outline).buffer(1.5, quad_segs=256).exterior.length
    wanted += sum(region(o.outline).buffer(-1.5, quad_segs=256).exterior.length for o in panel.openings)
    wanted += sum(math.pi * (h.dia - 3) for h in panel.holes if h.dia >= 3)
    # Sharp inner corners are left out of account: a few mm on a panel.
    assert contour_length(panel, way) == pytest.approx(wanted, rel=0.005)


@given(
    sizes=lists(tuples(floats(20, 300), floats(20, 300)), min_size=1, max_size=4),
    kerf=sampled_from([0.2, 3.0, 6.35]),
)
def test_contours_of_plain_parts(sizes, kerf):
    """A rectangle takes its way round plus pi times the cutter; a slot its way round less that."""
    way = Way("", "router", Fraction(kerf))
    for width, height in sizes:
        opening = Opening("slot", slot(Point(width / 2, height / 2), 16, 8), "slots[0]")
        panel = replace(simple_panel("x", width, height), openings=(opening,))
        around = 2 * (width + height) + math.pi * kerf
        inside = max(2 * 8 + math.pi * 8 - math.pi * kerf, 0)
        assert contour_length(panel, way) == pytest.approx(around + inside)


@given(copies=integers(0, 5))
def test_an_estimate_counts_what_is_laid(copies):
    """Pieces, holes and cutting way grow with the copies on the sheets; none laid takes nothing."""
    job, _ = routed_job()
    panel = replace(simple_panel("x", 50, 40), holes=holes((10, 10), (20, 10)))
    group = replace(job.groups[0], panels=(panel,))
    parts = tuple(placed(panel, n + 1, 20 + 60 * n, 20) for n in range(copies))
    sheets = (CutSheet(job.sheets[0], 1, False, Fraction(1), parts, (), ()),) if copies else ()
    laid = GroupLayout(group, "price", sheets, (), Fraction(len(sheets)), None, None)
    taken = estimate(replace(job, panels=(panel,)), JobLayout((laid,), 1, "quick")).groups[0]
    assert (taken.pieces, taken.drilled, taken.sheets) == (copies, 2 * copies, len(sheets))
    assert taken.contour_mm == pytest.approx(copies * contour_length(panel, ROUTER))
    assert taken.yield_share == pytest.approx(copies * 2000 / (1220 * 610))


def test_areas_agree_with_another_library():
    """Net areas agree with shapely for a panel with a rounded opening."""
    panel = replace(
        simple_panel("x", 100, 80),
        openings=(Opening("cutout", rectangle(30, 20, radius=5, at=Point(10, 10)), "cutouts[0]"),),
    )
    hole = shapely.box(10, 10, 40, 30).buffer(-5).buffer(5, quad_segs=512)
    assert net_area(panel) == pytest.approx(8000 - hole.area, rel=1e-6)
