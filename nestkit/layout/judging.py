"""What the checks of sheets and of sticks share: copies, stock and bounds. Trusts no solver."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from nestkit.errors import ToolFault
from nestkit.layout.proof import Bound
from nestkit.stock.bar import Bar
from nestkit.stock.sheet import Sheet
from nestkit.units import GRID_PER_MM

Key = tuple[str, bool, int]
"""A copy: its part's name, whether it is the opposite hand, its number."""


def steps_of(mm: Fraction, what: str) -> int:
    """Return a length in grid steps; it must lie on the grid."""
    steps = mm * GRID_PER_MM
    if steps.denominator != 1:
        raise ToolFault(f"{what} of {mm} mm does not lie on the grid")
    return steps.numerator


def judge_copies(
    needed: Iterable[Key], extras: Iterable[Key], seen: Counter[Key], missing: Counter[Key]
) -> None:
    """Every needed copy is placed or listed as unplaced, once; extras at most once; nothing else.

    ``seen`` and ``missing`` count the copies that are placed and listed; they are used up.
    """
    for key in needed:
        if seen.pop(key, 0) + missing.pop(key, 0) != 1:
            raise ToolFault(f"{_copy_text(*key)} is lost, or there twice")
    for key in extras:
        if seen.pop(key, 0) > 1 or missing.pop(key, 0):
            raise ToolFault(f"the spare {_copy_text(*key)} is there twice, or listed as unplaced")
    for key in [*seen, *missing]:
        raise ToolFault(f"{_copy_text(*key)} was not asked for")


def _copy_text(name: str, opposite: bool, copy: int) -> str:
    return f'copy {copy} of "{name}"' + (", opposite hand" if opposite else "")


def judge_supply(
    stock: Iterable[Sheet | Bar],
    used: Mapping[tuple[str, bool], int],
    numbers: Mapping[str, Sequence[int]],
    *,
    kind: str,
    piece: str,
) -> None:
    """What is taken is on hand or may be bought, and is numbered from 1 for each stock.

    ``used`` counts by name and whether it is on hand; ``kind`` and ``piece`` are what stock and one of it
    are called.
    """
    for one in stock:
        if used.get((one.name, True), 0) > one.on_hand:
            raise ToolFault(f'more {kind}s "{one.name}" are taken from the rack than are on hand')
        if used.get((one.name, False), 0) and not one.buy:
            raise ToolFault(f'{kind}s "{one.name}" are bought, which the job forbids')
    for name, found in numbers.items():
        if sorted(found) != list(range(1, len(found) + 1)):
            raise ToolFault(f'{piece}s "{name}" are not numbered 1, 2, ...')


def judge_bounds(bounds: Iterable[tuple[str, Bound | None, Fraction]], *, complete: bool) -> None:
    """Bounds stand exactly where all parts are placed, and none is above the result.

    Each is what it bounds, the bound, and the result.
    """
    for what, bound, value in bounds:
        if not complete:
            if bound is not None:
                raise ToolFault("a bound is given although parts are unplaced")
        elif bound is None:
            raise ToolFault(f"the bound on the {what} is missing although all parts are placed")
        elif bound.value > value:
            text = f"the bound on the {what}, {bound.value}, is above the result, {value}: {bound.why}"
            raise ToolFault(text)
