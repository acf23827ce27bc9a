"""The benchmark runner: its rows, its file for an independent check, its errors."""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).resolve().parent


@pytest.fixture
def run(monkeypatch):
    """The runner, loaded as its command loads it: with its own folder on the path."""
    monkeypatch.syspath_prepend(str(HERE))
    spec = importlib.util.spec_from_file_location("benchmark_run", HERE / "run.py")
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "benchmark_run", module)
    spec.loader.exec_module(module)
    return module


FAMILY = {
    "family": "boat",
    "instances": [
        {
            "name": f"boat{n}",
            "group": "hatches",
            "containers": [[20.5, 10, 2, None], [30, 10, None, None]],
            "items": [[9.25, 4.5, 3], [9.25, 4.5, 1], [20, 3, 2]],
            "fixed": [False, False, True],
            "tasks": [
                {"kind": "bin2d", "goal": goal, "rot90": True, "guillotine": saw, "kerf": 0.25, "margin": 0.5,
                 "stages": 3, "best": {"value": 3}}
                for goal, saw in (("min_bins", True), ("min_area", False))
            ],
        }
        for n in range(3)
    ]
    + [{"name": "strip", "group": "strips", "containers": [[20, None, None, None]], "items": [[3, 4, 1]],
        "tasks": [{"kind": "strip2d", "goal": "min_height", "rot90": False}]}],
}  # fmt: skip


@pytest.fixture
def data(tmp_path):
    """A folder with one small family."""
    (tmp_path / "boat.json").write_text(json.dumps(FAMILY), encoding="utf-8")
    return tmp_path


def test_the_record_can_be_checked(run, data, tmp_path, capsys):
    """Each line has the task, the value and the places in the file's own units, margin and kerf kept."""
    out = tmp_path / "answers.jsonl"
    assert run.main(["--data", str(data), "--family", "boat", "--out", str(out)]) == 0
    records = [json.loads(line) for line in out.read_text(encoding="utf-8").splitlines()]
    assert [r["instance"] for r in records] == ["boat0", "boat0", "boat1", "boat1", "boat2", "boat2"]
    items = FAMILY["instances"][0]["items"]
    for record in records:
        counts = [0] * len(items)
        area = 0.0
        for sheet in record["bins"]:
            width, height = FAMILY["instances"][0]["containers"][sheet["container"]][:2]
            area += width * height
            rects = []
            for index, x, y, turn in sheet["items"]:
                w, h = items[index][:2] if turn == 0 else items[index][1::-1]
                counts[index] += 1
                rects.append((x, y, x + w, y + h))
                assert 0.5 <= x <= width - 0.5 - w
                assert 0.5 <= y <= height - 0.5 - h
            for i, a in enumerate(rects):
                for b in rects[:i]:
                    assert max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3]) >= 0.25
        assert counts == [3, 1, 2]
        goal = record["task"]["goal"]
        assert record["value"] == (len(record["bins"]) if goal == "min_bins" else area)
        assert record["bound"] <= record["value"]
        assert record["task"]["kerf"] == 0.25
    text = capsys.readouterr().out
    assert "hatches turning" in text
    assert "reading:" in text


def test_parts_without_a_place_are_listed(run, data, tmp_path):
    """With limited stock the value is null, nothing is proved, and the items left are counted."""
    family = json.loads(json.dumps(FAMILY))
    family["instances"] = family["instances"][:1]
    family["instances"][0]["containers"] = [[20.5, 10, 1, None]]
    (data / "short.json").write_text(json.dumps(family), encoding="utf-8")
    out = tmp_path / "answers.jsonl"
    assert run.main(["--data", str(data), "--family", "short", "--out", str(out)]) == 0
    record = json.loads(out.read_text(encoding="utf-8").splitlines()[0])
    assert record["value"] is None
    assert record["proved"] is False
    placed = sum(len(b["items"]) for b in record["bins"])
    assert sum(record["left"].values()) + placed == 6


def test_a_sample_is_spread_evenly(run, data, tmp_path):
    """Two of four instances are the first and the third, with all their tasks of the kind."""
    out = tmp_path / "answers.jsonl"
    run.main(
        ["--data", str(data), "--family", "boat", "--sample", "2", "--seconds", "0.05", "--out", str(out)]
    )
    names = [json.loads(line)["instance"] for line in out.read_text(encoding="utf-8").splitlines()]
    assert names == ["boat0", "boat0", "boat2", "boat2"]


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--family", "boat", "--kind", "strip2d"], "cannot be run yet; known here: bin2d"),
        (["--family", "car"], "is not there; the folder has boat"),
        (["--family", "boat", "--sample", "0"], "write --sample 1 or more"),
        (["--family", "boat", "--seconds", "-1"], "write more than 0"),
        (["--family", "boat", "--seconds", "nan"], "write more than 0"),
    ],
)
def test_what_cannot_be_run_is_said(run, data, capsys, more, words):
    """Another kind, another family, no sample, no time: exit 2 and what there is."""
    assert run.main(["--data", str(data), *more]) == 2
    assert words in capsys.readouterr().err
