"""Pieces of unit squares: the least boards that hold them, found by a constraint solver."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from ortools.sat.python import cp_model

from nestkit.layout.shapes.problem import Kind, Plate, Ring, Shape, ShapesProblem

Cells = frozenset[tuple[int, int]]


def _cells(*rows: str) -> Cells:
    """Return the squares of a drawing, its first row on top."""
    high = len(rows) - 1
    return frozenset((x, high - y) for y, row in enumerate(rows) for x, c in enumerate(row) if c == "#")


PIECES = {
    "I2": _cells("##"),
    "I3": _cells("###"),
    "V": _cells("#.", "##"),
    "L": _cells("#.", "#.", "##"),
    "T": _cells("###", ".#."),
    "S": _cells(".##", "##."),
    "O": _cells("##", "##"),
    "U": _cells("#.#", "###"),
    "P": _cells("##", "##", "#."),
    "F": _cells(".##", "##.", ".#."),
    "W": _cells("#..", "##.", ".##"),
    "X": _cells(".#.", "###", ".#."),
    "ring": _cells("####", "#..#", "####"),
}


def outline_of(cells: Cells) -> tuple[Ring, ...]:
    """Return the closed lines around squares that hang together, the outer one first, corners only."""
    # Each side of a square runs with the square on its left; sides between two squares cancel.
    sides = {
        side
        for x, y in cells
        for side in (
            ((x, y), (x + 1, y)),
            ((x + 1, y), (x + 1, y + 1)),
            ((x + 1, y + 1), (x, y + 1)),
            ((x, y + 1), (x, y)),
        )
    }
    after = {a: b for a, b in sides if (b, a) not in sides}
    rings = []
    while after:
        start = min(after)
        loop = [start]
        while (to := after.pop(loop[-1])) != start:
            loop.append(to)
        bends = zip(loop[-1:] + loop[:-1], loop, loop[1:] + loop[:1], strict=True)
        rings.append(
            tuple(
                (float(q[0]), float(q[1]))
                for p, q, r in bends
                if (q[0] - p[0]) * (r[1] - q[1]) != (q[1] - p[1]) * (r[0] - q[0])
            )
        )
    return tuple(rings)


def shape_of(cells: Cells) -> Shape:
    """Return squares as a shape; its first corner is the least one, so the outer line comes first."""
    outer, *openings = outline_of(cells)
    return Shape(outer, tuple(openings))


def turned(cells: Cells, quarters: int) -> Cells:
    """Return squares turned counter-clockwise by so many quarters, lower left at the origin again."""
    for _ in range(quarters):
        cells = frozenset((-y - 1, x) for x, y in cells)
    low = min(x for x, _ in cells), min(y for _, y in cells)
    return frozenset((x - low[0], y - low[1]) for x, y in cells)


def problem_of(counts: dict[str, int], board: tuple[int, int]) -> ShapesProblem:
    """Return pieces, in quarter turns, on boards of a size."""
    kinds = tuple(Kind(shape_of(PIECES[name]), n) for name, n in counts.items())
    return ShapesProblem(kinds, (Plate(float(board[0]), float(board[1]), Fraction(1)),))


def least_boards(counts: dict[str, int], board: tuple[int, int]) -> int:
    """Return the least number of boards that hold all pieces on whole squares, proved by CP-SAT.

    Raises ``ValueError`` where a piece fits no board.
    """
    pieces = [PIECES[name] for name, n in counts.items() for _ in range(n)]
    ways = [_places(cells, board) for cells in pieces]
    if not all(ways):
        raise ValueError("a piece fits no board")
    area = sum(map(len, pieces))
    number = -(-area // (board[0] * board[1]))
    while not _fits(ways, board, number):
        number += 1
    return number


def _places(cells: Cells, board: tuple[int, int]) -> list[Cells]:
    """Return all sets of squares that a piece can take on a board."""
    found = {}
    for way in {turned(cells, q) for q in range(4)}:
        wide, high = max(x for x, _ in way) + 1, max(y for _, y in way) + 1
        for dx in range(board[0] - wide + 1):
            for dy in range(board[1] - high + 1):
                found[frozenset((x + dx, y + dy) for x, y in way)] = None
    return sorted(found, key=sorted)


def _fits(ways: Sequence[Sequence[Cells]], board: tuple[int, int], number: int) -> bool:
    """Say whether pieces fit so many boards: each in one place, no square twice."""
    model = cp_model.CpModel()
    users: dict[tuple[int, int, int], list[cp_model.IntVar]] = {}
    for places in ways:
        choices = []
        for n in range(number):
            for cells in places:
                choice = model.new_bool_var("")
                choices.append(choice)
                for x, y in cells:
                    users.setdefault((n, x, y), []).append(choice)
        model.add_exactly_one(choices)
    for choices in users.values():
        model.add_at_most_one(choices)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return status == cp_model.OPTIMAL
