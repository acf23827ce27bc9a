"""Cuts that are alike are said once, and what is said once gives back every single cut."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from nestkit.estimate.saw_repeats import folded, unfolded
from nestkit.estimate.saw_steps import saw_steps
from nestkit.job.reader import read_text
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import Cut
from tests.laid_roll import laid
from tests.many_cuts import OFF_A_ROLL, ON_A_SHEET, jobs_of_many


def expanded(repeats, kerf):
    """Make the single cuts anew, from the first cut of each repeat, how often, and the pieces alone."""
    cuts = []
    for repeat in repeats:
        axis, low_edge = repeat.first.axis, repeat.first.edge in ("left", "lower")
        for piece in repeat.sawn:
            name, box = piece.cut.piece, piece.piece
            low, high = box[axis], box[axis + 2]
            for _ in range(repeat.times):
                line = low + repeat.first.setting if low_edge else high - repeat.first.setting
                at = line if repeat.first.side else line - kerf
                step, across = len(cuts) + 1, (box[1 - axis], box[3 - axis])
                cuts.append(Cut(step, name, "xy"[axis], at, *across, trim=False))
                name = f"{step}{'b' if low_edge else 'a'}"
                low, high = (at + kerf, high) if low_edge else (low, at)
    return cuts


def check(layout):
    """Compare the cuts of all sheets with those that their repeats expand to; return the repeats."""
    found = []
    for group in layout.groups:
        kerf = group.group.way.kerf
        for sheet in group.sheets:
            steps = saw_steps(sheet, kerf, "in")
            repeats = folded(steps)
            assert unfolded(repeats) == steps
            assert expanded(repeats, kerf) == [replace(cut, trim=False) for cut in sheet.cuts]
            left = [p.name for r in repeats for lot in r.lots for p in lot.pieces]
            inner = {s.cut.piece for r in repeats for i, s in enumerate(r.steps) if i % r.times}
            every = {g.name for s in steps for g in s.gained}
            assert len(left) == len(set(left))
            assert set(left) == every - inner
            found.append(repeats)
    return found


@given(jobs_of_many())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_repeats_expand_to_exactly_the_single_cuts(text):
    """Whatever the job: every cut comes back in its order and place, and no piece is left unsaid."""
    check(lay_out(read_text(text, Path()), effort="quick"))


@pytest.mark.parametrize(("text", "most"), [(ON_A_SHEET, 6), (OFF_A_ROLL, 4)])
def test_hundreds_of_equal_cuts_are_few_repeats(text, most):
    """300 parts of a sheet and 400 off a roll take no more repeats than they have settings."""
    job, layout = laid(text)
    (repeats,) = check(layout)
    assert len(unfolded(repeats)) > 300
    assert len(repeats) <= most
    done = [lot for r in repeats for lot in r.lots if lot.pieces[0].done is not None]
    assert sum(len(lot.pieces) for lot in done) == job.panels[0].quantity


def test_equal_pieces_have_one_name():
    """The pieces of a lot are of one size, hold the same parts, and are cut in the same way later."""
    (repeats,) = check(laid(ON_A_SHEET)[1])
    for repeat in repeats:
        for lot in repeat.lots:
            assert len({(p.size, len(p.parts), p.keep, p.left_over) for p in lot.pieces}) == 1
    called = {p.name: lot.name for r in repeats for lot in r.lots for p in lot.pieces}
    for repeat in repeats[1:]:
        assert {called[s.cut.piece] for s in repeat.sawn} == set(repeat.names)


def test_a_cut_without_its_like_is_a_repeat_of_one():
    """One part in a corner takes two trims, each said by itself."""
    text = ON_A_SHEET.replace("quantity = 300", "quantity = 1")
    (repeats,) = check(laid(text)[1])
    assert [(r.times, r.pieces) for r in repeats] == [(1, 1), (1, 1)]
    assert folded(()) == ()
