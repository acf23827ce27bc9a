"""Goods off a roll: all parts on one piece, as short, or of several rolls as cheap, as can be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.layout.bounding.length import least_length
from nestkit.layout.bounds import Bounds, holds_for_all
from nestkit.layout.efforts import Effort
from nestkit.layout.events import Progress
from nestkit.layout.problem import Layout, Problem, SheetLayout
from nestkit.layout.proof import Bound
from nestkit.layout.rects.engine import twin
from nestkit.layout.rects.finish import finished
from nestkit.layout.rects.lengthwise import ORDERS, first_laid, length_of, orders_compiled, orders_plain
from nestkit.layout.rects.search import can_run_compiled
from nestkit.layout.rects.space import Laid, Space, score_of, space_of
from nestkit.layout.shorten import Seeded, Shortening, shortened
from nestkit.layout.solved import Solved, Telling
from nestkit.layout.stop import AnyOf, Kept, NoGain, Score, Stop
from nestkit.units import grid_mm

ONE_PIECE = "all parts come off one piece"


@dataclass(slots=True)
class _Piece:
    """A piece off one roll: the roll's number, the parts that fit it as a problem, what lies there.

    ``least`` is a length, in steps of the space, that the solvers' layouts cannot be shorter than; ``bound``
    one in grid steps that no layout of all parts can be, None where some part fits this roll in no way.
    """

    roll: int
    space: Space
    laid: Laid
    left: tuple[int, ...]
    least: int = 0
    bound: Bound | None = None

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
    telling = None if on_event is None else _Telling(on_event, group, problem, every, pieces)
    heard: list[Stop] = [asked] if telling is None else [asked, telling]
    compiles = effort.deep > 0 and twin.can_compile()
    if effort.works_alone(compiles=compiles) and telling is not None:
        telling.plain_alone(score_of(problem, _best(problem, pieces).layout))
    form = orders_plain()
    for piece in pieces:
        search = Shortening(piece.space, piece.laid, piece.least, form, seed=seed)
        rule = AnyOf(*heard, NoGain(effort.no_gain))
        piece.laid = search(_asking(problem, piece, search, rule), effort.plain_rounds(compiles=compiles))
    for piece in sorted(pieces, key=lambda p: _rank(problem, p)) if compiles else ():
        could_be = problem.stocks[piece.roll].cost * _used(piece, piece.least)
        hopeless = (
            could_be > _rank(problem, _best(problem, pieces))[1] or length_of(piece.laid) <= piece.least
        )
        if asked.answered or hopeless or not can_run_compiled(piece.space.problem):
            continue
        if telling is not None and not ORDERS.is_kept():
            telling.preparing(score_of(problem, piece.layout))
        form = orders_compiled()
        _deeply(problem, piece, seed=seed, effort=effort, heard=AnyOf(*heard), asked=asked)
    bounds = _raised(problem, every)
    tidy = 0 if asked.answered else effort.tidy
    layout = _finished(_best(problem, pieces), seed=seed, tries=tidy)
    return Solved(layout, bounds, asked.answered, form.name)


class _Telling(Telling):
    """Tells of the best piece, whichever is being made shorter."""

    def __init__(
        self,
        on_event: Callable[[Progress], None],
        group: int,
        problem: Problem,
        every: list[_Piece],
        pieces: list[_Piece],
    ) -> None:
        super().__init__(on_event, group, _bounds(problem, every), by_cost=len(every) > 1)
        self._problem, self._pieces = problem, pieces

    def event(self, score: Score) -> Progress:
        """Return what is known of the search; ``score`` is that of one piece."""
        best = _best(self._problem, self._pieces)
        told = super().event(score_of(self._problem, best.layout))
        return replace(
            told,
            roll=True,
            length=grid_mm(sum(self._problem.length_used(s) for s in best.layout.sheets)),
            least_length=grid_mm(int(best.bound.value)) if best.bound else Fraction(0),
            why=best.bound.why if best.bound else told.why,
        )


def _best(problem: Problem, pieces: list[_Piece]) -> _Piece:
    return min(pieces, key=lambda p: _rank(problem, p))


def _asking(problem: Problem, piece: _Piece, search: Shortening, rule: Stop) -> Callable[[], bool]:
    """Return what a search asks once a round; the piece is then what it has found so far."""

    def ended() -> bool:
        piece.laid = search.laid
        return rule(score_of(problem, piece.layout))

    return ended


def _deeply(problem: Problem, piece: _Piece, *, seed: int, effort: Effort, heard: Stop, asked: Kept) -> None:
    """Make a piece shorter by the long search."""
    search = Shortening(piece.space, piece.laid, piece.least, orders_compiled(), seed=seed)
    score = score_of(problem, piece.layout)

    def others(laid: Laid) -> list[Seeded]:
        seeds = range(seed + 1, seed + effort.seeds)
        return [Seeded(piece.space.problem, laid, piece.least, s, effort.deep) for s in seeds]

    told = _asking(problem, piece, search, heard)
    piece.laid = shortened(search, others, effort.deep, told, lambda: asked(score))


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
    piece = _Piece(roll, space_of(replace(one, boxes=boxes)), laid, tuple(left))
    _bound_by(problem, piece)
    return piece


def _bound_by(problem: Problem, piece: _Piece) -> None:
    """Find what a piece cannot be shorter than."""
    one, used = piece.space.problem, _used(piece, length_of(piece.laid))
    seen = least_length(one, used, boxes_only=True) if piece.laid else None
    piece.least = _steps(piece, int(seen.value)) if seen else 0
    if any(n and not piece.space.sizes[0][b] for b, n in enumerate(piece.left)):
        return
    if any(piece.left):
        # That a quick layout had no room for a part is no proof that there is none.
        boxes = zip(one.boxes, problem.boxes, strict=True)
        every = tuple(replace(b, quantity=whole.quantity) for b, whole in boxes)
        piece.bound = least_length(replace(one, boxes=every))
    else:
        piece.bound = seen if holds_for_all(problem) else least_length(one, used)


def _used(piece: _Piece, length: int) -> int:
    """Return what a length in steps of the space, grown by the gap, uses of the roll, in grid steps."""
    (stock,) = piece.space.problem.stocks
    return length * piece.space.step - piece.space.problem.gap + stock.bottom + stock.top


def _steps(piece: _Piece, used: int) -> int:
    """Return the steps of the space, grown by the gap, that use of the roll so much at least."""
    (stock,) = piece.space.problem.stocks
    return -(-(used + piece.space.problem.gap - stock.bottom - stock.top) // piece.space.step)


def _bounds(problem: Problem, pieces: list[_Piece]) -> Bounds:
    """Return the bounds: the cheapest of the least lengths off each roll that all parts fit, one by one."""
    if all(any(piece.left) for piece in pieces):
        return Bounds(None, None)
    known = [(problem.stocks[p.roll].cost, p.bound) for p in pieces if p.bound]
    costs = [Bound(cost * bound.value, bound.why) for cost, bound in known]
    return Bounds(Bound(Fraction(1), ONE_PIECE), min(costs, key=lambda b: b.value), 1)


def _raised(problem: Problem, pieces: list[_Piece]) -> Bounds:
    """Return the bounds once it is known how short the pieces are."""
    for piece in pieces:
        if piece.bound and not any(piece.left):
            used = _used(piece, length_of(piece.laid))
            piece.bound = least_length(piece.space.problem, used, known=piece.bound)
    return _bounds(problem, pieces)


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
