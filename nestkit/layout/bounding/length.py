"""The least length of a piece off a roll, and why no shorter one will do.

Whether a sheet of some length could hold all parts is what the bounds of sheets tell. So the length is
found by halving: a length that is refuted is too short, whatever becomes of others.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from nestkit.layout.bounding.demands import demands_of
from nestkit.layout.bounding.view import View, distance_along
from nestkit.layout.bounds import bounds_by, view_for
from nestkit.layout.problem import Problem
from nestkit.layout.proof import Bound

PROBES = 10
"""Lengths that are looked at between the plain bound and a layout's length."""
LONGEST_WHY = "one part alone is that long"
AREA_WHY = "the parts with the gaps between them fill that much of the roll"
STACK_WHY = "{} parts{} are wider than half the roll, and lie one after the other"
BLOCK_WHY = "wide parts block more of the roll than they fill; counted so, the parts take that length"


def least_length(
    problem: Problem, found: int | None = None, *, boxes_only: bool = False, known: Bound | None = None
) -> Bound:
    """Return the length in grid steps that no piece with all parts can be shorter than.

    The problem has one stock, the roll, wide enough for each part. ``found`` is the length of a layout;
    without it only what is seen at a glance counts. ``boxes_only`` as in
    :func:`~nestkit.layout.bounds.bounds_of`. ``known`` is what was returned for a longer layout.
    """
    (stock,) = problem.stocks
    gap = problem.gap if boxes_only else distance_along(problem)
    # From here lengths are grown by the gap, as parts are, and without the border.
    beside = stock.bottom + stock.top - gap

    def view(length: int) -> View:
        sheet = replace(stock, height=length + beside, count=None, cost=Fraction(1), roll=False)
        return view_for(replace(problem, stocks=(sheet,)), boxes_only=boxes_only)

    whole = view(stock.height - beside)
    if known is None:
        least, why = _at_a_glance(whole, stock.usable[0] + gap)
    else:
        least, why = int(known.value) - beside, known.why
    step = whole.step

    def too_short(steps: int) -> bool:
        seen = view(steps * step)
        sheets = bounds_by(seen, demands_of(seen)).sheets
        return sheets is None or sheets.value > 1

    plain = -(-least // step)
    if found is not None:
        steps = _halved(plain, -(-(found - beside) // step), too_short)
        why = why if steps == plain else BLOCK_WHY
        plain = steps
    length = plain * step + beside
    return Bound(Fraction(length if found is None else min(length, found)), why)


def _at_a_glance(view: View, width: int) -> tuple[int, str]:
    """Return a length that the parts need, and the reason."""
    longest, stack, stacked, beside = 0, 0, 0, ""
    for ways, number in zip(view.ways, view.quantity, strict=True):
        longest = max(longest, min(max((h for _, h in inner), default=0) for inner in ways[0]))
        # However it is turned, some box inside the part keeps the others from lying beside it.
        wide = min(max((h for w, h in inner if 2 * w > width), default=0) for inner in ways[0])
        if wide:
            stack, stacked = stack + wide * number, stacked + number
            net = all(any(2 * w > width + view.gap for w, _ in inner) for inner in ways[0])
            beside = beside if net else " with the gap beside them"
    area = -(-sum(a * n for a, n in zip(view.area, view.quantity, strict=True)) // max(1, width))
    reasons = ((longest, LONGEST_WHY), (stack, STACK_WHY.format(stacked, beside)), (area, AREA_WHY))
    return max(reasons, key=lambda r: r[0])


def _halved(plain: int, found: int, too_short: Callable[[int], bool]) -> int:
    """Return the least number from ``plain`` to ``found`` that is not known to be too short."""
    if found <= plain:
        return plain
    # That just under what was found comes first, since it proves the layout the best.
    if too_short(found - 1):
        return found
    low, high = plain, found - 1
    for _ in range(PROBES):
        if high <= low:
            break
        middle = (low + high) // 2
        if too_short(middle):
            low = middle + 1
        else:
            high = middle
    return low
