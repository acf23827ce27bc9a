"""Parts from spreadsheets: what is read, and what is refused with its place."""

from __future__ import annotations

import datetime
import io
import os
import zipfile
from fractions import Fraction

import openpyxl
import pytest

from nestkit.units import parse_length
from tests.job.texts import CUTTING, SHEET, SOUND, TOP, mistakes, only, read

IN = Fraction("25.4")
JOB = TOP + CUTTING + SHEET + '[[import]]\nfile = "panels.csv"\n'
BOOK = JOB.replace("panels.csv", "panels.xlsx")
IMPORT_LINE = JOB.split("\n").index("[[import]]") + 2
HEAD = "name,material,thickness,width,height\n"
HEADINGS = ["name", "material", "thickness", "width", "height"]


def csv_only(data: str | bytes, folder):
    """Return the one mistake of a job whose parts come from this CSV."""
    (folder / "panels.csv").write_bytes(data if isinstance(data, bytes) else data.encode())
    return only(JOB, folder)


def workbook(rows, folder, change=None):
    """Write a workbook with these rows in its first sheet; ``change`` may alter it first."""
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    if change:
        change(book)
    book.save(folder / "panels.xlsx")


def book_only(rows, folder, change=None):
    """Return the one mistake of a job whose parts come from this workbook."""
    workbook(rows, folder, change)
    return only(BOOK, folder)


@pytest.mark.parametrize("width", ["18-3/16", "18-03/64", "18 3/16", "18-3/16 in", "1' 6-3/16"])
def test_a_mixed_fraction_is_no_date(tmp_path, width):
    """A length with a hyphen and a slash is read as the job file reads it, from CSV and from a workbook."""
    (tmp_path / "panels.csv").write_text(f"{HEAD}a,pc,1/8,{width},4\n", encoding="utf-8")
    workbook([HEADINGS, ["a", "pc", "1/8", width, 4]], tmp_path)
    for job in (JOB, BOOK):
        assert read(job, tmp_path).panels[0].width == parse_length(width, "in")


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_csv_is_read_row_by_row(tmp_path, separator, mark):
    """One row a part, headings the keys, size as width and height, empty cells absent, in any separator."""
    rows = [
        ["name", "for", "material", "thickness", "width", "height", "quantity", "opposite_hand", "turn"],
        ["hatch", "deck", "polycarbonate", "1/8", "14 1/2", "9.75", "2", "", "half"],
        ["", "", "", "", "", "", "", "", ""],
        ["frame", "", "Polycarbonate", ".118", "152.4 mm", "6 in", "", "1", ""],
    ]
    text = mark + "\r\n".join(separator.join(row) for row in rows) + "\r\n"
    (tmp_path / "panels.csv").write_text(text, encoding="utf-8", newline="")
    hatch, frame = read(JOB, tmp_path).panels
    assert (hatch.name, hatch.used_for, hatch.quantity, hatch.opposite_hand, hatch.turn) == (
        "hatch", "deck", 2, 0, "half",
    )  # fmt: skip
    assert (hatch.width, hatch.height, hatch.thickness) == (
        Fraction("368.3"),
        Fraction("9.75") * IN,
        Fraction("2.9972"),
    )
    assert (frame.width, frame.height, frame.quantity, frame.opposite_hand) == (
        Fraction("152.4"),
        6 * IN,
        1,
        1,
    )
    assert hatch.place == 'panel "hatch"'
    assert hatch.line is None


def test_headings_may_be_written_as_people_do(tmp_path):
    """Headings in any case, with spaces for underscores, are the same keys; a disc needs no size."""
    (tmp_path / "panels.csv").write_text(
        "Name,Material,Thickness,Disc,Opposite hand\nlid,polycarbonate,1/8,9,1\n", encoding="utf-8"
    )
    (lid,) = read(JOB, tmp_path).panels
    assert (lid.shape, lid.width, lid.opposite_hand) == ("disc", 9 * IN, 1)


