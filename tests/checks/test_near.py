from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from nestkit.checks.near import close_pairs
from nestkit.geometry.points import Point
from nestkit.parts.holes import Drill, Hole

PLACES = st.lists(
    st.tuples(st.floats(0, 50), st.floats(0, 50), st.sampled_from([1.0, 4.0, 12.0])), max_size=25
)


@given(PLACES, st.floats(0, 5))
def test_no_close_pair_is_missed(places, web):
    """Every pair with at most the web between its edges is there, once, lower number first."""
    holes = [Hole(i + 1, Point(x, y), Drill(d, "", ""), "g") for i, (x, y, d) in enumerate(places)]
    found = [(a.number, b.number) for a, b in close_pairs(holes, web)]
    assert len(found) == len(set(found))
    assert all(a < b for a, b in found)
    for a, b in combinations(holes, 2):
        if a.at.to(b.at) - (a.dia + b.dia) / 2 <= web:
            assert (a.number, b.number) in found
