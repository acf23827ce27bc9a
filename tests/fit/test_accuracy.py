"""How exactly holes come out: by table, by the shop's own figure, by practice."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from scipy import stats

from nestkit.fit.accuracy import RULES, accuracy, practised
from nestkit.geometry.points import Point
from nestkit.job.model import Fitting
from nestkit.job.reader import read_text
from nestkit.parts.methods import METHODS, Practice

JOB = """
job = "float"
unit = "in"
[cutting]
how = "saw"
kerf = "1/8"
[[sheet]]
name = "ply"
material = "plywood birch"
thickness = "6 mm"
size = [48, 48]
[[panel]]
name = "deck"
material = "plywood birch"
thickness = "6 mm"
size = [20, 10]
"""


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    """Return a job with one sawn panel."""
    return read_text(JOB, tmp_path_factory.mktemp("job"))


@pytest.mark.parametrize(
    ("method", "figure", "times"),
    [
        ("tape and marker", 0.794, 2),
        ("rule and pencil", 0.5, 2),
        ("scribe and punch", 0.397, 2),
        ("template", 0.4, 2),
        ("match drilled", 0.1, 2),
        ("router", 0.127, 3),
        ("laser", 0.1, 3),
    ],
)
def test_figures_of_the_table(job, method, figure, times):
    """Rules R046 to R054 (common practice): +-t is 2 sigma by hand and 3 sigma by machine, and says so."""
    found = accuracy(job, method)
    assert found.sigma == pytest.approx(figure / times)
    assert f"as {times} sigma" in found.source
    assert RULES[method] in found.source


def test_every_method_has_a_rule(job):
    """No method is without a figure."""
    assert set(RULES) == set(METHODS)
    assert all(accuracy(job, method).sigma > 0 for method in METHODS)


def test_the_shop_s_own_figure_goes_before_the_table(job):
    """[fit] accuracy replaces the rule's figure, with the same reading of +-."""
    own = replace(
        job, fitting=Fitting(accuracy=(("template", Fraction("0.3")), ("router", Fraction("0.06"))))
    )
    assert accuracy(own, "template").sigma == pytest.approx(0.15)
    assert accuracy(own, "router").sigma == pytest.approx(0.02)
    assert "own figure" in accuracy(own, "router").source
    assert accuracy(own, "rule and pencil") == accuracy(job, "rule and pencil")


def piece(seed: int, marks: int, sigma: float, mean: tuple[float, float] = (0.0, 0.0)) -> Practice:
    """Return a practice piece whose marks are off at random."""
    random = np.random.default_rng(seed)
    wanted = tuple(Point(10.0 * i, 5.0 * (i % 3)) for i in range(marks))
    off = random.normal(mean, sigma, (marks, 2))
    measured = tuple(Point(w.x + float(d[0]), w.y + float(d[1])) for w, d in zip(wanted, off, strict=True))
    return Practice("scribe and punch", wanted, measured)


def test_practice_goes_before_everything(job):
    """A practice piece of a method replaces its figure, and the own figure too; others stay."""
    own = replace(
        job, fitting=Fitting(practice=(piece(1, 10, 0.1),), accuracy=(("scribe and punch", Fraction(1)),))
    )
    assert accuracy(own, "scribe and punch").sigma == pytest.approx(0.1, rel=0.4)
    assert accuracy(own, "scribe and punch").source == "own practice, 10 marks"
    assert accuracy(own, "template") == accuracy(job, "template")


def test_sigma_is_that_of_numpy_and_its_interval_that_of_scipy():
    """Pooled about the mean of each axis; the 95 percent interval by chi-square within 1 percent."""
    one = piece(3, 10, 0.2, (0.5, -0.3))
    off = np.array(one.measured) - np.array(one.wanted)
    found = practised([one])
    assert found.sigma == pytest.approx(float(np.sqrt(off.var(axis=0, ddof=1).mean())))
    low, high = stats.chi2.ppf([0.025, 0.975], 18)
    assert found.least == pytest.approx(found.sigma * np.sqrt(18 / high), rel=0.01)
    assert found.most == pytest.approx(found.sigma * np.sqrt(18 / low), rel=0.01)
    assert (found.mean_x, found.mean_y) == pytest.approx(tuple(off.mean(axis=0)))


def test_pieces_of_one_method_are_pooled_each_about_its_own_mean():
    """Two pieces laid down differently have no larger sigma for it."""
    a, b = piece(4, 8, 0.1, (0.0, 0.0)), piece(5, 12, 0.1, (2.0, 2.0))
    both = practised([a, b])
    squares = 14 * practised([a]).sigma ** 2 + 22 * practised([b]).sigma ** 2
    assert both.sigma == pytest.approx(float(np.sqrt(squares / 36)))
    assert both.marks == 20


def test_a_mean_that_chance_does_not_explain_drifts():
    """A steady offset is told apart from scatter: of 200 pieces without one hardly any is blamed."""
    assert practised([piece(6, 10, 0.1, (0.4, 0.0))]).drifts
    assert sum(practised([piece(seed, 10, 0.1)]).drifts for seed in range(200)) <= 1


def test_one_mark_says_nothing():
    """A single mark has no scatter."""
    with pytest.raises(ValueError, match="two marks"):
        practised([Practice("template", (Point(0, 0),), (Point(0.1, 0),))])
