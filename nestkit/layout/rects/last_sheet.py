"""The rest in one large piece: the emptiest sheet's parts are laid in a part of it, as small as can be.

The sheets stay as many and of the same kinds. On each axis the room of the emptiest sheet is cut down by
halving the interval between what is free already and what the areas allow; a part that finds no place on it
any more may move to another sheet.
"""

from __future__ import annotations

from nestkit.layout.problem import Problem
from nestkit.layout.rects.engine.twin import Form
from nestkit.layout.rects.search import Search, Switches
from nestkit.layout.rects.space import Laid, Sheets, Space

ROUNDS = {"plain": 2, "compiled": 4}
"""Rounds of the search for each probe."""


def free_strips(space: Space, stock: int, laid: Laid) -> tuple[int, int]:
    """Return the length along x, and along y, that is free over a sheet's whole other side."""
    width, height = space.extent[stock]
    right = max((x + w for _, (x, _, w, _, _) in laid), default=0)
    top = max((y + h for _, (_, y, _, h, _) in laid), default=0)
    return width - right, height - top


def strip_area(space: Space, stock: int, laid: Laid) -> int:
    """Return the area of the larger strip that is free over a whole side."""
    width, height = space.extent[stock]
    across, up = free_strips(space, stock, laid)
    return max(across * height, up * width)


def emptiest(space: Space, sheets: Sheets) -> int:
    """Return the number of the sheet that is filled least; of several the one with the largest strip free."""
    areas = [sum(space.area[b] for b, _ in laid) / space.sheet_area[stock] for stock, laid in sheets]
    return min(range(len(sheets)), key=lambda i: (areas[i], -strip_area(space, *sheets[i]), i))


def gathered(problem: Problem, sheets: Sheets, *, form: Form, seed: int, probes: int) -> Sheets:
    """Return the same parts on the same sheets, the free strip of the emptiest as large as was found."""
    search = Search(problem, form, seed=seed, switches=Switches(cover=False))
    space = search.space
    last = emptiest(space, sheets)
    stock = sheets[last][0]
    best, most = sheets, strip_area(space, *sheets[last])
    needed = sum(space.area[b] for _, laid in sheets for b, _ in laid)
    others = sum(space.sheet_area[s] for i, (s, _) in enumerate(sheets) if i != last)
    for axis in (0, 1):
        whole, side = space.extent[stock][axis], space.extent[stock][1 - axis]
        low, high = most // side, whole - max(1, -(-(needed - others) // side))
        for _ in range(probes):
            if high <= low:
                break
            strip = (low + high + 1) // 2
            extent = (whole - strip, side) if axis == 0 else (side, whole - strip)
            found = search.on_smaller(sheets, last, extent, ROUNDS[form.name])
            if found is None:
                high = strip - 1
                continue
            low = max(strip, free_strips(space, *found[last])[axis])
            if strip_area(space, *found[last]) > most:
                best, most = found, strip_area(space, *found[last])
    # Its parts may all have found room elsewhere, and a sheet is saved.
    return [(s, laid) for s, laid in best if laid]
