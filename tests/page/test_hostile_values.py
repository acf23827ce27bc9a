"""Whatever is said to the server: the right status, no traceback to the client, and it lives on."""

from __future__ import annotations

import io
import socket
import zipfile

import pytest

from tests.page.hostile import refused

DEEP = 5000
SCRIPT = "<script>alert(1)</script>"
NAMES = (SCRIPT, '"><img src=x onerror=alert(1)>', "</text></svg><script>x</script>", "&lt;b&gt;", "'; --")

pytestmark = pytest.mark.usefixtures("alive")


def _bomb() -> bytes:
    """Return a small archive that would be huge when unpacked."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<Types/>")
        archive.writestr("xl/workbook.xml", b"<a>" + b" " * 200_000_000)
    return stream.getvalue()


LAUGHS = (
    b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">'
    + b"".join(b'<!ENTITY %c "%s">' % (98 + i, b"&%c;" % (97 + i) * 10) for i in range(9))
    + b']><svg xmlns="http://www.w3.org/2000/svg"><title>&j;</title></svg>'
)
OUTSIDE = (
    b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>'
    b'<svg xmlns="http://www.w3.org/2000/svg"><text>&a;</text><path d="M0 0h9v9z"/></svg>'
)
FILES = {
    "empty.csv": b"",
    "binary.csv": bytes(range(256)) * 50,
    "zero.csv": b"name\0,a\n",
    "wide.csv": b"name" + b",x" * 100_000 + b"\n",
    "headless.csv": b"1,2,3\n4,5,6\n",
    "quote.csv": b'name,material\n"a,b\n',
    "utf16.csv": "name,material".encode("utf-16"),
    "no.xlsx": b"PK\x03\x04 not an archive",
    "bomb.xlsx": _bomb(),
    "no.dxf": b"garbage",
    "cut.dxf": b"  0\nSECTION\n  2\nENTITIES\n  0\nLWPOLYLINE\n 90\n",
    "huge.dxf": b"  0\nSECTION\n  2\nENTITIES\n  0\nCIRCLE\n 10\n1e308\n 20\n1e308\n 40\n1e308\n"
    b"  0\nENDSEC\n  0\nEOF\n",
    "binary.dxf": b"AutoCAD Binary DXF\r\n\x1a\x00" + bytes(1000),
    "no.svg": b"<svg",
    "laughs.svg": LAUGHS,
    "outside.svg": OUTSIDE,
    "deep.svg": b'<svg xmlns="http://www.w3.org/2000/svg">' + b"<g>" * 50_000,
    "nan.svg": b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M nan inf L 1e999 0 z"/></svg>',
}


@pytest.mark.parametrize("name", FILES)
def test_malformed_files(served, name):
    """A file that cannot be read is refused with what is wrong in it, and is not kept."""
    before = set(served.job.parent.iterdir())
    answer = served.send("POST", f"/api/upload?name={name}", FILES[name])
    refused(answer, 422)
    assert b"root:" not in answer.body
    assert set(served.job.parent.iterdir()) == before


@pytest.mark.parametrize(
    "path", ["/api/part", "/api/check", "/api/layout", "/api/fit", "/api/save", "/api/what_if"]
)
@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"null",
        b"[]",
        b'"x"',
        b"{}",
        b'{"tree": null}',
        b'{"tree": []}',
        b'{"tree": 1}',
        b"\xff\xfe",
        b'{"tree": NaN}',
        b'{"tree": {"a": null}}',
        b'{"tree": {"a": ' + b"9" * 10_000 + b"}}",
        b"[" * 100_000,
        b'{"tree": ' + b'{"a":' * DEEP + b"1" + b"}" * (DEEP + 1),
        b'{"tree": {"a": ' + b"[" * 100 + b"]" * 100 + b"}}",
    ],
    ids=range(16),
)
def test_malformed_requests(served, path, body):
    """What is no request of the page is refused as such."""
    refused(served.send("POST", path, body), 400)


@pytest.mark.parametrize(
    ("path", "more"),
    [
        ("/api/part", {"path": ["panel", 10**9]}),
        ("/api/part", {"path": ["panel", -1]}),
        ("/api/part", {"path": ["panel", True]}),
        ("/api/part", {"path": ["__class__", 0]}),
        ("/api/part", {"path": "panel"}),
        ("/api/part", {"path": ["panel", 0], "opposite_hand": "yes"}),
        ("/api/layout", {"seed": -1}),
        ("/api/layout", {"seed": 1e308}),
        ("/api/layout", {"seed": 10**400}),
        ("/api/layout", {"effort": "first"}),
        ("/api/layout", {"tab": ["x"]}),
        ("/api/layout", {"tab": "x" * 1000}),
        ("/api/what_if", {"cases": [{}] * 100}),
        ("/api/what_if", {"cases": [{"spare": 10**9}]}),
        ("/api/what_if", {"cases": "x"}),
        ("/api/calibrate", {"paper": "letter", "x": "x", "y": []}),
        ("/api/calibrate", {"paper": "letter", "x": ["1"] * 1000, "y": ["1"]}),
        ("/api/template", {"part": "lid", "scale_x": [1]}),
        ("/api/save", {"version": 1}),
        ("/api/save", {"version": "", "whole": 1}),
        ("/api/check", {"tab": ["x"]}),
    ],
)
def test_wrong_values(served, tree, path, more):
    """A request with a value of the wrong kind is refused as such."""
    refused(served.post(path, {"tree": tree, **more}), 400)


@pytest.mark.parametrize(
    "kind", [None, "text/plain", "application/x-www-form-urlencoded", "multipart/form-data"]
)
def test_forms_are_not_taken(served, kind):
    """Only JSON is taken, which a form of another page cannot send."""
    headers = {"Content-Type": kind or ""}
    refused(served.send("POST", "/api/check", b'{"tree": {}}', headers=headers), 415)


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("GET", "/api/check"),
        ("POST", "/api/job"),
        ("DELETE", "/api/job"),
        ("PUT", "/api/save"),
        ("OPTIONS", "/api/save"),
        ("TRACE", "/"),
        ("POST", "/"),
        ("PATCH", "/static/app.js"),
        ("GET", "/api/layout"),
        ("BREW", "/api/job"),
    ],
)
def test_wrong_methods(served, method, path):
    """What can be asked for in one way only is refused in another."""
    refused(served.send(method, path, b"{}" if method != "GET" else None), 405)


@pytest.mark.parametrize(
    "path", ["/api/layout/x", "/api/prints/x/all.zip", "/api/prints/x/file?name=../../x", "/api/x"]
)
def test_unknown_names(served, path):
    """Runs and prints are known by names that cannot be guessed; others are not there."""
    refused(served.get(path), 404)


@pytest.mark.parametrize("after", ["x", "-1", "1e9", "9" * 100, "%F0%9F%98%80"])
def test_strange_counts(served, tree, after):
    """How far a browser is must be a number."""
    run = served.post("/api/layout", {"tree": tree, "tab": "a", "effort": "quick"}).json["run"]
    refused(served.get(f"/api/layout/{run}?after={after}"), 400)


def test_large_upload(served):
    """50 MB are refused before they are read, and with a false length as soon as they are too many."""
    refused_early = served.raw(
        f"POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\nX-Nestkit-Token: {served.token}\r\n"
        "Content-Type: application/json\r\nContent-Length: 50000000\r\n\r\n".encode()
    )
    assert refused_early.startswith(b"HTTP/1.1 413")
    chunk = b"%x\r\n%s\r\n" % (1_000_000, b" " * 1_000_000)
    head = (
        f"POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\nX-Nestkit-Token: {served.token}\r\n"
        "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", served.port), timeout=60) as line:
        line.sendall(head.encode())
        try:
            for _ in range(50):
                line.sendall(chunk)
        except (BrokenPipeError, ConnectionResetError):
            return
        assert line.recv(100).startswith(b"HTTP/1.1 413")


@pytest.mark.parametrize("length", ["-1", "1e9", "9" * 400, "0x10", "5, 6"])
def test_false_lengths(served, length):
    """A length that is none is refused by whoever sees it first."""
    said = served.raw(
        f"POST /api/check HTTP/1.1\r\nHost: 127.0.0.1:{served.port}\r\nX-Nestkit-Token: {served.token}\r\n"
        f"Content-Type: application/json\r\nContent-Length: {length}\r\n\r\n{{}}".encode()
    )
    assert said.split()[1] in (b"400", b"413")
    assert b"Traceback" not in said


@pytest.mark.parametrize(
    "data",
    [
        b"\x16\x03\x01\x02\x00\x01\x00",
        b"GET\r\n\r\n",
        b"\x00" * 1000,
        b"GET / HTTP/9.9\r\n\r\n",
        b"A" * 100_000,
        b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + b"X: y\r\n" * 20_000 + b"\r\n",
        b"GET http://evil.example/ HTTP/1.1\r\nHost: evil.example\r\n\r\n",
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    ],
    ids=range(9),
)
def test_no_requests_at_all(served, data):
    """What is no request of HTTP is not answered as one."""
    said = served.raw(data)
    assert not said.startswith(b"HTTP/1.1 200")
    assert b"Traceback" not in said


def test_script_in_every_name(served, tree):
    """A name may be anything: in pictures and in JSON it is text, in every field that has one."""
    for name in NAMES:
        text = name.replace("/", "|")
        tree["job"] = text
        tree["sheet"][0] |= {"name": text, "material": text}
        tree["panel"][0] |= {"name": text, "material": text, "for": text, "revision": text[:60]}
        tree["panel"][0]["marks"] = [{"at": [1, 1], "text": text[:60], "height": "1/4"}]
        tree["panel"][0]["holes"][0]["name"] = text
        part = served.post("/api/part", {"tree": tree, "path": ["panel", 0]})
        check = served.post("/api/check", {"tree": tree})
        pages = served.post("/api/template", {"tree": tree, "part": text})
        sheet = served.post("/api/part", {"tree": tree, "path": ["sheet", 0]})
        results = _laid_out(served, tree)
        for answer in (part, check, pages, sheet, results):
            assert answer.status == 200, answer.body[:300]
            assert answer.headers["content-type"] == "application/json"
        pictures = [part.json["svg"], sheet.json["svg"], *(page["svg"] for page in pages.json["pages"])]
        for laid in results.json["result"]["sheets"]:
            pictures += [laid["svg"], *(row[key] for row in laid["saw"] for key in ("map", "saw"))]
        for picture in filter(None, pictures):
            for bad in ("<script", "<img", "onerror=alert(1)>", "<b>"):
                assert bad not in picture
            _is_plain_svg(picture)


def _laid_out(served, tree):
    """Return the answer with the last result of a layout."""
    run = served.post("/api/layout", {"tree": tree, "tab": "names", "effort": "quick"}).json["run"]
    n = 0
    while True:
        answer = served.get(f"/api/layout/{run}?after={n}")
        if answer.json["state"] != "working":
            return served.get(f"/api/layout/{run}?after=0")
        n = answer.json["n"]


def _is_plain_svg(picture):
    """Say that a picture is well formed, with nothing in it that runs or loads."""
    import xml.etree.ElementTree as ET

    for element in ET.fromstring(picture).iter():
        kind = element.tag.rpartition("}")[2]
        assert kind in {
            "svg",
            "g",
            "path",
            "circle",
            "text",
            "title",
            "desc",
            "defs",
            "clipPath",
            "rect",
            "ellipse",
            "line",
        }
        for attribute, value in element.attrib.items():
            assert not attribute.lower().startswith("on")
            assert attribute != "style"
            assert "href" not in attribute.lower()
            assert "script:" not in value.lower()


HOSTILE_TREES = {
    "types": {"job": [], "unit": {}, "cutting": 1, "sheet": "x", "panel": {"a": 1}, "tube": [1, 2]},
    "huge": {"unit": "in", "panel": [{"name": "a", "size": [1e308, 10**300], "quantity": 10**30}]},
    "tiny": {
        "unit": "mm",
        "panel": [{"name": "a", "size": [1e-300, "0.0000001"], "holes": [{"dia": 1e-99}]}],
    },
    "many": {"panel": [{"name": "a", "holes": [{"dia": 1, "grid": {"columns": 10**6, "rows": 10**6}}]}]},
    "long": {"job": "x" * 100_000, "panel": [{"name": "y" * 100_000}]},
    "files": {
        "import": [{"file": "../../../etc/passwd"}],
        "panel": [{"name": "a", "outline": "/etc/passwd"}],
    },
    "control": {"job": "\x00\x1b[31m", "panel": [{"name": "\u202egpj.exe"}]},
    "half": {"job": "\ud800", "panel": [{"name": "\udfff"}]},
    "keys": {"__proto__": {"a": 1}, "constructor": {}, "": 1, "a.b": {"\n": 2}, "\ud800": 3},
}


@pytest.mark.parametrize("name", HOSTILE_TREES)
def test_hostile_trees(served, name):
    """A job that is all wrong has mistakes, and nothing worse; it is never laid out."""
    tree = HOSTILE_TREES[name]
    check = served.post("/api/check", {"tree": tree})
    assert check.status == 200
    assert check.json["mistakes"]
    assert b"root:" not in check.body
    for path in ("/api/fit", "/api/prints", "/api/template"):
        refused(served.post(path, {"tree": tree, "part": "a"}), 422)
    if isinstance(tree.get("panel"), list):
        part = served.post("/api/part", {"tree": tree, "path": ["panel", 0]})
        assert part.status == 200
        assert part.json["mistakes"]
    failed = _laid_out(served, tree)
    assert failed.json["state"] == "failed"
    assert failed.json["error"]["mistakes"]


@pytest.mark.parametrize("name", ["half", "keys"])
def test_what_cannot_be_written(served, name):
    """A tree that no file can hold is not saved, and the file stays as it is."""
    before = served.job.read_bytes()
    version = served.get("/api/version").json["version"]
    refused(served.post("/api/save", {"tree": HOSTILE_TREES[name], "version": version}), 422)
    assert served.job.read_bytes() == before
