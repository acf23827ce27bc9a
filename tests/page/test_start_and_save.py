"""The page from its start to its end, and its job saved: on a server for each test."""

from __future__ import annotations

import copy
import signal
from pathlib import Path

import pytest

from nestkit.errors import JobError
from nestkit.job.reader import read_job, toml_data
from nestkit.job.starter import starter_text
from tests.page.served import JOB, ROOT, begun, end, serve

SAMPLES = ROOT / "sample_parts"


def test_saving_in_place(tmp_path):
    """What is saved is what was typed, mistakes and all; comments and the former version stay."""
    with serve(tmp_path / "job.toml") as served:
        job = served.get("/api/job").json
        tree = job["tree"]
        same = served.post("/api/save", {"tree": tree, "version": job["version"]}).json
        assert same["version"] == job["version"]
        assert served.job.read_text() == JOB
        tree["panel"][0]["size"] = [15, "x"]
        saved = served.post("/api/save", {"tree": tree, "version": job["version"]}).json
        assert served.job.read_text() == JOB.replace('["14 1/2", "9 3/4"]', '[15, "x"]')
        assert (tmp_path / "job.toml.before").read_text() == JOB
        checked = served.post("/api/check", {"tree": saved["tree"], "tab": "t"}).json
        assert [m["path"] for m in checked["mistakes"]] == [["panel", 0, "size", 1]]
        assert saved["tree"]["panel"][0]["_was"] == 0
        assert saved["version"] == served.get("/api/version").json["version"]


def test_saving_over_a_file_that_changed(tmp_path):
    """Where the file has changed meanwhile nothing is written, and both sides are shown."""
    with serve(tmp_path / "job.toml") as served:
        job = served.get("/api/job").json
        theirs = JOB.replace("38.50", "40.00")
        served.job.write_text(theirs)
        job["tree"]["panel"][0]["size"] = [15, 10]
        answer = served.post("/api/save", {"tree": job["tree"], "version": job["version"]})
        assert answer.status == 409
        assert served.job.read_text() == theirs
        found = answer.json
        assert found["theirs"]["text"] == theirs
        assert found["theirs"]["tree"]["sheet"][0]["price"] == 40
        assert toml_data(found["mine"]["text"])["panel"][0]["size"] == [15, 10]
        served.job.write_text("this is no TOML")
        broken = served.post("/api/save", {"tree": job["tree"], "version": job["version"]}).json
        assert broken["theirs"]["text"] == "this is no TOML"
        shown = served.get("/api/job").json
        assert shown["broken"]["mistakes"][0]["line"] == 1
        assert shown["tree"] == {}


def test_two_tabs_save_at_once(tmp_path):
    """Of two savings from one version one is written, whole, and the other is told of it."""
    from concurrent.futures import ThreadPoolExecutor

    with serve(tmp_path / "job.toml") as served:
        job = served.get("/api/job").json

        def save(number):
            tree = copy.deepcopy(job["tree"])
            tree["panel"][0]["quantity"] = number
            return served.post("/api/save", {"tree": tree, "version": job["version"]}).status

        with ThreadPoolExecutor(8) as pool:
            statuses = sorted(pool.map(save, range(2, 10)))
        assert statuses == [200] + [409] * 7
        assert toml_data(served.job.read_text())["panel"][0]["quantity"] in range(2, 10)


def test_a_starter_job_gets_its_name(tmp_path):
    """Without a job there is the starter job; its first saving gives it a file, and never takes another's."""
    (tmp_path / "taken.toml").write_text("mine")
    process, address = begun(folder=tmp_path, terminal=tmp_path.parent / "terminal.txt")
    try:
        from tests.page.served import Served

        place, _, token = address.partition("/#token=")
        served = Served(
            int(place.rpartition(":")[2]), token, tmp_path, process, tmp_path.parent / "terminal.txt"
        )
        job = served.get("/api/job").json
        assert (job["name"], job["version"], job["starter"]) == (None, "", True)
        ask = {"tree": job["tree"], "version": ""}
        assert served.post("/api/save", ask).status == 422
        assert served.post("/api/save", {**ask, "name": "taken.toml"}).status == 422
        assert (tmp_path / "taken.toml").read_text() == "mine"
        saved = served.post("/api/save", {**ask, "name": "../My boat!"}).json
        assert saved["name"] == "my-boat.toml"
        assert (tmp_path / "my-boat.toml").read_text() == starter_text()
        assert served.get("/api/job").json["name"] == "my-boat.toml"
        assert served.post("/api/save", {**ask, "name": "other"}).status == 409
        assert read_job(tmp_path / "my-boat.toml").panels
    finally:
        assert end(process) == 0


