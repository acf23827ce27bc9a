"""Whoever knocks at the server: the right status, no traceback to the client, and it lives on."""

from __future__ import annotations

import json
import socket
import threading
import time
from concurrent.futures import ThreadPoolExecutor

import pytest

from tests.page.hostile import refused

pytestmark = pytest.mark.usefixtures("alive")


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "evil.example:80",
        "127.0.0.1",
        "127.0.0.1:1",
        "0.0.0.0:{port}",
        "[::1]:{port}",
        "localhost.evil.example:{port}",
        "127.0.0.1:{port}.evil.example",
        "",
        "127.0.0.1:{port}, evil.example",
    ],
)
def test_foreign_host(served, host):
    """A request that names another host is refused, so that a foreign name that leads here is no use."""
    for path in ("/", "/api/job", "/static/app.js"):
        refused(served.get(path, headers={"Host": host.format(port=served.port)}), 403)


@pytest.mark.parametrize(
    "origin",
    [
        "http://evil.example",
        "null",
        "https://127.0.0.1:{port}",
        "http://127.0.0.1:1",
        "file://",
        "http://localhost.evil.example:{port}",
    ],
)
def test_foreign_origin(served, origin):
    """A request that another page sends is refused, with the token too."""
    headers = {"Origin": origin.format(port=served.port)}
    refused(served.get("/api/job", headers=headers), 403)
    refused(served.post("/api/save", {}, headers=headers), 403)


def test_own_origin(served):
    """The page's own requests are answered by either name of this computer."""
    for host in (f"127.0.0.1:{served.port}", f"localhost:{served.port}"):
        headers = {"Host": host, "Origin": f"http://{host}"}
        assert served.get("/api/job", headers=headers).status == 200


@pytest.mark.parametrize("token", [None, "", "x", "{token}x", "{short}", "é", "{token}, {token}"])
@pytest.mark.parametrize(
    "path", ["/api/job", "/api/version", "/api/words", "/api/nothing", "/api/prints/x/all.zip"]
)
def test_missing_or_false_token(served, path, token):
    """Nothing below /api/ is answered without the token of this run."""
    text = None if token is None else token.format(token=served.token, short=served.token[:-1])
    headers = {} if text is None else {"X-Nestkit-Token": text.encode("utf-8")}
    refused(served.get(path, token=False, headers=headers), 403)


def test_token_in_the_address_is_none(served):
    """A token in the address or in a cookie does not count: other pages could send those."""
    refused(served.get(f"/api/job?token={served.token}", token=False), 403)
    refused(served.get("/api/job", token=False, headers={"Cookie": f"token={served.token}"}), 403)


@pytest.mark.parametrize(
    "path",
    [
        "/static/../desk.py",
        "/static/..%2fdesk.py",
        "/static/%2e%2e/desk.py",
        "/static/....//desk.py",
        "/static//etc/passwd",
        "/static/..\\desk.py",
        "/static/%00",
        "/static/app.js%00.css",
        "/static/",
        "/static",
        "/static/%252e%252e/desk.py",
        "/../job.toml",
        "/job.toml",
        "/etc/passwd",
        "/static/file:///etc/passwd",
        "/nestkit/page/desk.py",
    ],
)
def test_paths_lead_nowhere_else(served, path):
    """Only the page's own files are to be had, each by its name; no folder is listed."""
    refused(served.get(path), 404)


def test_no_listing(served):
    """The front page is a page, not a list of files."""
    answer = served.get("/", token=False)
    assert answer.status == 200
    assert answer.headers["content-type"].startswith("text/html")
    assert answer.headers["cache-control"] == "no-store"
    assert answer.headers["cross-origin-opener-policy"] == "same-origin"


