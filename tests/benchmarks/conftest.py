"""What the tests of the benchmark programs share: the programs, and a small family of problems."""

from __future__ import annotations

import importlib
import json
from pathlib import Path
from types import ModuleType

import pytest

HERE = Path(__file__).resolve().parent

HATCHES = {
    "containers": [[20.5, 10, 2, None], [30, 10, None, None]],
    "items": [[9.25, 4.5, 3], [9.25, 4.5, 1], [20, 3, 2]],
    "fixed": [False, False, True],
    "unit": "in",
}
SPACES = {"kerf": 0.25, "gap": 0.5, "margin": 0.5}
FAMILY = {
    "schema": "pack-bench-1",
    "family": "boat",
    "instances": [
        {
            "name": f"boat{n}",
            "group": "hatches",
            **HATCHES,
            "tasks": [
                {"kind": "bin2d", "goal": goal, "rot90": True, "guillotine": saw, **SPACES, "stages": 3,
                 "lb_area": 1, "best": {"value": 3, "how": "memory"}}
                for goal, saw in (("min_bins", True), ("min_area", False))
            ],
        }
        for n in range(3)
    ]
    + [
        {
            "name": "strip",
            "group": "strips",
            "containers": [[13, 7, None, None]],
            "items": [[5.5, 3.5, 2], [2.5, 5.5, 1]],
            "fixed": [False, True],
            "tasks": [{"kind": "strip2d", "goal": "min_height", "rot90": True, "guillotine": False,
                       "kerf": 0.5, "margin": 0.5}],
        },
        {
            "name": "worth",
            "group": "values",
            "containers": [[10, 10, None, None]],
            "items": [[5, 5, 1], [5, 10, 1], [20, 1, 1]],
            "values": [3.5, 5, 100],
            "tasks": [{"kind": "guillotine2d", "goal": "max_value", "rot90": False, "guillotine": True,
                       "unlimited": unlimited} for unlimited in (True, False)],
        },
    ],
}  # fmt: skip


@pytest.fixture
def program(monkeypatch):
    """Load one of the programs by its name, as its command does: with its own folder on the path."""
    monkeypatch.syspath_prepend(str(HERE))

    def load(name: str) -> ModuleType:
        return importlib.import_module(name)

    return load


@pytest.fixture
def family():
    """The problems of a small family, to be changed at will."""
    return json.loads(json.dumps(FAMILY))


@pytest.fixture
def data(tmp_path, family):
    """A folder with the small family."""
    (tmp_path / "boat.json").write_text(json.dumps(family), encoding="utf-8")
    return tmp_path


@pytest.fixture
def run(program, data, tmp_path):
    """Run the runner in plain Python on a family of the folder; return its status and its records."""

    def go(*more: str, family: str = "boat", plain: bool = True):
        out = tmp_path / "answers.jsonl"
        options = ["--data", str(data), "--family", family, "--out", str(out), *more]
        status = program("run").main([*options, "--plain"] if plain else options)
        lines = out.read_text(encoding="utf-8").splitlines() if status == 0 else []
        return status, [json.loads(line) for line in lines]

    return go


GUSSETS = {
    "schema": "pack-bench-1",
    "family": "gussets",
    "instances": [
        {
            "name": name,
            "group": "gussets",
            "strip": 12.5,
            "pieces": 7,
            "items": [
                {"poly": [[0, 0], [6.5, 0], [0, 6]], "qty": 4, "rot": [0, 180]},
                {"poly": [[0, 0], [4, 0], [4, 2], [0, 2]], "qty": 2, "rot": [0, 90]},
                {"poly": [[0, 0], [4, 0], [4, 3], [0, 3]], "qty": 1, "rot": [0],
                 "path": [[0, 0, 0], [4, 0, 0.5], [4, 3, 0], [0, 3, -0.3]]},
            ],
            "tasks": [{"kind": "polystrip", "goal": "min_length", "lb_area": 1, **spaces}],
        }
        for name, spaces in (("bare", {}), ("spaced", {"kerf": 0.25, "gap": 0.5, "margin": 0.5}))
    ],
}  # fmt: skip


@pytest.fixture
def gussets(data):
    """The same folder with a family of true shapes, some with arcs."""
    (data / "gussets.json").write_text(json.dumps(GUSSETS), encoding="utf-8")
    return data
