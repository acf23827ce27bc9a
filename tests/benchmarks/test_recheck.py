"""The check of the runner's answers: right ones pass, and each thing that can be wrong is found."""

from __future__ import annotations

import ast
import copy
import json

import pytest

SAW = {"kind": "bin2d", "goal": "min_area", "rot90": True, "guillotine": True, "kerf": 1, "gap": 1,
       "margin": 2, "stages": 2, "lb_area": 150, "best": {"value": 200, "how": "computed"}}  # fmt: skip
ROUND = {"kind": "bin2d", "goal": "min_bins", "rot90": True, "guillotine": True}
FREE = {"kind": "bin2d", "goal": "min_bins", "rot90": True, "guillotine": False, "best": {"value": 1}}
STRIP = {"kind": "strip2d", "goal": "min_height", "rot90": False, "guillotine": False, "margin": 1}
VALUE = {"kind": "guillotine2d", "goal": "max_value", "rot90": False, "guillotine": True, "unlimited": False,
         "ub_area": 100}  # fmt: skip
FAMILY = {
    "instances": [
        {
            "name": "boat",
            "group": "g",
            "containers": [[20, 10, 2, None], [20, 10, 1, None]],
            "items": [[6, 2.5, 3], [2, 3, 1]],
            "fixed": [True, False],
            "tasks": [SAW],
        },
        {
            "name": "wheel",
            "group": "g",
            "containers": [[3, 3, None, None]],
            "items": [[2, 1, 4]],
            "tasks": [ROUND, FREE],
        },
        {
            "name": "strip",
            "group": "g",
            "containers": [[10, 3, None, None]],
            "items": [[4, 6, 2]],
            "tasks": [STRIP],
        },
        {
            "name": "worth",
            "group": "g",
            "containers": [[10, 10, None, None]],
            "items": [[5, 10, 2], [10, 2, 1]],
            "values": [30, 4],
            "tasks": [VALUE, VALUE | {"unlimited": True}],
        },
    ]
}


def answer(name, task, value, bound, rows):
    """A record of one sheet of the first kind."""
    worth = {"value": value, "bound": bound, "proved": value == bound}
    bins = [{"container": 0, "items": rows}]
    return {"family": "f", "instance": name, "task": task, **worth, "cpu_s": 0.1, "bins": bins}


BOAT = answer("boat", SAW, 200, 200, [[0, 2, 2, 0], [0, 9, 2, 0], [0, 2, 5.5, 0], [1, 9, 5.5, 90]])
FREE_WHEEL = answer("wheel", FREE, 1, 1, [[0, 0, 0, 0], [0, 2, 0, 90], [0, 1, 2, 0], [0, 0, 1, 90]])
STRIPES = answer("strip", STRIP, 8, 7.2, [[0, 1, 1, 0], [0, 5, 1, 0]])
WORTH = answer("worth", VALUE, 60, 60, [[0, 0, 0, 0], [0, 5, 0, 0]])


@pytest.fixture
def check(program, tmp_path, capsys):
    """Check records; return the status and what was printed."""
    (tmp_path / "f.json").write_text(json.dumps(FAMILY), encoding="utf-8")

    def go(*records):
        path = tmp_path / "answers.jsonl"
        path.write_text("".join(json.dumps(r) + "\n" for r in records), encoding="utf-8")
        status = program("recheck").main(["--data", str(tmp_path), str(path)])
        return status, capsys.readouterr().out

    return go


def changed(record, **values):
    """The record with other values."""
    return copy.deepcopy(record) | values


def moved(record, row, **to):
    """The record with one item of its first sheet changed."""
    other = copy.deepcopy(record)
    for key, value in to.items():
        other["bins"][0]["items"][row][["index", "x", "y", "turn"].index(key)] = value
    return other


def test_right_answers_pass(check):
    """Sheets in stock, cuts with a kerf, a pinwheel without a saw, a strip and a value are all right."""
    status, text = check(BOAT, FREE_WHEEL, STRIPES, WORTH)
    assert (status, text.endswith("4 answers are right\n")) == (0, True)


