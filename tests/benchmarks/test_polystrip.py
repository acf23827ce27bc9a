"""Strips of true shapes: the runner's answers pass the check, and the check sees what is wrong."""

from __future__ import annotations

import json

import pytest


def rechecked(program, data, records, tmp_path):
    """Return the check's status for changed answers."""
    path = tmp_path / "changed.jsonl"
    path.write_text("".join(f"{json.dumps(r)}\n" for r in records), encoding="utf-8")
    return program("recheck").main(["--data", str(data), str(path)])


def test_answers_pass_the_check(run, gussets, program, tmp_path, capsys):
    """With gap, margin and arcs each piece lies where the check accepts it, and densities are told."""
    status, records = run(family="gussets")
    assert status == 0
    assert [r["instance"] for r in records] == ["bare", "spaced"]
    assert records[1]["value"] > records[0]["value"] > records[0]["bound"] > 0
    assert "bare: " in (told := capsys.readouterr().out)
    assert "% dense" in told
    assert rechecked(program, gussets, records, tmp_path) == 0


def test_plates_of_one_length_pass_the_check(run, gussets, program, tmp_path):
    """On two plates every piece lies once, both are as long, and that is shorter than one strip."""
    one = run(family="gussets")[1]
    status, two = run("--plates", "2", family="gussets")
    assert status == 0
    assert [len(r["bins"]) for r in two] == [2, 2]
    assert all(r["value"] < s["value"] for r, s in zip(two, one, strict=True))
    assert rechecked(program, gussets, two, tmp_path) == 0
    two[0]["bins"][1]["items"].pop()
    assert rechecked(program, gussets, two, tmp_path) == 1


@pytest.mark.slow
def test_the_search_shortens(run, gussets, program, tmp_path):
    """The compiled search gives a strip no longer than plain Python, which passes too."""
    plain, searched = (run(family="gussets", plain=plain)[1] for plain in (True, False))
    assert rechecked(program, gussets, searched, tmp_path) == 0
    assert all(s["value"] <= p["value"] + 1e-9 for s, p in zip(searched, plain, strict=True))


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda r: r["bins"][0]["items"].pop(), "6 pieces lie there"),
        (lambda r: r["bins"][0]["items"][0].__setitem__(3, 90), "not allowed"),
        (lambda r: r["bins"][0]["items"][0].__setitem__(1, -1), "over an edge"),
        (lambda r: r["bins"][0]["items"].__setitem__(1, r["bins"][0]["items"][0]), "overlap"),
        (lambda r: r["bins"][0]["items"][6].__setitem__(0, 0), "times, there are 4"),
        (lambda r: r.__setitem__("value", r["value"] - 0.01), "the value is said to be"),
        (lambda r: r.__setitem__("bound", r["value"] + 1), "beaten by the value"),
    ],
)
def test_the_check_sees_what_is_wrong(run, gussets, program, tmp_path, capsys, change, told):
    """A piece lost, turned, over the edge, on another, or a wrong length is named."""
    _, records = run(family="gussets")
    change(records[1])
    assert rechecked(program, gussets, records, tmp_path) == 1
    assert told in capsys.readouterr().out
