"""What joints add to a job folder: hardware list, pictures, sections of the summary, the buy list."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

import pytest
from svgelements import SVG, Circle

from nestkit.job.reader import read_job
from nestkit.make import make
from nestkit.writers.job_files import job_files
from tests.fit.joint_jobs import job, joint, panel

BOAT = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"
ROW = "[[10, 10], [150, 10], [150, 80]]"
HINGE = """
[[bought]]
name = "=hinge"
quantity = 3
price = 2.25
material = "steel"
thickness = 2
  [[bought.holes]]
  name = "g"
  screw = "M5"
  at = [[0, 0], [140, 0], [140, 70]]
"""


def files(made):
    """Return all files of a job's folder by their names."""
    found = make(made, effort="quick")
    return dict(job_files(found.job, found.findings, found.fit, found.layout, found.estimate))


@cache
def boat():
    """Return the boat's files."""
    return files(read_job(BOAT))


def rows(content: bytes) -> list[dict[str, str]]:
    """Return a CSV file's rows by their headings."""
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"))))


def test_a_job_without_joints_has_none_of_it():
    """No hardware list, no pictures, no heading of joints where there are none."""
    made = files(job(panel("a", ROW)))
    assert not [name for name in made if name.startswith("joints/") or name == "hardware.csv"]
    assert b"Will it go together" not in made["summary.html"]


@pytest.mark.slow
def test_the_boat_has_a_picture_of_every_joint_with_holes_that_must_meet():
    """One SVG a joint but for ties and tapes, each with the holes of its parts as circles."""
    found = read_job(BOAT)
    rigid = [j for j in found.joints if j.fastener.kind not in ("cable tie", "hook-and-loop")]
    pictures = [name for name in boat() if name.startswith("joints/")]
    assert len(pictures) == len(rigid)
    picture = SVG.parse(io.BytesIO(boat()["joints/motor-to-plate.svg"]))
    circles = [e for e in picture.elements() if isinstance(e, Circle)]
    assert len(circles) >= 8


@pytest.mark.slow
def test_the_boat_s_hardware_list_counts_screws_and_nuts_alike():
    """Every screw with a lock nut has one: counted over all joints that hold by a nut."""
    listed = rows(boat()["hardware.csv"])
    found = read_job(BOAT)
    for size in ("10-32", "8-32", "1/4-20"):
        with_nut = sum(
            len(j.mates[0].holes) * j.quantity
            for j in found.joints
            if j.fastener.size == size and j.fastener.held_by == "lock nut" and j.name != "port light to ring"
        )
        with_nut += 24 if size == "8-32" else 0
        (nuts,) = [r for r in listed if r["item"].startswith("lock nut") and r["size"] == size]
        assert int(nuts["count"]) == with_nut
        assert int(nuts["buy"]) == int(nuts["count"]) + int(nuts["spares"])


def test_bought_parts_are_in_the_buy_list_and_in_the_cost():
    """A row each after the stock, no cell a formula, their price in the total and in the last line."""
    made = job(panel("a", ROW), HINGE, joint("a", "=hinge"))
    found = make(made, effort="quick")
    listed = rows(
        dict(job_files(found.job, found.findings, found.fit, found.layout, found.estimate))["buy.csv"]
    )
    assert [listed[-1][k] for k in ("stock", "material", "thickness", "size", "buy", "price", "cost")] == [
        "'=hinge", "steel", "2", "", "3", "2.25", "6.75",
    ]  # fmt: skip
    assert found.estimate.cost is not None
    assert float(found.estimate.cost) == 6.75


def test_the_summary_tells_joints_hardware_and_drills():
    """Headings, verdicts, hardware and drills; names are escaped, nothing is loaded from elsewhere."""
    name = "<b>lid & co"
    text = files(job(panel(name, ROW), panel("b", ROW), joint(name, "b")))["summary.html"].decode()
    for heading in ("Will it go together", "go together without filing", "lock nut", "M5"):
        assert heading in text
    assert "<b>lid" not in text
    assert "&lt;b&gt;lid &amp; co" in text
    assert "http" not in text.replace("http-equiv", "")
