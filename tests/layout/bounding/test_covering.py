"""The cheapest whole numbers of sheets, against trying them all."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.layout.bounding.covering import Demand, cheapest, cheapest_sheets


def by_trying(demands, costs, counts):
    """Return the least cost over all counts up to eight a kind, None if none suffices."""
    found = [
        sum(n * c for n, c in zip(row, costs, strict=True))
        for row in product(*(range(9 if k is None else min(8, k) + 1) for k in counts))
        if all(sum(n * g for n, g in zip(row, d.gives, strict=True)) >= d.need for d in demands)
    ]
    return min(found, default=None)


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_the_cheapest_sheets_are_found(data):
    """Whatever demands, prices and counts: the least cost is the one that trying all gives."""
    kinds = data.draw(st.integers(1, 3))
    costs = [data.draw(st.fractions(0, 9, max_denominator=4)) for _ in range(kinds)]
    counts = [data.draw(st.one_of(st.none(), st.integers(0, 4))) for _ in range(kinds)]
    demands = [
        Demand(data.draw(st.integers(0, 16)), tuple(data.draw(st.integers(2, 9)) for _ in range(kinds)), "")
        for _ in range(data.draw(st.integers(1, 3)))
    ]
    found = cheapest_sheets(demands, costs, counts)
    assert (found and found.cost) == by_trying(demands, costs, counts)
    if found is not None:
        assert found.sheets is not None
        assert sum(n * c for n, c in zip(found.sheets, costs, strict=True)) == found.cost
        assert all(k is None or n <= k for n, k in zip(found.sheets, counts, strict=True))
        assert all(sum(n * g for n, g in zip(found.sheets, d.gives, strict=True)) >= d.need for d in demands)


def test_a_demand_says_how_many_sheets_are_too_few():
    """For 20 of what a sheet gives 7 of two are too few, for 21 two, for 22 three."""
    assert [Demand(need, (5, 7), "").exceeded() for need in (20, 21, 22)] == [2, 2, 3]


def test_a_search_cut_short_still_gives_a_bound(monkeypatch):
    """With no room to search, the answer is not above the true least cost."""
    monkeypatch.setattr("nestkit.layout.bounding.covering.NODES", 2)
    demands = [Demand(997, (100, 41, 17), "")]
    found = cheapest(demands, [Fraction(100), Fraction(40), Fraction(16)], [None, None, None])
    assert Fraction(900) < found <= 997
