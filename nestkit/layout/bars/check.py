"""The independent check of a cut list: it trusts no solver, and does the sums anew from the problem."""

from __future__ import annotations

from collections import Counter

from nestkit.errors import ToolFault
from nestkit.layout.bars.problem import CutList, LengthProblem


def check_cut_list(problem: LengthProblem, found: CutList) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` where a stick is overrun or one too many, or a piece lost."""
    cut = [0] * len(problem.pieces)
    used: Counter[int] = Counter()
    for load in found.loads:
        stick = problem.sticks[load.stick]
        used[load.stick] += 1
        number = length = 0
        for piece, times in load.pieces:
            if times < 1:
                raise ToolFault(f"a stick gives {times} of a piece")
            cut[piece] += times
            number += times
            length += times * problem.pieces[piece].length
        if not number:
            raise ToolFault("a stick gives nothing")
        if length + (number - 1) * problem.kerf > stick.length - 2 * stick.trim:
            raise ToolFault(f"a stick of {stick.length} is overrun")
    for index, number in used.items():
        count = problem.sticks[index].count
        if count is not None and number > count:
            raise ToolFault(f"{number} sticks are used of which there are {count}")
    for asked, done, left in zip(problem.pieces, cut, found.left_over, strict=True):
        if left < 0 or done + left != asked.quantity:
            told = f"{asked.quantity} pieces of {asked.length} are wanted"
            raise ToolFault(f"{told}, {done} are cut and {left} left over")
