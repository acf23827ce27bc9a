"""Equal cuts one after the other, as far as the settings of an order allow: what a plan can say once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from nestkit.layout.sawing import SawCut, Setting, as_made

Sign = tuple[int, Setting, int, int]
"""What one cut is at the saw: axis, setting, the side that is measured and its size in grid steps."""


def signs_of(cuts: Sequence[SawCut], kerf: int) -> list[Sign]:
    """Return for each cut what it is at the saw."""
    found: list[Sign] = []
    for cut, (setting, side) in zip(cuts, as_made(cuts, kerf), strict=True):
        size = cut.piece[cut.axis + 2] - cut.at - kerf if side else cut.at - cut.piece[cut.axis]
        found.append((cut.axis, setting, side, max(0, size)))
    return found


class Alike:
    """Which cuts of a plan are alike: so many of one sign in a row, through pieces of one size.

    ``sign`` and ``shape`` belong to the cuts by their index, equal where the cuts are; ``after`` is the
    next cut of the same sign through what a cut leaves beyond the strip that it measures.
    """

    def __init__(self, cuts: Sequence[SawCut], kerf: int) -> None:
        """Look at cuts of which each comes after the one that its piece comes from."""
        self.sign = signs_of(cuts, kerf)
        self.children = {(c.parent, c.side): index for index, c in enumerate(cuts)}
        self.shape = [0] * len(cuts)
        in_a_row = [1] * len(cuts)
        numbers: dict[object, int] = {}
        for index in range(len(cuts) - 1, -1, -1):
            piece, following = cuts[index].piece, self.after(index)
            if following is not None:
                in_a_row[index] += in_a_row[following]
            size = (piece.right - piece.left, piece.top - piece.bottom)
            key = (size, self.sign[index], in_a_row[index])
            self.shape[index] = numbers.setdefault(key, len(numbers))

    def after(self, index: int) -> int | None:
        """Return the next cut of the same sign off the same piece, None where none follows."""
        beyond = self.children.get((index, 1 - self.sign[index][2]))
        return beyond if beyond is not None and self.sign[beyond] == self.sign[index] else None


def together(order: Sequence[int], cuts: Sequence[SawCut], alike: Alike) -> tuple[list[int], int]:
    """Return an order in which equal cuts follow each other where no setting changes, and how many sayings.

    One saying is one piece that is cut again and again at one setting, or several equal pieces, one after
    the other. Settings follow each other as before.
    """
    found: list[int] = []
    sayings = 0
    block: list[int] = []
    for index in order:
        if block and alike.sign[index][1] != alike.sign[block[-1]][1]:
            sayings += _sort_block(block, cuts, alike, found)
            block = []
        block.append(index)
    sayings += _sort_block(block, cuts, alike, found) if block else 0
    return found, sayings


def _sort_block(block: Sequence[int], cuts: Sequence[SawCut], alike: Alike, found: list[int]) -> int:
    """Add the cuts of one setting to those found; return how many sayings they are."""
    place = {index: at for at, index in enumerate(block)}
    ready = [i for i in block if cuts[i].parent not in place]
    waiting = Counter(alike.shape[i] for i in block)
    at_once = Counter(alike.shape[i] for i in ready)
    sayings, last = 0, None
    while ready:
        # First what has all its like on the bench, then what leaves the marking gauge as it is.
        first = min(
            ready,
            key=lambda i: (
                waiting[alike.shape[i]] > at_once[alike.shape[i]], alike.sign[i] != last, place[i],
            ),
        )  # fmt: skip
        last = alike.sign[first]
        now = sorted((i for i in ready if alike.shape[i] == alike.shape[first]), key=place.__getitem__)
        ready = [i for i in ready if alike.shape[i] != alike.shape[first]]
        at_once[alike.shape[first]] = 0
        sayings += 1
        for start in now:
            following: int | None = start
            while following is not None:
                found.append(following)
                waiting[alike.shape[following]] -= 1
                strip = alike.sign[following][2]
                follows = alike.after(following)
                for side in (0, 1):
                    child = alike.children.get((following, side))
                    if child in place and (child != follows or side == strip):
                        ready.append(child)
                        at_once[alike.shape[child]] += 1
                following = follows if follows in place else None
    return sayings
