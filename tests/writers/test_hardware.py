"""hardware.csv: exact columns, lengths in the job's unit, no cell a formula."""

from __future__ import annotations

import csv
import io

from nestkit.fit.hardware import hardware
from nestkit.fit.result import Hardware, Item
from nestkit.writers.hardware import HARDWARE_COLUMNS, hardware_csv, hardware_rows
from tests.fit.stacked import assembly, job, layer, panel, screw, tube

LID, FRAME = panel("console lid"), tube("deck frame")
LAID = (
    assembly(screw(), layer(LID), layer(FRAME), name="left", quantity=6),
    assembly(screw(), layer(LID), layer(FRAME), name="right"),
)


def rows(data):
    """Return a file's rows as the csv module reads them, after checking mark and line ends."""
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.count(b"\n") == data.count(b"\r\n")
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_file_reads_back():
    """Item, size, length, needed, spare, to buy, which joints, a note."""
    assert rows(hardware_csv(job(), hardware(job(), LAID))) == [
        ["item", "size", "length", "count", "spares", "buy", "joints", "note"],
        ["machine screw, pan head", "10-32", "1.5", "14", "2", "16", "left; right", ""],
        ["lock nut, nylon insert", "10-32", "", "14", "2", "16", "left; right", ""],
        [
            "flat washer",
            "#10",
            "",
            "14",
            "2",
            "16",
            "left; right",
            "wide ones on plastic, where there is room",
        ],
    ]


def test_lengths_are_in_the_jobs_unit():
    """The same screw in a job in millimetres."""
    metric = job(unit="mm")
    assert rows(hardware_csv(metric, hardware(metric, LAID)))[1][2] == "38.1"


def test_rows_are_the_files_rows():
    """What programs get has the file's columns, numbers as numbers, nothing as null."""
    first, second, _ = hardware_rows(job(), hardware(job(), LAID))
    assert tuple(first) == HARDWARE_COLUMNS
    assert (first["length"], first["buy"], second["length"]) == ("1.5", 16, None)


def test_no_cell_is_a_formula():
    """A joint's name that a spreadsheet would take for a formula is disarmed."""
    evil = Hardware((Item("hex nut", "=1+1", None, 1, 1, ("@joint", "b"), note="+note"),))
    assert rows(hardware_csv(job(), evil))[1] == [
        "hex nut",
        "'=1+1",
        "",
        "1",
        "1",
        "2",
        "'@joint; b",
        "'+note",
    ]


def test_the_same_bytes_twice():
    """Nothing of a run shows in the file."""
    assert hardware_csv(job(), hardware(job(), LAID)) == hardware_csv(job(), hardware(job(), LAID))
