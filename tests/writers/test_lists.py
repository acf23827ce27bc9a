"""buy.csv and parts.csv: exact columns, lengths in the job's unit, no cell a formula."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis.strategies import text

from nestkit.estimate.estimate import estimate
from nestkit.layout.result import Unplaced
from nestkit.writers.lists import buy_csv, buy_rows, parts_csv, safe_cell
from tests.laid_boat import BRACKET, HATCH, LID, lid_job, placed, routed_job


def rows(data):
    """Return a file's rows as the csv module reads them, after checking mark and line ends."""
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.count(b"\n") == data.count(b"\r\n")
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_buy_list_has_the_columns_of_the_contract():
    """A row a stock: name, material, real thickness, size, how many to buy and from the rack, price, cost."""
    job, layout = lid_job()
    assert rows(buy_csv(job, estimate(job, layout))) == [
        ["stock", "material", "thickness", "size", "buy", "on_hand", "price", "cost"],
        ["PC 1/8 2x4", "polycarbonate", "0.118", "24 x 48", "1", "0", "38.5", "38.5"],
    ]


def test_stock_without_a_price_has_empty_cells():
    """What is bought without a price has no cost; what is on hand costs 0."""
    job, layout = routed_job()
    assert rows(buy_csv(job, estimate(job, layout)))[1:] == [
        ["Ply 12", "birch plywood", "12", "1220 x 610", "1", "0", "", ""],
        ["ply 12!", "birch plywood", "12", "600 x 300", "0", "1", "", "0"],
    ]


def test_rows_for_programs_are_the_same():
    """The rows that --json prints have the columns of buy.csv, numbers as numbers."""
    job, layout = lid_job()
    assert buy_rows(job, estimate(job, layout)) == [
        {
            "stock": "PC 1/8 2x4",
            "material": "polycarbonate",
            "thickness": "0.118",
            "size": "24 x 48",
            "buy": 1,
            "on_hand": 0,
            "price": 38.5,
            "cost": 38.5,
        }
    ]


def test_where_one_hand_serves_as_the_other_the_list_says_either():
    """Faces alike and both hands asked for: no copy is of one hand only, and none seems to be missing."""
    job, layout = lid_job()
    both = replace(LID, opposite_hand=1, faces="alike", marks=())
    laid = layout.groups[0]
    sheet = replace(laid.sheets[0], parts=(placed(both, 1, 0, 0), placed(both, 2, 0, 300)))
    job = replace(job, panels=(both,))
    found = rows(parts_csv(job, replace(layout, groups=(replace(laid, sheets=(sheet,)),))))
    assert [row[:3] for row in found[1:]] == [["console lid", "1", "either"], ["console lid", "2", "either"]]
    alone = replace(both, quantity=2, opposite_hand=0)
    sheet = replace(sheet, parts=(placed(alone, 1, 0, 0),))
    job = replace(job, panels=(alone,))
    assert rows(parts_csv(job, replace(layout, groups=(replace(laid, sheets=(sheet,)),))))[1][2] == "as drawn"


def test_the_parts_list_has_every_copy():
    """A row a copy, by what it is for and then in job order; one without a place is not lost."""
    job, layout = routed_job()
    found = rows(parts_csv(job, layout))
    assert found[0] == ["part", "copy", "hand", "for", "material", "thickness", "sheet", "x", "y", "turn"]
    assert found[1:] == [
        ["motor bracket", "1", "as drawn", "drive", "birch plywood", "12", "ply-12-01", "20", "20", "0"],
        ["motor bracket", "2", "as drawn", "drive", "birch plywood", "12", "ply-12-01", "213", "20", "90"],
        ["motor bracket", "1", "opposite", "drive", "birch plywood", "12", "ply-12-01", "20.1", "160", "180"],
        ["motor bracket", "2", "opposite", "drive", "birch plywood", "12", "ply-12-01", "213", "213", "270"],
        ["hatch cover", "1", "as drawn", "hatches", "birch plywood", "12", "ply-12-2-01", "20", "20", "0"],
        ["'=gusset", "1", "as drawn", "", "birch plywood", "12", "ply-12-01", "400", "20", "30"],
        ["'=gusset", "2", "as drawn", "", "birch plywood", "12", "", "", "", ""],
    ]


def test_places_are_in_the_jobs_unit():
    """In an inch job x and y are inches to six decimals."""
    job, layout = routed_job(unit="in")
    by_part = {(r[0], r[1], r[2]): r for r in rows(parts_csv(job, layout))}
    assert by_part["motor bracket", "1", "opposite"][7:] == ["0.791339", "6.299213", "180"]
    assert by_part["hatch cover", "1", "as drawn"][5] == "0.472441"


@pytest.mark.parametrize(
    "name",
    ["=cmd|'/c calc'!A0", "+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "  =1", "\u00a0=1", "＝1+1"],
)
def test_no_name_becomes_a_formula(name):
    """A part or stock named like a formula is written with an apostrophe before it."""
    assert safe_cell(name) == f"'{name}"
    assert safe_cell(f"\n{name}") == f"'\n{name}"
    job, layout = routed_job()
    laid = layout.groups[0]
    part = replace(BRACKET, name=name, used_for=name)
    job = replace(job, panels=(part, HATCH), sheets=(replace(job.sheets[0], name=name), job.sheets[1]))
    lost = Unplaced(part, 1, False, "no room")
    layout = replace(layout, groups=(replace(laid, sheets=(), unplaced=(lost,)),))
    for row in rows(parts_csv(job, layout))[1:]:
        for cell in row:
            assert not cell.lstrip()[:1] or cell.lstrip()[0] not in "=+-@＝"
            assert not cell.startswith(("\t", "\r", "\n"))


@given(text(max_size=20))
def test_safe_cells_keep_their_text(cell):
    """Guarding a cell adds at most one apostrophe before it and changes nothing else."""
    assert safe_cell(cell) in (cell, f"'{cell}")


def test_letters_commas_and_quotes_survive():
    """Commas, quotes and letters of any script come back as they were."""
    job, layout = lid_job()
    stock = replace(job.sheets[0], name='船 "big", 2')
    laid = layout.groups[0]
    sheet = replace(laid.sheets[0], stock=stock)
    job = replace(job, sheets=(stock,))
    layout = replace(layout, groups=(replace(laid, sheets=(sheet,)),))
    assert rows(buy_csv(job, estimate(job, layout)))[1][0] == '船 "big", 2'


def test_numbers_stay_numbers():
    """Prices and counts are plain decimals without an apostrophe."""
    job, layout = lid_job()
    stock = replace(job.sheets[0], price=Fraction("1234567.125"))
    sheet = replace(layout.groups[0].sheets[0], stock=stock)
    layout = replace(layout, groups=(replace(layout.groups[0], sheets=(sheet, replace(sheet, number=2))),))
    found = rows(buy_csv(replace(job, sheets=(stock,)), estimate(replace(job, sheets=(stock,)), layout)))[1]
    assert found[4:] == ["2", "0", "1234567.125", "2469134.25"]
