"""What the page's calls answer, on the sample jobs, against a real server."""

from __future__ import annotations

import io
import json
import re
import shutil
import xml.etree.ElementTree as ET
import zipfile

import pytest

from tests.page.served import ROOT, serve

SAMPLES = ROOT / "sample_parts"


@pytest.fixture(scope="module")
def boat(tmp_path_factory):
    """Yield a server on a copy of the solar boat."""
    folder = tmp_path_factory.mktemp("boat")
    shutil.copytree(SAMPLES, folder, dirs_exist_ok=True)
    text = (SAMPLES / "solar_boat.toml").read_text(encoding="utf-8")
    with serve(folder / "solar_boat.toml", text) as running:
        yield running


@pytest.fixture
def boat_tree(boat):
    """Return the boat's tree as a browser has it."""
    return boat.get("/api/job").json["tree"]


def laid_out(served, tree, **how):
    """Return every result of a layout, and its last answer."""
    run = served.post("/api/layout", {"tree": tree, "tab": "t", "effort": "quick", **how}).json["run"]
    n, results = 0, []
    while True:
        found = served.get(f"/api/layout/{run}?after={n}").json
        assert found["n"] > n or found["state"] == "working"
        n = found["n"]
        if found["result"] is not None:
            results.append(found["result"])
        if found["state"] != "working":
            return run, results, found


def test_the_job_as_it_is(boat):
    """The tree is what the file holds, every table of a list with its place."""
    found = boat.get("/api/job").json
    assert (found["name"], found["folder"], found["starter"]) == (
        "solar_boat.toml",
        boat.job.parent.name,
        False,
    )
    tree = found["tree"]
    assert tree["sheet"][0]["price"] == 38.5
    assert tree["date"] == "2026-03-02"
    assert [panel["_was"] for panel in tree["panel"]] == list(range(len(tree["panel"])))
    assert tree["panel"][0]["holes"][1]["_was"] == 1
    assert found["version"] == boat.get("/api/version").json["version"]


def test_words_to_choose_from(boat):
    """The lists are those of the tables and of the job file."""
    words = boat.get("/api/words").json
    assert {"polycarbonate"} <= set(words["materials"])
    assert words["fits"]["10-32"] == ["close", "normal", "loose"]
    assert {"#7", "F", "1/4"} <= set(words["drills"])
    assert words["ways"] == ["saw", "jigsaw", "router", "laser", "waterjet"]
    assert "letter" in words["papers"]
    assert "corner_radius" in words["keys"]["panel"]


@pytest.mark.parametrize(
    ("kind", "least"), [("panel", 20), ("tube", 5), ("bought", 2), ("sheet", 4), ("bar", 4)]
)
def test_every_part_is_understood(boat, boat_tree, kind, least):
    """Each part and stock of the boat has a title and a line; what is known to look like has its picture."""
    assert len(boat_tree[kind]) >= least
    for index, item in enumerate(boat_tree[kind]):
        found = boat.post("/api/part", {"tree": boat_tree, "path": [kind, index]}).json
        assert found["mistakes"] == [], item["name"]
        assert found["title"]
        assert found["understood"]
        off_a_roll = kind == "tube" and item["section"].startswith("roll")
        assert (found["svg"] is None) == (kind == "bought" or off_a_roll)
        if found["svg"]:
            ET.fromstring(found["svg"])


def test_a_part_with_its_holes(boat, boat_tree):
    """Holes have their number on every print, their drill, and the table that they come from."""
    found = boat.post("/api/part", {"tree": boat_tree, "path": ["panel", 0]}).json
    assert found["title"] == "14 1/2 x 9 3/4 in, polycarbonate, .118 in"
    assert found["understood"] == "1 as drawn; 4 x #2, 2 x #9, 18 x 1/4"
    assert len(found["holes"]) == 24
    first, last = found["holes"][0], found["holes"][-1]
    place = ["panel", 0, "holes", 0]
    drill = {"drill": "#2 (.221 in)", "x": "1", "y": "3/4"}
    assert first == {"number": 1, "group": "hinge", "path": place, **drill}
    assert last["path"] == ["panel", 0, "holes", 2]


