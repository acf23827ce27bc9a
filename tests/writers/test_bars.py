"""Bars in layout.json, the lists, the summary and the job folder, from a job's text on."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pypdfium2
import pytest

from nestkit.job.reader import read_text
from nestkit.make import make
from nestkit.writers.job_files import job_files, pack_files
from nestkit.writers.layout_json import layout_json

TUBES_ALONE = """
job = "Solar boat: frame"
unit = "in"
[cutting]
how = "saw"
kerf = "1 mm"
[[bar]]
name = "square 8 ft"
material = "aluminium 6061"
section = "1 x 1 x 1/16"
length = 96
price = 14.00
trim = "1/4"
[[bar]]
name = "edge trim"
material = "rubber"
section = "roll 1/2"
length = 100
price = 6.50
[[tube]]
name = "deck frame"
for = "frame"
material = "aluminium 6061"
section = "1 x 1 x 1/16"
length = 22
  [[tube.holes]]
  face = "A"
  through = true
  drill = "#7"
  at = ["1/2", "21 1/2"]
[[tube]]
name = "hatch edge"
for = "hatches"
material = "rubber"
section = "roll 1/2"
length = 20
quantity = 2
"""

# The example of the contract, typed in; "..." of the contract filled with this job's names. Each stick has
# its own trim beside those of the contract.
CONTRACT = """
{"material": "aluminium 6061", "section": "25.4 x 25.4 x 1.5875 mm", "kerf_mm": 1.0, "trim_mm": 6.35,
 "cost_in": "price",
 "sticks": [{"stock": "square 8 ft", "length_mm": 2438.4, "trim_mm": 6.35, "price": 14.0, "on_hand": false,
   "left_mm": 1865.9,
   "parts": [{"part": "deck frame", "copy": 1, "opposite_hand": false, "start_mm": 6.35,
              "length_mm": 558.8}]}],
 "unplaced": [], "sticks_used": 1, "cost": 14.0, "least_sticks": 1, "least_cost": 14.0, "proved": true}
"""


def made_of(text: str):
    """Return a job's text as everything that is known about it."""
    return make(read_text(text, Path()))


def files_of(text: str) -> dict[str, bytes]:
    """Return the files of a job's folder."""
    made = made_of(text)
    return dict(job_files(made.job, made.findings, made.fit, made.layout, made.estimate))


def rows(data: bytes) -> list[list[str]]:
    """Return a CSV file's rows."""
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


@pytest.fixture(scope="module")
def folder() -> dict[str, bytes]:
    """Return the files of a job that has tubes and a roll, and no panel."""
    return files_of(TUBES_ALONE)


def test_the_example_of_the_contract_comes_out():
    """Keys, their order and values of ``bars`` are the contract's."""
    made = made_of(TUBES_ALONE)
    found = json.loads(layout_json(made.job, made.layout))
    wanted = json.loads(CONTRACT)
    assert found["groups"] == []
    assert found["bars"][0] == wanted
    assert list(found["bars"][0]) == list(wanted)
    assert list(found["bars"][0]["sticks"][0]) == list(wanted["sticks"][0])


def test_sticks_of_two_trims_say_their_own():
    """The trim of the group is null where its sticks differ; each has its own."""
    two = TUBES_ALONE.replace("length = 22\n", "length = 22\nquantity = 5\n")
    two += '[[bar]]\nname = "rest"\nmaterial = "aluminium 6061"\nsection = "1 x 1 x 1/16"\n'
    two += "length = 23\non_hand = 1\nbuy = false\n"
    bars = json.loads(layout_json(made_of(two).job, made_of(two).layout))["bars"][0]
    assert bars["trim_mm"] is None
    assert sorted((s["stock"], s["trim_mm"], s["price"]) for s in bars["sticks"]) == [
        ("rest", 0, 0),
        ("square 8 ft", 6.35, 14),
    ]


