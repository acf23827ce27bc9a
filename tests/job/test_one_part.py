"""One part read by itself is the part of the whole job."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from nestkit.errors import JobError
from nestkit.job.one_part import read_one_part
from nestkit.job.reader import read_data, toml_data

SAMPLES = Path(__file__).resolve().parents[2] / "sample_parts"
BOAT = toml_data((SAMPLES / "solar_boat.toml").read_text(encoding="utf-8"))


def test_every_part_of_the_boat():
    """Panels, tubes, bought parts, sheets and bars are read by themselves as they are in the whole job."""
    job = read_data(BOAT, SAMPLES)
    whole = {
        "panel": {p.name: replace(p, turn="any") for p in job.panels},
        "tube": {t.name: t for t in job.tubes},
        "bought": {b.name: b for b in job.bought},
        "sheet": {s.name: s for s in job.sheets},
        "bar": {b.name: b for b in job.bars},
    }
    for kind, named in whole.items():
        for index, item in enumerate(BOAT[kind]):
            read = read_one_part(BOAT, item, kind, index, SAMPLES)
            assert read.mistakes == ()
            part = replace(read.part, turn="any") if kind == "panel" else read.part
            assert part == named[item["name"]]


def test_its_stock_is_known():
    """A panel by itself has the real thickness of its stock, and the way in which that is cut."""
    at = next(i for i, p in enumerate(BOAT["panel"]) if p["name"] == "motor bracket")
    read = read_one_part(BOAT, BOAT["panel"][at], "panel", at, SAMPLES)
    assert read.job.way_of(read.part).how == "router"


@pytest.mark.parametrize(
    ("kind", "index", "change"),
    [
        ("panel", 0, {"size": ["x", 1]}),
        ("panel", 4, {"thickness": None}),
        ("panel", 2, {"holes": [{"screw": "10-32", "at": [[1, "y"]]}]}),
        ("panel", 1, {"strange": 1}),
        ("tube", 3, {"section": "2 x"}),
        ("tube", 1, {"holes": [{"face": "Q", "dia": 1, "at": [1]}]}),
        ("bought", 1, {"price": "much"}),
        ("sheet", 2, {"size": [24]}),
        ("bar", 5, {"length": -1}),
        ("sheet", 3, {"name": ""}),
    ],
)
def test_mistakes_are_those_of_the_whole_job(kind, index, change):
    """What is wrong with a part is said in the words, with the place and path, of the whole job."""
    item = {key: value for key, value in {**BOAT[kind][index], **change}.items() if value is not None}
    listed = [item if at == index else other for at, other in enumerate(BOAT[kind])]
    with pytest.raises(JobError) as whole:
        read_data({**BOAT, kind: listed, "joint": []}, SAMPLES)
    own = [mistake for mistake in whole.value.mistakes if mistake.path[:2] == (kind, index)]
    assert own
    read = read_one_part(BOAT, item, kind, index, SAMPLES)
    assert list(read.mistakes) == own


def test_the_rest_may_be_wrong():
    """A part is read whatever is wrong with the top of the job and with its stock."""
    head = {"unit": "in", "cutting": {"how": "axe"}, "sheet": [{"name": 1}], "printing": 5}
    read = read_one_part(head, BOAT["panel"][0], "panel", 0, SAMPLES)
    assert read.mistakes == ()
    assert read.part.name == "console lid"
