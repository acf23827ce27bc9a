"""Random numbers and sorting of the engine."""

from __future__ import annotations

import random

from nestkit.layout.rects.engine.arrays import COUNTS, RANDOM
from nestkit.layout.rects.engine.chance import draw, sort_first


def test_the_generator_gives_the_published_first_numbers():
    """From Marsaglia's own start 2463534242 the 32-bit generator goes to 723471715, then 2497366906.

    G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003), shifts 13, 17, 5; the numbers
    from memory.
    """
    counts = [0] * COUNTS
    counts[RANDOM] = 2463534242
    draw(counts, 1)
    assert counts[RANDOM] == 723471715
    draw(counts, 1)
    assert counts[RANDOM] == 2497366906


def test_draws_cover_their_range_evenly():
    """Every number from 0 to below the limit is drawn, none more than a fifth too often."""
    counts = [0] * COUNTS
    counts[RANDOM] = 12345
    seen = [0] * 7
    for _ in range(7000):
        seen[draw(counts, 7)] += 1
    assert all(800 < n < 1200 for n in seen)


def test_the_first_numbers_are_sorted_and_the_others_stay():
    """The common source's sort puts the first numbers in order and touches no other."""
    rng = random.Random(4)
    for number in (0, 1, 2, 13, 40, 200):
        codes = rng.sample(range(-(10**12), 10**12), number + 3)
        expected = sorted(codes[:number]) + codes[number:]
        sort_first(codes, number)
        assert codes == expected
