"""A group of tubes and bars laid out: solved, its copies named and put in order, and verified."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable
from fractions import Fraction

from nestkit.job.model import BarGroup
from nestkit.layout.bars.build import BarsBuilt, TubeCopy, length_problem_of
from nestkit.layout.bars.gather import gathered
from nestkit.layout.bars.least import least_of
from nestkit.layout.bars.problem import CutList, Load
from nestkit.layout.bars.reasons import why_no_stick
from nestkit.layout.bars.result import BarsLayout, CutStick, PlacedTube, UnplacedTube
from nestkit.layout.bars.solve import LengthsSolved, solve_lengths
from nestkit.layout.bars.verify import verify_bars
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.trade.rules import rule
from nestkit.units import grid_mm, grid_up


def lay_out_bars(
    group: BarGroup,
    *,
    seed: int,
    effort: Effort,
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    index: int = 0,
) -> tuple[BarsLayout, bool]:
    """Return a group laid out and verified, and whether the user ended its search."""
    built = length_problem_of(group)
    heard = None if on_event is None else _teller(built, on_event, index)
    solved = solve_lengths(
        built.problem,
        seed=seed,
        rounds=effort.dives,
        stop=stop if stop is not None else lambda: False,
        heard=heard,
    )
    layout = _named(group, built, solved)
    verify_bars(layout)
    return layout, solved.stopped


def _teller(
    built: BarsBuilt, on_event: Callable[[Progress], None], index: int
) -> Callable[[CutList, Fraction, str], None]:
    """Let events tell how many sticks there are so far, and the least that could do."""
    several = len({s.cost for s in built.supplies}) > 1

    def heard(best: CutList, least: Fraction, why: str) -> None:
        bounds = least_of(built, least, why)
        cost = sum((built.supplies[load.stick].cost for load in best.loads), Fraction(0))
        on_event(
            Progress(
                index, len(best.loads), cost, sum(best.left_over), bounds.sticks.value, bounds.cost.value,
                why, 0, by_cost=several, cost_in=built.cost_in, sticks=True,
            )
        )  # fmt: skip

    return heard


def _named(group: BarGroup, built: BarsBuilt, solved: LengthsSolved) -> BarsLayout:
    """Give places to copies: those asked for first, spares after them, extras last."""
    found = solved.found
    if group.way is None or group.way.prefer == "offcut":
        found = gathered(built.problem, found)
    waiting = [deque(copies) for copies in built.copies]
    rows = _with_extras(built, _in_order(found, waiting))
    numbers: Counter[str] = Counter()
    sticks = []
    for stick, copies in rows:
        supply = built.supplies[stick]
        numbers[supply.bar.name] += 1
        sticks.append(_stick(built, stick, numbers[supply.bar.name], copies))
    unplaced = tuple(
        UnplacedTube(c.tube, c.number, c.opposite_hand, why_no_stick(group, c.tube))
        for c in sorted((c for row in waiting for c in row), key=_order(group))
    )
    cost = sum((s.cost for s in sticks), Fraction(0))
    bounds = least_of(built, solved.least_cost, solved.why)
    return BarsLayout(
        group,
        built.cost_in,
        tuple(sticks),
        unplaced,
        cost,
        None if unplaced else bounds.sticks,
        None if unplaced else bounds.cost,
    )


def _order(group: BarGroup) -> Callable[[TubeCopy], tuple[int, bool, int]]:
    order = {tube.name: i for i, tube in enumerate(group.tubes)}
    return lambda copy: (order[copy.tube.name], copy.opposite_hand, copy.number)


def _in_order(found: CutList, waiting: list[deque[TubeCopy]]) -> list[tuple[int, list[TubeCopy]]]:
    """Return sticks with their copies, the longest first on each; equal sticks follow one another.

    Pieces are numbered from the longest on, so that loads sort by their longest parts.
    """

    def by_parts(load: Load) -> tuple[int, list[tuple[int, int]]]:
        return load.stick, [(piece, -times) for piece, times in load.pieces]

    rows = []
    for load in sorted(found.loads, key=by_parts):
        rows.append((load.stick, [waiting[p].popleft() for p, times in load.pieces for _ in range(times)]))
    return rows


def _with_extras(
    built: BarsBuilt, rows: list[tuple[int, list[TubeCopy]]]
) -> list[tuple[int, list[TubeCopy]]]:
    """Lay extra copies in the rests of the sticks, each in the smallest that holds it."""
    problem = built.problem
    rests = [
        problem.sticks[stick].usable
        + problem.kerf
        - sum(grid_up(c.tube.length) + problem.kerf for c in copies)
        for stick, copies in rows
    ]
    for extra in built.extras:
        takes = grid_up(extra.tube.length) + problem.kerf
        fits = [i for i, rest in enumerate(rests) if rest >= takes]
        if fits:
            best = min(fits, key=lambda i: (rests[i], i))
            rests[best] -= takes
            rows[best][1].append(extra)
    # Stable, so that copies of one length stay as they were.
    return [(stick, sorted(copies, key=lambda c: -c.tube.length)) for stick, copies in rows]


def _stick(built: BarsBuilt, index: int, number: int, copies: list[TubeCopy]) -> CutStick:
    problem, supply = built.problem, built.supplies[index]
    stick = problem.sticks[index]
    at, parts = stick.trim, []
    for copy in copies:
        length = grid_up(copy.tube.length)
        parts.append(PlacedTube(copy.tube, copy.number, copy.opposite_hand, grid_mm(at), grid_mm(length)))
        at += length + problem.kerf
    left = grid_mm(max(0, stick.length - stick.trim - at))
    return CutStick(
        supply.bar,
        number,
        supply.on_hand,
        supply.cost,
        tuple(parts),
        left,
        left >= _worth_keeping(supply.bar.keep),
    )


def _worth_keeping(keep: Fraction | None) -> Fraction:
    """Return the length from which on a rest is worth keeping."""
    if keep is not None:
        return keep
    usual = rule("R126")
    return usual.mm(usual.typical)
