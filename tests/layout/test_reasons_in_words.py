"""Reasons for bounds: sentences that are true of the parts, and that give the bound by what they say."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.estimate.words import least_text
from nestkit.layout.bounding.counts import Counts, fit_only
from nestkit.layout.bounding.covering import Demand, cheapest
from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounding.form import plain
from nestkit.layout.bounding.in_words import InWords, amount
from nestkit.layout.bounding.stronger import stronger
from nestkit.layout.bounds import bounds_of, view_for
from nestkit.layout.lay_out import lay_out
from nestkit.layout.problem import Box, Hull, Problem, Stock
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.stop import Rounds
from tests.layout.made import group, job, panel, sheet
from tests.layout.oracle import least_cost_sawn, small_problem


def stock(width: int, height: int, cost: int = 1, count: int | None = None, name: str = "") -> Stock:
    """Return a stock without border."""
    return Stock(width, height, 0, 0, 0, 0, count, Fraction(cost), name=name)


def posed(sizes: list[tuple[int, ...]], *stocks: Stock, gap: int = 0, turning: bool = False) -> Problem:
    """Return a problem for the saw, of boxes (width, height, quantity)."""
    turns = ((0, 90) if turning else (0,),) * len(stocks)
    return Problem(tuple(Box(*size, turns) for size in sizes), stocks, gap, gap, True)


def whys(made: Problem) -> tuple[str, str]:
    """Return the reasons for the least sheets and the least cost."""
    found = bounds_of(made)
    return found.sheets.why, found.cost.why


ONE = stock(48, 96, 60)
SAID = {
    "all parts together fill 3.42 sheets": posed([(12, 12, 109), (12, 4, 1)], ONE),
    "9 parts are wider and higher than half a sheet: no two of them fit on one": posed([(25, 49, 9)], ONE),
    "9 parts with the gap beside them are wider and higher than half a sheet:"
    " no two of them fit on one": posed([(24, 48, 9)], ONE, gap=1),
    "5 parts are wider and higher than half a sheet however they lie: no two of them fit on one": posed(
        [(26, 27, 5)], stock(48, 50, 7), turning=True
    ),
    "7 parts are wider than half a sheet: no two of them fit side by side, and in one column they take"
    " 3.09 sheets": posed([(26, 43, 3), (26, 42, 4), (2, 2, 1)], ONE),
    "7 parts are higher than half a sheet: no two of them fit one above the other, and in one row they take"
    " 3.06 sheets": posed([(21, 50, 7), (2, 2, 1)], ONE),
    "7 parts are wider than half a sheet and higher than a third of a sheet:"
    " at most 2 of them fit on one": posed([(25, 33, 7)], ONE),
    "9 parts are wider and higher than a third of a sheet: at most 4 of them fit on one": posed(
        [(17, 33, 9), (1, 1, 1)], ONE
    ),
}


@pytest.mark.parametrize("text", SAID)
def test_a_reason_says_what_can_be_counted(text):
    """By hand: each of these jobs has one plain reason, and the bound on the cost has the same."""
    made = SAID[text]
    assert whys(made) == (text, text)


def test_no_more_is_said_than_is_true_without_the_gap():
    """A part of 23 15/16 on 48 is not wider than half a sheet, but with a wide saw cut beside it."""
    found = [whys(posed([(width, 800, 9)], stock(768, 1536), gap=4))[0] for width in (383, 384, 385)]
    assert found[0] == found[1] == found[2].replace("are wider", "with the gap beside them are wider")
    assert found[2].startswith("9 parts are wider and higher than half a sheet")


def test_a_reason_is_not_rounded_away():
    """That 3.00 sheets are filled is no reason for a fourth: it is a little more."""
    made = posed([(10, 10, 3), (1, 1, 1)], stock(10, 10), gap=0)
    view = view_for(made, boxes_only=True)
    assert amount(view, Demand(3001, (1000,), "")) == "a little more than 3 sheets"
    assert amount(view, Demand(3000, (1000,), "")) == "3.00 sheets"
    assert amount(view, Demand(2996, (1000,), "")) == "3.00 sheets"
    assert whys(posed([(100, 100, 3), (1, 1, 1)], stock(100, 100)))[0] == (
        "all parts together fill a little more than 3 sheets"
    )


FULL, HALF, STRIP = (
    stock(48, 96, 60, name="full"),
    stock(48, 48, 35, name="half"),
    stock(24, 96, 40, name="long"),
)


def test_several_sizes_name_the_one_demand_that_gives_the_bound():
    """Area, a count, and parts that fit on one size only: each where it alone is enough."""
    area = posed([(12, 12, 80)], FULL, HALF)
    filled = "all parts together fill 2.50 of the largest sheets"
    assert whys(area) == (filled, filled + ", and no cheaper sheets have room for them")
    large = posed([(30, 60, 3)], FULL, HALF)
    counted = "3 parts are wider and higher than half of any sheet: no two of them fit on one"
    assert whys(large) == (counted, counted + ", and no cheaper sheets have room for them")
    only = posed([(20, 90, 6)], FULL, HALF)
    found = bounds_of(only)
    assert found.cost.value == 180
    assert found.cost.why == (
        '6 parts fit only on "full" and fill 2.34 of them, and no cheaper sheets have room for them'
    )


def test_two_demands_are_named_where_neither_is_enough():
    """By hand: two halves for 70 have the area, but 7 x 87 goes on a long one, which alone is too small."""
    made = posed([(31, 15, 3), (41, 15, 1), (7, 87, 1)], STRIP, HALF, gap=1)
    found = bounds_of(made)
    assert found.cost.value == 75
    assert found.cost.why == (
        "all parts together, with the gaps between them, fill 1.20 of the largest sheets;"
        ' 1 part fits only on "long" and fills 0.29 of them; no cheaper sheets have room for both'
    )


def test_limited_stock_is_part_of_the_reason():
    """One large sheet on hand: what it lacks goes on small ones, and no fewer of these have room."""
    made = posed([(12, 12, 64)], stock(48, 96, 0, 1, "full"), HALF)
    found = bounds_of(made)
    assert (found.sheets.value, found.cost.value) == (3, 70)
    filled = "all parts together fill 2.00 of the largest sheets"
    assert found.sheets.why == f"{filled}, and no fewer sheets have room for them"
    assert found.cost.why == f"{filled}, and no cheaper sheets have room for them"


@pytest.mark.parametrize(
    ("names", "only", "said"),
    [
        (("a", "b", "c", "d"), (1,), 'only on "b" and'),
        (("a", "b", "c", "d"), (0, 1, 2), 'only on "a", "b" or "c" and'),
        (("a", "a", "b", "c"), (0, 1), 'only on "a" and'),
        (("a", "b", "c", "d"), (0, 1, 2, 3), "only on 4 of the 5 sizes of sheets and"),
        (("", "", "", ""), (3,), "only on the largest sheets and"),
        (("", "", "", ""), (1, 3), "only on 2 of the 5 sizes of sheets and"),
        (("{0}", "b", "c", "d"), (0,), 'only on "{0}" and'),
    ],
)
def test_sheets_are_called_by_their_names(names, only, said):
    """Up to three names, each once, as they were given; without names or with more by size and number."""
    stocks = [stock(10 + s, 10, 1, None, name) for s, name in enumerate(names)]
    view = view_for(
        posed([(2, 3, 2)], *stocks, stock(5, 5, 1, None, "e" if names[0] else "")), boxes_only=True
    )
    for number, verbs in ((1, ("1 part fits ", "fills")), (4, ("4 parts fit ", "fill"))):
        text = fit_only(view, number, only).format("0.50 of them")
        assert text == f"{verbs[0]}{said} {verbs[1]} 0.50 of them"


def test_names_change_nothing_but_words():
    """The same sheets under other names have the same bounds."""
    for names in (("", ""), ("full", "half"), ("{}", "}{")):
        stocks = [stock(48, 96, 60, None, names[0]), stock(48, 48, 35, None, names[1])]
        found = bounds_of(posed([(20, 90, 6)], *stocks))
        assert (found.sheets.value, found.cost.value, found.fewest) == (3, 180, 3)
        assert (names[0] or "the largest sheets") in found.cost.why


def random_problem(rng: random.Random) -> Problem:
    """Return a problem of up to six single parts, of which many are large."""
    stocks = rng.choice([[(10, 10, 1)], [(12, 8, 3), (8, 8, 2)], [(10, 6, 5), (6, 6, 3), (5, 10, 5)]])
    width, height, _ = stocks[0]
    return small_problem(
        [(rng.randint(2, width), rng.randint(2, height)) for _ in range(rng.randint(3, 6))],
        stocks,
        turning=rng.random() < 0.5,
        gap=rng.randint(0, 2),
        edge_to_edge=True,
    )


def test_nothing_that_is_said_is_more_than_the_optimum():
    """Each plain demand alone asks no more than the least cost over all ways to saw."""
    rng = random.Random(4)
    seen = 0
    for _ in range(60):
        made = random_problem(rng)
        optimum = least_cost_sawn(made)
        view = view_for(made, boxes_only=True)
        counts = Counts(view)
        for demand in [*counts.alone, *counts.few]:
            seen += 1
            assert cheapest([demand], list(view.costs), list(view.counts)) <= optimum, demand
    assert seen > 60


def test_a_reason_gives_the_bound_by_itself():
    """Whatever the job: the demands that are named make the bound, and nearly always one is enough."""
    rng = random.Random(1)
    single = 0
    for _ in range(150):
        sizes = [
            (rng.randint(6, 45), rng.randint(6, 90), rng.randint(1, 4)) for _ in range(rng.randint(2, 6))
        ]
        made = posed(sizes, FULL, HALF, STRIP, gap=rng.randint(0, 1), turning=rng.random() < 0.5)
        view = view_for(made, boxes_only=False)
        demands = demands_of(view)
        words, found = InWords(view, demands), bounds_of(made)
        said = found.cost.why
        every = [*demands, *Counts(view).alone, *Counts(view).few]
        named = [d for d in every if d.why.format(amount(view, d), d.exceeded()) in said]
        assert words.reason(list(view.costs), found.cost.value, money=True) == said
        if named:
            single += said.count(";") == 0
            assert cheapest(named, list(view.costs), list(view.counts)) == found.cost.value
        else:
            assert said.startswith(("no cheaper sheets", "parts take at least one"))
    assert single > 130


def test_what_took_trying_says_so():
    """With several sizes a bound by trying sets of parts is not called a share of one sheet."""
    sizes = [(7, 5), (7, 5), (6, 5), (5, 5), (9, 4)]
    made = small_problem(sizes, [(12, 8, 3), (8, 8, 2)], turning=True)
    start = Greedy()(made, seed=1, stop=Rounds(3))
    before = bounds_of(made)
    found = stronger(made, before, start, form=plain(), work=3000)
    assert found.cost.value > before.cost.value
    assert found.cost.why == (
        "it was tried which parts fit together on one sheet, and no cheaper sheets have room for them"
    )


def test_the_job_says_it_in_a_sentence():
    """Through the whole way: the sheet's own name, the count, and what it costs."""
    panels = [panel("deck", 500, 2200, quantity=6)]
    stock_kept = [
        sheet("ply full", 1220, 2440, price=Fraction(62)),
        sheet("ply half", 1220, 1220, price=Fraction(35)),
    ]
    laid = lay_out(job(group(panels, stock_kept, "saw", 3)), effort="quick").groups[0]
    assert '6 parts fit only on "ply full" and fill 2.' in laid.least_cost.why
    assert laid.least_cost.why in least_text(laid, "mm")
    assert "{" not in least_text(laid, "mm")


def test_a_loose_part_is_not_said_to_be_wide():
    """Of a part that may lie at any angle only the area is sure: no count takes it in."""
    disc = replace(posed([(30, 60, 3)], ONE).boxes[0], hull=Hull(900))
    made = Problem((disc,), (ONE,), 0, 0)
    counts = Counts(view_for(made, boxes_only=False))
    assert (counts.alone, counts.few) == ([], [])
    assert bounds_of(made).sheets.why == "parts take at least one sheet"
