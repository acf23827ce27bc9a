"""Goods off a roll: all parts on one piece, as short, or of several rolls as cheap, as can be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.layout.bounding.length import least_length
from nestkit.layout.bounds import Bounds
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.problem import Layout, Problem, SheetLayout
from nestkit.layout.rects.engine import twin
from nestkit.layout.rects.engine.twin import Form
from nestkit.layout.rects.finish import finished
from nestkit.layout.rects.lengthwise import (
    ORDERS,
    Orders,
    first_laid,
    length_of,
    orders_compiled,
    orders_plain,
)
from nestkit.layout.rects.search import can_run_compiled
from nestkit.layout.rects.space import Laid, Space, score_of, space_of
from nestkit.layout.result import Bound
from nestkit.layout.solved import Solved, Telling
from nestkit.layout.stop import AnyOf, Kept, NoGain, Rounds, Stop

ONE_PIECE = "all parts come off one piece"


@dataclass(slots=True)
class _Piece:
    """A piece off one roll: the roll's number, the parts that fit it as a problem, what lies there.

    ``least`` is a length, in steps of the space, that the solvers' layouts cannot be shorter than.
    """

    roll: int
    space: Space
    laid: Laid
    left: tuple[int, ...]
    least: int

    @property
    def layout(self) -> Layout:
        """The layout as one of the whole problem."""
        sheet = self.space.sheet(0, self.laid)
        return Layout((SheetLayout(self.roll, sheet.placed),) if self.laid else (), self.left)


def solve_roll(
    problem: Problem,
    *,
    seed: int,
    effort: Effort,
    on_event: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    group: int = 0,
) -> Solved:
    """Return the cheapest piece found within the effort; as :func:`~nestkit.layout.solve.solve` otherwise.

    All stocks are rolls. The bound on the cost is that of the least length.
    """
    asked = Kept(lambda score: stop is not None and stop())
    every = [_first(problem, roll) for roll in range(len(problem.stocks))]
    fewest = min(sum(p.left) for p in every)
    pieces = [p for p in every if sum(p.left) == fewest]
    quick = _bounds(problem, every, exact=False)
    telling = None if on_event is None else Telling(on_event, group, quick, roll=True)
    heard: list[Stop] = [asked] if telling is None else [asked, telling]
    compiles = effort.deep > 0 and twin.can_compile()
    rounds = effort.plain_rounds(compiles=compiles)
    if effort.works_alone(compiles=compiles) and telling is not None:
        telling.plain_alone(score_of(problem, min(pieces, key=lambda p: _rank(problem, p)).layout))
    form = orders_plain()
    for piece in pieces:
        _shorten(problem, piece, form, seed, AnyOf(*heard, Rounds(rounds), NoGain(effort.no_gain)))
    for piece in sorted(pieces, key=lambda p: _rank(problem, p)) if compiles else ():
        best = min(_rank(problem, p) for p in pieces)
        could_be = problem.stocks[piece.roll].cost * _used(piece, piece.least)
        hopeless = could_be > best[1] or length_of(piece.laid) <= piece.least
        if asked.answered or hopeless or not can_run_compiled(piece.space.problem):
            continue
        if telling is not None and not ORDERS.is_kept():
            telling.preparing(score_of(problem, piece.layout))
        form = orders_compiled()
        _shorten(problem, piece, form, seed, AnyOf(*heard, Rounds(effort.deep)))
    best_piece = min(pieces, key=lambda p: _rank(problem, p))
    bounds = _bounds(problem, every, exact=True)
    tidy = 0 if asked.answered else effort.tidy
    layout = _finished(best_piece, seed=seed, tries=tidy)
    return Solved(layout, bounds, asked.answered, form.name)


def _rank(problem: Problem, piece: _Piece) -> tuple[int, Fraction, int]:
    layout = piece.layout
    return sum(layout.left_over), layout.cost(problem), piece.roll


def _first(problem: Problem, roll: int) -> _Piece:
    """Return a quick layout on a roll, of all parts that fit it."""
    stock = problem.stocks[roll]
    room = stock.usable[0]
    fit = [any(b.size(t)[0] <= room for t in b.turns[roll]) for b in problem.boxes]
    boxes = tuple(
        replace(b, quantity=b.quantity if ok else 0, turns=(b.turns[roll],))
        for b, ok in zip(problem.boxes, fit, strict=True)
    )
    longest = sum((max(b.width, b.height) + problem.gap) * b.quantity for b in boxes)
    height = min(stock.height, longest + stock.bottom + stock.top)
    one = replace(
        problem, boxes=boxes, stocks=(replace(stock, height=height, count=1, cost=Fraction(1), roll=False),)
    )
    space = space_of(one)
    laid = first_laid(space)
    left = [b.quantity for b in problem.boxes]
    for box, _ in laid:
        left[box] -= 1
    # A part that is longer than any roll stays out of the bound, too.
    boxes = tuple(
        replace(b, quantity=b.quantity - n if ok else 0) for b, n, ok in zip(boxes, left, fit, strict=True)
    )
    one = replace(one, boxes=boxes)
    piece = _Piece(roll, space_of(one), laid, tuple(left), 0)
    if laid:
        found = least_length(one, _used(piece, length_of(laid)), boxes_only=True).value
        piece.least = _steps(piece, int(found))
    return piece


def _used(piece: _Piece, length: int) -> int:
    """Return what a length in steps of the space, grown by the gap, uses of the roll, in grid steps."""
    (stock,) = piece.space.problem.stocks
    return length * piece.space.step - piece.space.problem.gap + stock.bottom + stock.top


def _steps(piece: _Piece, used: int) -> int:
    """Return the steps of the space, grown by the gap, that use of the roll so much at least."""
    (stock,) = piece.space.problem.stocks
    return -(-(used + piece.space.problem.gap - stock.bottom - stock.top) // piece.space.step)


def _shorten(problem: Problem, piece: _Piece, form: Form, seed: int, stop: Stop) -> None:
    """Make a piece shorter until a rule ends it, or its bound is met."""
    in_place = sorted(piece.laid, key=lambda part: (part[1][1], part[1][0]))
    search = Orders(piece.space, [box for box, _ in in_place], form, seed=seed)
    search.start_short()
    while not stop(score_of(problem, piece.layout)) and length_of(piece.laid) > piece.least:
        piece.laid = search.shorter(length_of(piece.laid)) or piece.laid


def _bounds(problem: Problem, pieces: list[_Piece], *, exact: bool) -> Bounds:
    """Return the bounds: the cheapest of the least lengths off each roll that all parts fit, one by one."""
    if all(any(piece.left) for piece in pieces):
        return Bounds(None, None)
    costs = []
    for piece in pieces:
        if any(n and not piece.space.sizes[0][b] for b, n in enumerate(piece.left)):
            continue
        # That a quick layout had no room for a part is no proof that there is none.
        asked = zip(piece.space.problem.boxes, problem.boxes, strict=True)
        one = replace(
            piece.space.problem, boxes=tuple(replace(b, quantity=whole.quantity) for b, whole in asked)
        )
        found = _used(piece, length_of(piece.laid)) if exact and not any(piece.left) else None
        length = least_length(one, found)
        costs.append(Bound(problem.stocks[piece.roll].cost * length.value, length.why))
    return Bounds(Bound(Fraction(1), ONE_PIECE), min(costs, key=lambda b: b.value), 1)


def _finished(piece: _Piece, *, seed: int, tries: int) -> Layout:
    """Return a piece with extras where they make it no longer, and made tidy."""
    if not piece.laid:
        return piece.layout
    one = piece.space.problem
    (stock,) = one.stocks
    one = replace(one, stocks=(replace(stock, height=_used(piece, length_of(piece.laid))),))
    start = Layout((piece.space.sheet(0, piece.laid),), (0,) * len(one.boxes))
    done = finished(one, start, seed=seed, tries=tries, form=twin.plain())
    return Layout((SheetLayout(piece.roll, done.sheets[0].placed),), piece.left)
