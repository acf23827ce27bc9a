"""The commands as a person or a script uses them: exit codes, words, files, pipes."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import threading
import time
from contextlib import suppress
from pathlib import Path

import pytest
from typer.testing import CliRunner

import nestkit.cli.nest
from nestkit.cli.app import app
from nestkit.errors import ToolFault

ROOT = Path(__file__).resolve().parent.parent.parent
SAMPLES = ROOT / "sample_parts"

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
price = 10
[[panel]]
name = "lid"
material = "polycarbonate"
thickness = "1/8"
size = [10, 8]
quantity = 3
opposite_hand = 1
[[panel.holes]]
name = "hinge"
screw = "10-32"
at = [[1, 1], [9, 1]]
"""


def cli(*arguments: str | Path) -> tuple[int, str, str]:
    """Run a command in this process; return its exit code, standard output and standard error."""
    result = CliRunner().invoke(app, [str(a) for a in arguments])
    return result.exit_code, result.stdout, result.stderr


def process(*arguments: str | Path, cwd: Path, **env: str) -> subprocess.CompletedProcess[bytes]:
    """Run a command as a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "nestkit", *map(str, arguments)],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT), **env},
        capture_output=True,
        timeout=120,
        check=False,
    )


def content(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder with its bytes."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture
def small(tmp_path) -> Path:
    """A small job file."""
    path = tmp_path / "small.toml"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.mark.parametrize("sample", sorted(SAMPLES.glob("*.toml")), ids=lambda p: p.stem)
def test_every_sample_checks_and_nests_without_error(sample, tmp_path):
    """Each sample job is complete: exit 0, every part placed, every file of the list there."""
    code, out, err = cli("check", sample)
    assert code == 0, out + err
    assert out.strip().splitlines()[-1].startswith("No mistakes; 0 errors")
    code, out, err = cli("nest", sample, "--out", tmp_path / "out")
    assert code == 0, out + err
    listed = (tmp_path / "out" / "files.txt").read_text().splitlines()
    assert listed == sorted(content(tmp_path / "out"))
    assert "summary.html" in out.strip().splitlines()[-1]
    result = json.loads((tmp_path / "out" / "layout.json").read_text())
    assert all(not g["unplaced"] for g in result["groups"])


def test_the_boat_is_a_job_of_panels_and_tubes(tmp_path):
    """The sample is a real job: saw and router, hands, grain, an import, outlines; tubes of six sections."""
    code, _, err = cli("nest", SAMPLES / "solar_boat.toml", "--out", tmp_path / "out")
    assert code == 0, err
    result = json.loads((tmp_path / "out" / "layout.json").read_text())
    assert [g["how"] for g in result["groups"]] == ["saw", "saw", "router", "router"]
    placed = [p for g in result["groups"] for s in g["sheets"] for p in s["parts"]]
    assert 30 <= len({p["part"] for p in placed}) <= 36
    assert any(p["opposite_hand"] for p in placed)
    with (tmp_path / "out" / "parts.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.DictReader(stream))
    cut = [p for b in result["bars"] for s in b["sticks"] for p in s["parts"]]
    assert len(rows) == len(placed) + len(cut)
    assert len(result["bars"]) == 6
    assert all(b["proved"] for b in result["bars"])
    assert any(p["opposite_hand"] for p in cut)


def test_mistakes_end_with_2_and_write_nothing(small, tmp_path):
    """A wrong job names every mistake and leaves the disk as it was."""
    small.write_text(SMALL.replace("kerf =", "kref =").replace('"10-32"', '"10-33"'), encoding="utf-8")
    code, out, err = cli("nest", small, "--out", tmp_path / "out")
    assert code == 2
    assert out == ""
    assert "kref" in err
    assert "kerf" in err
    assert "10-33" in err
    assert os.listdir(tmp_path) == ["small.toml"]


@pytest.mark.parametrize("command", ["check", "nest", "estimate", "template"])
def test_a_job_that_makes_nothing_is_a_mistake_everywhere(small, tmp_path, monkeypatch, command):
    """With every quantity 0 no command goes on as if it had done something: exit 2, nothing written."""
    monkeypatch.chdir(tmp_path)
    small.write_text(SMALL.replace("quantity = 3\nopposite_hand = 1", "quantity = 0"), encoding="utf-8")
    code, out, err = cli(command, small)
    assert code == 2
    assert "nothing to make" in (out if command == "check" else err)
    assert os.listdir(tmp_path) == ["small.toml"]


@pytest.mark.parametrize("command", ["check", "nest", "estimate", "template"])
def test_json_gives_the_mistakes_as_an_object(small, command):
    """With --json every command prints the check object when the job is wrong."""
    small.write_text(SMALL.replace("kerf =", "kref ="), encoding="utf-8")
    code, out, _ = cli(command, small, "--json")
    assert code == 2
    found = json.loads(out)
    assert set(found) == {"mistakes", "findings"}
    assert all(set(m) == {"place", "line", "text", "remedy"} for m in found["mistakes"])
    assert any(m["line"] == 6 for m in found["mistakes"])


def test_json_of_nest_is_the_layout_with_what_to_buy(small, tmp_path):
    """nest --json prints layout.json's object plus the rows of buy.csv, and nothing else."""
    code, out, _ = cli("nest", small, "--out", tmp_path / "out", "--json")
    assert code == 0
    shown = json.loads(out)
    buy = shown.pop("buy")
    assert shown == json.loads((tmp_path / "out" / "layout.json").read_text())
    assert buy[0]["stock"] == "PC"
    assert set(buy[0]) == {"stock", "material", "thickness", "size", "buy", "on_hand", "price", "cost"}


