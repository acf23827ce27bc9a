from hypothesis import given
from hypothesis import strategies as st

from nestkit.checks.findings import holes_said, listed
from nestkit.text import number_list


@given(st.sets(st.integers(1, 60), min_size=1))
def test_a_number_list_says_every_number_once(numbers):
    """Runs are joined, nothing is lost and nothing added."""
    said = set()
    for part in number_list(numbers).split(", "):
        first, _, last = part.partition(" to ")
        run = range(int(first), int(last or first) + 1)
        assert not said & set(run)
        said |= set(run)
    assert said == numbers


def test_one_hole_and_many(build):
    """One hole is a hole, two are holes."""
    assert holes_said([build.hole(3, 0, 0)]) == "hole 3"
    assert holes_said([build.hole(n, 0, 0) for n in (1, 2, 3, 9)]) == "holes 1 to 3, 9"


def test_a_long_list_says_how_much_it_leaves_out():
    """Nothing is left out without being counted."""
    assert listed(["a", "b", "c"], 2) == "a, b and 1 more"
