"""A real server of the page for the tests, on a job of their own."""

from __future__ import annotations

import pytest

from tests.page.served import Served, serve


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """Yield a running server with a small job in its folder, which is all that is in it."""
    with serve(tmp_path_factory.mktemp("page") / "job.toml") as running:
        yield running


@pytest.fixture
def tree(served: Served):
    """Return the job of the server as a browser has it."""
    return served.get("/api/job").json["tree"]


@pytest.fixture
def alive(served: Served):
    """After each of it the server answers as before, and has nothing to report of itself."""
    before = served.said()
    yield
    assert served.get("/api/version").status == 200
    assert served.process.poll() is None
    assert "Traceback" not in served.said()[len(before) :], served.said()[len(before) :]