def test_parts_of_the_job_come_before_those_of_spreadsheets(tmp_path):
    """The job's own panels come first; a name may be there only once over both."""
    (tmp_path / "panels.csv").write_text(HEAD + "base,polycarbonate,1/8,4,4\nlid,polycarbonate,1/8,4,4\n")
    found = only(SOUND + '[[import]]\nfile = "panels.csv"\n', tmp_path)
    assert (found.place, found.line) == ("panels.csv, row 3, name", None)
    (tmp_path / "panels.csv").write_text(HEAD + "base,polycarbonate,1/8,4,4\n")
    assert [p.name for p in read(SOUND + '[[import]]\nfile = "panels.csv"\n', tmp_path).panels] == [
        "lid",
        "base",
    ]


TUBES = (
    "name,for,material,section,length,thickness,width,height,quantity,revision\n"
    "deck frame,deck,aluminium 6061,1 x 1 x 1/16,22,,,,2,B\n"
    "lid,,polycarbonate,,,1/8,4,4,,\n"
    "spacer,,nylon,rod 12 mm,1-1/2,,,,40,\n"
)


def test_a_row_with_a_section_is_a_tube(tmp_path):
    """Panels and tubes may stand in one spreadsheet: a row with a section and a length is a tube."""
    (tmp_path / "panels.csv").write_text(TUBES, encoding="utf-8")
    workbook([row.split(",") for row in TUBES.splitlines()], tmp_path)
    for text in (JOB, BOOK):
        job = read(text, tmp_path)
        frame, spacer = job.tubes
        assert [p.name for p in job.panels] == ["lid"]
        assert (frame.name, frame.used_for, frame.quantity, frame.revision) == ("deck frame", "deck", 2, "B")
        assert (frame.section.sizes, frame.length) == ((IN, IN, IN / 16), 22 * IN)
        assert (spacer.section.kind, spacer.section.a, spacer.length) == ("rod", 12, IN * 3 / 2)
        assert (frame.place, frame.line, frame.holes) == ('tube "deck frame"', None, ())
        assert [len(g.tubes) for g in job.bar_groups] == [1, 1]


def test_a_row_that_is_both_panel_and_tube_is_told_cell_by_cell(tmp_path):
    """Sizes of a panel beside a section are mistakes, as is a length beside the sizes of a panel."""
    head = "name,material,section,length,thickness,width,height,corner_radius\n"
    (tmp_path / "panels.csv").write_text(
        head + "a,pc,1 x 1 x 1/16,22,1/8,4,,1/8\nb,pc,,22,1/8,4,4,\n", encoding="utf-8"
    )
    found = mistakes(JOB, tmp_path)
    assert [m.place for m in found] == [
        "panels.csv, row 2, thickness",
        "panels.csv, row 2, width",
        "panels.csv, row 2, corner_radius",
        "panels.csv, row 3, length",
    ]
    assert all("section" in m.text and m.remedy for m in found)


TUBE_CASES = {
    "no length": ("a,pc,1 x 1 x 1/16,\n", "length", "missing"),
    "no section": ("a,pc,,22\n", "section", "missing"),
    "section of one size": ("a,pc,1,22\n", "section", "1 size where 3 are wanted"),
    "length a date": ("a,pc,rod 1,3-Apr\n", "length", "a date"),
    "section an error": ("a,pc,#REF!,22\n", "section", "#REF!"),
}


@pytest.mark.parametrize(("row", "key", "said"), TUBE_CASES.values(), ids=TUBE_CASES)
def test_a_wrong_row_of_a_tube_is_one_mistake(tmp_path, row, key, said):
    """What is wrong in the row of a tube is told with file, row and column, once."""
    (tmp_path / "panels.csv").write_text(f"name,material,section,length\n{row}", encoding="utf-8")
    found = only(JOB, tmp_path)
    assert found.place == f"panels.csv, row 2, {key}"
    assert said in found.text
    assert found.remedy


def test_a_misspelt_heading_of_a_tube_is_told_once(tmp_path):
    """A section under a misspelt heading is not missed as well, row by row."""
    (tmp_path / "panels.csv").write_text(
        "name,material,sectoin,length\na,pc,rod 1,2\nb,pc,rod 1,3\n", encoding="utf-8"
    )
    found = only(JOB, tmp_path)
    assert (found.place, found.remedy) == ("panels.csv, row 1, sectoin", "Did you mean section")


