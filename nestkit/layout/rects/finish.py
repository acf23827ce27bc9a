"""The finish of a layout: extras where there is room, rests brought together, sheets in order."""

from __future__ import annotations

from random import Random

from nestkit.layout.problem import Layout, Problem, SheetLayout
from nestkit.layout.rects.engine.twin import Form
from nestkit.layout.rects.few_cuts import with_few_cuts
from nestkit.layout.rects.filling import Filling, fill, in_order, sort_keys
from nestkit.layout.rects.last_sheet import gathered
from nestkit.layout.rects.room import RULES
from nestkit.layout.rects.search import too_slow_in_plain
from nestkit.layout.rects.space import Laid, Sheets, Space, space_of

MANY = 250


def finished(problem: Problem, layout: Layout, *, seed: int, tries: int, form: Form) -> Layout:
    """Return a layout with extras laid where they change neither cost nor sheets, and made tidy.

    ``tries`` is the effort to bring the rest of the emptiest sheet together, or to save saw cuts, as the
    problem prefers, in this form of the engine. ``left_over`` keeps counting the needed parts only.
    """
    space = space_of(problem)
    rng = Random(seed)
    sheets = [(s.stock, space.laid(s)) for s in layout.sheets]
    if any(problem.extra):
        sheets = _with_extras(space, sheets, rng, tries)
    slow = form.name == "plain" and too_slow_in_plain(problem, layout)
    if tries and sheets and not slow and problem.prefer == "offcut":
        sheets = gathered(problem, sheets, form=form, seed=seed, probes=tries)
    if tries and problem.edge_to_edge and problem.prefer == "few cuts" and problem.depth >= 2:
        sheets = [(stock, with_few_cuts(space, stock, on, rng, tries)) for stock, on in sheets]
    laid = tuple(space.sheet(stock, tidied(space, stock, on)) for stock, on in sheets)
    return Layout(in_bundles(problem, laid), layout.left_over)


def _with_extras(space: Space, sheets: Sheets, rng: Random, tries: int) -> Sheets:
    """Lay extra copies in the free room, then by laying each sheet anew with more of them."""
    extras = [b for b, n in enumerate(space.problem.extra) for _ in range(n)]
    keys = sort_keys(space)
    fillings = [Filling(space, stock, laid) for stock, laid in sheets]
    waiting = fill(fillings, in_order(extras, keys[0], 0, rng), 0, spread=False) or []
    for i, old in enumerate(fillings):
        for _ in range(tries):
            if not waiting:
                break
            fresh = Filling(space, old.stock)
            rule, key = rng.randrange(len(RULES)), rng.choice(keys)
            if fill(
                [fresh], in_order([b for b, _ in old.laid], key, 0.3 * rng.random(), rng), rule, spread=False
            ):
                continue
            rest = fill([fresh], in_order(waiting, key, 0, rng), rule, spread=False) or []
            if len(rest) < len(waiting):
                waiting, fillings[i] = rest, fresh
                old = fresh
    return [(f.stock, f.laid) for f in fillings]


def tidied(space: Space, stock: int, laid: Laid) -> Laid:
    """Return what lies on a sheet with every part slid down, then left, as far as it goes."""
    current = list(laid)
    # Looking at every pair takes long with very many parts, and these lie close already.
    for _ in range(3 if len(laid) <= MANY else 0):
        moved = False
        order = sorted(range(len(current)), key=lambda i: (current[i][1][1], current[i][1][0]))
        for i in order:
            box, (x, y, w, h, turn) = current[i]
            others = [p for j, (_, p) in enumerate(current) if j != i]
            low = max(
                (b + d for a, b, c, d, _ in others if a < x + w and x < a + c and b + d <= y), default=0
            )
            left = max(
                (a + c for a, b, c, d, _ in others if b < low + h and low < b + d and a + c <= x), default=0
            )
            for to_x, to_y in ((left, low), (x, low)):
                if (to_x, to_y) == (x, y):
                    break
                trial = [*current[:i], (box, (to_x, to_y, w, h, turn)), *current[i + 1 :]]
                if space.sawable is None or space.sawable(
                    [(a, b, a + c, b + d) for _, (a, b, c, d, _) in trial]
                ):
                    current, moved = trial, True
                    break
        if not moved:
            break
    return current


def in_bundles(problem: Problem, sheets: tuple[SheetLayout, ...]) -> tuple[SheetLayout, ...]:
    """Return sheets with the fullest first; those that hold the same are laid alike and stand together."""
    boxes = problem.boxes

    def content(sheet: SheetLayout) -> tuple[int, ...]:
        return tuple(sorted(p.box for p in sheet.placed))

    pattern: dict[object, SheetLayout] = {}
    alike = []
    for sheet in sheets:
        stock = problem.stocks[sheet.stock]
        size = (stock.width, stock.height, stock.left, stock.right, stock.bottom, stock.top)
        turns = tuple(boxes[b].turns[sheet.stock] for b in content(sheet))
        model = pattern.setdefault((size, turns, content(sheet)), sheet)
        alike.append(SheetLayout(sheet.stock, model.placed))

    def rank(sheet: SheetLayout) -> tuple[object, ...]:
        stock = problem.stocks[sheet.stock]
        area = sum(boxes[p.box].width * boxes[p.box].height for p in sheet.placed)
        return (-area / (stock.width * stock.height), content(sheet), sheet.stock, sheet.placed)

    return tuple(sorted(alike, key=rank))
