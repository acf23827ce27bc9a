"""Stop rules: rounds, no gain, reached, asked."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.layout.stop import AnyOf, CostMet, Kept, NoGain, Reached, Rounds

SCORE = (0, Fraction(5), 2)


def rounds_until_stop(rule, scores) -> int:
    """Return how many scores a rule lets pass."""
    for count, score in enumerate(scores):
        if rule(score):
            return count
    return -1


def test_rounds_let_so_many_pass():
    """Three rounds are three answers of no."""
    assert rounds_until_stop(Rounds(3), [SCORE] * 9) == 3
    with pytest.raises(ValueError, match="0 or more"):
        Rounds(-1)


def test_no_gain_counts_only_rounds_without_gain():
    """A better score starts the count anew."""
    better = (0, Fraction(4), 2)
    assert rounds_until_stop(NoGain(2), [SCORE, SCORE, better, better, better]) == 4
    with pytest.raises(ValueError, match="1 or more"):
        NoGain(0)


def test_reached_wants_all_parts_the_cost_and_the_sheets():
    """The bound is met only without parts left over, in cost and in sheets."""
    rule = Reached(Fraction(5), 2)
    assert rule(SCORE)
    assert not rule((1, Fraction(5), 2))
    assert not rule((0, Fraction(6), 2))
    assert not rule((0, Fraction(5), 3))


def test_a_kept_answer_stays():
    """Once the user said stop it stays so."""
    answers = iter([False, True, False])
    rule = Kept(lambda score: next(answers))
    assert [rule(SCORE) for _ in range(3)] == [False, True, True]
    assert rule.answered


def test_any_of_asks_every_rule():
    """Rules that count are asked each round, also when another has said stop."""
    one, two = Rounds(1), Rounds(2)
    both = AnyOf(one, two)
    assert [both(SCORE) for _ in range(3)] == [False, True, True]
    assert two(SCORE)


def test_where_the_cost_is_met_few_rounds_are_left():
    """Rounds count once all parts are placed at the least cost, not before; fewer sheets do not add any."""
    rule = CostMet(Fraction(5), 2)
    dearer, left_over, fewer = (0, Fraction(6), 2), (1, Fraction(4), 2), (0, Fraction(5), 1)
    assert rounds_until_stop(rule, [dearer, left_over, SCORE, SCORE, dearer, fewer, SCORE]) == 5