def test_what_does_not_fit_ends_with_1_and_is_named(small, tmp_path):
    """A part larger than every sheet is reported as error and as unplaced; the rest is written."""
    small.write_text(SMALL.replace("size = [10, 8]", "size = [60, 8]"), encoding="utf-8")
    code, out, _ = cli("nest", small, "--out", tmp_path / "out")
    assert code == 1
    assert "ERROR" in out
    result = json.loads((tmp_path / "out" / "layout.json").read_text())
    group = result["groups"][0]
    assert len(group["unplaced"]) == 4
    assert all(u["why"] for u in group["unplaced"])
    assert group["least_sheets"] is None
    assert group["least_cost"] is None
    assert not group["proved"]


def test_estimate_writes_nothing_and_ends_with_what_to_buy(small, tmp_path):
    """estimate shows cost and least possible; its last line says what to buy."""
    code, out, err = cli("estimate", small)
    assert code == 0, err
    assert out.strip().splitlines()[-1].startswith("Buy")
    assert os.listdir(tmp_path) == ["small.toml"]
    _, more, _ = cli("estimate", small, "--spare", "40", "--json")
    assert json.loads(more)["groups"][0]["cost"] > 10


def test_template_writes_only_the_named_parts(small, tmp_path):
    """template writes PDF and SVG of the part, of its opposite hand, and of the back on request."""
    code, out, err = cli("template", small, "lid", "--back", "--out", tmp_path / "t")
    assert code == 0, err
    assert set(content(tmp_path / "t")) == {
        "files.txt",
        *(
            f"lid{hand}{face}.{end}"
            for hand in ("", "-opposite-hand")
            for face in ("", "-back")
            for end in ("pdf", "svg")
        ),
    }
    assert "100 %" in out
    code, _, err = cli("template", small, "lidd", "--out", tmp_path / "u")
    assert code == 2
    assert 'did you mean "lid"' in err
    assert not (tmp_path / "u").exists()


BARE_TUBES = """
[[bar]]
name = "rod"
material = "steel"
section = "rod 1/4"
length = 36
price = 3
[[tube]]
name = "pin"
material = "steel"
section = "rod 1/4"
length = 2
quantity = 5
"""


def test_template_says_what_needs_none(small, tmp_path):
    """Cut lengths without holes or mitres have no template, and are told; where nothing is left, exit 2."""
    small.write_text(small.read_text() + BARE_TUBES)
    code, _, err = cli("template", small, "--out", tmp_path / "t")
    assert code == 0, err
    assert "pin" in err
    assert "no template" in err
    assert not any("pin" in name for name in content(tmp_path / "t"))
    assert cli("template", small, "--quiet", "--out", tmp_path / "q")[2] == ""
    code, out, err = cli("template", small, "pin", "--out", tmp_path / "u")
    assert (code, out) == (2, "")
    assert "pin" in err
    assert "no template" in err
    assert not (tmp_path / "u").exists()


