"""Random numbers and sorting for the engine: whole numbers only, the same everywhere."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import RANDOM, Row

LOW_32 = 0xFFFFFFFF


def draw(count: Row, below: int) -> int:
    """Return a random whole number from 0 to ``below`` - 1 (at most 2**30), and go on to the next.

    The generator is the 32-bit xorshift with shifts 13, 17, 5 (Marsaglia, "Xorshift RNGs", Journal of
    Statistical Software 8, 2003, from memory).
    """
    x = count[RANDOM]
    x ^= (x << 13) & LOW_32
    x ^= x >> 17
    x ^= (x << 5) & LOW_32
    count[RANDOM] = x
    return (x * below) >> 32


def sort_first(codes: Row, number: int) -> None:
    """Sort the first numbers of a row, all different, in place, by shell sort."""
    step = 1
    while step < number // 3:
        step = 3 * step + 1
    while step > 0:
        for i in range(step, number):
            code = codes[i]
            j = i
            while j >= step and codes[j - step] > code:
                codes[j] = codes[j - step]
                j -= step
            codes[j] = code
        step //= 3