def test_a_task_posed_to_a_saw_is_known(check):
    """The runner's own saw is no other task, and what is known of the free one does not bind it."""
    task = {k: v for k, v in FREE.items() if k != "best"} | {"guillotine": True, "stages": 2}
    rows = [[0, 0, 0, 0], [0, 0, 1, 0], [0, 0, 2, 0]]
    sawn = answer("wheel", task, 2, 2, rows)
    sawn["bins"].append({"container": 0, "items": [[0, 0, 0, 90]]})
    assert check(sawn)[0] == 0


BAD = {
    "over the edge of 20 x 10": moved(BOAT, 0, x=1.5),
    "lies over the edge": moved(BOAT, 2, y=6),
    "overlap": moved(BOAT, 1, x=7.5),
    "are nearer to each other than 1": moved(BOAT, 1, x=8.5),
    "item 0 is turned by 90 degrees": moved(BOAT, 0, turn=90),
    "item 7 is not in the file": moved(BOAT, 0, index=7),
    "item -1 is not in the file": moved(BOAT, 0, index=-1),
    "item 0: 2 placed and 0 left of 3": moved(BOAT, 0, index=1),
    "item 5 is not in the file": changed(BOAT, left={"5": 1}),
    "{0: 0} cannot be left over": changed(BOAT, left={"0": 0}),
    "a value or a proof is given": changed(
        BOAT, left={"1": 1}, bins=[{"container": 0, "items": BOAT["bins"][0]["items"][:3]}]
    ),
    "no value is given": changed(BOAT, value=None, proved=False),
    "counted it is 200": changed(BOAT, value=300),
    "the bound 9 is beaten by the value 8": changed(STRIPES, bound=9),
    "proved is False with value 200": changed(BOAT, proved=False),
    "proved is True with value 200": changed(BOAT, bound=199, proved=True),
    "container 4 is not in the file": changed(
        BOAT, bins=[{"container": 4, "items": BOAT["bins"][0]["items"]}]
    ),
    "a sheet is used for nothing": changed(BOAT, bins=[*BOAT["bins"], {"container": 1, "items": []}]),
    "2 of container 1 are used, there are 1": changed(
        BOAT, bins=[{"container": 1, "items": rows} for rows in ([[0, 2, 2, 0]], [[0, 2, 2, 0]])]
    ),
    "the file has no such instance": changed(BOAT, instance="ship"),
    "the file has no such task": changed(BOAT, task=SAW | {"kerf": 0}),
    "counted it is 8": changed(STRIPES, value=7.2, proved=True),
    "counted it is 60": changed(WORTH, value=64, bound=64),
    "the bound 59 is beaten by": changed(WORTH, bound=59, proved=False),
    "item 0 lies there 3 times, there are 2": changed(
        WORTH, bins=[{"container": 0, "items": [[0, 0, 0, 0], [0, 5, 0, 0], [0, 5, 0, 0]]}]
    ),
    "2 sheets are used, the task has one": changed(WORTH, bins=WORTH["bins"] * 2),
}  # fmt: skip


@pytest.mark.parametrize("words", BAD)
def test_what_is_wrong_is_found(check, words):
    """Places, distances, turns, counts, stock, value, bound: the first fault is told with its line."""
    status, text = check(FREE_WHEEL, BAD[words])
    assert status == 1
    assert "answers.jsonl:2: " in text
    assert words in text


def test_parts_that_could_have_a_sheet_of_their_own_are_not_left(check):
    """Where sheets are not limited, only what fits on none of them may be left over."""
    wheel = changed(FREE_WHEEL, value=None, proved=False, left={"0": 1})
    wheel["bins"][0]["items"].pop()
    status, text = check(wheel)
    assert (status, "item 0 is left over, but fits container 0" in text) == (1, True)


def test_two_answers_for_a_task_are_one_too_many(check):
    """A task may be answered once."""
    status, text = check(BOAT, BOAT)
    assert (status, "the task is answered twice" in text) == (1, True)