def test_the_opposite_hand_is_mirrored(boat, boat_tree):
    """The opposite hand has its holes at the other side, with the same numbers."""
    ask = {"tree": boat_tree, "path": ["panel", 0]}
    drawn, other = (boat.post("/api/part", {**ask, "opposite_hand": hand}).json for hand in (False, True))
    assert drawn["holes"][0]["x"] == "1"
    assert other["holes"][0]["x"] == "13 1/2"
    assert other["svg"] != drawn["svg"]


def test_a_mistake_at_its_field(boat, boat_tree):
    """A mistake says which value of which key of which part is wrong, in the words of a check."""
    boat_tree["panel"][3]["size"] = ["14 1/2", "9 3/x"]
    part = boat.post("/api/part", {"tree": boat_tree, "path": ["panel", 3]}).json
    check = boat.post("/api/check", {"tree": boat_tree}).json
    assert part["svg"] is None
    assert part["mistakes"] == check["mistakes"]
    (mistake,) = part["mistakes"]
    assert mistake["path"] == ["panel", 3, "size", 1]
    assert "is not a length" in mistake["text"]


def test_a_part_is_not_blamed_for_the_rest(boat, boat_tree):
    """A part is drawn also while the top of the job and other parts are wrong."""
    boat_tree["cutting"] = {"how": "axe"}
    boat_tree["panel"][1]["size"] = "x"
    boat_tree["unit"] = "in"
    found = boat.post("/api/part", {"tree": boat_tree, "path": ["panel", 0]}).json
    assert found["mistakes"] == []
    assert found["svg"]


def test_a_nameless_part_is_told_by_its_number(boat, boat_tree):
    """What has no name is called by its number in the whole job."""
    del boat_tree["panel"][5]["name"]
    (mistake,) = boat.post("/api/part", {"tree": boat_tree, "path": ["panel", 5]}).json["mistakes"]
    assert mistake["place"] == "panel 6, name"
    assert mistake["path"] == ["panel", 5, "name"]


def test_check_finds_what_the_command_finds(boat, boat_tree):
    """Findings are those of the command, each with the part that it is of, and every part is said back."""
    found = boat.post("/api/check", {"tree": boat_tree}).json
    assert found["mistakes"] == []
    assert len(found["findings"]) > 10
    assert all(
        row["path"] for row in found["parts"] if row["name"] in {p["name"] for p in boat_tree["panel"]}
    )
    lid = next(row for row in found["parts"] if row["name"] == "console lid")
    assert (lid["path"], lid["line"]) == (["panel", 0], "1 as drawn; 4 x #2, 2 x #9, 18 x 1/4")
    placed = [f for f in found["findings"] if f["place"].startswith("panel ")]
    for finding in placed:
        kind, index = finding["path"]
        assert boat_tree[kind][index]["name"] in finding["place"]


def test_layout_first_quick_then_whole(served, tree):
    """The first result comes before the last, and the last is that of the command, complete."""
    _, results, last = laid_out(served, tree)
    assert last["state"] == "done"
    assert results[0]["quick"]
    assert not results[-1]["quick"]
    (sheet,) = results[-1]["sheets"]
    assert results[-1]["lead"].startswith("Buy: 1 x PC 2x4 = 38.50 all told")
    assert sheet["title"] == "PC 2x4, sheet 1"
    assert (sheet["width_mm"], sheet["height_mm"]) == (609.6, 1219.2)
    (part,) = sheet["parts"]
    assert part["outline"].startswith("M")
    assert part["held"] is False
    ET.fromstring(sheet["svg"])
    assert [row["numbers"] for row in sheet["saw"]]
    assert {cut["say"] for cut in sheet["cuts"]} == {row["say"] for row in sheet["saw"]}
    assert sheet["saw"][0]["say"].startswith("Cut")
    for row in sheet["saw"]:
        ET.fromstring(row["map"])
        ET.fromstring(row["saw"])


