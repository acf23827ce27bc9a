"""Strips: nothing overlaps, jigsaws come together, the same seed gives the same strip."""

from __future__ import annotations

import random

import numpy as np
import pytest

from nestkit.layout.shapes.compact import Compactor
from nestkit.layout.shapes.engine import compiled, model_of, plain
from nestkit.layout.shapes.problem import Kind, Shape
from nestkit.layout.shapes.separate import Separator, Spread
from nestkit.layout.shapes.strip import StripSearch, TooHighError, first_spread, strip
from tests.layout.shapes.made_shapes import (
    ALL,
    BRACKET,
    HORN,
    RING,
    TURNS,
    area_of,
    check_laid,
    jigsaw,
    random_shape,
)


def mixed(seed: int) -> list[Kind]:
    """Return some kinds of random shapes, a few copies each."""
    rng = random.Random(seed)
    turns = ((0.0,), (0.0, 180.0), TURNS, (0.0, 60.0, 200.0))
    return [
        Kind(
            random_shape(rng, rng.uniform(8, 24)),
            rng.randint(1, 3),
            rng.choice(turns),
            either_hand=rng.random() < 0.3,
        )
        for _ in range(rng.randint(1, 6))
    ]


@pytest.mark.parametrize("seed", range(12))
def test_pieces_on_a_strip_keep_apart(seed):
    """Random pieces lie once each, as they may and no nearer than the gap; the search only shortens."""
    kinds, gap = mixed(seed), (0.0, 0.7, 3.0)[seed % 3]
    first = strip(kinds, 60.0, gap, seed=seed, rounds=0)
    found = strip(kinds, 60.0, gap, seed=seed, rounds=4)
    for one in (first, found):
        check_laid(kinds, one.pieces, one.length, 60.0, gap)
    assert found.length <= first.length
    assert found.length >= sum(area_of(k.shape).area * k.count for k in kinds) / 60.0 * (1 - 1e-12)


@pytest.mark.parametrize("seed", range(4))
def test_a_cut_sheet_is_laid_together_again(seed):
    """The pieces of a sheet that was cut by lines fill it again, to the last digit."""
    kinds = jigsaw(seed, 4)
    found = strip(kinds, 60.0, seed=1, rounds=40)
    check_laid(kinds, found.pieces, found.length, 60.0)
    assert found.length == pytest.approx(100.0, rel=1e-7)


def test_a_part_lies_in_the_opening_of_another():
    """With a gap, a plate that fits inside a ring needs no strip of its own."""
    plate = Shape(((0, 0), (35, 0), (35, 30), (0, 30)))
    kinds = [Kind(RING, 1, (0.0,)), Kind(plate, 1, TURNS)]
    found = strip(kinds, 60.0, 2.0, seed=1, rounds=5)
    check_laid(kinds, found.pieces, found.length, 60.0, 2.0)
    assert found.length == pytest.approx(60.0)


def test_the_same_seed_gives_the_same_strip():
    """Places are equal to the last bit for one seed; the search does not read the clock."""
    kinds = mixed(3)
    assert strip(kinds, 60.0, 1.0, seed=4, rounds=5) == strip(kinds, 60.0, 1.0, seed=4, rounds=5)


def test_a_stop_ends_the_search_at_once():
    """Told to stop, the search gives what it has; without rounds, the first layout drawn together."""
    kinds = mixed(5)
    assert strip(kinds, 60.0, seed=1, rounds=100, stop=lambda: True) == strip(kinds, 60.0, seed=1, rounds=0)


def test_without_the_compiler_the_first_layout_is_drawn_together():
    """Plain Python gives a layout that holds, the very one that the compiled search begins with."""
    kinds = [Kind(BRACKET, 3, TURNS), Kind(HORN, 2, TURNS)]
    slow, fast = (strip(kinds, 90.0, 2.0, seed=1, rounds=0, form=f) for f in (plain(), compiled()))
    check_laid(kinds, slow.pieces, slow.length, 90.0, 2.0)
    assert slow.length == pytest.approx(fast.length, rel=1e-9)


def test_a_piece_that_is_too_high_is_told():
    """A piece higher than the strip in every turn is an error."""
    with pytest.raises(TooHighError):
        strip([Kind(BRACKET, 1, TURNS)], 40.0, seed=1, rounds=1)


def test_programs_bring_pieces_to_exact_contact():
    """Two plates that overlap by a hair, and two that lie apart, end touching at a length of four plates."""
    model = model_of([Kind(ALL["plate"], 4, (0.0,))], 0.0, 1.0, compiled())
    sep = Separator(model, [0] * 4, [200.0], [20.0], 1)
    x = np.array([20.0, 59.95, 102.0, 143.0])
    sep.take(Spread(x, np.full(4, 10.0), np.zeros(4, np.int64), np.zeros(4, np.int64), 0.0))
    assert sep.live.depth.max() == pytest.approx(0.05)
    assert Compactor(model, sep.live).shorten(reach=2.0) == pytest.approx(160.0, abs=1e-9)
    assert sep.live.depth.max() == 0
    assert np.diff(np.sort(sep.live.x)) == pytest.approx([40.0] * 3, abs=1e-9)


def test_the_search_tells_its_gains():
    """Every gain is shorter than the one before, and the last is the length of the strip."""
    search = search_of(jigsaw(1, 4), 60.0)
    search.run(lambda: False, 6)
    lengths = [length for length, _, _ in search.wins]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[-1] == search.length


def test_the_best_is_kept_while_the_search_is_elsewhere():
    """Far beyond the first stall no round makes the strip longer, and the pieces reach its end."""
    kinds = mixed(3)
    search, lengths = search_of(kinds, 60.0), []
    search.run(lambda: lengths.append(search.length) or False, 40)
    assert lengths == sorted(lengths, reverse=True)
    assert search.length <= lengths[-1]
    check_laid(kinds, [piece for _, piece in search.pieces()], search.length, 60.0)
    reach = search.best.x + search.model.tables.box[search.best.state, 2]
    assert reach.max() == pytest.approx(search.length, rel=1e-12)


def search_of(kinds: list[Kind], height: float) -> StripSearch:
    """Return a search for a strip of a height."""
    model = model_of(kinds, 0.0, height / 50, compiled())
    pieces = [k for k, kind in enumerate(kinds) for _ in range(kind.count)]
    return StripSearch(model, pieces, first_spread(model, pieces, [height]), [height], 1)
