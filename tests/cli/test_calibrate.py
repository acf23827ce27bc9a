"""calibrate: the print test, the scale from readings, and the scale in the job with its comments kept."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from typer.testing import CliRunner

from nestkit.cli.app import app
from nestkit.job.reader import read_job

JOB = """# our job
job = "small"
unit = "mm"
[cutting]
how = "saw"
kerf = 3

[printing]           # the office printer
paper = "A4"
scale_x = 1.0        # to be measured

[[panel]]
name = "lid"
material = "MDF"
thickness = 6
size = [900, 600]
[[panel.holes]]
screw = "M5"
fit = "fine"
corners = 20
"""


def cli(*arguments: str | Path) -> tuple[int, str, str]:
    """Run calibrate in this process."""
    result = CliRunner().invoke(app, ["calibrate", *map(str, arguments)])
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture
def job(tmp_path, monkeypatch) -> Path:
    """A job file in a folder that is the current one."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def test_the_print_test_is_written_and_nothing_else_overwritten(job, tmp_path):
    """The page is named by its paper; the same page may be written again, another file is left alone."""
    code, out, _ = cli(job)
    assert code == 0
    assert "190 mm" in out
    assert "260 mm" in out
    assert (tmp_path / "print-test-a4.pdf").read_bytes().startswith(b"%PDF")
    assert cli(job)[0] == 0
    (tmp_path / "print-test-a4.pdf").write_text("mine")
    code, _, err = cli(job)
    assert code == 2
    assert "left as it is" in err
    assert (tmp_path / "print-test-a4.pdf").read_text() == "mine"


def test_readings_become_the_scale_and_the_job_keeps_its_comments(job):
    """With --write only the two scales change; every comment and line stays, and the job reads back so."""
    readings = ("--x", "189.2", "--x", "189.3", "--y", "260.5", "--y", "260.5")
    code, out, _ = cli(job, *readings, "--write", "--read-to", "0.05")
    assert code == 0, out
    printing = read_job(job).printing
    assert printing.scale_x == pytest.approx(189.25 / 190, abs=1e-5)
    assert printing.scale_y == pytest.approx(260.5 / 260, abs=1e-5)
    text = job.read_text(encoding="utf-8")
    assert "# our job" in text
    assert "# the office printer" in text
    assert "scale_x = 0.99605        # to be measured" in text
    added = [line for line in text.splitlines() if line.startswith("scale_")]
    left = [line for line in text.splitlines() if not line.startswith("scale_")]
    assert len(added) == 2
    assert left == [line for line in JOB.splitlines() if not line.startswith("scale_")]
    assert os.listdir(job.parent) == ["job.toml"]


def test_a_table_for_the_scale_is_made_where_there_is_none(job):
    """A job without [printing] gets one."""
    start, end = JOB.index("[printing]"), JOB.index("[[panel]]")
    job.write_text(JOB[:start] + JOB[end:], encoding="utf-8")
    # Without [printing] a mm job prints on A4.
    code, out, err = cli(job, "--x", "190", "--y", "260", "--write", "--read-to", "0.03")
    assert code == 0, out + err
    assert read_job(job).printing.scale_x == 1.0


def test_a_printer_that_cannot_do_is_said(job):
    """A close fit far from the datum is named with its figures, and the exit code says so."""
    code, out, _ = cli(job, "--x", "190", "--y", "260")
    assert code == 1
    assert "TOO FAR OUT" in out
    code, out, _ = cli(job, "--x", "190", "--y", "260", "--json")
    found = json.loads(out)
    assert found["panels"][0]["part"] == "lid"
    assert found["panels"][0]["spare"] == pytest.approx(0.3)
    assert found["panels"][0]["holds"] is False


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--x", "178.6", "--y", "244.4"), "printed to fit"),
        (("--x", "190"), "both sides"),
        (("--x", "19o", "--y", "260"), "--x"),
        (("--x", "-190", "--y", "260"), "no reading"),
        (("--write",), "needs readings"),
        (("--paper", "postcard"), "postcard"),
    ],
)
def test_wrong_readings_change_nothing(job, arguments, words):
    """What cannot be a reading ends with 2, says why, and leaves the job alone."""
    code, _, err = cli(job, *arguments)
    assert code == 2
    assert words in err
    assert job.read_text(encoding="utf-8") == JOB
    assert os.listdir(job.parent) == ["job.toml"]


def test_writing_needs_a_job():
    """--write without a job file says so."""
    code, _, err = cli("--x", "8", "--y", "9.5", "--write")
    assert code == 2
    assert "name it" in err


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_tables_out_of_order_stay_where_they_are(job, ends):
    """A job whose lists of tables are mixed keeps every line but the scales, line ends too."""
    sheet = '[[sheet]]\nname = "{}"\nmaterial = "MDF"\nthickness = 6\nsize = [1000, 700]\n'
    text = (
        JOB
        + sheet.format("b")
        + '[[panel]]\nname = "second"'
        + JOB.split('name = "lid"')[1]
        + sheet.format("c")
    )
    job.write_bytes(text.replace("\n", ends).encode())
    code, out, err = cli(job, "--x", "190", "--y", "260", "--write", "--read-to", "0.01")
    assert code == 0, out + err
    fresh = job.read_bytes().decode()
    kept = [line for line in fresh.split(ends) if not line.startswith("scale_")]
    assert kept == [line for line in text.split("\n") if not line.startswith("scale_")]


def test_a_table_in_braces_is_left_to_its_owner(job):
    """Where the scale cannot be changed by one line, the message says what to write by hand."""
    start, end = JOB.index("[printing]"), JOB.index("[[panel]]")
    text = 'printing = { paper = "A4", scale_x = 1.0 }\n' + JOB[:start] + JOB[end:]
    job.write_text(text, encoding="utf-8")
    code, _, err = cli(job, "--x", "190", "--y", "260", "--write")
    assert code == 2
    assert "by hand" in err
    assert job.read_text(encoding="utf-8") == text