CSV_CASES = {
    "wrong length": (HEAD + "a,pc,1/8,6 in 3,4\n", "panels.csv, row 2, width", "in 3", "in, mm"),
    "comma decimals": (
        HEAD.replace(",", ";") + "a;pc;1;2,5;4\n",
        "panels.csv, row 2, width",
        "comma",
        '"2.5"',
    ),
    "missing value": (HEAD + "a,pc,,3,4\n", "panels.csv, row 2, thickness", "missing", "length"),
    "missing height": (HEAD + "\na,pc,1,3,\n", "panels.csv, row 3, height", "missing", "length"),
    "count not whole": ("quantity," + HEAD, "import 1, file", "headed name", "first"),
    "quantity a word": (
        HEAD[:-1] + ",quantity\na,pc,1,3,4,two\n",
        "panels.csv, row 2, quantity",
        '"two"',
        "whole",
    ),
    "quantity negative": (
        HEAD[:-1] + ",quantity\na,pc,1,3,4,-2\n",
        "panels.csv, row 2, quantity",
        '"-2"',
        "whole",
    ),
    "unknown heading": (
        HEAD[:-1] + ",qty\na,pc,1,3,4,2\n",
        "panels.csv, row 1, qty",
        "not a key",
        "keys there are",
    ),
    "misspelt heading": (
        HEAD[:-1] + ",quantitty\na,pc,1,3,4,2\n",
        "panels.csv, row 1, quantitty",
        "not a key",
        "quantity",
    ),
    "holes": (
        HEAD[:-1] + ",holes\na,pc,1,3,4,2\n",
        "panels.csv, row 1, holes",
        "not a key",
        "keys there are",
    ),
    "size": (HEAD[:-1] + ",size\na,pc,1,3,4,2\n", "panels.csv, row 1, size", "not a key", "keys there are"),
    "heading twice": (HEAD[:-1] + ",width\na,pc,1,3,4,2\n", "import 1, file", "two columns", "Keep one"),
    "no heading": (HEAD[:-1] + ",,spare\na,pc,1,3,4,2,1\n", "import 1, file", "without a heading", "Head it"),
    "cell past the headings": (HEAD + "a,pc,1,3,4,2\n", "panels.csv, row 2", '"2" stands', "Head the column"),
    "empty": ("", "import 1, file", "empty", "headings"),
    "headings alone": (HEAD, "import 1, file", "no parts", "one row a part"),
    "not closed": (HEAD + 'a,"pc,1,3,4\n', "import 1, file", "line 2", "once more"),
    "zero byte": (HEAD + "a,p\0c,1,3,4\n", "import 1, file", "not text", "once more"),
    "latin": ((HEAD + "Maß,pc,1,3,4\n").encode("latin-1"), "import 1, file", "UTF-8", "UTF-8"),
    "date of a fraction": (
        HEAD + "a,pc,1/8,3/4/2026,4\n",
        "panels.csv, row 2, width",
        "a date",
        "column as text",
    ),
    "date year first": (
        HEAD + "a,pc,1/8,2026-03-04,4\n",
        "panels.csv, row 2, width",
        "a date",
        "column as text",
    ),
    "date with points": (HEAD + "a,pc,1/8,3.4.26,4\n", "panels.csv, row 2, width", "a date", "as text"),
    "date in words": (HEAD + "a,pc,1/8,4-Mar,4\n", "panels.csv, row 2, width", "a date", "column as text"),
    "error": (HEAD + "a,pc,1/8,#REF!,4\n", "panels.csv, row 2, width", "#REF!", "Mend the formula"),
    "error for a name": (HEAD + "#N/A,pc,1/8,3,4\n", "panels.csv, row 2, name", "#N/A", "Mend the formula"),
    "name that hides": (HEAD + "a\u202eb,pc,1/8,3,4\n", "panels.csv, row 2, name", "direction", "without"),
    "disc and width": (
        HEAD[:-1] + ",disc\na,pc,1,3,,5\n",
        "panels.csv, row 2, width",
        "a disc, or",
        "Empty one",
    ),
    "formula": (HEAD + "a,pc,1/8,=1+2,4\n", "panels.csv, row 2, width", "not a length", "18 3/4"),
}