def test_a_part_without_a_place_is_listed():
    """A tube longer than any stick is unplaced with its reason, in the lists without a stick."""
    made = made_of(TUBES_ALONE.replace("length = 22\n", "length = 96\n"))
    bars = json.loads(layout_json(made.job, made.layout))["bars"][0]
    assert bars["unplaced"] == [
        {
            "part": "deck frame",
            "copy": 1,
            "opposite_hand": False,
            "why": "it is longer than a bar leaves between its trims",
        }
    ]
    assert (bars["least_cost"], bars["least_sticks"], bars["proved"]) == (None, None, False)
    assert not made.complete
    files = dict(job_files(made.job, made.findings, made.fit, made.layout, made.estimate))
    assert rows(files["parts.csv"])[1][-4:] == ["", "", "", ""]
    assert "1 part without a place" in files["summary.html"].decode()


def test_the_lists_have_section_and_length(folder):
    """Of bars, thickness holds the section, size the length, sheet the stick, x the start."""
    assert rows(folder["buy.csv"])[1:] == [
        ["square 8 ft", "aluminium 6061", "1 x 1 x 1/16", "96", "1", "0", "14", "14"],
        ["edge trim", "rubber", "roll 1/2", "100", "1", "0", "6.5", "6.5"],
    ]
    frame = ["deck frame", "1", "as drawn", "frame", "aluminium 6061", "1 x 1 x 1/16"]
    edge = ["as drawn", "hatches", "rubber", "roll 1/2", "edge-trim-01"]
    assert rows(folder["parts.csv"])[1:] == [
        [*frame, "square-8-ft-01", "0.25", "", ""],
        ["hatch edge", "1", *edge, "0", "", ""],
        ["hatch edge", "2", *edge, "20", "", ""],
    ]


def test_a_job_of_tubes_alone_has_its_files(folder):
    """No sheets, no note for a router; the cut plan, card and template of what has holes, tables, labels."""
    assert sorted(folder) == [
        "bench_cards.pdf",
        "buy.csv",
        "cut_plan.pdf",
        "labels.pdf",
        "layout.json",
        "marking_out.pdf",
        "parts.csv",
        "summary.html",
        "templates/deck-frame.pdf",
        "templates/deck-frame.svg",
    ]


def test_the_summary_has_sticks_and_cut_lengths(folder):
    """What to buy, why less will not do, a picture a group, the parts with their lengths, care for tube."""
    page = folder["summary.html"].decode()
    words = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))
    assert "1 &times; square 8 ft" in words
    assert "20.50 all told" in words
    assert "No layout needs less." in words
    assert "1 stick; no cut list needs fewer" in words
    assert page.count("<svg") == 2
    assert "deck frame 22 in" in words
    assert "2 x #7 (.201 in), 2 of them through both walls" in words
    assert "Hold tube in soft jaws" in words
    assert "<h2>Sheets</h2>" not in page


def test_the_summary_says_which_ends_are_mitred():
    """A cut length's mitres stand in the list of parts to make, as check says them."""
    text = TUBES_ALONE.replace("length = 22\n", 'length = 22\nmitre_0 = { angle_deg = 45, long = "B" }\n')
    words = re.sub(r"<[^>]+>", " ", files_of(text)["summary.html"].decode())
    assert "45 deg at end 0, long on B" in words


def test_a_bench_gets_its_tubes_and_no_others():
    """``--for frame`` has the frame's card, template and tables, and labels of its pieces alone."""
    made = made_of(TUBES_ALONE)
    wanted = [t for t in made.job.tubes if t.used_for == "frame"]
    files = dict(pack_files(made.job, made.layout, wanted))
    assert sorted(files) == [
        "bench_cards.pdf", "labels.pdf", "marking_out.pdf",
        "templates/deck-frame.pdf", "templates/deck-frame.svg",
    ]  # fmt: skip
    document = pypdfium2.PdfDocument(files["labels.pdf"])
    words = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    assert "deck frame" in words
    assert "hatch edge" not in words