def test_new_makes_a_job_that_works_and_never_overwrites(tmp_path):
    """The starter job is without mistakes, lays out, and is not written over anything."""
    file = tmp_path / "mine.toml"
    assert cli("new", file)[0] == 0
    assert cli("check", file)[0] == 0
    assert cli("nest", file, "--out", tmp_path / "out")[0] == 0
    file.write_text("mine")
    code, _, err = cli("new", file)
    assert code == 2
    assert "left as it is" in err
    assert file.read_text() == "mine"


def test_tables_show_their_sources():
    """Every table can be shown, with source and basis; an unknown one offers the nearest."""
    code, out, _ = cli("tables")
    assert code == 0
    names = [line.split()[0] for line in out.splitlines()[1:] if line and not line.startswith("Show")]
    assert {
        "drills",
        "clearance_holes",
        "tap_drills",
        "gauges",
        "materials",
        "papers",
        "stock_sheets",
        "stock_tubes",
        "rules",
        "cautions",
    } <= set(names)
    for name in names:
        code, out, _ = cli("tables", name)
        assert code == 0
        assert len(out.splitlines()) > 4
    code, _, err = cli("tables", "drils")
    assert code == 2
    assert "did you mean drills" in err


def test_a_folder_in_the_way_is_left_alone(small, tmp_path):
    """nest does not touch a folder that holds somebody's files, and says so before it searches."""
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "thesis.txt").write_text("mine")
    code, _, err = cli("nest", small, "--out", tmp_path / "out")
    assert code == 2
    assert "thesis.txt" in err
    assert content(tmp_path / "out") == {"thesis.txt": b"mine"}


def test_a_fault_of_ours_is_never_shown_as_the_users(small, tmp_path, monkeypatch):
    """An unexpected error ends with 3, says whose fault it is, and writes nothing."""

    def broken(*args, **kwargs):
        raise ToolFault("planted")

    monkeypatch.setattr(nestkit.cli.nest, "make", broken)
    code, out, err = cli("nest", small, "--out", tmp_path / "out")
    assert code == 3
    assert "fault of nestkit" in err
    assert "planted" in err
    assert out == ""
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    "arguments",
    [
        ["nset"],
        ["nest"],
        ["check", "no-such.toml"],
        ["nest", "x", "--effort", "much"],
        ["fit", "x.toml"],
        ["page", "no-such.toml"],
        ["page", "--port", "70000"],
    ],
)
def test_a_wrong_command_line_ends_with_2(arguments, tmp_path):
    """Unknown commands, missing and unknown arguments, and files that are not there end with 2."""
    code, out, err = cli(*arguments)
    assert code == 2
    assert out == ""
    assert err


def test_the_same_job_gives_the_same_bytes_everywhere(small, tmp_path):
    """Hash seed, locale, time zone and folder do not show in any file."""
    runs = []
    for seed, locale, zone in (("1", "C", "UTC"), ("4711", "C.UTF-8", "Asia/Tokyo")):
        here = tmp_path / f"run {seed}"
        here.mkdir()
        (here / "small.toml").write_text(SMALL, encoding="utf-8")
        done = process("nest", "small.toml", cwd=here, PYTHONHASHSEED=seed, LC_ALL=locale, TZ=zone)
        assert done.returncode == 0, done.stderr
        runs.append((content(here / "output" / "small"), done.stdout))
    assert runs[0] == runs[1]
    text = b"".join(runs[0][0].values())
    assert str(tmp_path).encode() not in text


def test_a_pipe_gets_plain_utf_8_and_may_close_early(small, tmp_path):
    """In a pipe: no colour, no bar, UTF-8 whatever the locale; a reader that leaves is no fault."""
    small.write_text(SMALL.replace('"small"', '"Käpt’n 船"'), encoding="utf-8")
    done = process("check", small, cwd=tmp_path, LC_ALL="C", PYTHONUTF8="0", PYTHONIOENCODING="")
    assert done.returncode == 0, done.stderr
    assert "Käpt’n 船" in done.stdout.decode("utf-8")
    assert b"\x1b" not in done.stdout + done.stderr
    assert b"\r" not in done.stderr
    closed = subprocess.run(
        f'"{sys.executable}" -m nestkit tables stock_sheets | head -n 1',
        shell=True,
        cwd=ROOT,
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert closed.stderr == b""
    assert closed.stdout.count(b"\n") == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_output_that_cannot_be_written_is_no_fault_of_ours(small, tmp_path):
    """A full standard output ends with 2 in words, without a traceback; the folder is whole."""
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "nestkit", "nest", str(small), "--out", "out"],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=full,
            stderr=subprocess.PIPE,
            timeout=60,
            check=False,
        )
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
    assert b"make room" in done.stderr
    assert (tmp_path / "out" / "files.txt").read_text().splitlines() == sorted(content(tmp_path / "out"))


