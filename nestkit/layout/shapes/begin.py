"""Where a search for plates begins: a first fit, or the best layout so far taken to other plates."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from nestkit.layout.shapes.construct import Rooms, Set, best_place, by_size
from nestkit.layout.shapes.engine import Model
from nestkit.layout.shapes.filled import Filled, layout_of
from nestkit.layout.shapes.nfp import Polygons, bare_polygons
from nestkit.layout.shapes.problem import Plate, ShapesLayout, ShapesProblem, extras_of, pieces_of
from nestkit.layout.shapes.separate import Separator
from nestkit.layout.shapes.standing import Standing, all_kinds, may_be
from nestkit.layout.shapes.states import States, states_of


def laid_one_by_one(problem: ShapesProblem) -> ShapesLayout:
    """Return a layout without a search: every piece on the first plate with room, the largest first."""
    known = states_of(all_kinds(problem), problem.gap, rough=True)
    pieces, extras = pieces_of(problem.kinds), extras_of(problem.kinds)
    filled = first_fit(known, bare_polygons(known), problem, pieces, extras)
    return layout_of(known, [*pieces, *extras], problem, filled)


def first_fit(
    known: States,
    polygons: Polygons,
    problem: ShapesProblem,
    pieces: Sequence[int],
    extras: Sequence[int] = (),
) -> Filled:
    """Return every piece (its kind) on the first plate that has room, the largest first.

    Extras come last, and no plate is begun for them.
    """
    stock, standing = problem.plates, Standing(known, problem)

    def bare(kind: int) -> Rooms:
        return Rooms(known, polygons, stock[kind].height, stock[kind].width, standing.sets(kind))

    order = cheapest_first(stock)
    plates = sorted(standing.must)
    rooms = [bare(kind) for kind in plates]
    every = [*pieces, *extras]
    laid: list[tuple[int, Set] | None] = [None] * len(every)
    in_turn = by_size(pieces, known.hulls)
    in_turn += [len(pieces) + k for k in by_size(extras, known.hulls)]
    for index in in_turn:
        states = known.of_kind[every[index]]
        for number in range(len(plates) + (len(stock) if index < len(pieces) else 0)):
            if number < len(plates):
                room = rooms[number]
            else:
                kind = order[number - len(plates)]
                if not may_be(stock, [*plates, kind]):
                    continue
                room = bare(kind)
            place = best_place(room, known, states)
            if place is None:
                continue
            if number >= len(plates):
                plates.append(kind)
                rooms.append(room)
            room.laid.append(place)
            laid[index] = (rooms.index(room), place)
            break
    return Filled(tuple(plates), tuple(laid))


def cheapest_first(stock: Sequence[Plate]) -> list[int]:
    """Return the kinds of plates, those that cost least for their area first."""
    return sorted(
        range(len(stock)), key=lambda k: (stock[k].cost / Fraction(stock[k].width * stock[k].height), k)
    )


def began(model: Model, sep: Separator, best: Filled, plates: tuple[int, ...]) -> None:
    """Put pieces where they lay on plates that stay, the others where they overlap least, the largest first.

    Some plate holds each of them.
    """
    waiting = {k: [n for n, p in enumerate(plates) if p == k] for k in set(plates)}
    fill = Counter(at[0] for at in best.laid if at is not None)
    stays: dict[int, int] = {}
    for number, kind in sorted(enumerate(best.plates), key=lambda e: (-fill[e[0]], e[0])):
        if waiting.get(kind):
            stays[number] = waiting[kind].pop(0)
    sep.set_down([(stays[at[0]], at[1]) if at and at[0] in stays else None for at in best.laid])
    live = sep.live
    left = [k for k in range(len(live.order)) if live.plate[k] < 0]
    for k in by_size([int(live.kind[k]) for k in left], model.known.hulls):
        model.call("insert")(model.tables, live, left[k], 0, len(plates))
    sep.deepen()