def test_what_is_held_and_kept_clear_is_told(served, tree):
    """Held copies are marked, and the regions of this very sheet come in mm with their place in the list."""
    tree["panel"][0]["quantity"] = 2
    tree["hold"] = [
        {"part": "lid", "copy": 2, "sheet": "PC 2x4", "on": 1, "at": [2, 3]},
    ]
    tree["sheet"][0]["keep_clear"] = [
        {"at": [1, 1], "size": [1, 1], "on": 2},
        {"at": [4, 40], "disc": 2, "why": "knot"},
        {"at": [10, 30], "size": [3, "1 1/2"], "on": 1},
    ]
    _, results, _ = laid_out(served, tree)
    sheet = results[-1]["sheets"][0]
    assert {part["copy"]: part["held"] for part in sheet["parts"]} == {1: False, 2: True}
    assert sheet["keep_clear"] == [
        {"index": 1, "why": "knot", "on": None, "x_mm": 101.6, "y_mm": 1016.0, "disc_mm": 50.8},
        {"index": 2, "why": "", "on": 1, "x_mm": 254.0, "y_mm": 762.0, "width_mm": 76.2, "height_mm": 38.1},
    ]


def test_an_overlay_lies_on_the_picture(served, tree):
    """The place of a part in mm leads to the edge of that part in the house's own picture."""
    _, results, _ = laid_out(served, tree)
    (sheet,) = results[-1]["sheets"]
    (part,) = sheet["parts"]
    left, foot, per_mm = (sheet["frame"][key] for key in ("x", "y", "per_mm"))
    box = [float(side) for side in re.search(r'viewBox="([^"]+)"', sheet["svg"])[1].split()]
    assert 0 <= left + part["x_mm"] * per_mm <= box[2]
    assert 0 <= foot - (part["y_mm"] + part["height_mm"]) * per_mm <= box[3]
    move = re.search(r"translate\(([0-9.]+) ([0-9.]+)\)", sheet["svg"])
    assert float(move[1]) == pytest.approx(left)
    assert float(move[2]) == pytest.approx(foot)


def test_a_newer_layout_ends_the_older(boat, boat_tree):
    """A tab has one layout at a time; those of other tabs go on."""
    ask = {"tree": boat_tree, "effort": "thorough", "tab": "one"}
    first = boat.post("/api/layout", ask).json["run"]
    second = boat.post("/api/layout", ask).json["run"]
    assert boat.get(f"/api/layout/{first}?after=0").json["state"] == "stopped"
    assert boat.post(f"/api/layout/{second}/stop", {}).json == {"ok": True}
    n, state = 0, "working"
    while state == "working":
        found = boat.get(f"/api/layout/{second}?after={n}").json
        n, state = found["n"], found["state"]
    assert state == "stopped"
    result = boat.get(f"/api/layout/{second}?after=0").json["result"]
    assert result["stopped"]
    assert not result["quick"]
    assert result["sheets"]
    assert result["complete"]


def test_prints_of_a_layout(served, tree):
    """All files of the job folder, of the very layout that is shown, each by itself and in one archive."""
    run, results, _ = laid_out(served, tree)
    found = served.post("/api/prints", {"tree": tree, "run": run}).json
    files = {row["name"]: row for row in found["files"]}
    assert {"summary.html", "saw_plan.pdf", "templates/lid.pdf", "sheets/pc-2x4-01.dxf", "buy.csv"} <= set(
        files
    )
    assert files["templates/lid.pdf"]["what"] == "1:1 template, 3 pages"
    one = served.get(f"/api/prints/{found['prints']}/file?name=layout.json")
    assert one.headers["content-disposition"] == 'attachment; filename="layout.json"'
    assert json.loads(one.body)["groups"] == results[-1]["layout"]["groups"]
    archive = zipfile.ZipFile(io.BytesIO(served.get(f"/api/prints/{found['prints']}/all.zip").body))
    assert set(archive.namelist()) == set(files)
    assert all(len(archive.read(name)) == row["bytes"] for name, row in files.items())


def test_prints_of_another_job_are_refused(served, tree):
    """Prints are never made of a layout of a job that has changed since."""
    run, _, _ = laid_out(served, tree)
    tree["panel"][0]["size"] = [10, 5]
    answer = served.post("/api/prints", {"tree": tree, "run": run})
    assert answer.status == 409
    assert "has changed" in answer.json["error"]


