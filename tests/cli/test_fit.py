"""``nestkit fit`` as a person or a script uses it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from nestkit.cli.app import app
from tests.fit.joint_jobs import HEAD, joint, panel, tube

ROOT = Path(__file__).resolve().parent.parent.parent
BOAT = ROOT / "sample_parts" / "solar_boat.toml"
ROW = "[[10, 10], [150, 10], [150, 80]]"
WRONG = "[[10, 10], [150, 10], [150, 84]]"


def cli(*arguments):
    """Run a command in this process; return its exit code, standard output and standard error."""
    result = CliRunner().invoke(app, [str(a) for a in arguments])
    return result.exit_code, result.stdout, result.stderr


def written(folder, *texts, unit="mm"):
    """Write a job file of a head and some tables."""
    path = folder / "job.toml"
    path.write_text(HEAD.format(unit=unit) + "".join(texts), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def boat():
    """Return what fit prints of the boat, for people and for programs."""
    code, text, err = cli("fit", BOAT)
    assert (code, err) == (0, "")
    code, raw, err = cli("fit", BOAT, "--json")
    assert (code, err) == (0, "")
    return text, json.loads(raw)


def test_the_boat_s_joints_are_of_every_kind(boat):
    """Two panels, a panel on a tube, through a tube, three deep, tapped, together, bought, tie and tape."""
    text, found = boat
    parts = {one["name"]: [p["part"] for p in one["parts"]] for one in found["joints"]}
    assert parts["fore hatch to hinge strip"] == ["fore hatch cover", "hinge strip"]
    assert parts["console side to back post"] == ["console side", "console post back"]
    assert parts["outrigger plates to beam"] == ["outrigger plate", "outrigger beam", "outrigger plate"]
    assert not any(one["faults"] for one in found["joints"])
    for kind in ("tapped hole", "drilled together", "Cable ties", "Hook-and-loop", "lock nut"):
        assert kind in text


def test_the_object_for_programs_has_the_contract_s_keys(boat):
    """Joints with name, zone, zone per axis, chance, holes; hardware; lengths in the job's unit."""
    _, found = boat
    hatch = found["joints"][0]
    assert {"name", "zone", "zone_per_axis", "chance", "holes"} <= set(hatch)
    assert hatch["zone"] == pytest.approx(0.221 - 0.190)
    assert hatch["zone_per_axis"] == pytest.approx(0.0110, abs=5e-5)
    assert 0.98 < hatch["chance"] < 1
    assert [hole["number"] for hole in hatch["holes"]] == [1, 2, 3, 4]
    assert all(0 < hole["chance"] <= 1 for hole in hatch["holes"])
    assert [(p["part"], p["hole"]) for p in hatch["holes"][3]["parts"]] == [
        ("fore hatch cover", 4),
        ("hinge strip", 4),
    ]
    screws = [row for row in found["hardware"] if row["size"] == "10-32" and "screw" in row["item"]]
    assert screws
    assert all(float(row["length"]) in (0.375, 0.5, 0.625, 1.5) for row in screws)
    strap = next(one for one in found["joints"] if one["name"] == "battery strap")
    assert strap["chance"] is None
    assert strap["holes"] == []


def test_the_last_line_is_the_one_that_matters(boat):
    """It says how many joints are below what is asked, and which is the weakest."""
    text, _ = boat
    assert "below what is asked; the weakest" in text.rstrip("\n").splitlines()[-1]


def test_nothing_is_written(tmp_path, monkeypatch):
    """The command only shows."""
    path = written(tmp_path, panel("a", ROW), tube("t", "[10, 150]"), panel("b", ROW), joint("a", "b"))
    monkeypatch.chdir(tmp_path)
    assert cli("fit", path)[0] == 0
    assert [p.name for p in tmp_path.iterdir()] == ["job.toml"]


