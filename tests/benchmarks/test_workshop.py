"""Generated workshop jobs."""

from __future__ import annotations

import sys
from fractions import Fraction

import pytest

from nestkit.job.reader import read_job


@pytest.fixture
def job_of(program, tmp_path):
    """Read a generated job of plywood in three sizes."""

    def read(pieces: int, seed: int):
        path = tmp_path / "made.toml"
        path.write_text(program("workshop").three_sizes_text(pieces, seed), encoding="utf-8")
        return read_job(path)

    return read


@pytest.mark.parametrize(("pieces", "seed"), [(20, 1), (20, 7), (500, 1)])
def test_plywood_jobs_are_as_described(job_of, pieces, seed):
    """So many parts, a kerf of 1/8 in, three sizes of sheet, grain on every third panel."""
    job = job_of(pieces, seed)
    assert sum(p.quantity for p in job.panels) == pieces
    assert {w.kerf for w in job.ways} == {Fraction(254, 80)}
    assert len({(s.width, s.height) for s in job.sheets}) == 3
    grained = [p.grain != "none" for p in job.panels]
    assert grained == [index % 3 == 2 for index in range(len(job.panels))]


def test_a_seed_makes_its_own_job(job_of):
    """The same seed makes the same job, another another."""
    sizes = [[(p.width, p.height) for p in job_of(20, seed).panels] for seed in (1, 1, 2)]
    assert sizes[0] == sizes[1] != sizes[2]


def test_the_cost_of_a_small_job_is_measured(program, capsys, monkeypatch):
    """A row a job with its gap, CPU seconds and memory; the status says whether a target was missed."""
    measure = program("workshop_cost")
    monkeypatch.setattr(sys, "argv", ["workshop_cost.py", "--small", "1", "--large", "0", "--runs", "1"])
    result = {"engine": "plain", "groups": [{"cost": 96.0, "least_cost": 96.0, "sheets_used": 1}]}
    costs = iter([(result, 9.0, 40.0), (result, 0.5, 40.0), (result, 9.0, 40.0), (result, 0.7, 40.0)])
    monkeypatch.setattr(measure, "estimated", lambda job, effort: next(costs))
    assert measure.main() == 0
    assert "96.00     96.00    0.00    0.50     40  plain\n" in capsys.readouterr().out
    assert measure.main() == 1
    assert "over: CPU" in capsys.readouterr().out


def test_frames_are_as_described(program, tmp_path):
    """So many different tubes of two sections, each with ten holes in three faces, none past an end."""
    path = tmp_path / "made.toml"
    path.write_text(program("workshop").frames_text(30, 1), encoding="utf-8")
    job = read_job(path)
    assert len(job.tubes) == len({tube.length for tube in job.tubes}) == 30
    assert len({tube.section for tube in job.tubes}) == 2
    for tube in job.tubes:
        assert 300 <= tube.length <= 2000
        assert len(tube.holes) == len(tube.marks) == 10
        assert len({mark.spot.face for mark in tube.marks}) == 3
        assert all(0 < mark.spot.at < tube.length for mark in tube.marks)
