"""The benchmark runner: its rows, its file for an independent check, its errors."""

from __future__ import annotations

import json
import sys
from fractions import Fraction
from types import ModuleType, SimpleNamespace

import pytest

from nestkit.layout.problem import Layout, Placed, SheetLayout


def test_the_record_can_be_checked(run, family, capsys):
    """Each line has the task, the value and the places in the file's own units, margin and gap kept."""
    status, records = run()
    assert status == 0
    assert [r["instance"] for r in records] == ["boat0", "boat0", "boat1", "boat1", "boat2", "boat2"]
    instance = family["instances"][0]
    items, containers = instance["items"], instance["containers"]
    assert [r["task"] for r in records[:2]] == instance["tasks"]
    for record in records:
        counts = [0] * len(items)
        area = 0.0
        for sheet in record["bins"]:
            width, height = containers[sheet["container"]][:2]
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
                    assert max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3]) >= 0.5
        assert counts == [3, 1, 2]
        goal = record["task"]["goal"]
        assert record["value"] == (len(record["bins"]) if goal == "min_bins" else area)
        assert record["bound"] <= record["value"]
    text = capsys.readouterr().out
    assert "hatches turning, edge to edge, 3 stages" in text
    assert "all turning" in text
    assert "compiling: none" in text


def test_parts_without_a_place_are_listed(run, family, data, capsys):
    """With limited stock the value is null, nothing is proved, and the items left are counted."""
    family["instances"] = family["instances"][:1]
    family["instances"][0]["containers"] = [[20.5, 10, 1, None]]
    (data / "short.json").write_text(json.dumps(family), encoding="utf-8")
    _, records = run(family="short")
    assert records[0]["value"] is None
    assert records[0]["proved"] is False
    placed = sum(len(b["items"]) for b in records[0]["bins"])
    assert sum(records[0]["left"].values()) + placed == 6
    assert "1 with parts left over" in capsys.readouterr().out


def test_a_sample_is_spread_evenly(run):
    """Two of five instances are the first and the third, with all their tasks of the kind."""
    _, records = run("--sample", "2", "--seconds", "0.02")
    assert [r["instance"] for r in records] == ["boat0", "boat0", "boat2", "boat2"]


def test_a_strip_is_as_long_as_what_lies_on_it(run):
    """The strip's value is the length used with both margins, its own height forgotten."""
    _, records = run("--kind", "strip2d")
    (record,) = records
    # Across 12 of 13: 5.5 and two of 3.5 or 2.5 do not fit beside each other but turned as
    # 5.5 + 0.5 + 2.5 wide or 3.5 + 0.5 + 3.5 + 0.5 + 2.5 = 10.5 wide and 5.5 high; with margins 6.5.
    assert record["value"] == 6.5
    assert record["bound"] <= 6.5
    assert len(record["bins"]) == 1
    assert sorted(row[0] for row in record["bins"][0]["items"]) == [0, 0, 1]
    assert min(row[2] for row in record["bins"][0]["items"]) == 0.5


def test_the_value_problem_is_posed_and_answered_in_the_files_units(program, run, monkeypatch):
    """Boxes have as many copies as could lie there or as there are, values are whole, and come back."""
    asked = []

    def most_value(problem, values, *, seed, effort, stop):
        asked.append(([b.quantity for b in problem.boxes], values, problem.edge_to_edge, stop))
        layout = Layout((SheetLayout(0, (Placed(0, 0, 0, 0),)),), (0, 0))
        return SimpleNamespace(layout=layout, value=values[0], bound=28, proved=False)

    module = ModuleType("value")
    module.most_value = most_value
    monkeypatch.setitem(sys.modules, "nestkit.layout.rects.value", module)
    _, records = run("--kind", "guillotine2d")
    assert asked == [([4, 2], (7, 10), True, None), ([1, 1], (7, 10), True, None)]
    assert [(r["value"], r["bound"], r["proved"]) for r in records] == [(3.5, 14, False)] * 2
    assert records[0]["bins"] == [{"container": 0, "items": [[0, 0, 0, 0]]}]
    assert "left" not in records[0]


def test_the_most_value_is_found(run):
    """Of any number, four squares worth 3.5 beat all; of one each, a square beside the plank is best."""
    pytest.importorskip("nestkit.layout.rects.value")
    _, records = run("--kind", "guillotine2d", "--seconds", "0.2")
    assert [r["value"] for r in records] == [14, 8.5]
    assert all(r["bound"] >= r["value"] for r in records)


