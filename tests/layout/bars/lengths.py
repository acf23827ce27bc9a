"""Length problems for tests, and an independent optimum by CP-SAT."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st
from ortools.sat.python import cp_model

from nestkit.layout.bars.problem import LengthProblem, Piece, Stick


def posed(pieces, sticks, kerf=0) -> LengthProblem:
    """Return a problem: pieces as length and number, sticks as length, number (None: any), price and trim."""
    return LengthProblem(
        tuple(Piece(*p) for p in pieces),
        tuple(Stick(length, trim, count, Fraction(cost)) for length, count, cost, trim in sticks),
        kerf,
    )


@st.composite
def problems(draw, most=8):
    """Return small problems: kerf, trims, one to three stock lengths, some of them limited."""
    lengths = draw(st.lists(st.integers(3, 60), min_size=1, max_size=5, unique=True))
    pieces = [(length, draw(st.integers(1, max(1, most // len(lengths))))) for length in lengths]
    sticks = [
        (
            draw(st.integers(40, 100)),
            draw(st.one_of(st.none(), st.integers(0, 3))),
            draw(st.integers(0, 9)),
            draw(st.integers(0, 4)),
        )
        for _ in range(draw(st.integers(1, 3)))
    ]
    return posed(pieces, sticks, draw(st.integers(0, 3)))


def most_placed(problem: LengthProblem) -> int:
    """Return how many pieces the sticks there are can give at most, by CP-SAT."""
    number = sum(p.quantity for p in problem.pieces)
    model = cp_model.CpModel()
    give: list[list[cp_model.IntVar]] = [[] for _ in problem.pieces]
    for stick in problem.sticks:
        room = max(0, stick.length - 2 * stick.trim)
        for _ in range(number if stick.count is None else min(number, stick.count)):
            times = [model.new_int_var(0, p.quantity, "") for p in problem.pieces]
            takes = sum(t * (p.length + problem.kerf) for t, p in zip(times, problem.pieces, strict=True))
            model.add(takes <= (room + problem.kerf if room else 0))
            for t, row in zip(times, give, strict=True):
                row.append(t)
    for piece, row in zip(problem.pieces, give, strict=True):
        model.add(sum(row) <= piece.quantity)
    model.maximize(sum(sum(row) for row in give))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def least_cost(problem: LengthProblem) -> Fraction | None:
    """Return what the cheapest cut list of all pieces costs, None if there is none, by CP-SAT."""
    number = sum(p.quantity for p in problem.pieces)
    model = cp_model.CpModel()
    cost = []
    give: list[list[cp_model.IntVar]] = [[] for _ in problem.pieces]
    for stick in problem.sticks:
        room = stick.length - 2 * stick.trim + problem.kerf
        for _ in range(number if stick.count is None else min(number, stick.count)):
            used = model.new_bool_var("")
            times = [model.new_int_var(0, p.quantity, "") for p in problem.pieces]
            takes = sum(t * (p.length + problem.kerf) for t, p in zip(times, problem.pieces, strict=True))
            model.add(takes <= (room if room > 0 else 0)).only_enforce_if(used)
            for t, row in zip(times, give, strict=True):
                model.add(t == 0).only_enforce_if(~used)
                row.append(t)
            cost.append(used * int(stick.cost))
    for piece, row in zip(problem.pieces, give, strict=True):
        model.add(sum(row) == piece.quantity)
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return Fraction(round(solver.objective_value))
