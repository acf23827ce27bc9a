"""The runner's table: sums, gaps and the packing library's columns."""

from __future__ import annotations

from fractions import Fraction

import pytest


@pytest.fixture
def rows(program):
    """The table's module."""
    return program("rows")


def cells(text: str, start: str) -> list[str]:
    """The cells of the line that starts so."""
    return next(line for line in text.splitlines() if line.startswith(start))[len(start) :].split()


def made(rows, value, bound, best=None, group="g", **more):
    """A row with exact numbers."""
    exact = [None if n is None else Fraction(n) for n in (value, bound, best)]
    return rows.Row(group, "fixed", *exact, value == bound, 0.5, **more)


def test_gaps_are_of_sums_and_of_tasks(rows):
    """The gap compares sums, the mean gap and the excess over the best known are means over tasks."""
    text = rows.table([made(rows, 6, 4, 5), made(rows, 100, 100, 80)])
    # 106 / 104; (50 + 0) / 2; (20 + 25) / 2
    assert cells(text, "g fixed") == ["2", "106", "104", "85", "1.92", "25.00", "22.50", "1", "1.0"]
    assert cells(text, "all fixed") == cells(text, "g fixed")


def test_more_is_better_for_values(rows):
    """For value problems the gap is by how much the bound is above the value."""
    text = rows.table([made(rows, 80, 100, 90, most=True)])
    assert cells(text, "g fixed") == ["1", "80", "100", "90", "25.00", "25.00", "12.50", "0", "0.5"]


def test_what_is_not_known_is_a_dash(rows):
    """Tasks with parts left over have no part in the sums; a best value missing leaves a dash."""
    text = rows.table([made(rows, None, 2, 3), made(rows, 4, 4)])
    assert cells(text, "g fixed")[:7] == ["2", "4", "4", "-", "0.00", "0.00", "-"]
    assert "1 with parts left over" in text
    text = rows.table([made(rows, None, 0)])
    assert cells(text, "g fixed")[1:7] == ["-"] * 6


def test_one_setting_for_all_and_the_best_of_many(rows):
    """The best single setting lays all parts of all tasks; the best of many is the best for each."""
    one = {("a",): Fraction(5), ("b",): Fraction(6), ("c",): None}
    two = {("a",): Fraction(9), ("b",): Fraction(7), ("c",): Fraction(1)}
    text = rows.table([made(rows, 4, 4, packed=one), made(rows, 6, 6, group="h", packed=two)], packed=True)
    assert cells(text, "g fixed")[-2:] == ["6", "5"]
    assert cells(text, "h fixed")[-2:] == ["7", "1"]
    assert cells(text, "all fixed")[-2:] == ["13", "6"]
    assert "rectpack's best setting, fixed: b" in text
    text = rows.table([made(rows, 4, 4)], packed=True)
    assert cells(text, "g fixed")[-2:] == ["-", "-"]
    assert "rectpack's best setting, fixed: none" in text
