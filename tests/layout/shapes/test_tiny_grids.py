"""Pieces of unit squares on small boards: as few boards as a constraint solver proves, and never fewer.

Off whole squares no fewer boards would do: moved down to whole numbers together, squares stay apart.
"""

from __future__ import annotations

import random
from itertools import product

import pytest

from nestkit.layout.shapes.engine import compiled, model_of
from nestkit.layout.shapes.problem import Kind
from tests.layout.shapes.jigsaws import judge, solved_to
from tests.layout.shapes.polyominoes import PIECES, least_boards, outline_of, problem_of, shape_of, turned

KNOWN = [
    ((4, 4), {"T": 4}, 1),
    ((5, 4), {"S": 5}, 2),
    ((5, 4), {"T": 5}, 2),
    ((3, 3), {"X": 1, "I2": 1}, 2),
    ((4, 4), {"O": 2, "X": 1}, 2),
    ((5, 2), {"P": 2}, 1),
    ((6, 5), {"ring": 2, "I2": 2}, 1),
]
"""From memory and by hand: four T fill 4 x 4, an even number of S or T is needed to fill any board."""
FULL = [
    ((4, 4), {"I3": 1, "O": 3, "V": 1, "I2": 3, "F": 1}),
    ((4, 4), {"T": 3, "X": 1, "W": 3}),
    ((4, 4), {"V": 2, "T": 1, "L": 3}),
    ((5, 4), {"O": 1, "F": 1, "P": 2}),
    ((5, 4), {"I3": 1, "O": 1, "U": 1, "V": 2}),
    ((5, 4), {"X": 2, "O": 3, "T": 1, "U": 3, "L": 3}),
    ((5, 4), {"W": 3, "X": 1, "I3": 1, "S": 2}),
    ((5, 4), {"O": 2, "I2": 3, "L": 3, "F": 1}),
    ((5, 5), {"O": 1, "W": 3, "I2": 1}),
    ((5, 5), {"W": 3, "ring": 1, "V": 1, "L": 3}),
    ((5, 5), {"U": 1, "T": 2, "O": 3, "L": 3, "ring": 2}),
    ((6, 4), {"L": 3, "T": 2}),
    ((6, 4), {"U": 3, "P": 2, "F": 3, "L": 3, "V": 1}),
    ((6, 5), {"F": 2, "I2": 2, "L": 1, "X": 2}),
    ((6, 5), {"F": 2, "I2": 1, "ring": 2, "L": 2}),
    ((6, 5), {"S": 3, "F": 2}),
]


def boards(counts, board, least):
    """Return how many boards the engine takes for a layout that holds."""
    problem = problem_of(counts, board)
    found = solved_to(problem, least)
    judge(problem, found)
    assert not any(found.left)
    return len(found.plates)


@pytest.mark.parametrize(("board", "counts", "least"), KNOWN)
def test_the_reference_knows_what_is_known(board, counts, least):
    """What the constraint solver proves is what a puzzler knows."""
    assert least_boards(counts, board) == least


@pytest.mark.parametrize(("board", "counts"), [(b, c) for b, c, _ in KNOWN] + FULL)
def test_as_few_boards_as_can_be(board, counts):
    """The engine takes as few boards as the constraint solver proves to be needed; fewer would be wrong."""
    least = least_boards(counts, board)
    assert boards(counts, board, least) == least


@pytest.mark.slow
@pytest.mark.parametrize("tens", range(6))
def test_random_pieces_take_as_few_boards_as_can_be(tens):
    """Of ten random sets of pieces eight at least reach what is proved, the others one board more; none less.

    An arm in a slot of its own width has no play at all, and whether it gets there is left to luck.
    """
    more = []
    for seed in range(10 * tens, 10 * tens + 10):
        rng = random.Random(seed)
        board = rng.choice([(4, 4), (5, 4), (5, 5), (6, 4)])
        names = [n for n in PIECES if n != "ring" or min(board) > 4]
        counts = {n: rng.randint(1, 3) for n in rng.sample(names, rng.randint(2, 4))}
        least = least_boards(counts, board)
        more.append(boards(counts, board, least) - least)
    assert min(more) >= 0
    assert max(more) <= 1
    assert more.count(0) >= 8


def test_depths_on_whole_squares_tell_which_squares_are_shared():
    """At every whole and half step, where corners are level, pieces are deep just where squares overlap."""
    lying = [(PIECES[name], q) for name in ("L", "U", "F", "ring") for q in (0, 1)]
    kinds = [Kind(shape_of(cells), 1, (90.0 * q,)) for cells, q in lying]
    model = model_of(kinds, 0.0, 0.5, compiled())
    deep, number = compiled().functions["depth"], len(model.known.states)
    squares, middles = [], []
    for cells in (turned(*piece) for piece in lying):
        # At half steps each square stands for four.
        squares.append({(2 * x + i, 2 * y + j) for x, y in cells for i in (0, 1) for j in (0, 1)})
        middles.append((max(x for x, _ in cells) / 2 + 0.5, max(y for _, y in cells) / 2 + 0.5))
    for (a, (first,)), (b, (second,)) in product(enumerate(model.known.of_kind), repeat=2):
        dx, dy = middles[b][0] - middles[a][0], middles[b][1] - middles[a][1]
        apart = {
            (i, j)
            for i, j in product(range(-11, 12), repeat=2)
            if squares[b].isdisjoint((x - i, y - j) for x, y in squares[a])
        }
        for i, j in product(range(-10, 11), repeat=2):
            found = deep(model.tables, first * number + second, i / 2 + dx, j / 2 + dy)
            if (i, j) not in apart:
                # Squares of half a step that are shared are left by no less than half a step.
                assert found >= 0.5 - 1e-9
            elif any({(i + u, j), (i, j + v), (i + u, j + v)} <= apart for u in (-1, 1) for v in (-1, 1)):
                # Where there is no play at all, as in a slot, a polygon has no opening to tell of it.
                assert found <= 1e-9


def test_an_outline_of_squares_has_their_area():
    """Outlines drawn from squares enclose as much as there are squares, openings taken off."""
    for cells in PIECES.values():
        area = 0.0
        for ring in outline_of(cells):
            area += sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)) / 2
        assert area == len(cells)
