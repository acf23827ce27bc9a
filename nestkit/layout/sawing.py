"""A sheet's saw cuts as a tree, in grid steps: which piece is cut where, what each gives, in which order."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, NamedTuple, TypeVar

from nestkit.trade.rules import rule
from nestkit.units import MM_PER_INCH, Unit, grid_down, grid_up

Held = Literal["fence", "stop", "line"]
"""How a cut gets its place: a fence, the stop of a sled, or a line to saw along with a straight edge."""

FENCE_OPENS: dict[Unit, Fraction] = {"in": 24 * MM_PER_INCH, "mm": Fraction(600)}
"""How far, in mm, the fence of a shop's table saw opens, by the unit of its scale (common practice, no
source). What is wider is measured, and sawn along a straight edge."""

L = TypeVar("L", int, Fraction)
"""A length, in grid steps or in mm."""


class Piece(NamedTuple):
    """A rectangle of sheet in grid steps: left, bottom, right, top."""

    left: int
    bottom: int
    right: int
    top: int

    @property
    def area(self) -> int:
        """Area in square grid steps."""
        return (self.right - self.left) * (self.top - self.bottom)

    def halves(self, axis: int, at: int, kerf: int) -> tuple[Piece | None, Piece | None]:
        """Return what a cut across ``axis`` (0: x, 1: y) leaves: the lower or left piece, and the other.

        The strip from ``at`` to ``at + kerf`` is lost; it may hang over either edge.
        """
        low, high = self[axis], self[axis + 2]
        first = self._limited(axis, low, at) if at > low else None
        second = self._limited(axis, at + kerf, high) if at + kerf < high else None
        return first, second

    def _limited(self, axis: int, low: int, high: int) -> Piece:
        if axis == 0:
            return Piece(low, self.bottom, high, self.top)
        return Piece(self.left, low, self.right, high)


@dataclass(frozen=True, slots=True)
class SawCut:
    """One cut: the cut and side its piece comes from (None: the sheet), the piece, axis and place.

    ``parent`` is an index into the plan's cuts, ``side`` 0 for the left or lower piece of that cut.
    ``keep`` is the side with the parts where the cut is a trim, else 0.
    """

    parent: int | None
    side: int
    piece: Piece
    axis: int
    at: int
    trim: bool
    keep: int


@dataclass(frozen=True, slots=True)
class SawPlan:
    """The cuts of a sheet, each after the cut that its piece comes from, and the pieces left without part."""

    cuts: tuple[SawCut, ...]
    rests: tuple[Piece, ...]

    def largest_rest(self, least: int) -> int:
        """Return the area of the largest rest that is at least ``least`` both ways, 0 without one."""
        return max(
            (r.area for r in self.rests if min(r.right - r.left, r.top - r.bottom) >= least), default=0
        )


def shortest_at_fence() -> Fraction:
    """Return the length in mm below which nothing runs along a fence (R092)."""
    shortest = rule("R092")
    return shortest.mm(shortest.typical)


def measured_side(sizes: tuple[L, L], keep: int, opens: L, *, trim: bool, sized: bool) -> int:
    """Return which of the two pieces of a cut is measured, 0 for the left or lower one.

    It is the one to keep. Where a fence does not reach and parts lie on both sides it may be the other,
    but only of a piece whose own width was ``sized`` by a cut: a sheet is not sold to the nearest 1/64.
    """
    other = 1 - keep
    return other if sized and not trim and sizes[other] <= opens < sizes[keep] else keep


def held_by(setting: L, along: L, across: L, opens: L, shortest: L) -> Held:
    """Return how a cut gets its place: ``along`` is the piece's length along the cut, ``across`` its width.

    Only a piece at least as long along the fence as it is wide runs at one, and none that is short
    (R092, R094): others go on a sled with a stop. What is too wide for fence or sled is sawn along a
    straight edge.
    """
    turns = along < across or along < shortest
    if setting > opens or (turns and across > opens):
        return "line"
    return "stop" if turns else "fence"


Setting = tuple[str, int] | None
"""What a saw is set to: fence or stop, and how far it stands from the blade; None: neither of them."""


def settings_of(cuts: Sequence[SawCut], kerf: int) -> list[Setting]:
    """Return what the saw is set to for each cut, None for those along a straight edge."""
    return [setting for setting, _ in _as_made(cuts, kerf)]


def _as_made(cuts: Sequence[SawCut], kerf: int) -> list[tuple[Setting, int]]:
    """Return for each cut what the saw is set to, and the side of the piece that is measured."""
    opens, shortest = grid_down(max(FENCE_OPENS.values())), grid_up(shortest_at_fence())
    sized: dict[tuple[int | None, int], frozenset[int]] = {(None, 0): frozenset()}
    found: list[tuple[Setting, int]] = []
    for index, cut in enumerate(cuts):
        low, high = cut.piece[cut.axis], cut.piece[cut.axis + 2]
        sizes = max(0, cut.at - low), max(0, high - cut.at - kerf)
        before = sized[cut.parent, cut.side]
        side = measured_side(sizes, cut.keep, opens, trim=cut.trim, sized=cut.axis in before)
        along = cut.piece[3 - cut.axis] - cut.piece[1 - cut.axis]
        held = held_by(sizes[side], along, high - low, opens, shortest)
        found.append((None, cut.keep) if held == "line" else ((held, sizes[side]), side))
        sized[index, 0] = sized[index, 1] = before
        # Of a wide piece that loses its left or lower edge, what comes off may be measured.
        if held != "line" or side == 0:
            sized[index, side] = before | {cut.axis}
    return found


def moves(settings: Sequence[Setting]) -> int:
    """Return how often a saw is set for cuts in their order; a straight edge leaves its fence alone."""
    on_saw = [s for s in settings if s is not None]
    return sum(1 for i, s in enumerate(on_saw) if i == 0 or s != on_saw[i - 1])


def remainders(cuts: Sequence[SawCut], kerf: int) -> int:
    """Return how many finished pieces have a side that no cut measured: it is what others left over.

    A side that is the sheet's own counts as measured.
    """
    parents = {(c.parent, c.side) for c in cuts}
    left_over: dict[tuple[int | None, int], frozenset[int]] = {(None, 0): frozenset()}
    count = 0
    for index, (cut, (_, side)) in enumerate(zip(cuts, _as_made(cuts, kerf), strict=True)):
        before = left_over[cut.parent, cut.side]
        for half in (0, 1):
            here = before - {cut.axis} if half == side else before | {cut.axis}
            left_over[index, half] = here
            holds_part = not cut.trim or half == cut.keep
            count += holds_part and (index, half) not in parents and bool(here)
    return count


def in_bench_order(plan: SawPlan, kerf: int) -> SawPlan:
    """Return the same cuts in the order of work, each after the one that its piece comes from.

    The saw is set as seldom as any of the ways tried needs. Among those the sheet is ripped before its
    strips are cut, a large piece before a small one, and equal settings follow each other.
    """
    cuts = plan.cuts
    settings = settings_of(cuts, kerf)
    areas = [-c.piece.area for c in cuts]
    bench = _Bench(cuts, settings, list(zip(_turns(cuts), areas, range(len(cuts)), strict=True)))
    shortest = bench.copy()
    shortest.finish(ahead=True)
    liked = bench.copy()
    liked.finish_as_liked(shortest.moves)
    # Without thinking ahead, and with a setting for each axis: seldom better, but sometimes.
    plain = _Bench(cuts, _settings_by_axis(cuts, kerf), [(0, a, i) for i, a in enumerate(areas)])
    plain.finish(ahead=False)
    orders = (liked.order, shortest.order, plain.order)
    order = min(orders, key=lambda o: moves([settings[i] for i in o]))
    place: dict[int | None, int | None] = {None: None}
    place |= {old: new for new, old in enumerate(order)}
    return SawPlan(tuple(replace(cuts[i], parent=place[cuts[i].parent]) for i in order), plan.rests)


def _turns(cuts: Sequence[SawCut]) -> list[int]:
    """Return how often the cuts that set parts apart turn until each cut: 0 for the rips of the sheet."""
    behind: dict[tuple[int | None, int], tuple[int, int | None]] = {(None, 0): (0, None)}
    found = []
    for index, cut in enumerate(cuts):
        turns, axis = behind[cut.parent, cut.side]
        now = turns + (axis not in (None, cut.axis))
        behind[index, 0] = behind[index, 1] = (turns, axis) if cut.trim else (now, cut.axis)
        found.append(now)
    return found


def _settings_by_axis(cuts: Sequence[SawCut], kerf: int) -> list[Setting]:
    """Return the size of the lower or left piece of each cut, or else of the other, with its axis."""
    found: list[Setting] = []
    for cut in cuts:
        low, high = cut.piece[cut.axis], cut.piece[cut.axis + 2]
        found.append(("xy"[cut.axis], cut.at - low if cut.at > low else high - cut.at - kerf))
    return found


_TRIALS = 8_000
"""So many cuts at most are made in thought for one plan, to see what an order costs."""


class _Bench:
    """A sheet half sawn: which cuts can be made now, and which settings will be wanted again later."""

    def __init__(
        self, cuts: Sequence[SawCut], settings: list[Setting], ranks: list[tuple[int, int, int]]
    ) -> None:
        """Begin with the whole sheet; the least of ``ranks``, which end in the cut's index, is liked best."""
        self.settings, self.ranks = settings, ranks
        self.order: list[int] = []
        self.moves = 0
        self.last: Setting = None
        self.ready: dict[Setting, list[tuple[int, int, int]]] = {}
        self.children: dict[int | None, list[int]] = {}
        # A cut waits for the nearest cut before it that has another setting; ``locked`` counts these.
        self.waiting: dict[int, list[int]] = {}
        self.locked: Counter[Setting] = Counter()
        waits_for: list[int | None] = []
        for index, cut in enumerate(cuts):
            self.children.setdefault(cut.parent, []).append(index)
            other = cut.parent
            if other is not None and settings[other] == settings[index]:
                other = waits_for[other]
            waits_for.append(other)
            if other is not None:
                self.waiting.setdefault(other, []).append(index)
                self.locked[settings[index]] += 1
        self._lay_ready(None)

    def copy(self) -> _Bench:
        """Return a bench on which cuts can be tried."""
        new = copy(self)
        new.order, new.locked = self.order.copy(), self.locked.copy()
        new.ready = {setting: heap.copy() for setting, heap in self.ready.items()}
        return new

    def finish(self, *, ahead: bool) -> None:
        """Make all cuts. ``ahead``: first those whose setting is not wanted again."""
        while self.ready:
            self._make(
                min(self.ready, key=lambda s: (s != self.last, ahead and not self._free(s), self.ready[s][0]))
            )

    def finish_as_liked(self, most: int) -> None:
        """Make all cuts, each time the best by rank after which ``most`` moves still suffice."""
        trials = _TRIALS // max(1, len(self.ranks))
        while self.ready:
            liked = sorted(self.ready, key=lambda s: (s != self.last, self.ready[s][0]))
            for setting in liked:
                if self._free(setting):
                    break
                if trials:
                    trials -= 1
                    trial = self.copy()
                    trial._make(setting)
                    trial.finish(ahead=True)
                    if trial.moves <= most:
                        break
            else:
                setting = liked[0]
            self._make(setting)

    def _free(self, setting: Setting) -> bool:
        """Say whether using a setting now costs no move that could be saved by waiting."""
        return setting is None or setting == self.last or not self.locked[setting]

    def _make(self, setting: Setting) -> None:
        """Make all cuts that can be made with a setting, one after the other."""
        heap = self.ready[setting]
        if setting not in (None, self.last):
            self.moves += 1
            self.last = setting
        while heap:
            index = heapq.heappop(heap)[-1]
            self.order.append(index)
            for later in self.waiting.get(index, ()):
                self.locked[self.settings[later]] -= 1
            self._lay_ready(index)
        del self.ready[setting]

    def _lay_ready(self, parent: int | None) -> None:
        for child in self.children.get(parent, ()):
            heapq.heappush(self.ready.setdefault(self.settings[child], []), self.ranks[child])