@pytest.mark.parametrize(
    "name",
    [
        "../../evil.csv",
        "..\\..\\evil.csv",
        "/etc/cron.d/evil.csv",
        "C:\\evil.csv",
        "evil\x00.csv",
        "job.toml.csv",
        ".hidden.csv",
        "con.csv",
        "a" * 5000 + ".csv",
        "%2e%2e%2fevil.csv",
        "é\u202e.csv",
        " .csv",
        "`rm -rf`.csv",
    ],
)
def test_uploaded_names_stay_in_the_folder(served, name):
    """However a file is called, it is kept in the job's folder under a plain name, never over another."""
    from urllib.parse import quote

    folder = served.job.parent
    before = {path.name for path in folder.iterdir()}
    above = set(folder.parent.iterdir())
    answer = served.send(
        "POST", f"/api/upload?name={quote(name)}", b"name,material,thickness,width,height\na,b,1,2,3\n"
    )
    assert answer.status == 200, answer.body
    kept = answer.json["file"]
    assert "/" not in kept
    assert kept.isascii()
    assert {path.name for path in folder.iterdir()} - before == {kept}
    assert set(folder.parent.iterdir()) == above
    (folder / kept).unlink()


@pytest.mark.parametrize(
    "name", ["evil.html", "evil.toml", "evil", "", "evil.csv.exe", "evil.CSV.", "x.svgz"]
)
def test_other_files_are_not_taken(served, name):
    """What is neither a spreadsheet nor an outline is not kept."""
    before = set(served.job.parent.iterdir())
    refused(served.send("POST", f"/api/upload?name={name}", b"x"), 415)
    assert set(served.job.parent.iterdir()) == before


def test_a_slow_head(served):
    """A client that takes too long over a request's head is cut off."""
    with socket.create_connection(("127.0.0.1", served.port), timeout=30) as line:
        line.sendall(b"GET / HTTP/1.1\r\nHost:")
        begun = time.monotonic()
        while time.monotonic() - begun < 25:
            try:
                line.sendall(b" ")
                line.settimeout(0.5)
                if line.recv(1) == b"":
                    return
            except TimeoutError:
                continue
            except (BrokenPipeError, ConnectionResetError):
                return
        pytest.fail("still connected")


def test_a_slow_body(served):
    """A client that takes too long over a body is told so; meanwhile others are answered."""
    head = (
        f"POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\nX-Nestkit-Token: {served.token}\r\n"
        "Content-Type: application/json\r\nContent-Length: 1000\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", served.port), timeout=60) as line:
        line.sendall(head.encode() + b"{")
        assert served.get("/api/version").status == 200
        assert line.recv(100).startswith(b"HTTP/1.1 408")


def test_a_hundred_at_once(served, tree):
    """A hundred requests at the same time are all answered."""
    with ThreadPoolExecutor(100) as pool:
        parts = [
            pool.submit(served.post, "/api/part", {"tree": tree, "path": ["panel", 0]}) for _ in range(40)
        ]
        checks = [pool.submit(served.post, "/api/check", {"tree": tree}) for _ in range(20)]
        jobs = [pool.submit(served.get, "/api/job") for _ in range(20)]
        strange = [pool.submit(served.get, "/api/job", token=False) for _ in range(20)]
        assert {future.result().status for future in (*parts, *checks, *jobs)} == {200}
        assert {future.result().status for future in strange} == {403}


def test_connections_that_break_off(served, tree):
    """Clients that go away in the middle of an answer hurt nobody."""
    body = json.dumps({"tree": tree}).encode()
    head = (
        f"POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\nX-Nestkit-Token: {served.token}\r\n"
        f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
    )

    def once():
        with socket.create_connection(("127.0.0.1", served.port), timeout=10) as line:
            line.sendall(head.encode() + body)

    threads = [threading.Thread(target=once) for _ in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def test_nobody_else_can_reach_it(served):
    """The server listens on the loopback address alone."""
    own = socket.gethostbyname(socket.gethostname())
    if own.startswith("127."):
        pytest.skip("this computer has no other address")
    with socket.socket() as line:
        line.settimeout(2)
        assert line.connect_ex((own, served.port)) != 0
