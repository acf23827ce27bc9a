"""What to measure before the first drill: diagonals, and one distance that finds a print laid wrongly."""

from __future__ import annotations

from hypothesis import assume, given
from hypothesis import strategies as st

from nestkit.drawing.template_checks import checks_of
from nestkit.geometry.points import Point
from tests.drawing import bench

CORNER = Point(0, 0)


def plate(*places):
    """A plate of 300 x 200 mm with holes at places."""
    return bench.panel(300, 200, holes=bench.numbered_holes(("a", bench.M5, list(places))))


def test_two_diagonals_and_a_distance_from_the_corner():
    """A plate with four corner holes is measured across both ways, each mark 0.4 mm out at most (R049)."""
    part = plate((20, 20), (280, 20), (280, 180), (20, 160))
    said = [(c.between, c.says) for c in checks_of(part, part.holes, "mm", corner=CORNER)]
    # 305.3 = sqrt(260 sq + 160 sq), 295.3 = sqrt(260 sq + 140 sq).
    assert said[:2] == [
        ("1 to 3", "must read 305.3, accept 304.5 to 306.1 mm"),
        ("2 to 4", "must read 295.3, accept 294.5 to 296.1 mm"),
    ]
    assert said[2][0].startswith("DATUM corner to ")
    assert len(said) == 3


def test_without_a_corner_or_holes_there_is_less_to_measure():
    """An outline that is cut last has no corner yet; one hole has no diagonal; no hole has nothing."""
    part = plate((20, 20), (280, 20))
    assert [c.between for c in checks_of(part, part.holes, "mm", corner=None)] == ["1 to 2"]
    one = plate((40, 30))
    assert [c.between for c in checks_of(one, one.holes, "mm", corner=CORNER)] == ["DATUM corner to 1"]
    assert checks_of(one, (), "mm", corner=CORNER) == ()


@given(
    st.lists(st.tuples(st.integers(10, 290), st.integers(10, 190)), min_size=1, max_size=8, unique=True),
    st.sampled_from(["mirrored", "upside down", "turned"]),
)
def test_the_odd_distance_finds_a_print_laid_wrongly_where_any_can(places, wrong):
    """Laid mirrored, upside down or turned, no mark lies at the odd distance, if some hole shows that."""
    part = plate(*places)
    [*_, odd] = checks_of(part, part.holes, "mm", corner=CORNER)
    ways = {
        "mirrored": lambda p: Point(300 - p.x, p.y),
        "upside down": lambda p: Point(p.x, 200 - p.y),
        "turned": lambda p: Point(300 - p.x, 200 - p.y),
    }
    every = {name: [CORNER.to(way(h.at)) for h in part.holes] for name, way in ways.items()}
    # Only where one and the same hole tells all three: else the best that there is was taken.
    tells = [
        h
        for h in part.holes
        if all(min(abs(CORNER.to(h.at) - d) for d in away) > 0.02 for away in every.values())
    ]
    assume(tells)
    assert min(abs(odd.length - d) for d in every[wrong]) > 0.01
