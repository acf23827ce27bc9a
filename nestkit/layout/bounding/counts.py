"""Plain demands: parts of which only so many fit on a sheet, and parts that fit on few of the sheets.

Sizes of a view are grown by the gap. So a part of 24 with a gap of 1/8 is over half a sheet of 48, which is
said as it is: with the gap beside it.
"""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

from nestkit.layout.bounding.covering import Demand
from nestkit.layout.bounding.view import View, Way

SHARES = {
    1: ("half a sheet", "half of any sheet"),
    2: ("a third of a sheet", "a third of any sheet"),
    3: ("a quarter of a sheet", "a quarter of any sheet"),
}
"""What a part is over if so many of it fit beside each other: of one size of sheets, of several."""
BESIDE = ((1, 2), (2, 1), (2, 2), (1, 3), (3, 1))
"""How many parts fit across, and up, at most: the counts that are tried."""
MOST_NAMES = 3


class Fit(NamedTuple):
    """A box that a part surely fills on a stock, the stock's room, and how many fit across and up at most."""

    box: Way
    room: Way
    most: tuple[int, int]


class Counts:
    """The plain demands of a view, made when they are asked for."""

    def __init__(self, view: View) -> None:
        self.view = view
        several = len(set(view.rooms)) > 1
        self._shares = {most: words[several] for most, words in SHARES.items()}

    @cached_property
    def alone(self) -> list[Demand]:
        """Parts that are larger than half a sheet both ways."""
        return self._at_most(1, 1)

    @cached_property
    def few(self) -> list[Demand]:
        """Parts of which a few fit on a sheet, and parts that lie in one row or one column."""
        found = [*self._in_line(0), *self._in_line(1)]
        for across, up in BESIDE:
            found += self._at_most(across, up)
        return found

    @cached_property
    def _fits(self) -> list[list[list[Fit]]]:
        """What each part surely fills in each way that it may lie, on any stock."""
        found = []
        for ways in self.view.ways:
            rows: dict[tuple[Way, tuple[Way, ...]], None] = {}
            for room, turns in zip(self.view.rooms, ways, strict=True):
                rows.update(dict.fromkeys((room, inner) for inner in turns))
            found.append(
                [
                    [Fit(box, room, (room[0] // max(1, box[0]), room[1] // max(1, box[1]))) for box in inner]
                    for room, inner in rows
                ]
            )
        return found

    def _at_most(self, across: int, up: int) -> list[Demand]:
        """Return the demand of parts of which no more fit across and up; none if there are no such parts."""
        chosen, reach = [], []
        for b, ways in enumerate(self._fits):
            cores = [
                next((f for f in inner if f.most[0] <= across and f.most[1] <= up), None) for inner in ways
            ]
            sure = [f for f in cores if f is not None]
            if ways and len(sure) == len(ways):
                chosen.append(b)
                reach += sure
        net = all(self._is_over(f, 0, across) and self._is_over(f, 1, up) for f in reach)
        if across == up:
            than = f"wider and higher than {self._shares[across]}"
        else:
            than = f"wider than {self._shares[across]} and higher than {self._shares[up]}"
        fit = f"at most {across * up} of them fit on one" if across * up > 1 else "no two of them fit on one"
        return self._demand(chosen, [across * up] * len(self.view.rooms), net, than, fit)

    def _in_line(self, axis: int) -> list[Demand]:
        """Return the demand of parts longer than half a sheet along an axis, by their other side."""
        chosen, reach, need = [], [], 0
        for b, ways in enumerate(self._fits):
            cores = [max((f for f in inner if f.most[axis] < 2), key=lambda f: f.box[1 - axis], default=None)
                     for inner in ways]  # fmt: skip
            sure = [f for f in cores if f is not None]
            if ways and len(sure) == len(ways):
                chosen.append(b)
                reach += sure
                need += min(f.box[1 - axis] for f in sure) * self.view.quantity[b]
        net = all(self._is_over(f, axis, 1) for f in reach)
        than = f"{('wider', 'higher')[axis]} than {self._shares[1]}"
        beside, line = (("side by side", "column"), ("one above the other", "row"))[axis]
        fit = f"no two of them fit {beside}, and in one {line} they take {{0}}"
        return self._demand(chosen, [room[1 - axis] for room in self.view.rooms], net, than, fit, need)

    def _demand(
        self, chosen: list[int], room: list[int], net: bool, than: str, fit: str, need: int | None = None
    ) -> list[Demand]:
        """Return a demand of some parts, by number if no need is given; none if there are no such parts."""
        view = self.view
        number = sum(view.quantity[b] for b in chosen)
        if number < 2:
            return []
        gives = tuple(g if any(view.ways[b][s] for b in chosen) else 0 for s, g in enumerate(room))
        turn = (
            " however they lie"
            if any(len(view.ways[b][s]) > 1 for b in chosen for s in range(len(room)))
            else ""
        )
        gap = "" if net else " with the gap beside them"
        why = f"{number} parts{gap} are {than}{turn}: {fit}"
        return [Demand(number if need is None else need, gives, why)]

    def _is_over(self, fit: Fit, axis: int, most: int) -> bool:
        """Say whether a part is surely over a share of the sheet without the gap."""
        # The room of a view is whole steps: the true one is less than a step longer.
        room = fit.room[axis] + self.view.step - self.view.gap
        return (most + 1) * (fit.box[axis] - self.view.gap) >= room


def fit_only(view: View, number: int, only: tuple[int, ...]) -> str:
    """Return that so many parts fit on no sheets but these, of which they fill {0}."""
    names = list(dict.fromkeys(view.names[s] for s in only)) if view.names else [""]
    sizes, every = {view.rooms[s] for s in only}, len(set(view.rooms))
    if all(names) and len(names) <= MOST_NAMES:
        quoted = [f'"{name}"' for name in names]
        where = " or ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)
    elif len(sizes) == 1 and view.full[only[0]] == max(view.full):
        where = "the largest sheets"
    else:
        where = f"{len(sizes)} of the {every} sizes of sheets" if len(sizes) < every else "some of the sheets"
    verb, fill = ("parts fit", "fill") if number > 1 else ("part fits", "fills")
    where = where.replace("{", "{{").replace("}", "}}")
    return f"{number} {verb} only on {where} and {fill} {{0}}"
