"""A large panel on few pages: windows, each placed by itself, that together show all that is to be marked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nestkit.geometry.points import Rect, around

_STEPS = 1000
"""How many steps the search for one page fewer may take."""


@dataclass(frozen=True, slots=True)
class Cluster:
    """A window on the drawing, the boxes (their indexes) to mark through it, and the box around these."""

    window: Rect
    members: tuple[int, ...]
    around: Rect


def clusters(
    boxes: Sequence[Rect], sheet: Rect, usable_width: float, usable_height: float
) -> tuple[Cluster, ...] | None:
    """Return few windows of a usable size such that each box lies in one as a whole.

    Each window is moved, as far as its boxes allow, to where it shows a side of ``sheet`` along x
    and one along y, the left and the lower one first. They come by rows from the lower left. None
    where a box is larger than a window.
    """
    if any(b.width > usable_width or b.height > usable_height for b in boxes):
        return None
    size = (usable_width, usable_height)
    found = []
    for members in _shared_out(boxes, _cover(boxes, *size), sheet, size):
        box = around([boxes[i] for i in members])
        found.append(Cluster(_window(box, sheet, size), members, box))
    return tuple(sorted(found, key=lambda c: (round(c.window.bottom), c.window.left)))


def _shared_out(
    boxes: Sequence[Rect], masks: Sequence[int], sheet: Rect, size: tuple[float, float]
) -> list[tuple[int, ...]]:
    """Return the members of each window: a box that several show goes where no edge is lost by it."""
    members = [
        [i for i in range(len(boxes)) if mask >> i & 1 and sum(m >> i & 1 for m in masks) == 1]
        for mask in masks
    ]
    for i, box in enumerate(boxes):
        able = [k for k, mask in enumerate(masks) if mask >> i & 1]
        if len(able) == 1:
            continue

        def loses(k: int, box: Rect = box) -> tuple[int, bool]:
            now = [boxes[m] for m in members[k]]
            after = _window(around([*now, box]), sheet, size)
            return (_edges(_window(around(now), sheet, size), sheet) if now else 0) - _edges(
                after, sheet
            ), not now

        members[min(able, key=loses)].append(i)
    return [tuple(sorted(m)) for m in members if m]


def _window(box: Rect, sheet: Rect, size: tuple[float, float]) -> Rect:
    x = _moved(box.left, box.right, size[0], sheet.left, sheet.right)
    y = _moved(box.bottom, box.top, size[1], sheet.bottom, sheet.top)
    return Rect(x, y, x + size[0], y + size[1])


def _edges(window: Rect, sheet: Rect) -> int:
    """Along how many axes a window shows an edge of the sheet."""
    return (window.left <= sheet.left or window.right >= sheet.right) + (
        window.bottom <= sheet.bottom or window.top >= sheet.top
    )


def _moved(low: float, high: float, size: float, first: float, last: float) -> float:
    """Where a window of ``size`` begins that shows ``low`` to ``high``: at an end of the sheet if it can."""
    if high - first <= size and low >= first:
        return first
    if last - low <= size and high <= last:
        return last - size
    return (low + high - size) / 2


def _cover(boxes: Sequence[Rect], width: float, height: float) -> list[int]:
    """Return few sets of boxes, as bits, that fit a window each and together are all boxes."""
    windows = _windows(boxes, width, height)
    every = (1 << len(boxes)) - 1
    # A box that few windows show leaves the least choice, and is looked after first.
    scarce = sorted(range(len(boxes)), key=lambda i: sum(w >> i & 1 for w in windows))
    best = _greedy(windows, every)
    while len(best) > 1:
        fewer = _search(windows, scarce, every, len(best) - 1, [_STEPS])
        if fewer is None:
            return best
        best = fewer
    return best


def _windows(boxes: Sequence[Rect], width: float, height: float) -> list[int]:
    """Return what windows can show that begin at the left of one box and at the bottom of one."""
    hair = 1e-9
    across = {
        left: sum(1 << i for i, b in enumerate(boxes) if left <= b.left and b.right <= left + width + hair)
        for left in sorted({b.left for b in boxes})
    }
    up = {
        low: sum(1 << i for i, b in enumerate(boxes) if low <= b.bottom and b.top <= low + height + hair)
        for low in sorted({b.bottom for b in boxes})
    }
    # The order of a dict keeps the windows from the lower left on, whatever the bits.
    return list(dict.fromkeys(a & b for b in up.values() for a in across.values() if a & b))


def _greedy(windows: Sequence[int], every: int) -> list[int]:
    found, left = [], every
    while left:
        most = max(windows, key=lambda w: (w & left).bit_count())
        found.append(most)
        left &= ~most
    return found


def _search(
    windows: Sequence[int], scarce: Sequence[int], left: int, pages: int, steps: list[int]
) -> list[int] | None:
    """Return at most ``pages`` windows for the boxes that are ``left``, or None where none were found.

    ``steps`` counts down those that are still allowed.
    """
    if not left:
        return []
    steps[0] -= 1
    here = list(dict.fromkeys(w & left for w in windows if w & left))
    if steps[0] < 0 or pages * max(w.bit_count() for w in here) < left.bit_count():
        return None
    first = next(i for i in scarce if left >> i & 1)
    options = [w for w in here if w >> first & 1]
    for option in sorted(options, key=int.bit_count, reverse=True):
        if any(option != other and option & other == option for other in options):
            continue
        rest = _search(here, scarce, left & ~option, pages - 1, steps)
        if rest is not None:
            return [option, *rest]
    return None
