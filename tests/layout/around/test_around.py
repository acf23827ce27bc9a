"""Layouts around what is held and kept clear: the job is kept, nothing is lost, nothing costs more for it."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from nestkit.layout.lay_out import lay_out
from tests.layout.around.held_jobs import (
    judge_apart,
    judge_fixed,
    possible,
    random_group,
    some_held,
    with_regions,
    worth,
)
from tests.layout.made import job
from tests.layout.shapes import random_jobs


def laid(made):
    """Return a group laid out quickly."""
    return lay_out(job(made), effort="quick").groups[0]


@pytest.mark.parametrize("how", ["saw", "router"])
@pytest.mark.parametrize("seed", range(40))
def test_a_random_job_is_laid_around_what_is_fixed(how, seed):
    """Copies held as a first layout has them cost no more; beside regions all is still kept."""
    rng = random.Random(seed)
    made = random_group(rng, how)
    first = laid(made)
    holds = some_held(first, rng)
    again = laid(replace(made, holds=holds))
    judge_fixed(again)
    judge_apart(again)
    assert worth(again) <= worth(first)
    around = with_regions(made, rng)
    last = laid(replace(around, holds=possible(around, holds)))
    judge_fixed(last)
    judge_apart(last)


@pytest.mark.parametrize("seed", range(24))
def test_a_random_job_of_true_shapes_is_laid_around_what_is_fixed(seed):
    """The same holds of outlines with arcs and openings, held at any angle."""
    rng = random.Random(seed)
    made = random_jobs.random_group(seed, most=3)
    first = laid(made)
    holds = some_held(first, rng)
    again = laid(replace(made, holds=holds))
    judge_fixed(again)
    random_jobs.judge(again)
    assert worth(again) <= worth(first)
    around = with_regions(made, rng)
    last = laid(replace(around, holds=possible(around, holds)))
    judge_fixed(last)
    random_jobs.judge(last)


@pytest.mark.parametrize("how", ["saw", "router"])
def test_the_same_job_is_laid_around_in_the_same_way(how):
    """Two runs of one job give one layout."""
    rng = random.Random(7)
    made = with_regions(random_group(rng, how), rng)
    assert laid(made) == laid(made)


@pytest.mark.parametrize("how", ["saw", "router"])
def test_a_job_of_which_nothing_is_asked_never_comes_here(how, monkeypatch):
    """Without holds and regions the engines around them are not even loaded."""
    made = random_group(random.Random(3), how)
    monkeypatch.setitem(__import__("sys").modules, "nestkit.layout.around.lay_out", None)
    assert laid(made).sheets
