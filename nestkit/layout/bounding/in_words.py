"""Why no layout can do with less, in words that can be checked with the list of parts in hand.

The bound is known when its reason is sought, and no reason changes it. Beside the demands that made it there
are those of :mod:`nestkit.layout.bounding.counts`, which say little that measures of area do not say, but
plainly. The first demand that alone gives the bound is the reason, else the first two that give it together.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, product

from nestkit.layout.bounding.counts import Counts
from nestkit.layout.bounding.covering import Demand, cheapest
from nestkit.layout.bounding.view import View

NODES = 60
"""States looked at to see what one demand, or two, give."""
PAIRED = 5
"""Of so many demands, those that alone give most, each is tried with each other; of two with all the rest."""
ONE_WHY = "parts take at least one sheet"
SEVERAL_WHY = "no {} have room enough for the parts"
AREA_WHY, BARE_AREA_WHY = (
    "all parts together, with the gaps between them, fill {0}",
    "all parts together fill {0}",
)
CLIQUE_WHY = "{} parts are so large that no two of them fit on one sheet"
SHARES_WHY = (
    "each part can be given a share of a sheet so that no parts that fit on one together have more than one"
    " sheet; all shares together are more than {1} sheets"
)
TRIED_WHY = "it was tried which parts fit together on one sheet"
"""Where sheets differ, the shares are of prices, which cannot be checked at the bench."""
BLOCK_WHY = "large parts block more room than they fill: counted so, they take {0}"


class InWords:
    """The reasons for bounds; ``demands`` are those of ``demands_of`` that made them, and any after these."""

    def __init__(self, view: View, demands: list[Demand]) -> None:
        self.view, self.demands = view, demands
        self._counts = Counts(view)
        self._one_size = len(set(view.rooms)) == 1

    def reason(self, costs: list[Fraction], value: Fraction, *, money: bool) -> str:
        """Return why sheets of these costs cost ``value`` at least; without ``money`` it is their number."""
        if value == min(costs):
            return f"{ONE_WHY}, and none costs less" if money and not self._one_size else ONE_WHY
        counts = list(self.view.counts)
        alone: list[tuple[Fraction, int, Demand]] = []
        for number, demand in enumerate(self._plainest_first()):
            given = _given(demand, costs, counts)
            if given == value:
                return self._said(demand) + self._tail(demand, value, money=money)
            if given is not None:
                alone.append((-given, number, demand))
        fewer = "cheaper sheets" if money else "fewer sheets"
        alone.sort()
        pairs = [*combinations(alone[:PAIRED], 2), *product(alone[:2], alone[PAIRED:])]
        for pair in pairs:
            if cheapest([d for _, _, d in pair], costs, counts, NODES) == value:
                said = [self._said(d) for _, d in sorted((number, d) for _, number, d in pair)]
                return f"{'; '.join(said)}; no {fewer} have room for both"
        return SEVERAL_WHY.format(fewer)

    def _plainest_first(self) -> Iterator[Demand]:
        """Yield all demands; those that are seldom reached are made when they are."""
        measured = next((i for i, d in enumerate(self.demands) if d.why == BLOCK_WHY), len(self.demands))
        yield from self.demands[:1]
        yield from self._counts.alone
        yield from self.demands[1:measured]
        yield from self._counts.few
        yield from self.demands[measured:]

    def _said(self, demand: Demand) -> str:
        if demand.why == SHARES_WHY and not self._one_size:
            return TRIED_WHY
        return demand.why.format(amount(self.view, demand), demand.exceeded())

    def _tail(self, demand: Demand, value: Fraction, *, money: bool) -> str:
        """Return what must be known of the sheets beside the demand."""
        if self._one_size:
            return ""
        if money:
            return ", and no cheaper sheets have room for them"
        return "" if value == demand.exceeded() + 1 else ", and no fewer sheets have room for them"


def _given(demand: Demand, costs: list[Fraction], counts: list[int | None]) -> Fraction | None:
    """Return what a demand alone makes sheets cost, or somewhat less; None if there are too few sheets."""
    most = max(demand.gives, default=0)
    if most and len(set(demand.gives)) == len(set(costs)) == 1 and None in counts:
        return -(-demand.need // most) * costs[0]
    return cheapest([demand], costs, counts, NODES)


def amount(view: View, demand: Demand) -> str:
    """Return how many of the sheets are needed: ``2.57 sheets``, ``2.57 of the largest sheets``."""
    text = f"{demand.ratio():.2f}"
    if Fraction(text) <= demand.exceeded():
        # That 3.00 sheets are filled would be no reason for a fourth.
        text = f"a little more than {demand.exceeded()}"
    giving = [s for s, g in enumerate(demand.gives) if g]
    if len({demand.gives[s] for s in giving}) == 1:
        return f"{text} sheets" if len(giving) == len(demand.gives) else f"{text} of them"
    best = max(giving, key=lambda s: (demand.gives[s], view.full[s]))
    largest = max(view.full[s] for s in giving)
    return f"{text} of the {'largest' if view.full[best] == largest else 'dearest'} sheets"
