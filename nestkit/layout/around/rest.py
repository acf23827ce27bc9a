"""The sheets of which nothing of their own is asked, laid by the engines that know nothing of marks."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

from nestkit.layout.around.plate import Plate
from nestkit.layout.around.scene import Rack, Scene
from nestkit.layout.around.search import Attempt
from nestkit.layout.efforts import Effort
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.solve import solve


def is_plain(scene: Scene, stock: int, number: int) -> bool:
    """Say whether nothing is asked of a sheet that is not asked of a new one without marks."""
    sheet = scene.built.supplies[stock].sheet
    return number not in scene.special[sheet.name] and not sheet.clear_on(number)


def plain_count(
    scene: Scene, stock: int, taken: Sequence[tuple[int, int]], others: Sequence[tuple[int, int]]
) -> int | None:
    """Return how many plain sheets there are of a stock beside ``others``, None: as many as wanted.

    ``taken`` are the sheets (stock and number) that lie there now, others among them. Where one with a region
    would come next, there are no more than now.
    """
    supply = scene.built.supplies[stock]
    sheet = supply.sheet
    if sheet.clear_on(0):
        return 0
    special = scene.special[sheet.name]
    gone = sum(s == stock and n not in special for s, n in others)
    if supply.on_hand:
        return sheet.on_hand - sum(n <= sheet.on_hand for n in special) - gone
    numbers = {n for s, n in taken if s == stock}
    waiting = [n for n in special - numbers if n > sheet.on_hand]
    return len(numbers - special) - gone if waiting else None


def numbers_for(scene: Scene, taken: Sequence[tuple[int, int]], stocks: Sequence[int]) -> list[int]:
    """Return plain numbers for sheets of some stocks, beside those that are taken."""
    rack, found = Rack(scene), []
    used = set(taken)
    for stock in stocks:
        special = scene.special[scene.built.supplies[stock].sheet.name]
        while True:
            number = next(n for s, n in rack.offers() if s == stock and n not in rack.clear_ones[stock])
            rack.take(stock, number)
            if (stock, number) not in used and number not in special:
                found.append(number)
                break
    return found


def rest_solved(
    scene: Scene, attempt: Attempt, *, seed: int, effort: Effort, stop: Callable[[], bool]
) -> Attempt:
    """Return an attempt whose plain sheets are laid anew, where that is no worse."""
    plain = [p for p in attempt.plates if not p.fixed and is_plain(scene, p.stock, p.number)]
    others = [p for p in attempt.plates if p not in plain]
    counts = Counter(b for p in plain for b, _ in p.laid) + Counter(attempt.left)
    taken, beside = ([(p.stock, p.number) for p in plates] for plates in (attempt.plates, others))
    there = {s: plain_count(scene, s, taken, beside) for s in range(len(scene.built.supplies))}
    stocks = [s for s, number in there.items() if number != 0]
    boxes = sorted(counts)
    if not stocks or not boxes:
        return attempt
    problem = scene.built.problem
    part = replace(
        problem,
        boxes=tuple(
            replace(
                problem.boxes[b],
                quantity=counts[b],
                turns=tuple(problem.boxes[b].turns[s] for s in stocks),
            )
            for b in boxes
        ),
        stocks=tuple(replace(problem.stocks[s], count=there[s]) for s in stocks),
        extra=(),
    )
    solved = solve(part, seed=seed, effort=effort, stop=stop)
    found = _joined(scene, others, part, solved.layout, stocks, boxes)
    return found if found.score(scene) <= attempt.score(scene) else attempt


def _joined(
    scene: Scene,
    others: Sequence[Plate],
    problem: Problem,
    layout: Layout,
    stocks: Sequence[int],
    boxes: Sequence[int],
) -> Attempt:
    """Return some plates with those of a layout beside them."""
    gap = problem.gap
    numbers = numbers_for(
        scene, [(p.stock, p.number) for p in others], [stocks[s.stock] for s in layout.sheets]
    )
    plates = list(others)
    for sheet, number in zip(layout.sheets, numbers, strict=True):
        plate = Plate(scene, stocks[sheet.stock], number, ())
        for placed in sheet.placed:
            width, height = problem.boxes[placed.box].size(placed.turn)
            plate.put(boxes[placed.box], (placed.x, placed.y, width + gap, height + gap, placed.turn))
        plates.append(plate)
    left = tuple(boxes[b] for b, n in enumerate(layout.left_over) for _ in range(n))
    return Attempt(tuple(plates), left)
