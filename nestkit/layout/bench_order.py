"""The order of saw cuts: each after its piece exists, the saw set seldom, equal cuts together."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Sequence
from copy import copy
from dataclasses import replace

from nestkit.layout.repeats import Alike, together
from nestkit.layout.sawing import SawCut, SawPlan, Setting, moves, settings_of


def in_bench_order(plan: SawPlan, kerf: int) -> SawPlan:
    """Return the same cuts in the order of work, each after the one that its piece comes from.

    The saw is set as seldom as any of the ways tried needs. Among those the one is taken that can be said in
    the fewest sayings; then the sheet is ripped before its strips are cut, a large piece before a small one.
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
    orders = [(moves([settings[i] for i in o]), o) for o in (liked.order, shortest.order, plain.order)]
    least = min(count for count, _ in orders)
    alike = Alike(cuts, kerf)
    order, _ = min((together(o, cuts, alike) for count, o in orders if count == least), key=lambda t: t[1])
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
