"""The search for cheap plates: plates are given up for cheaper ones while all pieces can be parted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import combinations_with_replacement

import numpy as np

from nestkit.layout.shapes.begin import began, first_fit
from nestkit.layout.shapes.compact import Compactor
from nestkit.layout.shapes.construct import Set
from nestkit.layout.shapes.disturb import Disturber
from nestkit.layout.shapes.engine import Model, compiled, model_of
from nestkit.layout.shapes.filled import Filled, layout_of, places_of, taken_up
from nestkit.layout.shapes.finish import Finish
from nestkit.layout.shapes.pool import Pool
from nestkit.layout.shapes.problem import Least, ShapesLayout, ShapesProblem, Worth, pieces_of, worth_of
from nestkit.layout.shapes.separate import Separator
from nestkit.layout.shapes.standing import Standing, all_kinds, may_be

GRID, A_PIECE, FINEST = 50, 6, 200
"""Steps of the depth fields across the narrowest plate, or across a piece where those are small; the most."""
REACH = 2.0
"""How far programs may move a piece at a time, in steps."""
PATIENCE, STRIKES = 60, 3
SHARES = ((0.8, 0.4), (0.88, 0.25), (1.0 + 1e-9, 0.1))
"""Which share of the work is spent on plates that would be so full at most, gaps counted."""
MORE = 0.1
"""Which share is spent on one more piece where not all have a place, until it has one or is given up."""
OUT, IN = 2, 2
"""At most so many plates are given up for at most so many others at once."""

NOTHING_KNOWN = Least()


@lru_cache(maxsize=1)
def model_for(problem: ShapesProblem) -> Model:
    """Return what is the same for all searches on a problem, made ready once."""
    narrow = min(min(p.width, p.height) for p in problem.plates)
    rings = [np.asarray(k.shape.outer) for k in problem.kinds]
    size = float(np.mean([np.ptp(ring, axis=0).max() for ring in rings]))
    step = max(min(narrow / GRID, size / A_PIECE), narrow / FINEST)
    return model_of(all_kinds(problem), problem.gap, step, compiled())


class SheetSearch:
    """The search for cheap plates; the best so far never overlaps."""

    def __init__(
        self,
        problem: ShapesProblem,
        seed: int,
        start: ShapesLayout | None = None,
        least: Least = NOTHING_KNOWN,
    ) -> None:
        self._problem, self._least = problem, least
        self.model = model_for(problem)
        self._standing = Standing(self.model.known, problem)
        self._pieces = pieces_of(problem.kinds)
        self._area = sum(self.model.known.form_of(k).grown.area for k in self._pieces)
        self._holds = [self._plates_for(k) for k in range(len(problem.kinds))]
        self._rng = np.random.default_rng(seed)
        self._pools: dict[tuple[int, ...], Pool] = {}
        self._pool_for_more, self._spent_on_more = Pool(self._rng), 0
        self.done = 0
        """Work done so far."""
        self.best = self._first(start)

    def _first(self, start: ShapesLayout | None) -> Filled:
        """Return the layout to begin with: the one given, or the first fit where that lacks pieces."""
        given = None if start is None else taken_up(self.model.known, self._problem, start)
        if given is not None and not given.missing:
            return given
        fit = first_fit(self.model.known, self.model.polygons, self._problem, self._pieces)
        return fit if given is None else min((given, fit), key=self._worth_of)

    def take(self, layout: ShapesLayout) -> None:
        """Make a layout the best, if it is better than the best so far."""
        if worth_of(self._problem, layout) < self._worth_of(self.best):
            self.best = taken_up(self.model.known, self._problem, layout)

    def run(self, work: int, stop: Callable[[], bool], on_event: Callable[[ShapesLayout], None]) -> None:
        """Try cheaper plates until none is left to try, the work is done, or told to stop."""
        tried: Counter[tuple[int, ...]] = Counter()
        spent: Counter[tuple[int, ...]] = Counter()
        rounds = 1
        while self.done < work and not stop():
            if self.best.missing and self._one_more(work, stop):
                on_event(self.layout())
                continue
            shares = {o: share for o in self._offers() if (share := self._share(o))}
            if not shares:
                return
            # What lists of plates leave over is shared by those that are not settled in the same way.
            offers = [o for o, share in shares.items() if spent[o] < work * share * rounds]
            if not offers:
                rounds += 1
                continue
            # The roomiest is tried first, those that failed before later.
            offer = min(offers, key=lambda o: (tried[o], -self._room(o), o))
            tried[offer] += 1
            before = self.done
            found = self._filled(offer, work, stop)
            spent[offer] += max(self.done - before, 1)
            if found is not None:
                self.best = found
                tried.clear()
            on_event(self.layout())

    def _plates_for(self, kind: int) -> frozenset[int]:
        """Return the kinds of plates that a piece has room on in some state."""
        box = self.model.tables.box[list(self.model.known.of_kind[kind])]
        size = box[:, 2:] - box[:, :2]
        room = [np.array([p.width, p.height]) for p in self._problem.plates]
        return frozenset(n for n, r in enumerate(room) if np.any(np.all(size <= r, axis=1)))

    def _room(self, plates: Sequence[int]) -> float:
        stock, gap, taken = self._problem.plates, self._problem.gap, self._standing.taken
        return sum((stock[k].width + gap) * (stock[k].height + gap) - taken[k] for k in plates)

    def _share(self, plates: Sequence[int]) -> float:
        """Return the share of the work that a list of plates is worth, by how full it would be."""
        # What is fixed may take all of a plate.
        full = self._area / max(self._room(plates), 1e-9)
        return next((share for most, share in SHARES if full <= most), 0.0)

    def _worth(self, plates: Sequence[int]) -> tuple[Fraction, int]:
        return sum((self._problem.plates[k].cost for k in plates), Fraction(0)), len(plates)

    def _worth_of(self, filled: Filled) -> Worth:
        return filled.missing, *self._worth(filled.plates)

    def _offers(self) -> list[tuple[int, ...]]:
        """Return lists of plates that are better than the best, near it, and not proved too few."""
        stock, now = self._problem.plates, self.best.plates
        found: set[tuple[int, ...]] = set()
        free = [k for k in range(len(stock)) if k not in self._standing.must]
        some = sorted(set(now) & set(free))
        outs = {o for n in range(OUT + 1) for o in combinations_with_replacement(some, n)}
        ins = [i for n in range(IN + 1) for i in combinations_with_replacement(free, n)]
        for out in outs:
            rest = Counter(now)
            rest.subtract(out)
            if min(rest.values(), default=0) < 0:
                continue
            for into in ins:
                new = tuple(sorted((rest + Counter(into)).elements()))
                if not may_be(stock, new):
                    continue
                cost, number = self._worth(new)
                enough = cost >= self._least.cost and number >= self._least.plates
                if enough and (0, cost, number) < self._worth_of(self.best) and self._hold_all(new):
                    found.add(new)
        return sorted(found)

    def _hold_all(self, plates: tuple[int, ...]) -> bool:
        """Say whether every piece has room on some plate."""
        return all(self._holds[k] & set(plates) for k in set(self._pieces))

    def _filled(self, plates: tuple[int, ...], work: int, stop: Callable[[], bool]) -> Filled | None:
        """Return all pieces on a list of plates; None where they were not parted."""
        pool = self._pools.setdefault(plates, Pool(self._rng))
        found = self._parted(self._pieces, self.best, plates, pool, work, stop)
        if found is None:
            return None
        filled = Filled(plates, tuple(found)).without_empty(self._problem.plates)
        return filled if may_be(self._problem.plates, filled.plates) else None

    def _parted(
        self,
        pieces: Sequence[int],
        begin: Filled,
        plates: tuple[int, ...],
        pool: Pool,
        work: int,
        stop: Callable[[], bool],
    ) -> list[tuple[int, Set]] | None:
        """Return where pieces (their kinds) lie on plates; None where one attempt did not part them."""
        stock = self._problem.plates
        wide, high = ([getattr(stock[k], side) for k in plates] for side in ("width", "height"))
        seed, pinned = int(self._rng.integers(1 << 30)), self._standing.pinned(plates)
        sep = Separator(self.model, list(pieces), wide, high, seed, pinned)
        if pool:
            sep.take(pool.pick())
            pool.disturb(Disturber(self.model, sep.moving, self._rng), rolls=False)
        else:
            began(self.model, sep, begin, plates)
        sep.settle()
        parted = sep.attempt(
            patience=PATIENCE, strikes=STRIKES, stop=lambda: stop() or self.done + sep.work >= work
        )
        self.done += sep.work
        if not parted:
            pool.add(sep.least())
            sep.take(sep.least())
        if not Compactor(self.model, sep.live).part(reach=REACH * self.model.tables.step):
            return None
        return places_of(sep.spread())

    def _one_more(self, work: int, stop: Callable[[], bool]) -> bool:
        """Try to lay one more of the pieces without a place on the plates there are; False: given up.

        The smallest is tried: no list of plates was found that holds them all.
        """
        if not self.best.plates or self._spent_on_more >= work * MORE:
            return False
        waiting = [k for k, at in enumerate(self.best.laid) if at is None]
        hulls = self.model.known.hulls
        more = min(waiting, key=lambda k: (hulls[self._pieces[k]], k))
        own = [k for k, at in enumerate(self.best.laid) if at is not None or k == more]
        some = Filled(self.best.plates, tuple(self.best.laid[k] for k in own))
        pieces = [self._pieces[k] for k in own]
        before = self.done
        found = self._parted(pieces, some, self.best.plates, self._pool_for_more, work, stop)
        if found is None:
            self._spent_on_more += max(self.done - before, 1)
            return True
        self.best = self.best.moved(own, found)
        self._pool_for_more.clear()
        self._spent_on_more = 0
        return True

    def finished(self, seed: int, work: int, stop: Callable[[], bool]) -> ShapesLayout:
        """Return the best layout with the rest of its emptiest plate in one piece, and extras laid."""
        finish = Finish(self.model, self._problem, self._pieces, seed)
        if not stop():
            self.best = finish.gathered(self.best, work, stop)
        pieces, filled = finish.with_extras(self.best)
        return layout_of(self.model.known, pieces, self._problem, filled)

    def layout(self) -> ShapesLayout:
        """Return the best layout."""
        return layout_of(self.model.known, self._pieces, self._problem, self.best)