@pytest.mark.parametrize(("data", "place", "said", "remedy"), CSV_CASES.values(), ids=CSV_CASES)
def test_what_is_wrong_in_a_csv_is_told_by_row(tmp_path, data, place, said, remedy):
    """Each fault of a CSV is one mistake, with file, row and column where it has one."""
    found = csv_only(data, tmp_path)
    assert found.place == place
    assert said in found.text
    assert remedy in found.remedy
    assert found.line == (IMPORT_LINE if place.startswith("import") else None)


def test_all_rows_are_looked_at(tmp_path):
    """Every wrong cell of every row is told in one run, in the order of the rows."""
    (tmp_path / "panels.csv").write_text(HEAD + "a,pc,x,#REF!,-1\nb,pc,1,3,4\nc,pc,1,3,y\n")
    assert [m.place for m in mistakes(JOB, tmp_path)] == [
        "panels.csv, row 2, thickness",
        "panels.csv, row 2, width",
        "panels.csv, row 2, height",
        "panels.csv, row 4, height",
    ]


def test_a_misspelt_heading_is_told_once(tmp_path):
    """A heading that is not known is one mistake, not one a row, and its key is not missed in each row."""
    found = csv_only(HEAD.replace("thickness", "thicknes") + "a,pc,1,3,4\nb,pc,1,3,4\n", tmp_path)
    assert (found.place, found.remedy) == ("panels.csv, row 1, thicknes", "Did you mean thickness")


def test_too_many_pieces_of_a_spreadsheet(tmp_path):
    """The bound on pieces holds for spreadsheets too."""
    (tmp_path / "panels.csv").write_text(HEAD[:-1] + ",quantity\na,pc,1,3,4,99999\nb,pc,1,3,4,2\n")
    assert "100,001 pieces" in only(JOB, tmp_path).text


def test_a_workbook_is_read_with_its_types(tmp_path):
    """Numbers are decimals of 15 digits, texts lengths, whole numbers counts, empty cells absent."""
    rows = [
        [*HEADINGS, "quantity", "revision"],
        ["hatch", "polycarbonate", 0.118, 0.1 + 0.2, "9 3/4", 2, 3],
        [None, None, None, None, None, None, None],
        [7, "polycarbonate", "1/8", 12, 9.75, 2.0, None],
    ]
    workbook(rows, tmp_path)
    hatch, seven = read(BOOK, tmp_path).panels
    assert (hatch.width, hatch.height) == (Fraction("0.3") * IN, Fraction("9.75") * IN)
    assert (hatch.quantity, hatch.revision, hatch.thickness) == (2, "3", Fraction("2.9972"))
    assert (seven.name, seven.width, seven.quantity, seven.revision) == ("7", 12 * IN, 2, "")


def test_a_date_in_a_workbook_is_refused(tmp_path):
    """Where a spreadsheet took 3/4 for a date, the mistake says how to undo it."""
    found = book_only([HEADINGS, ["a", "pc", "1/8", datetime.date(2026, 3, 4), 4]], tmp_path)
    assert found.place == "panels.xlsx, row 2, width"
    assert "2026-03-04" in found.text
    assert "Format the column as text" in found.remedy


def test_a_formula_without_a_value_is_refused(tmp_path):
    """A formula that no program has calculated has no value to cut by."""
    found = book_only([HEADINGS, ["a", "pc", "1/8", "=3+4", 4]], tmp_path)
    assert found.place == "panels.xlsx, row 2, width"
    assert "formula without a value" in found.text


def test_an_error_in_a_workbook_is_refused(tmp_path):
    """A cell that holds #REF! is told as such."""
    found = book_only([HEADINGS, ["a", "pc", "1/8", "#REF!", 4]], tmp_path)
    assert (found.place, "#REF!" in found.text) == ("panels.xlsx, row 2, width", True)


def test_merged_cells_are_refused(tmp_path):
    """Merged cells leave open which part they belong to."""
    rows = [HEADINGS, ["a", "pc", "1/8", 3, 4], ["b", None, "1/8", 3, 4]]
    found = book_only(rows, tmp_path, lambda book: book.active.merge_cells("B2:B3"))
    assert "B2:B3" in found.text
    assert "Undo the merging" in found.remedy


