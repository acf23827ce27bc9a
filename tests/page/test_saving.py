"""Saving where the file on the disk is not what the draft began from: gone, changed, or not to be read."""

from __future__ import annotations

import errno
import os

import pytest

import nestkit.job.saving.save as saving
from nestkit.errors import ToolFault
from nestkit.job.reader import toml_data
from nestkit.page.desk import Desk, desk_for
from nestkit.page.state import State
from tests.page.served import JOB
from tests.page.within import ask

BROKEN = {"not TOML": JOB.encode() + b"[[broken\n", "not UTF-8": b"# caf\xe9\n" + JOB.encode()}


@pytest.fixture
def job(tmp_path):
    """Return a job file."""
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


@pytest.fixture
def state(job):
    """Return a server's state for that job."""
    return State(desk_for(job))


@pytest.fixture
def draft(state):
    """Return what a browser sends to save a changed part."""
    found = ask(state, "GET", "/api/job").json
    found["tree"]["panel"][0]["size"] = [15, 10]
    return {"tree": found["tree"], "version": found["version"]}


def test_a_job_that_is_gone_is_written_anew_from_what_it_was(state, job, draft):
    """A file that is gone is no starter job: its own text comes back with the change, comments and all."""
    job.unlink()
    conflict = ask(state, "POST", "/api/save", draft)
    assert conflict.status == 409
    theirs = conflict.json["theirs"]
    assert (theirs["gone"], theirs["version"], theirs["text"]) == (True, "", "")
    assert theirs["tree"]["panel"][0]["_was"] == 0
    wanted = JOB.replace('["14 1/2", "9 3/4"]', "[15, 10]")
    assert conflict.json["mine"]["text"] == wanted
    assert ask(state, "POST", "/api/save", {**draft, "version": ""}).status == 200
    assert job.read_text(encoding="utf-8") == wanted


def test_a_job_that_is_gone_and_was_never_read_is_its_draft_alone(state, job, draft):
    """What was last on the disk could not be read: the file is then the draft, and nothing else."""
    job.write_bytes(BROKEN["not TOML"])
    ask(state, "GET", "/api/job")
    job.unlink()
    assert ask(state, "POST", "/api/save", {**draft, "version": ""}).status == 200
    text = job.read_text(encoding="utf-8")
    assert "#" not in text
    assert toml_data(text)["panel"][0]["size"] == [15, 10]


@pytest.mark.parametrize("name", BROKEN)
def test_keeping_mine_over_a_file_that_cannot_be_read(state, job, draft, name):
    """What is wrong with the file is told; kept is then the whole draft, and what was there lies beside."""
    job.write_bytes(BROKEN[name])
    conflict = ask(state, "POST", "/api/save", draft)
    assert conflict.status == 409
    theirs, mine = conflict.json["theirs"], conflict.json["mine"]
    assert [mistake["line"] for mistake in theirs["mistakes"]] == [{"not TOML": 26, "not UTF-8": 1}[name]]
    assert theirs["tree"] == {}
    assert "polycarbonate" in theirs["text"]
    draft["version"] = theirs["version"]
    again = ask(state, "POST", "/api/save", draft)
    assert (again.status, again.json["theirs"]["mistakes"]) == (409, theirs["mistakes"])
    assert job.read_bytes() == BROKEN[name]
    saved = ask(state, "POST", "/api/save", {**draft, "whole": True})
    assert saved.status == 200
    assert job.read_text(encoding="utf-8") == mine["text"]
    assert (job.parent / "job.toml.before").read_bytes() == BROKEN[name]
    assert saved.json["tree"]["panel"][0]["size"] == [15, 10]
    assert saved.json["version"] == ask(state, "GET", "/api/version").json["version"]


def test_a_file_that_can_be_read_is_never_written_whole(state, job, draft):
    """To write whole is for files that cannot be read: others keep their comments."""
    assert ask(state, "POST", "/api/save", {**draft, "whole": True}).status == 200
    assert job.read_text(encoding="utf-8") == JOB.replace('["14 1/2", "9 3/4"]', "[15, 10]")


def test_whole_is_yes_or_no(state, draft):
    """Anything else is no request of the page."""
    assert ask(state, "POST", "/api/save", {**draft, "whole": "yes"}).status == 400


def test_both_sides_are_told_though_one_cannot_be_written(state, job, draft):
    """A file that has changed is told of also where the draft holds what no file can."""
    job.write_text(JOB.replace("38.50", "40.00"), encoding="utf-8")
    draft["tree"]["job"] = "\ud800"
    conflict = ask(state, "POST", "/api/save", draft)
    assert conflict.status == 409
    assert conflict.json["theirs"]["tree"]["sheet"][0]["price"] == 40
    assert conflict.json["mine"]["text"] == ""
    assert "half a letter" in conflict.json["mine"]["mistake"]


def test_both_sides_are_told_though_we_are_at_fault(state, job, draft, monkeypatch, capsys):
    """A fault of ours keeps nobody from seeing what the file has now; it is told on the terminal."""
    job.write_text(JOB.replace("38.50", "40.00"), encoding="utf-8")

    def fault(text, tree):
        raise ToolFault("the text would say something else")

    monkeypatch.setattr(saving, "saved_text", fault)
    conflict = ask(state, "POST", "/api/save", draft)
    assert conflict.status == 409
    assert conflict.json["theirs"]["tree"]["sheet"][0]["price"] == 40
    assert conflict.json["mine"]["mistake"]
    assert "the text would say something else" in capsys.readouterr().err


def test_saving_waits_for_no_check(state, draft):
    """A job is saved, mistakes and all, without any worker."""
    draft["tree"]["panel"][0]["size"] = "x"
    saved = ask(state, "POST", "/api/save", draft)
    assert saved.status == 200
    assert set(saved.json) == {"version", "name", "tree"}
    assert not state.light.busy


def test_names_of_files_stay_as_they_are(tmp_path, monkeypatch):
    """A sentence that begins with a file's name begins with that, letter for letter."""
    path = tmp_path / "my small boat.toml"
    path.write_text(JOB, encoding="utf-8")
    state = State(desk_for(path))
    draft = ask(state, "GET", "/api/job").json
    draft["tree"]["job"] = "other"

    def full(handle):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    answer = ask(state, "POST", "/api/save", {"tree": draft["tree"], "version": draft["version"]})
    assert answer.status == 422
    assert answer.json["error"].startswith("my small boat.toml cannot be written")
    assert answer.json["remedy"].startswith("It is")
    (tmp_path / "taken.toml").write_text("mine", encoding="utf-8")
    ask_new = {"tree": draft["tree"], "version": "", "name": "taken"}
    monkeypatch.undo()
    fresh = ask(State(Desk(tmp_path, None)), "POST", "/api/save", ask_new)
    assert (fresh.status, fresh.json["error"]) == (422, "taken.toml is there already")
