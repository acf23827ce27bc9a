import csv
import importlib.resources
import re

import pytest

from nestkit.errors import ToolFault
from nestkit.trade.tables import TABLES, basis_text, number, read, source_text

BASES = {"seen", "computed", "memory", "common practice", "definition"}
WITH_BASIS = [name for name in TABLES if name != "sources"]


@pytest.mark.parametrize("name", TABLES)
def test_every_listed_table_reads_and_has_the_columns_it_shows(name):
    """A table in the list is a file with at least the columns that are shown, each named once."""
    rows = read(name)
    assert rows
    assert set(TABLES[name].columns) <= set(rows[0])
    assert len(set(TABLES[name].columns)) == len(TABLES[name].columns)
    assert TABLES[name].title
    assert TABLES[name].note.endswith(".")


def test_every_file_beside_the_code_is_listed():
    """No table lies in the package that the list does not name."""
    folder = importlib.resources.files("nestkit.trade")
    assert {f.name.removesuffix(".csv") for f in folder.iterdir() if f.name.endswith(".csv")} == set(TABLES)


@pytest.mark.parametrize("name", TABLES)
def test_rows_are_whole(name):
    """Every row has exactly the columns of the header, and nothing is padded with blanks."""
    text = (importlib.resources.files("nestkit.trade") / f"{name}.csv").read_text(encoding="utf-8")
    assert "\r" not in text
    assert text.endswith("\n")
    lines = list(csv.reader(text.splitlines()))
    assert {len(line) for line in lines} == {len(lines[0])}
    assert all(cell == cell.strip() for line in lines for cell in line)


@pytest.mark.parametrize("name", WITH_BASIS)
def test_every_row_says_its_basis_and_how_sure_it_is(name):
    """Each value carries basis and confidence; what was seen names where."""
    for row in read(name):
        assert row["basis"] in BASES, row
        assert row["confidence"] in {"high", "medium", "low"}, row
        if row["basis"] == "seen":
            assert row["source"], row
        if row["basis"] == "memory":
            assert not row["source"], row


def test_every_source_code_resolves_and_every_source_is_used():
    """No code is left without words, and no words without a code."""
    used = {code for name in WITH_BASIS for row in read(name) for code in row["source"].split(";") if code}
    assert used <= {row["code"] for row in read("sources")}
    assert {row["code"] for row in read("sources")} <= used
    assert all(source_text(code) for code in used)


@pytest.mark.parametrize("name", TABLES)
def test_no_table_has_an_address_or_a_path(name):
    """Sources are words: no web address, no path, no package index."""
    for row in read(name):
        for cell in row.values():
            assert not re.search(r"https?:|www\.|/work|/tmp|PyPI", cell), cell


def test_a_source_is_said_once_in_words():
    """Two codes with the same words are said once, in the order given."""
    assert source_text("C1;C2;C4") == (
        "Machinery's Handbook 31st ed. p. 1741; an open-source library's hole tables"
    )
    assert source_text("") == ""


def test_an_unknown_code_or_table_is_a_fault_of_the_tool():
    """A code or table that does not exist is our own fault, not the user's."""
    with pytest.raises(ToolFault, match="ZZ9"):
        source_text("ZZ9")
    with pytest.raises(ToolFault, match="no trade table 'prices'"):
        read("prices")


def test_what_has_no_source_says_so():
    """Common practice and memory without a source are called that; a definition needs none."""
    assert basis_text("common practice", "") == "common practice, no source"
    assert basis_text("memory", "") == "memory, no source"
    assert basis_text("definition", "") == "definition"
    assert basis_text("seen", "C7") == "seen: Machinery's Handbook 31st ed. p. 2173"


def test_an_empty_cell_is_no_number():
    """An empty cell is None, never 0."""
    assert number("") is None
    assert number("0") == 0


def test_decisions_are_numbered_and_say_why():
    """Each contradiction of the sources is decided once, with a reason."""
    rows = read("decisions")
    assert [int(row["number"]) for row in rows] == list(range(1, len(rows) + 1))
    assert all(row["question"].endswith("?") or row["question"].endswith(".") for row in rows)
    assert all(row["decided"] and row["why"] for row in rows)
