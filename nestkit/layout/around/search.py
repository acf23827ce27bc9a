"""The search around what is held and kept clear: sheets filled again and again in shaken orders."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from random import Random

from nestkit.layout.around.assemble import readied
from nestkit.layout.around.kept import Fixed
from nestkit.layout.around.plate import Plate, fill
from nestkit.layout.around.scene import Rack, Scene
from nestkit.layout.rects.room import RULES
from nestkit.layout.result import PlacedPart
from nestkit.layout.stop import Score

FEW = 6
"""Sheets that a next one is chosen from, where more are offered."""
ASKED = 4
"""So many parts on a sheet make the question for its cuts take as long again as finding a place."""


@dataclass(frozen=True, slots=True)
class Attempt:
    """Sheets as they were filled, and the boxes without a place."""

    plates: tuple[Plate, ...]
    left: tuple[int, ...]

    def score(self, scene: Scene) -> Score:
        """Return what it is worth: parts left over, cost, sheets; less is better."""
        stocks = scene.built.problem.stocks
        cost = sum((stocks[p.stock].cost for p in self.plates), Fraction(0))
        return len(self.left), cost, len(self.plates)

    def rank(self, scene: Scene) -> tuple[Score, int]:
        """Return what decides between attempts: of equal ones that whose parts are gathered most."""
        return self.score(scene), -sum(p.covered**2 for p in self.plates)


def searched(
    scene: Scene,
    starts: Sequence[Fixed],
    *,
    seed: int,
    rounds: int,
    work: int,
    met: Callable[[Score], bool],
    stop: Callable[[], bool],
) -> Attempt:
    """Return the best attempt of some rounds; one round from each of the starts is always done.

    The first half of the rounds begin at the starts; in the others a few sheets of the best attempt are laid
    anew. ``work`` limits the parts that are set down in all rounds together. ``met`` says whether no layout
    can be better, ``stop`` whether the user ended the search.
    """
    rng = Random(seed)
    begun = [(_plates(scene, start), _boxes(scene, start)) for start in starts]
    best: Attempt | None = None
    spent = 0
    for number in range(max(len(begun), rounds)):
        enough = spent >= work or (best is not None and met(best.score(scene)))
        if best is not None and number >= len(begun) and (enough or stop()):
            break
        early = (2 * number < rounds and 2 * spent < work) or number < len(begun)
        # Without a sheet there is nothing to lay anew: no part found room so far.
        if best is None or not best.plates or early:
            plates, boxes = begun[number % len(begun)]
        else:
            start = _with_some_lifted(scene, best, rng)
            plates, boxes = _plates(scene, start), _boxes(scene, start)
        noise = 0.0 if number < 2 * len(begun) else 0.6 * rng.random()
        order = _ordered(scene, boxes, rng, noise)
        found = _round(scene, [p.copy() for p in plates], order, rng.randrange(len(RULES)), rng)
        spent += _work(scene, found)
        if best is None or found.rank(scene) <= best.rank(scene):
            best = found
    if best is None:
        raise ValueError("a search needs a start")
    return best


def _work(scene: Scene, attempt: Attempt) -> int:
    """Return what a round took, in parts set down; under a saw cuts are asked for among all others."""
    sizes = [len(p.laid) for p in attempt.plates]
    if not scene.built.problem.edge_to_edge:
        return 1 + sum(sizes)
    return 1 + sum(
        n + n * (n + 2 * len(p.fixed)) // ASKED for n, p in zip(sizes, attempt.plates, strict=True)
    )


def _with_some_lifted(scene: Scene, attempt: Attempt, rng: Random) -> Fixed:
    """Return what lies on sheets, with all that is not held taken off one to three of them.

    Of these the emptiest comes last, so that it is left out where the others take what lay there.
    """
    ready = readied(scene, attempt.plates)
    count = min(len(ready), rng.choice([1, 2, 2, 3]))
    lifted = set(rng.sample(range(len(ready)), count))
    emptiest = min(range(len(ready)), key=lambda i: (attempt.plates[i].covered, i))
    if rng.random() < 0.5:
        lifted.add(emptiest)
    order = sorted(range(len(ready)), key=lambda i: (i == emptiest, i))
    found: Fixed = {}
    for i in order:
        parts = [p for p in ready[i].parts if p.held or i not in lifted]
        name = scene.built.supplies[ready[i].stock].sheet.name
        if parts or i != emptiest:
            found[name, ready[i].number] = parts
    return found


def _plates(scene: Scene, start: Fixed) -> list[Plate]:
    return [Plate(scene, scene.stock_of(*number), number[1], parts) for number, parts in start.items()]


def _boxes(scene: Scene, start: Fixed) -> list[int]:
    """Return the boxes that are still to be laid, one number for each copy."""
    fixed: list[PlacedPart] = [p for parts in start.values() for p in parts]
    needed, _ = scene.copies_left(fixed)
    return [b for b, copies in enumerate(needed) for _ in copies]


def _ordered(scene: Scene, boxes: Sequence[int], rng: Random, noise: float) -> list[int]:
    """Return boxes with the largest first by one measure, shaken by up to ``noise`` of their size."""
    kinds = scene.built.problem.boxes
    which = rng.randrange(4)
    measure = [
        (b.width * b.height, max(b.width, b.height), b.width + b.height, min(b.width, b.height))[which]
        for b in kinds
    ]
    shaken = [(-measure[b] * (1 + noise * (2 * rng.random() - 1)), b) for b in boxes]
    return [b for _, b in sorted(shaken)]


def _round(scene: Scene, plates: list[Plate], boxes: list[int], rule: int, rng: Random) -> Attempt:
    """Lay boxes on the sheets that are there, then on one after the other of those on the rack."""
    rack = Rack(scene)
    for plate in plates:
        name = scene.built.supplies[plate.stock].sheet.name
        if plate.number not in scene.held_numbers(name):
            rack.take_number(plate.stock, plate.number)
    rest = fill(plates, boxes, rule, spread=rng.random() < 0.5)
    while rest:
        trials, passed = [], False
        for stock, number in _likely(scene, rack.offers()):
            plate = Plate(scene, stock, number, ())
            out = fill([plate], rest, rule, spread=False)
            if plate.laid:
                trials.append((_price(scene, plate, last=not out), plate, out))
            elif number in scene.special[scene.built.supplies[stock].sheet.name]:
                # What is kept clear leaves no room: it is passed over.
                rack.take(stock, number)
                passed = True
        if not trials and passed:
            continue
        if not trials:
            break
        _, plate, rest = min(trials, key=lambda t: (t[0], t[1].stock, t[1].number))
        rack.take(plate.stock, plate.number)
        plates.append(plate)
    return Attempt(tuple(p for p in plates if p.used), tuple(rest))


def _likely(scene: Scene, offers: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return the sheets that a next one is chosen from: all where they are few, else the cheapest."""
    if len(offers) <= FEW:
        return offers
    stocks = scene.built.problem.stocks
    areas = [s.width * s.height for s in stocks]
    by_price = sorted(offers, key=lambda o: (stocks[o[0]].cost / areas[o[0]], o))
    large = max(offers, key=lambda o: areas[o[0]])
    chosen = by_price[: FEW - 1]
    return chosen if large in chosen else [*chosen, large]


def _price(scene: Scene, plate: Plate, *, last: bool) -> tuple[float, ...]:
    """Return what decides between sheets for a next one: the least cost for the area laid.

    One that takes all that is left comes first, the cheapest of them.
    """
    problem = scene.built.problem
    stock = problem.stocks[plate.stock]
    area = sum(problem.boxes[b].width * problem.boxes[b].height for b, _ in plate.laid)
    waste = stock.width * stock.height / area
    return (0, float(stock.cost), waste) if last else (1, float(stock.cost) / area, waste)
