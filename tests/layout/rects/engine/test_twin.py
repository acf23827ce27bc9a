"""Plain and compiled engine: the same moves, and compiled code kept where only the user can write."""

from __future__ import annotations

import os
import random
import sys
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.layout.events import Progress
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine import twin
from nestkit.layout.rects.engine.arrays import ACCEPTED, MOVES
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.search import Search
from nestkit.layout.stop import Rounds
from tests.layout.checked import check_layout

WAYS = {
    "free": {},
    "free, turning": {"turning": True},
    "sawn": {"edge_to_edge": True},
    "sawn, three stages": {"edge_to_edge": True, "stages": 3, "turning": True},
    "sawn, two stages, rips first": {"edge_to_edge": True, "stages": 2, "first": "x"},
    "several sheets": {"several": True, "turning": True},
    "several sheets, sawn": {"several": True, "edge_to_edge": True, "stages": 3, "first": "y"},
    "short stock": {"short": True},
    "long steps": {"scale": 987_654_3},
}


def problem_of(
    seed: int,
    *,
    turning: bool = False,
    several: bool = False,
    short: bool = False,
    scale: int = 1,
    **way: object,
) -> Problem:
    """Return a problem of 24 kinds, up to 3 of each, a gap of 1 between them."""
    rng = random.Random(seed)
    stocks = [Stock(60 * scale, 40 * scale, *(scale,) * 4, None, Fraction(31, 4))]
    if several:
        stocks += [
            Stock(45 * scale, 45 * scale, 0, 0, 0, 0, None, Fraction(5)),
            Stock(30 * scale, 60 * scale, 0, 0, 0, 0, 2, Fraction(0)),
        ]
    if short:
        stocks = [Stock(60 * scale, 40 * scale, 0, 0, 0, 0, 2, Fraction(1))]
    boxes = []
    for _ in range(24):
        size = rng.randint(5, 30) * scale, rng.randint(5, 25) * scale
        turns = (0, 90) if turning and rng.random() < 0.7 else (0,)
        boxes.append(Box(*size, rng.randint(1, 3), (turns,) * len(stocks)))
    return Problem(tuple(boxes), tuple(stocks), scale if way.get("edge_to_edge") else 0, scale, **way)


@pytest.mark.parametrize("way", WAYS)
def test_plain_and_compiled_make_the_same_moves(way):
    """After every round both forms have the same sheets, pool, weights and random numbers."""
    problem = problem_of(5, **WAYS[way])
    start = Greedy()(problem, seed=1, stop=Rounds(1))
    searches = [Search(problem, form(), seed=3) for form in (twin.plain, twin.compiled)]
    # The same work in a round and the same cycle: only the form differs.
    for search in searches:
        search.form = twin.Form("plain", search.form.row, search.form.functions)
        search.work = 400
    best = [start, start]
    for _ in range(12):
        best = [search(b, Rounds(1)) for search, b in zip(searches, best, strict=True)]
        states = [[list(map(int, row)) for row in search._state] for search in searches]
        assert states[0] == states[1]
        assert best[0] == best[1]
    counts = searches[0]._state.counts
    assert counts[MOVES] > 0
    assert counts[ACCEPTED] > 0
    check_layout(problem, best[0])


def test_the_cache_changes_with_the_source_and_the_compiler(tmp_path, monkeypatch):
    """What was compiled from other source, or by another compiler, is not used."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    monkeypatch.setattr(twin.sys, "platform", "linux")
    one, two = twin.cache_folder("0.60", "2.0"), twin.cache_folder("0.61", "2.0")
    assert one is not None
    assert one != two
    assert one.parent == tmp_path / "nestkit"
    monkeypatch.setattr(twin, "MODULES", twin.MODULES[:-1])
    assert twin.cache_folder("0.60", "2.0") not in (one, two)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such permissions")
def test_a_cache_that_others_may_write_is_not_used(tmp_path, monkeypatch):
    """Code that someone else could have put there is never run."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    folder = twin.cache_folder("1")
    assert folder is not None
    assert folder.stat().st_mode & 0o077 == 0
    folder.chmod(0o777)
    assert twin.cache_folder("1") is None
    folder.chmod(0o700)
    assert twin.cache_folder("1") == folder


@pytest.mark.skipif(sys.platform == "win32" or os.getuid() == 0, reason="root may write everywhere")
def test_without_a_cache_folder_nothing_is_kept(tmp_path, monkeypatch):
    """Where the user's cache folder cannot be made, none is used, and no other folder instead."""
    tmp_path.chmod(0o500)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "none"))
    assert twin.cache_folder("1") is None


def test_preparing_is_told_only_where_nothing_is_kept(tmp_path, monkeypatch):
    """A first run says that it compiles; once something is kept it does not."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    monkeypatch.setattr(twin.sys, "platform", "linux")
    assert not twin.is_kept()
    (next((tmp_path / "nestkit").iterdir()) / "moves.nbi").write_bytes(b"")
    assert twin.is_kept()
    event = Progress(0, 3, Fraction(7), 0, Fraction(2), Fraction(5), "", 0, preparing=True)
    assert "once" in event.sentence()
    assert "3 sheets" in replace(event, preparing=False).sentence()


def test_a_file_in_the_place_of_the_cache_is_no_cache(tmp_path, monkeypatch):
    """Where the folder cannot be made there is no cache."""
    (tmp_path / "nestkit").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    monkeypatch.setattr(twin.sys, "platform", "linux")
    assert twin.cache_folder("1") is None
