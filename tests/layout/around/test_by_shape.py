"""True shapes around what is fixed: held copies stay, regions stay free, and nothing costs more for it."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction
from itertools import count, islice

import pytest

from nestkit.job.model import Hold
from nestkit.layout.around.assemble import Ready, assembled
from nestkit.layout.around.by_shape import better_by_shape_around
from nestkit.layout.around.lay_out import bare, judge
from nestkit.layout.around.marked import marked_problem, started
from nestkit.layout.around.match import numbered
from nestkit.layout.around.scene import Scene
from nestkit.layout.bounds import Bounds
from nestkit.layout.efforts import Effort
from nestkit.layout.lay_out import lay_out_group, true_shapes
from nestkit.layout.result import PlacedPart
from nestkit.layout.shapes.build import problems_of, uses_shapes
from nestkit.layout.shapes.placing import placed_part
from nestkit.layout.shapes.settled import settled
from nestkit.stock.keep_clear import KeepClear
from tests.layout.around.held_jobs import judge_fixed, possible, some_held, with_regions, worth
from tests.layout.made import group, panel, sheet
from tests.layout.shapes import random_jobs
from tests.layout.shapes.shaped import BRACKET, WEDGE, shaped

FEW = Effort(rounds=8, no_gain=4, tidy=2, shapes=60_000)


def laid(made, effort: Effort = FEW):
    """Return a group laid out with little effort."""
    return lay_out_group(made, seed=1, effort=effort)[0]


def laid_by_shape(made, first):
    """Return a group laid by true shapes alone, from nothing but what is held; ``first`` is it unmarked."""
    scene = Scene(made)
    sheets = [Ready(scene.stock_of(*number), number[1], held) for number, held in scene.held.items()]
    found = better_by_shape_around(scene, sheets, first, true_shapes, seed=1, effort=FEW, stop=lambda: False)
    known = Bounds(first.least_sheets, first.least_cost)
    layout = assembled(scene, found, known, "compiled", true_shapes=True)
    judge(layout)
    return layout


def bought_in_turn(layout) -> bool:
    """Say whether of the sheets bought none is passed over, but for those with copies held on them."""
    for stock in layout.group.sheets:
        held = {h.on for h in layout.group.holds if h.sheet == stock.name}
        used = {s.number for s in layout.sheets if s.stock.name == stock.name and not s.on_hand} - held
        if used != set(islice((n for n in count(stock.on_hand + 1) if n not in held), len(used))):
            return False
    return True


def random_shaped(seed: int):
    """Return a random job in which true shapes are used, and it laid out."""
    number = 1000 * seed
    while True:
        made = random_jobs.random_group(number, most=3)
        number += 1
        if uses_shapes(made):
            first = laid(made)
            if sum(len(s.parts) for s in first.sheets) > 1:
                return made, first


@pytest.mark.parametrize("seed", range(30))
def test_held_copies_stay_and_cost_nothing(seed):
    """Of a first layout any copies may be held: they lie there, and the rest costs no more than before."""
    rng = random.Random(seed)
    made, first = random_shaped(seed)
    made = replace(made, holds=some_held(first, rng))
    again = laid(made)
    judge_fixed(again)
    random_jobs.judge(again)
    assert worth(again) <= worth(first)
    alone = laid_by_shape(made, first)
    judge_fixed(alone)
    random_jobs.judge(alone)


@pytest.mark.parametrize("seed", range(20))
def test_regions_are_never_touched(seed):
    """Beside regions and held copies, on some sheets or all of a stock, true shapes keep the kerf."""
    rng = random.Random(seed)
    made, first = random_shaped(seed + 50)
    around = with_regions(made, rng)
    around = replace(around, holds=possible(around, some_held(first, rng)))
    for layout in (laid(around), laid_by_shape(around, laid(bare(around)))):
        judge_fixed(layout)
        random_jobs.judge(layout)
        assert bought_in_turn(layout)


@pytest.mark.parametrize("seed", range(12))
def test_a_layout_taken_up_again_is_the_same(seed):
    """Places, angles and hands come through the way into the search and back, to the last millionth."""
    made, first = random_shaped(seed)
    scene = Scene(made)
    for built in problems_of(made):
        own = [s for s in first.sheets if any(b.sheet == s.stock for b in built.supplies)]
        ready = [Ready(scene.stock_of(s.stock.name, s.number), s.number, s.parts) for s in own]
        marked, start = started(marked_problem(scene, built, ()), ready)
        for one, plate in zip(ready, start.plates, strict=True):
            supply = marked.built.supplies[plate.plate]
            for part, piece in zip(one.parts, plate.pieces, strict=True):
                copies = marked.built.copies[piece.kind]
                copy = next(c for c in copies if (c.panel, c.number) == (part.panel, part.copy))
                back = placed_part(marked.built, supply, piece, copy)
                assert back == part


def test_only_what_is_not_held_is_moved_by_the_last_millionth():
    """A box that rounding put too near to a held one gives way, on whichever side it lies."""
    lid = panel("lid", 40, 20)
    near = Fraction(3) - Fraction(1, 10**6)
    held = PlacedPart(lid, 1, False, Fraction(100), Fraction(0), 0, Fraction(40), Fraction(20), held=True)
    left, right = (replace(held, copy=n, x=x, held=False) for n, x in ((2, 60 - near), (3, 140 + near)))
    found = settled([left, held, right], Fraction(3))
    assert [p.x for p in found] == [57, 100, 143]


def brackets(*regions: KeepClear, **more: object):
    """Return brackets and wedges that true shapes lay on one sheet, boxes on two; regions are on all."""
    parts = [
        shaped("bracket", BRACKET, quantity=8, turn="quarter"),
        shaped("wedge", WEDGE, quantity=6, turn="quarter"),
    ]
    stock = sheet("plate", 310, 210, price=Fraction(10), keep_clear=regions, **more)
    return group(parts, [stock], "router", 4, 6)


@pytest.mark.parametrize("on", [None, 1])
@pytest.mark.parametrize("disc", [False, True])
def test_a_clamp_in_a_corner_costs_no_second_sheet(on, disc):
    """What lies in the way of a region is laid closer elsewhere, as without it; boxes alone ask for two."""
    clamp = KeepClear(Fraction(-10), Fraction(-10), Fraction(20), Fraction(20), disc, on)
    made = brackets(clamp)
    without = laid(bare(made))
    assert numbered(Scene(made), replace(without, group=made)) is None
    layout = laid(made)
    judge_fixed(layout)
    random_jobs.judge(layout)
    assert worth(layout) == worth(without) == (0, 10, 1)
    assert lay_out_group(made, seed=1, effort=FEW, shapes=None)[0].cost == 20


def test_a_clamp_and_held_copies_leave_room_for_all():
    """Three copies held where a first layout has them, and a region on others: still one sheet."""
    without = laid(brackets())
    parts = sorted(without.sheets[0].parts, key=lambda p: -p.x)
    holds = tuple(
        Hold(p.panel.name, p.copy, p.opposite_hand, "plate", 1, p.x, p.y, p.turn) for p in parts[:3]
    )
    clamp = KeepClear(Fraction(-10), Fraction(-10), Fraction(12), Fraction(12), on=1)
    layout = laid(replace(brackets(clamp), holds=holds))
    judge_fixed(layout)
    random_jobs.judge(layout)
    assert len(layout.sheets) == 1
    assert sum(p.held for p in layout.sheets[0].parts) == 3


@pytest.mark.parametrize(("more", "sheets"), [(1, 1), (2, 2), (3, 3)])
def test_the_second_sheet_bought_has_its_region(more, sheets):
    """A scratch on the second sheet is nothing to one; where two are bought, one of them has it."""
    scratch = KeepClear(Fraction(100), Fraction(0), Fraction(130), Fraction(210), on=2)
    made = brackets(scratch)
    made = replace(made, panels=tuple(replace(p, quantity=more * p.quantity) for p in made.panels))
    for layout in (laid(made), laid_by_shape(made, laid(bare(made)))):
        judge_fixed(layout)
        random_jobs.judge(layout)
        assert bought_in_turn(layout)
        assert len(layout.sheets) >= sheets


def test_sheets_whose_grain_runs_another_way_keep_what_is_held_on_them():
    """A copy held on a sheet of another grain stays; the rest is laid on one grain or the other around it."""
    made = brackets(KeepClear(Fraction(-10), Fraction(-10), Fraction(12), Fraction(12)), grain="x")
    other = sheet("other", 310, 210, price=Fraction(9), grain="y")
    hold = Hold("bracket", 2, False, "other", 1, Fraction(30), Fraction(40), 90)
    panels = tuple(replace(p, grain="x") if p.name == "wedge" else p for p in made.panels)
    made = replace(made, panels=panels, sheets=(*made.sheets, other), holds=(hold,))
    for layout in (laid(made), laid_by_shape(made, laid(bare(made)))):
        judge_fixed(layout)
        random_jobs.judge(layout)
        assert ("other", 1) in {(s.stock.name, s.number) for s in layout.sheets}