def test_bounds_are_held_against_what_is_known(check, tmp_path):
    """A bound above a value that was found is wrong, unless that is only remembered, and so is a value
    below the file's own bound."""
    for more, words in (
        ({"best": {"value": 199, "how": "computed"}}, "the bound 200 is beaten by the best known value 199"),
        ({"best": {"value": 199, "how": "memory"}}, "1 answers are right"),
        ({"lb_area": 201}, "the value 200 beats the file's own bound 201"),
    ):
        task = SAW | more
        instance = FAMILY["instances"][0] | {"tasks": [task]}
        (tmp_path / "g.json").write_text(json.dumps({"instances": [instance]}), encoding="utf-8")
        assert words in check(changed(BOAT, family="g", task=task))[1]


def test_a_pinwheel_cannot_be_sawn(check):
    """Four parts around a hole: no cut from edge to edge parts them."""
    status, text = check(changed(FREE_WHEEL, task=ROUND))
    assert status == 1
    assert "sheet 1: no cuts from edge to edge part all that lies there" in text


def test_stages_are_counted(program):
    """Rows, rows of columns, and one more turn within them are 1, 2 and 3 stages; a kerf needs its room."""
    recheck = program("recheck")

    def stages(*rects, kerf=0):
        exact = [recheck.Rect(*r) for r in rects]
        return [recheck.stages_of(exact, axis, kerf) for axis in (0, 1)]

    assert stages((0, 0, 9, 1), (0, 1, 9, 2)) == [None, 1]
    assert stages((0, 0, 4, 1), (4, 0, 9, 1), (0, 1, 5, 2), (5, 1, 9, 2)) == [None, 2]
    assert stages((0, 0, 4, 2), (4, 0, 9, 1), (4, 1, 9, 2), (0, 2, 5, 3), (5, 2, 9, 3)) == [None, 3]
    assert stages((0, 0, 1, 1), (2, 0, 3, 1), (0, 2, 1, 3), (2, 2, 3, 3), kerf=1) == [2, 2]
    assert stages((0, 0, 1, 1), (2, 0, 3, 1), kerf=2) == [None, None]
    limited = [recheck.Rect(0, 0, 4, 2), recheck.Rect(4, 0, 9, 1), recheck.Rect(4, 1, 9, 2)]
    recheck.check_cuts(limited, 0, 2)
    with pytest.raises(recheck.Fault, match="the cuts take 2 stages, 1 are allowed"):
        recheck.check_cuts(limited, 0, 1)


def test_no_answers_are_not_right_answers(check):
    """A run that broke off before its first answer does not pass."""
    status, text = check()
    assert (status, "there are no answers" in text) == (1, True)


def test_a_file_that_is_not_there_is_said(program, tmp_path, capsys):
    """Exit 2, with the file's name."""
    assert program("recheck").main(["--data", str(tmp_path), str(tmp_path / "none.jsonl")]) == 2
    assert "none.jsonl" in capsys.readouterr().err


def test_it_takes_nothing_from_what_it_checks(program):
    """The check imports neither the package nor the runner's modules."""
    names: list[str] = []
    for name in ("recheck", "recheck_shapes"):
        with open(program(name).__file__, encoding="utf-8") as file:
            tree = ast.parse(file.read())
        names += [a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names]
        names += [str(n.module) for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]
    standard = {"__future__", "argparse", "collections", "fractions", "itertools", "json", "pathlib", "sys"}
    assert set(names) <= standard | {"math", "recheck_shapes", "shapely", "typing"}


def test_the_runners_answers_pass(program, run, data):
    """Free, sawn, strip: what the runner writes is found right."""
    recheck = program("recheck").main
    for more in ([], ["--kind", "strip2d"], ["--edge-to-edge"], ["--kind", "strip2d", "--stages", "2"]):
        assert run(*more, "--seconds", "0.02")[0] == 0
        assert recheck(["--data", str(data), str(data / "answers.jsonl")]) == 0