def test_a_second_sheet_with_cells_is_refused(tmp_path):
    """Cells on a second sheet would be lost in silence; an empty second sheet does no harm."""
    rows = [HEADINGS, ["a", "polycarbonate", "1/8", 3, 4]]
    workbook(rows, tmp_path, lambda book: book.create_sheet("notes"))
    assert len(read(BOOK, tmp_path).panels) == 1
    found = book_only(rows, tmp_path, lambda book: book.create_sheet("more parts").append(["b"]))
    assert "'more parts'" in found.text


def test_a_true_for_a_name_is_no_name(tmp_path):
    """A cell that holds TRUE is no part's name."""
    assert "not true" in book_only([HEADINGS, [True, "pc", 1, 3, 4]], tmp_path).text


def packed(**parts: bytes) -> bytes:
    """Return a zip archive of these parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return out.getvalue()


BAD_BOOKS = {
    "an old workbook": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "password"),
    "no archive": (b"name,material\n", "no .xlsx"),
    "empty file": (b"", "no .xlsx"),
    "another archive": (packed(**{"a.txt": b"x"}), "no .xlsx"),
    "a broken workbook": (packed(**{"[Content_Types].xml": b"<a"}), "cannot be read"),
    "a bomb": (packed(**{"[Content_Types].xml": b"<a/>", "b.xml": bytes(100_000_001)}), "100 MB"),
}


@pytest.mark.parametrize(("data", "said"), BAD_BOOKS.values(), ids=BAD_BOOKS)
def test_what_is_no_workbook_is_told(tmp_path, data, said):
    """Old, locked, broken and swollen workbooks are one mistake each, in the line of the import."""
    (tmp_path / "panels.xlsx").write_bytes(data)
    found = only(BOOK, tmp_path)
    assert (found.place, found.line) == ("import 1, file", IMPORT_LINE)
    assert said in found.text


def test_a_truncated_workbook_is_told(tmp_path):
    """A workbook cut off at any place is a mistake, never a fault of the tool."""
    workbook([HEADINGS, ["a", "polycarbonate", "1/8", 3, 4]], tmp_path)
    data = (tmp_path / "panels.xlsx").read_bytes()
    for part in (10, len(data) // 3, len(data) // 2, len(data) - 30):
        (tmp_path / "panels.xlsx").write_bytes(data[:part])
        assert only(BOOK, tmp_path).place == "import 1, file"


def test_a_far_cell_does_not_fill_the_memory(tmp_path):
    """A cell at the far corner of a sheet is refused without walking through all before it."""

    def far(book):
        book.active.cell(row=1_000_000, column=1, value="x")

    assert "100,000 rows" in book_only([HEADINGS, ["a", "pc", "1/8", 3, 4]], tmp_path, far).text


@pytest.mark.skipif(os.name != "posix", reason="links need rights elsewhere")
def test_links_do_not_lead_out_of_the_folder(tmp_path):
    """A link inside the job's folder to a file outside is refused, and one in a circle too."""
    inside = tmp_path / "job"
    inside.mkdir()
    (tmp_path / "secret.csv").write_text(HEAD)
    (inside / "panels.csv").symlink_to(tmp_path / "secret.csv")
    assert "outside" in only(JOB, inside).text
    (inside / "panels.csv").unlink()
    (inside / "panels.csv").symlink_to(inside / "panels.csv")
    assert only(JOB, inside).place == "import 1, file"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_pipe_is_no_spreadsheet(tmp_path):
    """A named pipe would block for ever; it is refused as no file."""
    os.mkfifo(tmp_path / "panels.csv")
    assert "is not a file" in only(JOB, tmp_path).text


def test_a_spreadsheet_in_a_folder_below_is_found(tmp_path):
    """The file may lie in a folder of the job's folder."""
    (tmp_path / "lists").mkdir()
    (tmp_path / "lists" / "panels.csv").write_text(HEAD + "a,polycarbonate,1/8,3,4\n")
    assert read(JOB.replace("panels.csv", "lists/panels.csv"), tmp_path).panels[0].name == "a"
