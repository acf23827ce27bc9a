"""Problems made like the ten published classes."""

from __future__ import annotations

import json

import pytest

# Sides of parts and sheets as Berkey and Wang (1987) and Martello and Vigo (1998) give them, from memory.
SQUARES = {1: (10, 10), 2: (10, 30), 3: (35, 40), 4: (35, 100), 5: (100, 100), 6: (100, 300)}
SHAPES = {
    7: lambda w, h: 3 * w >= 200 and h <= 50,
    8: lambda w, h: w <= 50 and 3 * h >= 200,
    9: lambda w, h: w >= 50 and h >= 50,
    10: lambda w, h: w <= 50 and h <= 50,
}


@pytest.fixture
def classes(program):
    """The generator."""
    return program("classes")


@pytest.mark.parametrize("number", range(1, 11))
def test_sizes_stay_in_the_published_ranges(classes, number):
    """Sheets have the class's size, and parts its sides; of classes 7 to 10 seven in ten its own shape."""
    instances = classes.family("made", [number], [100], 20, 3)["instances"]
    items = [item for i in instances for item in i["items"]]
    sheet = SQUARES.get(number, (None, 100))[1]
    assert {tuple(i["containers"][0]) for i in instances} == {(sheet, sheet, None, None)}
    assert len(items) == 2000
    if number in SQUARES:
        sides = {side for w, h, _ in items for side in (w, h)}
        assert sides == set(range(1, SQUARES[number][0] + 1))
        return
    assert all(any(fits(w, h) for fits in SHAPES.values()) for w, h, _ in items)
    own = sum(SHAPES[number](w, h) for w, h, _ in items) / len(items)
    assert 0.66 < own < 0.74


def test_the_same_seed_makes_the_same_problems(classes):
    """A seed names the instances, whatever else is asked for; another makes others."""
    many, one = (classes.family("made", c, [20], 2, 5)["instances"] for c in ([1, 7], [7]))
    assert many[2:] == one
    assert classes.family("made", [7], [20], 2, 6)["instances"] != one


def test_the_runner_runs_them(classes, program, run, data, capsys):
    """The file is one that the runner reads, and its answers are right."""
    classes.main([str(data / "made.json"), "--classes", "1", "8", "--sizes", "10", "--instances", "2"])
    status, records = run("--seconds", "0.05", family="made")
    assert status == 0
    assert [r["instance"] for r in records[::2]] == [
        "made01_010_01",
        "made01_010_02",
        "made08_010_01",
        "made08_010_02",
    ]
    assert "8/10 turning" in capsys.readouterr().out
    task = json.loads((data / "made.json").read_text(encoding="utf-8"))["instances"][0]["tasks"][0]
    assert task["lb_area"] >= 1
    assert program("recheck").main(["--data", str(data), str(data / "answers.jsonl")]) == 0