def test_byte_order_mark_and_line_ends_stay(tmp_path):
    """A file made on Windows stays as it was made."""
    with serve(tmp_path / "job.toml") as served:
        served.job.write_bytes(b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode())
        job = served.get("/api/job").json
        job["tree"]["job"] = "tested"
        assert served.post("/api/save", {"tree": job["tree"], "version": job["version"]}).status == 200
        changed = JOB.replace('"tests"', '"tested"').replace("\n", "\r\n")
        assert served.job.read_bytes() == b"\xef\xbb\xbf" + changed.encode()


def test_a_worker_that_dies_is_told(tmp_path):
    """A worker that comes to its end in the middle is an error that is told, and the next one works."""
    import os

    with serve(tmp_path / "job.toml") as served:
        tree = served.get("/api/job").json["tree"]
        tree["panel"][0]["quantity"] = 400
        assert served.post("/api/check", {"tree": tree}).status == 200
        run = served.post("/api/layout", {"tree": tree, "tab": "t", "effort": "thorough"}).json["run"]
        n = served.get(f"/api/layout/{run}?after=0").json["n"]
        served.get(f"/api/layout/{run}?after={n}")
        for child in _children(served.process.pid):
            os.kill(child, signal.SIGKILL)
        while (found := served.get(f"/api/layout/{run}?after={n}").json)["state"] == "working":
            n = found["n"]
        assert found["state"] == "failed"
        assert found["error"]["status"] == 500
        assert served.post("/api/check", {"tree": tree}).status == 200
        assert "came to its end" in served.said()


def _children(process):
    """Return the processes that a process has begun and that Python runs in."""
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = status.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[1]) == process and "spawn_main" in (status.parent / "cmdline").read_text():
            found.append(int(status.parent.name))
    return found


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_the_end(tmp_path, number):
    """The server ends at once, without a word, also in the middle of a layout; its workers end with it."""
    with serve(tmp_path / "job.toml") as served:
        tree = served.get("/api/job").json["tree"]
        tree["panel"][0]["quantity"] = 400
        run = served.post("/api/layout", {"tree": tree, "tab": "t", "effort": "thorough"}).json["run"]
        served.get(f"/api/layout/{run}?after=1")
        children = _children(served.process.pid)
        assert children
        served.process.send_signal(number)
        assert served.process.wait(20) == 0
        assert served.said() == ""
        assert not [child for child in children if Path(f"/proc/{child}").exists()]


def test_a_folder_has_its_own_port(tmp_path):
    """A job that has no file yet, and its file later, have one port: a browser finds what it kept there.

    In use, the next one is taken.
    """
    process, address = begun(folder=tmp_path, terminal=tmp_path.parent / "terminal.txt")
    try:
        port = int(address.partition("/#")[0].rpartition(":")[2])
        with serve(tmp_path / "job.toml") as second:
            assert 0 < second.port - port <= 20
    finally:
        end(process)
    with serve(tmp_path / "job.toml") as third:
        assert third.port == port


def test_what_keeps_the_page_from_starting(tmp_path):
    """A job that is not there, a folder, and a port in use are said in a sentence, with exit code 2."""
    (tmp_path / "job.toml").write_text(JOB)
    with serve(tmp_path / "job.toml") as served:
        for options, said in (
            (["no.toml"], "there is no file"),
            ([str(tmp_path)], "is a folder"),
            (["job.toml", "--port", str(served.port)], "cannot be had"),
        ):
            terminal = tmp_path.parent / "second.txt"
            process, line = begun(*options, folder=tmp_path, terminal=terminal)
            assert process.wait(30) == 2
            process.stdout.close()
            assert line == ""
            assert said in terminal.read_text()


def test_little_is_loaded_at_the_start():
    """The server answers its first request without the libraries that drawings and layouts take."""
    import subprocess
    import sys

    program = (
        "import sys, nestkit.page.app, nestkit.page.heads, nestkit.page.serve; "
        "heavy = 'numpy shapely ezdxf numba svgwrite reportlab highspy tomlkit rectpack'.split(); "
        "print([m for m in heavy if m in sys.modules])"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, cwd=ROOT, check=True
    )
    assert run.stdout == "[]\n"


def test_samples_read_from_trees_as_from_files():
    """A job read from its tree is the job read from its file, but for the lines."""
    from nestkit.job.reader import read_data

    for path in sorted(SAMPLES.glob("*.toml")):
        whole, tree = read_job(path), toml_data(path.read_text(encoding="utf-8"))
        found = read_data(tree, SAMPLES)
        assert [p.name for p in found.parts] == [p.name for p in whole.parts]
        assert [p.outline for p in found.panels] == [p.outline for p in whole.panels]
        assert found.fitting == whole.fitting
    with pytest.raises(JobError):
        read_data({}, SAMPLES)
