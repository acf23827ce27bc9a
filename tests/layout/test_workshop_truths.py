"""What a workshop takes for granted of any layout: cut-up sheets go together again, and looking at the same
sheets from the side or from behind changes nothing."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.errors import ToolFault
from nestkit.layout.bounds import bounds_of
from nestkit.layout.build import problem_of
from nestkit.layout.efforts import EFFORTS
from nestkit.layout.lay_out import lay_out
from nestkit.layout.problem import Box, Layout, Problem, Stock
from nestkit.layout.result import Cut, CutSheet, GroupLayout
from nestkit.layout.solve import solve
from nestkit.layout.verify import verify
from tests.layout.checked import check_layout
from tests.layout.made import group, groups, job, panel, sheet
from tests.layout.test_lay_out import boxes as boxes_of
from tests.layout.test_lay_out import saw_apart

QUICK, NORMAL = EFFORTS["quick"], EFFORTS["normal"]
PLAIN = replace(NORMAL, deep=0, tidy=0)
"""Enough for small problems, of which many are solved here."""
FEW = settings(max_examples=20, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])


def cut_up(rng: random.Random, width: int, height: int, kerf: int, parts: int) -> list[tuple[int, int]]:
    """Return the sizes of the parts that random saw cuts make of a sheet, with nothing left but dust."""
    pieces = [(width, height)]
    while len(pieces) < parts:
        long = [p for p in pieces if max(p) >= 16 + kerf]
        if not long:
            break
        piece = max(long, key=lambda p: p[0] * p[1] * rng.random())
        pieces.remove(piece)
        axis = int(piece[1] > piece[0])
        at = rng.randint(8, piece[axis] - kerf - 8)
        for side in (at, piece[axis] - kerf - at):
            pieces.append((side, piece[1]) if axis == 0 else (piece[0], side))
    return pieces


def stock(width: int, height: int, cost: int = 1, count: int | None = None) -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost))


@pytest.mark.parametrize("kerf", [0, 2])
@pytest.mark.parametrize(
    ("sheets", "parts", "turning"), [(1, 7, False), (2, 5, True), (3, 4, False), (6, 3, True)]
)
def test_cut_up_sheets_go_together_again(sheets, parts, turning, kerf):
    """Parts that sheets were sawn into are laid on as many sheets, also with a kerf between them."""
    for seed in range(4):
        rng = random.Random(100 * sheets + seed)
        sizes = [size for _ in range(sheets) for size in cut_up(rng, 60, 40, kerf, parts)]
        rng.shuffle(sizes)
        turns = (0, 90) if turning else (0,)
        if turning:
            sizes = [size[::-1] if rng.random() < 0.5 else size for size in sizes]
        made = Problem(
            tuple(Box(*size, 1, (turns,)) for size in sizes), (stock(60, 40),), kerf, kerf, edge_to_edge=True
        )
        solved = solve(made, seed=1, effort=NORMAL)
        check_layout(made, solved.layout)
        assert len(solved.layout.sheets) == sheets
        assert solved.bounds.sheets.value <= sheets


def random_problem(rng: random.Random, most: int, **way: object) -> Problem:
    """Return a problem of a few parts on one size of sheets, or on two with prices."""
    stocks = rng.choice([[stock(12, 10)], [stock(12, 8, 3), stock(8, 8, 2)]])
    gap = rng.randint(0, 1)
    boxes = []
    for _ in range(rng.randint(3, most)):
        turns = rng.choice([(0,), (0, 90)])
        boxes.append(Box(rng.randint(2, 9), rng.randint(2, 7), 1, (turns,) * len(stocks)))
    return Problem(tuple(boxes), tuple(stocks), gap if way else 0, gap, **way)


def random_way(rng: random.Random) -> dict[str, object]:
    """Return free cutting, or a saw with any stages and first direction."""
    if rng.random() < 0.4:
        return {}
    return {"edge_to_edge": True, "stages": rng.choice([0, 2, 3]), "first": rng.choice(["any", "x", "y"])}


def without(made: Problem, part: int) -> Problem:
    """Return a problem without one of its boxes."""
    return replace(made, boxes=made.boxes[:part] + made.boxes[part + 1 :])


def test_a_part_less_never_needs_more():
    """On small problems, where the best is found, no part can be left out to make the rest dearer."""
    rng = random.Random(21)
    for _ in range(7):
        made = random_problem(rng, 7, **random_way(rng))
        whole = solve(made, seed=1, effort=PLAIN).layout
        for part in range(len(made.boxes)):
            less = solve(without(made, part), seed=1, effort=PLAIN).layout
            check_layout(without(made, part), less)
            assert less.cost(made) <= whole.cost(made)


@FEW
@given(st.integers(0, 10**6), st.data())
def test_the_bound_of_fewer_parts_is_never_above_a_layout_of_more(seed, data):
    """Whatever is found for all parts would do for fewer, so no bound of these may exceed it."""
    rng = random.Random(seed)
    made = random_problem(rng, 14, **random_way(rng))
    layout = solve(made, seed=1, effort=QUICK).layout
    less = without(made, data.draw(st.integers(0, len(made.boxes) - 1)))
    for boxes_only in (False, True):
        bounds = bounds_of(less, boxes_only=boxes_only)
        assert bounds.cost.value <= layout.cost(made)
        assert bounds.sheets.value <= len(layout.sheets)


def from_the_side(made: Problem) -> Problem:
    """Return a problem with x and y exchanged in all of it."""
    first = {"any": "any", "x": "y", "y": "x"}[made.first]
    boxes = tuple(replace(b, width=b.height, height=b.width) for b in made.boxes)
    stocks = tuple(
        replace(s, width=s.height, height=s.width, left=s.bottom, bottom=s.left, right=s.top, top=s.right)
        for s in made.stocks
    )
    return replace(made, boxes=boxes, stocks=stocks, first=first)


def test_the_same_job_seen_from_the_side_costs_the_same():
    """With x and y exchanged, the first direction too, as many sheets are found, and the same bounds."""
    rng = random.Random(5)
    for _ in range(14):
        made = random_problem(rng, 9, **random_way(rng))
        side = from_the_side(made)
        assert from_the_side(side) == made
        one, two = (solve(p, seed=1, effort=PLAIN) for p in (made, side))
        check_layout(side, two.layout)
        assert one.layout.cost(made) == two.layout.cost(side)
        assert len(one.layout.sheets) == len(two.layout.sheets)


@FEW
@given(st.integers(0, 10**6))
def test_quick_bounds_are_the_same_from_the_side(seed):
    """Neither axis is preferred in what no layout can beat."""
    rng = random.Random(seed)
    made = random_problem(rng, 14)
    one, two = bounds_of(made), bounds_of(from_the_side(made))
    assert (one.sheets.value, one.cost.value, one.fewest) == (two.sheets.value, two.cost.value, two.fewest)


def test_an_opposite_hand_takes_the_place_of_the_part_as_drawn():
    """Left and right have equal boxes, so one of each is laid just as two of one hand, cuts and all."""
    sheets = [sheet("full", 1220, 610), sheet("half", 610, 610, on_hand=1)]
    sizes = [(500, 320), (410, 180), (250, 250), (610, 90)]
    for how in ("saw", "router"):
        same = [panel(f"hatch {i}", w, h, quantity=3) for i, (w, h) in enumerate(sizes)]
        both = [panel(f"hatch {i}", w, h, quantity=1, opposite_hand=2) for i, (w, h) in enumerate(sizes)]
        one, two = (group(p, sheets, how, 3) for p in (same, both))
        assert problem_of(one).problem == problem_of(two).problem
        first, second = (lay_out(job(g), effort="quick").groups[0] for g in (one, two))
        for a, b in zip(first.sheets, second.sheets, strict=True):
            assert [(p.panel.name, p.x, p.y, p.turn) for p in a.parts] == [
                (p.panel.name, p.x, p.y, p.turn) for p in b.parts
            ]
            assert (a.stock, a.cuts, a.offcuts) == (b.stock, b.cuts, b.offcuts)
        hands = [p.opposite_hand for s in second.sheets for p in s.parts]
        assert hands.count(True) == 2 * hands.count(False) == 8


def mirrored(made: Problem, layout: Layout) -> Layout:
    """Return a layout turned over from left to right."""
    sheets = []
    for laid in layout.sheets:
        width = made.stocks[laid.stock].width
        placed = [replace(p, x=width - p.x - made.boxes[p.box].size(p.turn)[0]) for p in laid.placed]
        sheets.append(replace(laid, placed=tuple(sorted(placed))))
    return replace(layout, sheets=tuple(sheets))


def test_a_layout_seen_from_behind_is_a_layout():
    """Turned over it keeps every rule of gap, border, stages and first direction."""
    rng = random.Random(9)
    for _ in range(20):
        made = random_problem(rng, 12, **random_way(rng))
        check_layout(made, mirrored(made, solve(made, seed=1, effort=QUICK).layout))


def is_cut_apart(cut_sheet: CutSheet, kerf_way: GroupLayout) -> bool:
    """Say whether the cuts, done by hand in millimetres, leave every part and every offcut."""
    try:
        bench = saw_apart(cut_sheet, kerf_way.group.way)
    except (AssertionError, KeyError):
        return False
    rests = [(o.x, o.y, o.x + o.width, o.y + o.height) for o in cut_sheet.offcuts]
    return all(box in bench for box in [*boxes_of(cut_sheet), *rests])


def spoilt(cuts: tuple[Cut, ...], which: int, how: str) -> tuple[Cut, ...]:
    """Return cuts of which one is left out, or lies elsewhere."""
    cut = cuts[which]
    hair = Fraction(1, 40_000)
    if how == "left out":
        return tuple(replace(c, step=i) for i, c in enumerate((*cuts[:which], *cuts[which + 1 :]), 1))
    changed = {
        "a hair further": replace(cut, at=cut.at + hair),
        "a hair nearer": replace(cut, at=cut.at - hair),
        "too short": replace(cut, end=cut.end - hair),
        "across": replace(cut, axis="y" if cut.axis == "x" else "x"),
    }
    return (*cuts[:which], changed[how], *cuts[which + 1 :])


def fault_of(laid: GroupLayout) -> str:
    """Return what the check finds wrong with a layout, empty if nothing."""
    try:
        verify(laid)
    except ToolFault as fault:
        return str(fault)
    return ""


HOW = ["left out", "a hair further", "a hair nearer", "too short", "across"]


@FEW
@given(groups().filter(lambda g: g.way.how == "saw"), st.data())
def test_the_check_does_every_cut(made, data):
    """In any saw job: a cut spoilt by a hair is noticed wherever a part or an offcut comes out wrong."""
    laid = lay_out(job(made), effort="quick").groups[0]
    verify(laid)
    for number, cut_sheet in enumerate(laid.sheets):
        assert is_cut_apart(cut_sheet, laid)
        if not cut_sheet.cuts:
            continue
        which = data.draw(st.integers(0, len(cut_sheet.cuts) - 1))
        for how in HOW:
            bad = replace(cut_sheet, cuts=spoilt(cut_sheet.cuts, which, how))
            sheets = (*laid.sheets[:number], bad, *laid.sheets[number + 1 :])
            fault = fault_of(replace(laid, sheets=sheets))
            assert "cut" in fault or is_cut_apart(bad, laid), how


@FEW
@given(groups().filter(lambda g: g.way.how == "saw"))
def test_no_cut_of_a_saw_plan_is_for_nothing(made):
    """Without its last cut no sheet comes apart as it should, and the check says so."""
    laid = lay_out(job(made), effort="quick").groups[0]
    for number, cut_sheet in enumerate(laid.sheets):
        if cut_sheet.cuts:
            short = replace(cut_sheet, cuts=cut_sheet.cuts[:-1])
            sheets = (*laid.sheets[:number], short, *laid.sheets[number + 1 :])
            assert not is_cut_apart(short, laid)
            with pytest.raises(ToolFault):
                verify(replace(laid, sheets=sheets))