def test_tasks_are_posed_to_a_saw(run):
    """The record says what was asked, nothing known of the free task stays, and equal tasks run once."""
    _, records = run("--edge-to-edge", "--sample", "1")
    assert [r["task"]["guillotine"] for r in records] == [True, True]
    assert all("best" not in r["task"] for r in records)
    _, records = run("--kind", "strip2d", "--stages", "2")
    assert (records[0]["task"]["guillotine"], records[0]["task"]["stages"]) == (True, 2)


def test_tasks_that_a_saw_makes_the_same_run_once(program, family):
    """A free task and its sawn twin in one file are one task under the saw."""
    task = family["instances"][0]["tasks"][0]
    assert program("run").sawn([task, task | {"guillotine": False}], None) == [
        {k: v for k, v in task.items() if k != "best"}
    ]


def test_efforts_follow_the_options(program):
    """Seconds leave the end to the clock, plain Python has no deep search; else the normal effort."""
    effort_for = program("run").effort_for
    timed, plain = effort_for(1.0, compiles=True), effort_for(1.0, compiles=False)
    assert timed.deep == plain.rounds == plain.no_gain == program("run").NO_END
    assert (timed.rounds, plain.deep, timed.tidy) == (12, 0, 0)
    assert effort_for(None, compiles=True).deep > effort_for(None, compiles=False).deep == 0


def test_the_clock_counts_cpu_time_of_a_task(program, monkeypatch):
    """The rule says stop once the task has had its seconds, and there is none without them."""
    module = program("run")
    now = [5.0]
    monkeypatch.setattr(module.time, "process_time", lambda: now[0])
    stop = module.clock(2.0)
    assert not stop()
    now[0] = 7.5
    assert stop()
    assert module.clock(None) is None


@pytest.mark.slow
def test_the_compiled_search_is_made_ready_before_the_tasks(run, capsys):
    """Compiling is reported on the last line and left out of the tasks' CPU seconds."""
    _, records = run("--seconds", "0.1", "--sample", "1", plain=False)
    assert all(r["cpu_s"] < 2 for r in records)
    assert "compiling, or loading what is compiled: " in capsys.readouterr().out.splitlines()[-1]


def test_lengths_are_whole_steps(program, family):
    """A task's lengths become whole steps of the coarsest kind, whatever decimals the file has."""
    instance = json.loads(json.dumps(family["instances"][0]), parse_float=Fraction)
    posed = program("bin2d").pose(instance, instance["tasks"][0])
    assert posed.scale == 4
    assert (posed.problem.kerf, posed.problem.gap, posed.problem.stocks[0].left) == (1, 2, 2)
    assert [(b.width, b.height, b.quantity, b.turns[0]) for b in posed.problem.boxes] == [
        (37, 18, 4, (0, 90)),
        (80, 12, 2, (0,)),
    ]
    assert posed.items == ((0, 0, 0, 1), (2, 2))


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--kind", "stock1d"], "cannot be run; known here: bin2d, strip2d, guillotine2d, polystrip"),
        (["--family", "car"], "is not there; the folder has boat"),
        (["--sample", "0"], "write --sample 1 or more"),
        (["--seconds", "-1"], "write more than 0"),
        (["--seconds", "nan"], "write more than 0"),
        (["--stages", "0"], "write --stages 1 or more"),
        (["--kind", "guillotine2d", "--edge-to-edge"], "leave --edge-to-edge and --stages"),
        (["--out", "/no/such/folder/file"], "No such file or directory"),
    ],
)
def test_what_cannot_be_run_is_said(run, capsys, more, words):
    """Another kind, another family, no sample, no time, no stages: exit 2 and what there is."""
    assert run(*more)[0] == 2
    assert words in capsys.readouterr().err


def test_a_family_without_the_kind_is_said(run, family, data, capsys):
    """The message names the kinds that the family has."""
    family["instances"] = family["instances"][-1:]
    (data / "worth.json").write_text(json.dumps(family), encoding="utf-8")
    assert run("--kind", "bin2d", family="worth")[0] == 2
    assert "no task of kind bin2d; it has guillotine2d" in capsys.readouterr().err
