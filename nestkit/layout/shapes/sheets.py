"""All pieces on few or cheap plates: first fit, then plates are given up for cheaper ones while all fit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations_with_replacement

import numpy as np

from nestkit.layout.efforts import Effort
from nestkit.layout.rects.engine.twin import Form, can_compile
from nestkit.layout.shapes.compact import Compactor
from nestkit.layout.shapes.construct import Rooms, Set, best_place, by_size
from nestkit.layout.shapes.engine import Model, compiled, model_of, plain
from nestkit.layout.shapes.problem import Laid, LaidPlate, Plate, ShapesLayout, ShapesProblem
from nestkit.layout.shapes.separate import Separator, Spread
from nestkit.layout.shapes.states import moved_by

GRID = 50
"""Steps of the depth fields across the narrowest plate."""
REACH = 2.0
PATIENCE, STRIKES = 60, 2
TRIES = ((0.9, 8), (0.97, 4), (1.0 + 1e-9, 2))
"""How often plates are tried that would be so full at most."""
OUT, IN = 2, 2
"""At most so many plates are given up for at most so many others at once."""


@dataclass(frozen=True, slots=True)
class Filled:
    """Plates, by kind, and on which of them every piece lies where; pieces without a place are None."""

    plates: tuple[int, ...]
    laid: tuple[tuple[int, Set] | None, ...]


def solve(
    problem: ShapesProblem,
    *,
    seed: int,
    effort: Effort,
    stop: Callable[[], bool] = lambda: False,
    on_event: Callable[[ShapesLayout], None] = lambda layout: None,
    form: Form | None = None,
) -> ShapesLayout:
    """Return the best layout found within the effort, the same for the same problem, seed and effort.

    ``stop`` is asked once a round, and True ends the search with the best so far; ``on_event`` is told that
    best. Without the compiler it is the first fit alone.
    """
    form = form or (compiled() if can_compile() else plain())
    search = SheetSearch(problem, seed, form)
    on_event(search.layout())
    if form.name == "compiled":
        search.run(effort.deep or effort.rounds, stop, on_event)
    return search.layout()


class SheetSearch:
    """The search for cheap plates; the best so far never overlaps."""

    def __init__(self, problem: ShapesProblem, seed: int, form: Form) -> None:
        self._problem, self._seed = problem, seed
        narrow = min(min(p.width, p.height) for p in problem.plates)
        self.model: Model = model_of(problem.kinds, problem.gap, narrow / GRID, form)
        self._pieces = [k for k, kind in enumerate(problem.kinds) for _ in range(kind.count)]
        known = self.model.known
        self._area = [known.forms[known.states[s[0]].form].true.area for s in known.of_kind]
        self._rng = np.random.default_rng(seed)
        self.best = self._first()

    def _rooms(self, plate: Plate) -> Rooms:
        return Rooms(self.model.known, self.model.polygons, plate.height, plate.width)

    def _first(self) -> Filled:
        """Lay every piece on the first plate that has room, the largest first."""
        stock = self._problem.plates
        plates: list[int] = []
        rooms: list[Rooms] = []
        laid: list[tuple[int, Set] | None] = [None] * len(self._pieces)
        for index in by_size(self._pieces, self.model.hulls):
            states = self.model.known.of_kind[self._pieces[index]]
            for number in range(len(plates) + len(stock)):
                if number < len(plates):
                    room = rooms[number]
                else:
                    kind = self._cheapest_first()[number - len(plates)]
                    if stock[kind].count is not None and plates.count(kind) >= (stock[kind].count or 0):
                        continue
                    room = self._rooms(stock[kind])
                place = best_place(room, self.model.known, states)
                if place is None:
                    continue
                if number >= len(plates):
                    plates.append(kind)
                    rooms.append(room)
                room.laid.append(place)
                laid[index] = (rooms.index(room), place)
                break
        return Filled(tuple(plates), tuple(laid))

    def _cheapest_first(self) -> list[int]:
        """Return the kinds of plates, those that cost least for their area first."""
        stock = self._problem.plates
        return sorted(
            range(len(stock)), key=lambda k: (stock[k].cost / Fraction(stock[k].width * stock[k].height), k)
        )

    def run(self, rounds: int, stop: Callable[[], bool], on_event: Callable[[ShapesLayout], None]) -> None:
        """Try cheaper plates until none is left to try, the rounds are over, or told to stop."""
        tried: Counter[tuple[int, ...]] = Counter()
        for _ in range(rounds):
            offers = [o for o in self._offers() if tried[o] < self._most_tries(o)]
            if stop() or not offers:
                return
            # The roomiest is tried first, those that failed before later.
            offer = min(offers, key=lambda o: (tried[o], -self._room(o), o))
            tried[offer] += 1
            found = self._filled(offer, stop)
            if found is not None:
                self.best = found
                tried.clear()
                on_event(self.layout())

    def _room(self, plates: Sequence[int]) -> float:
        return sum(self._problem.plates[k].width * self._problem.plates[k].height for k in plates)

    def _most_tries(self, plates: Sequence[int]) -> int:
        """Return how often a list of plates is tried, by how full it would be."""
        full = sum(self._area[k] for k in self._pieces) / max(self._room(plates), 1e-9)
        return next((tries for most, tries in TRIES if full <= most), 0)

    def _worth(self, plates: Sequence[int]) -> tuple[Fraction, int]:
        return sum((self._problem.plates[k].cost for k in plates), Fraction(0)), len(plates)

    def _offers(self) -> list[tuple[int, ...]]:
        """Return lists of plates that are better than the best, near it, and have area enough."""
        stock, now = self._problem.plates, self.best.plates
        missing = any(at is None for at in self.best.laid)
        found: set[tuple[int, ...]] = set()
        outs = {o for n in range(OUT + 1) for o in combinations_with_replacement(sorted(set(now)), n)}
        ins = [i for n in range(IN + 1) for i in combinations_with_replacement(range(len(stock)), n)]
        for out in outs:
            rest = Counter(now)
            rest.subtract(out)
            if min(rest.values(), default=0) < 0:
                continue
            for into in ins:
                new = tuple(sorted((rest + Counter(into)).elements()))
                count = Counter(new)
                if any(p.count is not None and count[k] > p.count for k, p in enumerate(stock)):
                    continue
                if missing or self._worth(new) < self._worth(now):
                    found.add(new)
        return sorted(found)

    def _filled(self, plates: tuple[int, ...], stop: Callable[[], bool]) -> Filled | None:
        """Return all pieces on a list of plates; None where they were not parted."""
        stock = self._problem.plates
        wide, high = ([getattr(stock[k], side) for k in plates] for side in ("width", "height"))
        sep = Separator(self.model, self._pieces, wide, high, int(self._rng.integers(1 << 30)))
        sep.take(self._begun(plates))
        sep.settle()
        compactor = Compactor(self.model, sep.live)
        if not sep.attempt(patience=PATIENCE, strikes=STRIKES, stop=stop):
            sep.take(sep.least())
        if not compactor.part(reach=REACH * self.model.tables.step):
            return None
        v = sep.live
        rows = zip(v.plate, v.state, v.x, v.y, strict=True)
        laid = [(int(p), (int(s), float(x), float(y))) for p, s, x, y in rows]
        # A plate on which nothing came to lie is not used.
        used = sorted({p for p, _ in laid})
        at = {p: k for k, p in enumerate(used)}
        return Filled(tuple(plates[p] for p in used), tuple((at[p], place) for p, place in laid))

    def _begun(self, plates: tuple[int, ...]) -> Spread:
        """Return pieces where they lay on plates that stay, the others anywhere that holds them."""
        waiting = {k: [n for n, p in enumerate(plates) if p == k] for k in set(plates)}
        fill = Counter(at[0] for at in self.best.laid if at is not None)
        stays: dict[int, int] = {}
        for number, k in sorted(enumerate(self.best.plates), key=lambda e: (-fill[e[0]], e[0])):
            if waiting.get(k):
                stays[number] = waiting[k].pop(0)
        rows = []
        for kind, at in zip(self._pieces, self.best.laid, strict=True):
            if at is not None and at[0] in stays:
                rows.append((at[1][1], at[1][2], at[1][0], stays[at[0]]))
            else:
                rows.append(self._anywhere(kind, plates))
        x, y, state, plate = zip(*rows, strict=True)
        return Spread(np.array(x), np.array(y), np.array(state, np.int64), np.array(plate, np.int64), 0.0)

    def _anywhere(self, kind: int, plates: tuple[int, ...]) -> tuple[float, float, int, int]:
        """Return a random place for a piece, on a plate that holds it where there is one."""
        stock, box = self._problem.plates, self.model.tables.box
        fits = [
            (s, n)
            for s in self.model.known.of_kind[kind]
            for n, p in enumerate(plates)
            if box[s, 2] - box[s, 0] <= stock[p].width and box[s, 3] - box[s, 1] <= stock[p].height
        ] or [(self.model.known.of_kind[kind][0], 0)]
        s, n = fits[int(self._rng.integers(len(fits)))]
        room = np.array([stock[plates[n]].width, stock[plates[n]].height]) - (box[s, 2:] - box[s, :2])
        x, y = self._rng.random(2) * np.maximum(room, 0.0) - box[s, :2]
        return float(x), float(y), s, n

    def layout(self) -> ShapesLayout:
        """Return the best layout, by the shapes' own origins."""
        rows: list[list[Laid]] = [[] for _ in self.best.plates]
        left = [0] * len(self._problem.kinds)
        for kind, at in zip(self._pieces, self.best.laid, strict=True):
            if at is None:
                left[kind] += 1
                continue
            number, (s, x, y) = at
            state = self.model.known.states[s]
            dx, dy = moved_by(self.model.known.forms[state.form].middle, state)
            rows[number].append(Laid(kind, x + dx, y + dy, state.turn_deg, state.mirrored))
        plates = tuple(LaidPlate(k, tuple(r)) for k, r in zip(self.best.plates, rows, strict=True))
        return ShapesLayout(plates, tuple(left))
