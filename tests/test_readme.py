"""What the README says is true: its commands run, its files exist, its options are there."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"(?:<!-- command: ([a-z ]+) -->\n)?```sh\n(.*?)```", README, re.DOTALL)
SET_UP = {name: block.strip() for name, block in BLOCKS if name}
COMMANDS = [line for name, block in BLOCKS if not name for line in block.strip().splitlines()]
FIRST_HOUR = ROOT / "sample_parts" / "first_hour.md"


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Run a nestkit command of the README in a folder that holds the samples."""
    arguments = shlex.split(command)
    assert arguments[0] == ".venv/bin/nestkit", command
    return subprocess.run(
        [sys.executable, "-m", "nestkit", *arguments[1:]],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_there_are_two_commands_to_set_up():
    """One command sets up and runs the main job, one sets up and passes the tests; CI runs both."""
    assert set(SET_UP) == {"main job", "tests"}
    assert all(len(block.splitlines()) == 1 for block in SET_UP.values())
    assert SET_UP["main job"].endswith(".venv/bin/nestkit nest sample_parts/solar_boat.toml")
    assert "pytest" in SET_UP["tests"]
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    for name in SET_UP:
        assert f'"command: {name}"' in script


@pytest.mark.slow
def test_every_other_command_runs(tmp_path):
    """The commands of the guides run one after the other, as a reader would type them."""
    (tmp_path / "sample_parts").symlink_to(ROOT / "sample_parts")
    assert len(COMMANDS) >= 5
    for command in COMMANDS:
        done = run(command, tmp_path)
        assert done.returncode == 0, f"{command}\n{done.stdout}{done.stderr}"
        assert done.stdout.strip()


def test_every_file_that_it_names_exists():
    """Links and pictures lead somewhere."""
    for target in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / target).exists(), target


def test_the_first_hour_can_be_followed(tmp_path):
    """The commands of the page for beginners run, what it tells to open is there, its pictures exist."""
    page = FIRST_HOUR.read_text(encoding="utf-8")
    (tmp_path / "sample_parts").symlink_to(ROOT / "sample_parts")
    commands = re.findall(r"```sh\n(.*?)\n```", page, re.DOTALL)
    assert commands
    for command in commands:
        done = run(command, tmp_path)
        assert done.returncode == 0, f"{command}\n{done.stdout}{done.stderr}"
    opened = re.findall(r"`(output/\S+)`", page)
    assert opened
    assert all((tmp_path / name).exists() for name in opened)
    for target in re.findall(r"\]\(([^)#]+)\)", page):
        assert (FIRST_HOUR.parent / target).exists(), target


def test_what_it_cannot_do_yet_names_nothing_that_it_can():
    """Every table and every command is there, so that the section "Not yet" names none."""
    section = README.partition("\n## Not yet\n")[2].partition("\n## ")[0]
    assert section.strip()
    assert not re.findall(r"\[\[([a-z]+)\]\]", section)
    assert not re.findall(r"`nestkit ([a-z]+)`", section)


@pytest.mark.parametrize("command", ["new", "check", "nest", "template", "estimate", "calibrate", "tables"])
def test_every_command_is_in_the_readme(command):
    """Each command of the program is mentioned where its user reads."""
    assert f"nestkit {command}" in README or f"`{command}`" in README
