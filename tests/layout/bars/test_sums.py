"""The sums of prices that whole sticks can come to, against trying every choice."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from nestkit.layout.bars import sums
from nestkit.layout.bars.problem import Stick
from nestkit.layout.bars.sums import Sums

stocks = st.lists(
    st.tuples(st.one_of(st.none(), st.integers(0, 3)), st.integers(0, 9)), min_size=1, max_size=3
)


def of(found):
    """Return the sums of stocks given as count and half units of cost."""
    sticks = [Stick(10, 0, count, Fraction(cost, 2)) for count, cost in found]
    return Sums(sticks, [s.cost for s in sticks])


def every(found, most):
    """Return every sum that some choice of sticks comes to, up to ``most`` half units."""
    ranges = [range((min(most, 40) if count is None else count) + 1) for count, _ in found]
    return {sum(n * cost for n, (_, cost) in zip(chosen, found, strict=True)) for chosen in product(*ranges)}


@given(stocks, st.integers(0, 30))
def test_the_least_sum_from_a_bound_on_is_found(found, bound):
    """Nothing attainable lies between the bound and what it is raised to, and that is attainable."""
    raised = of(found).least_from(Fraction(bound, 2)) * 2
    reach = {s for s in every(found, 40) if s >= bound}
    if reach:
        assert raised == min(reach)
    else:
        # No list costs so much: then the bound is of no list either, and only must not fall.
        assert raised >= bound


@given(stocks, st.integers(0, 30))
def test_beyond_the_list_whole_steps_count(found, bound):
    """Where sums are too many to list, a bound is raised to no more than the next sum."""
    before, sums.MOST_SUMS = sums.MOST_SUMS, 3
    try:
        raised = of(found).least_from(Fraction(bound, 2)) * 2
    finally:
        sums.MOST_SUMS = before
    reach = {s for s in every(found, 40) if s >= bound}
    assert raised >= bound
    if reach:
        assert raised <= min(reach)


def test_two_prices_leave_gaps():
    """Of 11.50 and 14.00 nothing comes to 21.50: the least above it is 23.00."""
    assert of([(None, 23), (None, 28)]).least_from(Fraction("21.5")) == 23
    assert of([(None, 23), (None, 28)]).least_from(Fraction("23.0000001")) == 23