def long_job(pieces: int) -> str:
    """A job whose search takes a while."""
    panels = "\n".join(
        f'[[panel]]\nname = "p{i}"\nmaterial = "polycarbonate"\nthickness = "1/8"\n'
        f'size = ["{17 + 7 * i % 61}/4", "{13 + 11 * i % 53}/4"]\nquantity = {pieces // 40}'
        for i in range(40)
    )
    return SMALL + panels


def interrupted(path: Path, times: int) -> tuple[int, bytes]:
    """Interrupt a long nest as often as told: once it searches, then as soon as it answers.

    Return its exit code and what it says on its terminal.
    """
    ours, its = os.openpty()
    run = subprocess.Popen(
        [sys.executable, "-m", "nestkit", "nest", str(path), "--effort", "thorough", "--out", "out"],
        cwd=path.parent,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
        stderr=its,
    )
    os.close(its)
    late = threading.Timer(200, run.kill)
    late.start()
    waits_for, said = [b"so far; ", *[b"layout so far is kept"] * (times - 1)], b""
    try:
        with suppress(OSError):  # which is how a terminal says that nobody is there any more
            while heard := os.read(ours, 4096):
                said += heard
                if waits_for and waits_for[0] in said:
                    waits_for.pop(0)
                    run.send_signal(signal.SIGINT)
        return run.wait(), said
    finally:
        late.cancel()
        os.close(ours)


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="interrupts are signals here")
def test_the_first_interrupt_keeps_the_best_layout(tmp_path):
    """One Ctrl-C ends the search and writes the best verified layout, marked as stopped."""
    path = tmp_path / "long.toml"
    path.write_text(long_job(1200), encoding="utf-8")
    code, said = interrupted(path, 1)
    assert code == 0, said
    assert b"best layout so far is kept" in said
    assert json.loads((tmp_path / "out" / "layout.json").read_text())["stopped"] is True


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="interrupts are signals here")
def test_the_second_interrupt_ends_the_run(tmp_path):
    """Two Ctrl-C end with 130 and leave nothing behind."""
    path = tmp_path / "long.toml"
    path.write_text(long_job(1200), encoding="utf-8")
    code, said = interrupted(path, 2)
    assert code == 130, said
    assert b"nothing was written" in said
    assert os.listdir(tmp_path) == ["long.toml"]


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="killed by a signal")
def test_killing_nest_at_any_moment_never_tears_the_folder(small, tmp_path):
    """Whenever nest is killed, the old folder or the new one is there as a whole."""
    assert process("nest", small, "--out", "out", cwd=tmp_path).returncode == 0
    whole = content(tmp_path / "out")
    for attempt in range(10):
        run = subprocess.Popen(
            [sys.executable, "-m", "nestkit", "nest", str(small), "--out", "out"],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(0.3 + 0.17 * attempt)
        run.kill()
        run.wait()
        assert content(tmp_path / "out") == whole
    assert process("nest", small, "--out", "out", cwd=tmp_path).returncode == 0
    assert content(tmp_path / "out") == whole
    assert sorted(os.listdir(tmp_path)) == ["out", "small.toml"]


@pytest.mark.slow
def test_two_runs_at_once_leave_one_whole_folder(small, tmp_path):
    """Two runs into one folder: each ends with 0 or 2, and the folder is whole."""
    runs = [
        subprocess.Popen(
            [sys.executable, "-m", "nestkit", "nest", str(small), "--out", "out"],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        for _ in range(3)
    ]
    codes = [run.wait(timeout=100) for run in runs]
    assert set(codes) <= {0, 2}
    assert 0 in codes
    listed = (tmp_path / "out" / "files.txt").read_text().splitlines()
    assert listed == sorted(content(tmp_path / "out"))
    assert sorted(os.listdir(tmp_path)) == ["out", "small.toml"]
