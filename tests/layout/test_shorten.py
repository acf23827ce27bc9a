"""Shorter pieces off a roll, from several seeds: one answer whatever the cores, as short as of one seed."""

from __future__ import annotations

import pickle
import random

import pytest

from nestkit.layout import members, shorten
from nestkit.layout.efforts import Effort, flat_rounds
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.lengthwise import ORDERS, first_laid, length_of, orders_compiled
from nestkit.layout.rects.space import space_of
from nestkit.layout.shorten import FIRST_ROUNDS, Seeded, Shortening, shortened
from nestkit.layout.solve import solve
from tests.layout.roll_problems import check_roll, off_rolls, roll

pytestmark = pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")

ALONE, TOGETHER = (Effort(2, 2, 2, deep=FIRST_ROUNDS + 3, seeds=n) for n in (1, 3))


def goods(number: int = 40, **way: object):
    """Return parts off a roll that leave a gap to the bound for long."""
    rng = random.Random(5)
    sizes = [(rng.randint(20, 300), rng.randint(20, 200)) for _ in range(number)]
    return off_rolls(sizes, roll(600, length=10**6), gap=3, turning=True, **way)


def begun(problem, *, seed: int = 1):
    """Return a search at its start, on the problem that it searches."""
    space = space_of(problem)
    laid = first_laid(space)
    assert len(laid) == 40
    return Shortening(space, laid, 0, orders_compiled(), seed=seed)


@pytest.mark.slow
@pytest.mark.parametrize("way", [{}, {"edge_to_edge": True, "stages": 3}])
def test_the_answer_does_not_depend_on_the_number_of_cores(monkeypatch, way):
    """One process, and one with others beside it, lay the same piece to the byte."""
    problem = goods(**way)
    solve(problem, seed=1, effort=ALONE)  # from here on nothing has to be compiled
    assert ORDERS.is_kept()
    found = []
    for cores in (1, 3):
        monkeypatch.setattr(members, "cores", lambda cores=cores: cores)
        found.append(solve(problem, seed=1, effort=TOGETHER))
        check_roll(problem, found[-1].layout)
    assert pickle.dumps(found[0]) == pickle.dumps(found[1])


def test_more_seeds_are_never_longer():
    """What one seed finds in so many rounds is among what several find."""
    problem = goods()
    one, several = (solve(problem, seed=1, effort=e).layout.cost(problem) for e in (ALONE, TOGETHER))
    assert several <= one


def test_others_go_on_from_what_the_first_has_found(monkeypatch):
    """They begin once the first has had its first rounds, and the best of all is the answer."""
    problem = goods()
    seen = []

    def best_of(first, others, ended, *, kept):
        seen.extend(others)
        return min([first(), *(o.run(ended) for o in others)], key=length_of)

    monkeypatch.setattr(shorten, "best_of", best_of)
    first = begun(problem)

    def others(laid):
        return [Seeded(problem, laid, 0, seed, 2) for seed in (2, 3)]

    found = shortened(first, others, FIRST_ROUNDS + 2, lambda: False, lambda: False)
    assert [o.seed for o in seen] == [2, 3]
    assert all(length_of(o.start) <= length_of(first_laid(space_of(problem))) for o in seen)
    assert length_of(found) <= min(length_of(o.start) for o in seen)
    alone = begun(problem)(lambda: False, FIRST_ROUNDS)
    assert alone == seen[0].start


def test_a_piece_that_cannot_be_shorter_has_no_others(monkeypatch):
    """Where the bound is met in the first rounds, or the user ends the search, nobody else begins."""
    monkeypatch.setattr(shorten, "best_of", None)
    problem = goods()
    first = begun(problem)
    first.least = length_of(first.laid)
    assert shortened(first, None, 99, lambda: False, lambda: False) == first.laid
    assert shortened(begun(problem), None, 99, lambda: True, lambda: True) == begun(problem).laid
    assert shortened(begun(problem), None, 1, lambda: False, lambda: False)


def test_a_search_says_whether_it_met_the_bound():
    """A piece is as good as the length it takes, and cannot be better than the bound."""
    problem = goods()
    laid = begun(problem).laid
    task = Seeded(problem, laid, length_of(laid), 1, 5)
    assert task.rank(laid) == length_of(laid)
    assert task.met(laid)
    assert task.run(lambda: False) == laid
    assert not Seeded(problem, laid, length_of(laid) - 1, 1, 5).met(laid)


def test_few_parts_are_not_searched_for_ever():
    """A search that has not gained for so many rounds a part is over, and says so."""
    problem = off_rolls([(60, 60), (50, 30), (20, 45)], roll(100))
    space = space_of(problem)
    search = Shortening(space, first_laid(space), 0, orders_compiled(), seed=1)
    asked = []
    search(lambda: bool(asked.append(1)), 10**6)
    assert search.at_its_end
    assert flat_rounds(3) < len(asked) <= flat_rounds(3) + 5
    assert shortened(search, None, 10**6, lambda: False, lambda: False) == search.laid
