"""The runner of length problems: what it prints, what it counts again, its errors."""

from __future__ import annotations

import json

import pytest

from nestkit.layout.bars.problem import CutList, Load

SPARS = {
    "schema": "pack-bench-1",
    "family": "spars",
    "instances": [
        {
            "name": "mast",
            "group": "spars",
            "stock": [[100, None]],
            "items": [[60, 2], [40, 2], [35, 1]],
            "tasks": [{"kind": "stock1d", "goal": "min_stock", "lb_area": 3, "best": {"value": 3}}],
        }
    ],
}


def test_a_family_is_cut_and_proved(program, tmp_path, capsys):
    """A line a family: tasks, proved, sticks, bound, best known, and what first fit takes."""
    (tmp_path / "spars.json").write_text(json.dumps(SPARS), encoding="utf-8")
    status = program("lengths").main(["--data", str(tmp_path), "--family", "spars"])
    line = capsys.readouterr().out.splitlines()[1].split()
    assert status == 0
    assert line[:7] == ["spars", "1", "1", "3", "3", "3", "3"]


def test_a_file_that_is_not_there_is_told(program, tmp_path, capsys):
    """The program ends with 2 and says which file."""
    assert program("lengths").main(["--data", str(tmp_path), "--family", "oars"]) == 2
    assert "oars" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("loads", "what"),
    [([((0, 2),), ((1, 2),), ((2, 1),)], "overrun"), ([((0, 1), (1, 1)), ((2, 1),)], "lost")],
)
def test_a_cut_list_is_counted_again(program, loads, what):
    """A stick that is overrun, and a piece that is missing, are found."""
    lengths = program("lengths")
    found = CutList(tuple(Load(0, pieces) for pieces in loads), (0, 0, 0))
    with pytest.raises(lengths.BenchmarkError, match=what):
        lengths.recount(SPARS["instances"][0], found)
