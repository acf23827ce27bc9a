"""Chances in closed form, against general-purpose statistics and against trials."""

from __future__ import annotations

import math
from random import Random

import pytest
from scipy import stats

from nestkit.fit.closed import between, closed_chance, in_disc, rayleigh
from nestkit.fit.spread import Shared, Slot, Spread, Wall
from nestkit.fit.trials import tried
from nestkit.geometry.points import Point


@pytest.mark.parametrize("offset", [0.0, 0.01, 0.1, 0.31, 0.9])
@pytest.mark.parametrize("sigma", [0.004, 0.05, 0.2, 3.0])
def test_an_offset_disc_is_noncentral_chi_square(offset, sigma):
    """A normal offset with a sure part stays in a disc as scipy's noncentral chi-square says."""
    mean = Point(0.6 * offset, -0.8 * offset)
    expected = stats.ncx2.cdf((0.3 / sigma) ** 2, 2, (offset / sigma) ** 2) if offset else None
    if expected is None:
        expected = stats.rayleigh.cdf(0.3 / sigma)
    assert in_disc(0.3, sigma, sigma, mean) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("sigmas", [(0.3, 0.05), (0.05, 0.3), (0.2, 0.19)])
def test_an_uneven_disc_is_its_integral(sigmas):
    """Unlike deviations along x and y: the share in a disc by scipy's two-dimensional quadrature."""
    from scipy.integrate import dblquad

    sx, sy = sigmas

    def density(y, x):
        return stats.norm.pdf(x, 0.1, sx) * stats.norm.pdf(y, -0.05, sy)

    expected, _ = dblquad(
        density, -0.3, 0.3, lambda x: -math.sqrt(0.09 - x * x), lambda x: math.sqrt(0.09 - x * x), epsabs=1e-9
    )
    assert in_disc(0.3, sx, sy, Point(0.1, -0.05)) == pytest.approx(expected, abs=1e-7)


def test_without_errors_it_is_yes_or_no():
    """No deviation at all: an offset is in or out; in one direction alone it is a normal number."""
    assert in_disc(0.3, 0.0, 0.0, Point(0.18, 0.24)) == 1.0
    assert in_disc(0.3, 0.0, 0.0, Point(0.19, 0.24)) == 0.0
    assert in_disc(0.3, 0.2, 0.0, Point(0.0, 0.0)) == pytest.approx(math.erf(1.5 / math.sqrt(2)), abs=2e-6)
    assert rayleigh(0.1, 0.0) == between(-1, 1, 0.5, 0.0) == 1.0
    assert between(-1, 1, 1.5, 0.0) == 0.0


def any_spread(random: Random, screws: int, freedom: str, *, shared: bool = True) -> Spread:
    """Return two walls with plays, biases, deviations and shared errors at random."""

    def point(most: float) -> Point:
        return Point(random.uniform(-most, most), random.uniform(-most, most))

    def wall(layer: int, follows: int | None) -> Wall:
        return Wall(
            layer,
            tuple(random.uniform(0.05, 0.3) for _ in range(screws)),
            tuple(point(0.1) for _ in range(screws)),
            (random.uniform(0.05, 0.3), random.uniform(0.05, 0.3)),
            random.uniform(0, 360),
            follows,
        )

    follows = random.choice([None, None, 0])
    moves = tuple(tuple(point(0.2) for _ in range(screws)) for _ in range(2))
    return Spread(
        tuple(point(50) for _ in range(screws)),
        (wall(0, None), wall(1, follows)),
        (Shared(moves),) if shared else (),
        freedom,
    )


CASES = [
    (1, "none", True),
    (2, "none", False),
    (3, "none", False),
    (2, "slide", True),
    (2, "slide and turn", True),
]


@pytest.mark.parametrize(("screws", "freedom", "shared"), CASES)
def test_trials_agree_with_the_closed_form(screws, freedom, shared):
    """Over 20 seeds trials lie within three standard errors, once in a while a little more."""
    misses = []
    for seed in range(20):
        spread = any_spread(Random(seed), screws, freedom, shared=shared)
        exact, found = closed_chance(spread), tried(spread, 4_000, seed)
        assert exact is not None
        misses.append(abs(found.value - exact) / math.sqrt(exact * (1 - exact) / 4_000))
    assert max(misses) < 4
    assert sum(miss > 3 for miss in misses) <= 1
    assert sum(miss**2 for miss in misses) / 20 < 2


def test_what_has_no_closed_form():
    """Three screws that slide, shared errors of held parts, a third wall, a slot: only trials tell."""
    random = Random(1)
    assert closed_chance(any_spread(random, 3, "slide", shared=False)) is None
    assert closed_chance(any_spread(random, 2, "none")) is None
    two = any_spread(random, 2, "slide and turn")
    assert closed_chance(Spread(two.points, (*two.walls, two.walls[1]))) is None
    slotted = Wall(1, (0.1, 0.1), two.walls[1].bias, (0.1, 0.1), slots=(Slot(1.0, 0.0), None))
    assert closed_chance(Spread(two.points, (two.walls[0], slotted))) is None


def test_one_screw_that_is_free_always_passes():
    """A single screw of parts that can slide goes through, however badly it was marked."""
    assert closed_chance(any_spread(Random(2), 1, "slide and turn")) == 1.0