def test_a_joint_that_cannot_meet_is_exit_1_in_fit_check_and_nest(tmp_path):
    """A mismatch is an error that is found; the work is done all the same."""
    path = written(tmp_path, panel("a", ROW), panel("b", WRONG), joint("a", "b"))
    code, text, _ = cli("fit", path)
    assert code == 1
    assert "j: CANNOT MEET" in text
    assert "2 mm" in text
    code, raw, _ = cli("check", path, "--json")
    assert code == 1
    errors = [f for f in json.loads(raw)["findings"] if f["level"] == "error"]
    assert [f["place"] for f in errors] == ['joint "j"']
    code, text, _ = cli("nest", path, "--out", tmp_path / "out", "--effort", "quick")
    assert code == 1
    assert 'ERROR     joint "j"' in text
    assert (tmp_path / "out" / "hardware.csv").exists()


def test_a_wrong_joint_is_a_mistake_with_its_line(tmp_path):
    """A joint that names no part of the job: exit 2, its place and line, nothing else."""
    path = written(
        tmp_path, panel("lid", ROW), panel("b", ROW), joint("lid", "b").replace("lid / g", "lod / g")
    )
    code, raw, _ = cli("fit", path, "--json")
    assert code == 2
    (mistake,) = json.loads(raw)["mistakes"]
    assert mistake["place"] == 'joint "j", through[0]'
    assert "lid" in mistake["remedy"]
    line = path.read_text(encoding="utf-8").splitlines()[mistake["line"] - 1]
    assert "lod" in line


def test_a_job_without_joints_is_told_so(tmp_path):
    """Nothing to fit is no mistake."""
    path = written(tmp_path, panel("a", ROW))
    code, text, _ = cli("fit", path)
    assert code == 0
    assert text.splitlines()[-1] == "No joint has holes that must meet."


def test_quiet_leaves_the_joints_and_the_last_line(tmp_path):
    """``--quiet`` prints no hardware and no drills."""
    path = written(tmp_path, panel("a", ROW), panel("b", ROW), joint("a", "b"))
    _, text, _ = cli("fit", path, "--quiet")
    assert "lock nut, nylon insert" not in text
    assert "through" in text


def test_quiet_still_says_what_makes_it_exit_1(tmp_path):
    """An error of the hardware alone ends with 1: its reason and its remedy stand there all the same."""
    path = written(
        tmp_path, panel("a", "[[10, 50], [100, 50], [190, 50]]"),
        tube("t", "[10, 100, 190]", through=False), joint("a", "t"),
    )  # fmt: skip
    code, text, _ = cli("fit", path, "--quiet")
    assert code == 1
    assert "would sit inside the closed tube, out of reach" in text
    assert text.splitlines()[-1].startswith("1 joint cannot be put together with its screws: j. ")


def test_effort_and_seed_settle_the_trials(tmp_path):
    """More effort is more trials, a seed repeats itself, another one differs in the last places."""
    path = written(
        tmp_path, panel("a", ROW, 'screw = "M5"\n  fit = "fine"'), panel("b", ROW), joint("a", "b")
    )

    def chance(*options):
        return json.loads(cli("fit", path, "--json", *options)[1])["joints"][0]

    assert [chance("--effort", e)["trials"] for e in ("quick", "normal", "thorough")] == [
        4_000,
        20_000,
        100_000,
    ]
    assert chance("--seed", 3) == chance("--seed", 3)
    assert chance("--seed", 3)["chance"] != chance("--seed", 4)["chance"]


def test_the_same_bytes_whatever_the_hash_seed_and_the_threads(tmp_path):
    """Two processes with other hash seeds, locales and numbers of threads print the same."""
    path = written(tmp_path, panel("a", ROW), tube("t", "[10, 150]"), panel("b", ROW), joint("a", "b"))
    outs = []
    for seed, threads in (("1", "1"), ("77", "2")):
        env = {
            **os.environ,
            "PYTHONHASHSEED": seed,
            "OMP_NUM_THREADS": threads,
            "OPENBLAS_NUM_THREADS": threads,
        }
        command = [sys.executable, "-m", "nestkit", "fit", str(path)]
        outs.append(subprocess.run(command, cwd=ROOT, env=env, capture_output=True, check=True).stdout)
    assert outs[0] == outs[1]