def test_joints_with_their_chance(boat, boat_tree):
    """Each joint has its verdict, its figure and its picture; hardware and drills are listed."""
    found = boat.post("/api/fit", {"tree": boat_tree}).json
    first = found["joints"][0]
    assert first["name"] == "fore hatch to hinge strip"
    assert 0 < first["chance"] <= 1
    assert first["chance_text"]
    ET.fromstring(first["svg"])
    assert found["hardware"]
    assert found["drills"][0]["drill"]


def test_what_if_side_by_side(served, tree):
    """The job as it is comes first, then each case; a case that cannot be has its reason."""
    tree["panel"][0]["quantity"] = 5
    cases = [
        {"name": "two spares", "spare": 2},
        {"name": "none", "without_stock": ["PC 2x4"]},
        {"name": "routed", "how": "router"},
        {"name": "axe", "how": "axe"},
    ]
    found = served.post("/api/what_if", {"tree": tree, "cases": cases}).json["cases"]
    assert [case["name"] for case in found] == ["as it is", "two spares", "none", "routed", "axe"]
    assert found[0]["cost"] == 38.5
    assert found[1]["sheets"] >= found[0]["sheets"]
    assert not found[2]["complete"]
    assert found[3]["error"] is None
    assert "axe" in found[4]["error"]


def test_template_on_another_paper(served, tree):
    """A template is shown as it prints on the paper that is chosen there."""
    for paper, width in (("letter", 215.9), ("A3", 297.0)):
        pages = served.post("/api/template", {"tree": tree, "part": "lid", "paper": paper}).json["pages"]
        assert {min(page["width_mm"], page["height_mm"]) for page in pages} == {width}
        for page in pages:
            ET.fromstring(page["svg"])
    unknown = served.post("/api/template", {"tree": tree, "part": "lid", "paper": "papyrus"})
    assert unknown.status == 422
    assert unknown.json["mistakes"][0]["path"] == ["printing", "paper"]


def test_calibration(served, tree):
    """Readings give the scale that the command gives; those of a page printed to fit are refused."""
    ask = {"tree": tree, "paper": "letter", "read_to": ""}
    found = served.post("/api/calibrate", {**ask, "x": ["8"], "y": ["9.5"]}).json
    assert (found["x"], found["y"]) == ("8 in", "9 1/2 in")
    assert (found["scale_x"], found["scale_y"], found["refused"]) == (1.0, 1.0, None)
    assert "1.0000" in found["say"][0]
    fitted = served.post("/api/calibrate", {**ask, "x": ["7.5"], "y": ["9"]}).json
    assert fitted["scale_x"] is None
    assert "printed to fit" in fitted["refused"]
    empty = served.post("/api/calibrate", {**ask, "x": [""], "y": ["9"]}).json
    assert "both sides" in empty["refused"]
    test = served.post("/api/print_test", {"tree": tree, "paper": "A4"})
    assert test.body.startswith(b"%PDF")


def test_files_brought_in(boat):
    """A spreadsheet and an outline are kept, each with what it adds to the job."""
    rows = boat.send(
        "POST", "/api/upload?name=Deck%20parts.CSV", (SAMPLES / "deck_parts.csv").read_bytes()
    ).json
    assert rows["file"] == "deck-parts.csv"
    assert rows["add"] == [["import", {"file": "deck-parts.csv"}]]
    assert rows["say"].endswith("rows read")
    outline = (SAMPLES / "outlines" / "hatch_ring.dxf").read_bytes()
    drawn = boat.send("POST", "/api/upload?name=ring.dxf", outline).json
    assert drawn["kind"] == "outline"
    assert drawn["add"] == [["panel", {"name": "ring", "outline": "ring.dxf"}]]
    assert drawn["say"].startswith("9 1/2 x 9 1/2 in, 12 holes, 1 opening")
    again = boat.send("POST", "/api/upload?name=ring.dxf", outline).json
    assert again["file"] == "ring-2.dxf"
