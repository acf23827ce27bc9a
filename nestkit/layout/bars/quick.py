"""Quick cut lists: the longest piece first, each on the stick where it leaves least."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Sequence

from nestkit.layout.bars.problem import CutList, LengthProblem, Load, Measure, most_sticks, score_of


def best_fit(problem: LengthProblem, measure: Measure, order: Sequence[int], wanted: list[int]) -> CutList:
    """Return a cut list for pieces, the longest first, each where it leaves least; sticks opened in an order.

    ``order`` are the stocks as they are to be taken; a stick with room for the piece is opened of the first
    that is left. ``wanted`` is how many of each piece.
    """
    used: Counter[int] = Counter()
    # Open sticks by the room they have left; the number keeps equal ones in the order they were opened.
    rooms: list[tuple[int, int]] = []
    stock: list[int] = []
    loads: list[Counter[int]] = []
    left_over = [0] * len(wanted)
    for piece in sorted(range(len(wanted)), key=lambda p: -measure.takes[p]):
        takes = measure.takes[piece]
        for done in range(wanted[piece]):
            at = bisect_left(rooms, (takes, -1))
            if at < len(rooms):
                room, stick = rooms.pop(at)
            else:
                opened = next(
                    (s for s in order if measure.rooms[s] >= takes and used[s] < most_sticks(problem, s)),
                    None,
                )
                if opened is None:
                    left_over[piece] = wanted[piece] - done
                    break
                used[opened] += 1
                room, stick = measure.rooms[opened], len(stock)
                stock.append(opened)
                loads.append(Counter())
            loads[stick][piece] += 1
            insort(rooms, (room - takes, stick))
    found = tuple(Load(s, tuple(sorted(load.items()))) for s, load in zip(stock, loads, strict=True))
    return CutList(found, tuple(left_over))


def tightened(problem: LengthProblem, measure: Measure, found: CutList) -> CutList:
    """Return a cut list with each stick the cheapest left that holds what it gives."""
    if len(problem.sticks) == 1:
        return found
    free = [most_sticks(problem, s) for s in range(len(problem.sticks))]
    for load in found.loads:
        free[load.stick] -= 1
    by_cost = sorted(range(len(problem.sticks)), key=lambda s: (problem.sticks[s].cost, measure.rooms[s], s))
    loads = []
    # Many loads are alike.
    taken: dict[tuple[tuple[int, int], ...], int] = {}
    for load in found.loads:
        takes = taken.get(load.pieces, 0)
        if not takes:
            takes = taken[load.pieces] = sum(measure.takes[p] * n for p, n in load.pieces)
        free[load.stick] += 1
        stick = next(s for s in by_cost if free[s] >= 1 and measure.rooms[s] >= takes)
        free[stick] -= 1
        loads.append(Load(stick, load.pieces))
    return CutList(tuple(loads), found.left_over)


def quick(problem: LengthProblem, measure: Measure, wanted: list[int]) -> CutList:
    """Return the best of a few quick cut lists, the stocks taken by price, by length, and each alone."""
    stocks = [s for s, room in enumerate(measure.rooms) if room]
    sticks = problem.sticks
    cheap = sorted(stocks, key=lambda s: (sticks[s].cost / measure.rooms[s], -measure.rooms[s], s))
    orders = [cheap, sorted(stocks, key=lambda s: (sticks[s].cost > 0, -measure.rooms[s], s))]
    orders += [[s, *(o for o in cheap if o != s)] for s in stocks]
    different = dict.fromkeys(map(tuple, orders))
    found = (tightened(problem, measure, best_fit(problem, measure, o, wanted)) for o in different)
    return min(found, key=lambda f: score_of(problem, f))
