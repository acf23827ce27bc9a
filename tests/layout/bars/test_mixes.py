"""Choices among loads: what is found keeps every row, and what is proved is true, against CP-SAT."""

from __future__ import annotations

import numpy
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from nestkit.layout.bars.mixes import SCALE, Mixes, Row

WORK = 10**8


@st.composite
def choices(draw):
    """Return costs of loads in tenths, what each gives, what is wanted, loads of a stock and their limit."""
    loads, rows = draw(st.integers(1, 9)), draw(st.integers(1, 5))
    few = st.lists(st.sampled_from((0, 0, 1, 1, 2)), min_size=loads, max_size=loads)
    gives = numpy.array(draw(st.lists(few, min_size=rows, max_size=rows)))
    gives[0, gives.sum(0) == 0] = 1
    wanted = draw(st.lists(st.integers(1, 4), min_size=rows, max_size=rows))
    costs = draw(st.lists(st.integers(1, 10), min_size=loads, max_size=loads))
    stock = numpy.array(draw(st.lists(st.integers(0, 1), min_size=loads, max_size=loads)))
    return costs, gives, wanted, stock, draw(st.integers(0, 4))


def cheapest(costs, gives, wanted, stock, limit):
    """Return the least cost of a choice, None if there is none, by CP-SAT."""
    model = cp_model.CpModel()
    times = [model.new_int_var(0, max(wanted), "") for _ in costs]
    for row, number in zip(gives, wanted, strict=True):
        model.add(sum(int(n) * x for n, x in zip(row, times, strict=True)) == number)
    model.add(sum(int(n) * x for n, x in zip(stock, times, strict=True)) <= limit)
    model.minimize(sum(c * x for c, x in zip(costs, times, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    return round(solver.objective_value) if solver.solve(model) == cp_model.OPTIMAL else None


def mixes(costs, gives, wanted, stock, limit, most):
    """Return choices that cost so many tenths at most."""
    rows = [*(Row(row, 0, number) for row, number in zip(gives, wanted, strict=True)), Row(stock, -1, limit)]
    caps = [min(w // int(n) for w, n in zip(wanted, column, strict=True) if n) for column in gives.T]
    return Mixes([c * SCALE // 10 for c in costs], rows, caps, [stock, 1 - stock], most * SCALE // 10)


@settings(max_examples=150, deadline=None)
@given(choices())
def test_a_choice_is_found_or_proved_not_to_be_there(some):
    """The least cost is found, and one step less is proved not to be had; each without a doubt left."""
    least, (costs, gives, wanted, stock, limit) = cheapest(*some), some
    if least is not None:
        times = mixes(*some, least).solve(WORK).times
        assert (gives @ times == wanted).all()
        assert numpy.dot(stock, times) <= limit
        assert numpy.dot(costs, times) == least
    verdict = mixes(*some, 10**4 if least is None else least - 1).solve(WORK)
    assert verdict.times is None
    assert verdict.proved


def test_prices_that_prove_nothing_leave_it_open():
    """Without work nothing is said, and any prices at all give a bound that is true."""
    costs, gives, wanted = [10, 10, 10], numpy.array([[1, 1, 0], [1, 0, 1], [0, 1, 1]]), [1, 1, 1]
    some = mixes(costs, gives, wanted, numpy.zeros(3, int), 0, 19)
    assert not some.solve(-1).proved
    # Three loads of pairs, half of each: 1.5 sticks in fractions, 2 with one part twice, none exactly.
    for prices in ([0.5] * 3, [0.7, 0.2, 0.1], [-9.0, 3.0, 99.0]):
        bound, _ = some._bound(numpy.array([*prices, -1.0]), some.caps, free=False)
        assert bound <= 1.5 * SCALE
    assert some.solve(WORK).proved
