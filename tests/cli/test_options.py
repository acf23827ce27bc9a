"""Options that every command takes, so that a script may pass one set of them to all."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from typer.testing import CliRunner

from nestkit.cli.app import app

SMALL = """
job = "small"
unit = "in"
[cutting]
how = "saw"
kerf = "1/8"
[[sheet]]
name = "PC"
material = "polycarbonate"
thickness = "1/8"
size = [24, 48]
[[panel]]
name = "lid"
material = "polycarbonate"
thickness = "1/8"
size = [10, 8]
"""
OPTIONS = ("--out", "elsewhere", "--seed", "2", "--effort", "quick")
"""What a script passes to every command, apart from --json and --quiet."""


def cli(*arguments: str | Path) -> tuple[int, str, str]:
    """Run a command in this process; return its exit code, standard output and standard error."""
    result = CliRunner().invoke(app, [str(a) for a in arguments])
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture
def small(tmp_path) -> Path:
    """A small job file."""
    path = tmp_path / "small.toml"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.mark.parametrize("command", ["check", "nest", "estimate", "template"])
def test_one_set_of_options_serves_every_command_that_reads_a_job(command, small, tmp_path):
    """A script may pass --out, --seed, --effort, --json and --quiet to each of them."""
    shared = ("--out", tmp_path / "out", "--seed", "2", "--effort", "quick", "--json", "--quiet")
    code, out, err = cli(command, small, *shared)
    assert code == 0, err
    assert json.loads(out)


def test_new_takes_the_options_of_all_commands(tmp_path):
    """new says with --json which file it made, with --quiet no more than that it did."""
    code, out, err = cli("new", tmp_path / "a.toml", *OPTIONS, "--json", "--quiet")
    assert (code, err) == (0, "")
    assert json.loads(out) == {"file": (tmp_path / "a.toml").as_posix()}
    code, out, err = cli("new", tmp_path / "b.toml", "--quiet")
    assert (code, out, err) == (0, f"Wrote {tmp_path / 'b.toml'}.\n", "")
    code, out, _ = cli("new", tmp_path / "b.toml", "--json")
    assert code == 2
    assert "left as it is" in json.loads(out)["mistakes"][0]["text"]
    assert sorted(os.listdir(tmp_path)) == ["a.toml", "b.toml"]


def test_tables_take_the_options_of_all_commands(tmp_path, monkeypatch):
    """tables --json prints a table's rows, or the tables; with --quiet without the hint."""
    monkeypatch.chdir(tmp_path)
    code, out, err = cli("tables", "gauges", *OPTIONS, "--json", "--quiet")
    assert (code, err) == (0, "")
    rows = json.loads(out)
    assert {"gauge", "source", "basis"} <= set(rows[0])
    code, out, _ = cli("tables", "--json")
    assert json.loads(out)["gauges"] == "Sheet gauges"
    plain, quiet = cli("tables")[1], cli("tables", "--quiet")[1]
    assert plain == quiet + "\nShow one: nestkit tables NAME\n"
    assert cli("tables", "gauges", "--quiet")[1] == cli("tables", "gauges")[1]
    code, out, _ = cli("tables", "gages", "--json")
    assert code == 2
    assert "did you mean gauges" in json.loads(out)["mistakes"][0]["text"]
    assert os.listdir(tmp_path) == []


def test_a_part_that_is_not_made_has_no_template(tmp_path, monkeypatch):
    """A part of quantity 0 asked for by name is a mistake, nothing is written; among all it is left out."""
    monkeypatch.chdir(tmp_path)
    spare = SMALL[SMALL.index("[[panel]]") :].replace('"lid"', '"old lid"') + "quantity = 0\n"
    job = tmp_path / "two.toml"
    job.write_text(SMALL + spare, encoding="utf-8")
    code, _, err = cli("template", job, "old lid")
    assert code == 2
    assert "old lid" in err
    assert "quantity is 0" in err
    assert os.listdir(tmp_path) == ["two.toml"]
    code, out, _ = cli("template", job)
    assert code == 0
    assert "lid.pdf" in out
    assert "old-lid" not in out


def test_calibrate_takes_the_options_of_all_commands(small, tmp_path):
    """calibrate writes where --out says, and with --quiet says only what it wrote, not what to do next."""
    pdf = tmp_path / "test.pdf"
    options = ("--seed", "2", "--effort", "quick", "--out", pdf)
    code, out, err = cli("calibrate", small, *options, "--quiet")
    assert (code, err) == (0, "")
    assert "When measured" not in out
    assert f"Written: {pdf}" in out
    assert json.loads(cli("calibrate", small, *options, "--quiet", "--json")[1])["file"] == pdf.as_posix()
    readings = ("--x", "8", "--y", "9 1/2")
    plain, quiet = cli("calibrate", *readings)[1], cli("calibrate", *readings, "--quiet")[1]
    assert plain.startswith(quiet.rstrip("\n"))
    assert "Put both lines" not in quiet
    done = cli("calibrate", small, *readings, "--write", "--quiet")[1]
    assert done.splitlines()[-1] == f"Written into {small}."


@pytest.mark.parametrize(
    "command", ["", *sorted(command.name or command.callback.__name__ for command in app.registered_commands)]
)
def test_help_shows_what_the_shop_needs(command):
    """No option for setting up a command line's own completion stands in any help."""
    code, out, _ = cli(*filter(None, (command, "--help")))
    assert code == 0
    assert "--help" in out
    assert "completion" not in out
