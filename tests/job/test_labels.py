"""The [labels] table: what is read, what is usual, and every mistake with its place, line and remedy."""

from __future__ import annotations

import pytest

from nestkit.job.labels import reach
from nestkit.job.model import LabelGrid, Labels
from nestkit.job.starter import starter_text
from tests.job.texts import SOUND, marked_line, mistakes, only, read

GRID = 'columns = 3\nrows = 10\nsize = ["2 5/8", 1]\npitch = ["2 3/4", 1]\n'


def labels(lines: str, printing: str = "") -> str:
    """Return the sound job with a [labels] table."""
    return SOUND + (f"[printing]\n{printing}\n" if printing else "") + "[labels]\n" + lines


def grid(lines: str, *, less: str = "") -> str:
    """Return the sound job with a grid of labels, less the lines that begin with a word, and more lines."""
    kept = [line for line in GRID.splitlines() if not (less and line.startswith(less))]
    return labels("\n".join([*kept, lines]))


# Each case: what the job says (#< marks the line at fault), the place, a part of the text and of the remedy.
CASES = {
    "no table": (SOUND.replace("[cutting]", "labels = 3 #<\n[cutting]"), "labels", "a table", "[labels]"),
    "unknown key": (grid("colour = 1 #<"), "labels, colour", "not a key of [labels]", "columns, rows, size"),
    "misspelt key": (grid("colums = 3 #<", less="columns"), "labels, colums", "not a key", "columns"),
    "columns missing": (grid("", less="columns"), "labels, columns", "missing", "whole number from 1"),
    "rows missing": (grid("", less="rows"), "labels, rows", "missing", "whole number from 1"),
    "size missing": (grid("", less="size"), "labels, size", "missing", "size of one label"),
    "no column": (grid("columns = 0 #<", less="columns"), "labels, columns", "out of range", "from 1"),
    "rows negative": (grid("rows = -1 #<", less="rows"), "labels, rows", "out of range", "from 1"),
    "half a row": (grid("rows = 2.5 #<", less="rows"), "labels, rows", "a whole number", "from 1"),
    "size alone": (grid("size = 1 #<", less="size"), "labels, size", "two lengths are wanted", "[x, y]"),
    "size no length": (grid('size = ["2,5", 1] #<', less="size"), "labels, size[0]", "comma", "2.5"),
    "too narrow": (
        grid('size = ["24.9 mm", 1] #<', less="size"),
        "labels, size[0]",
        "wide is too small to read",
        "25 x 10 mm",
    ),
    "too low": (
        grid('size = [2, "9.9 mm"] #<', less="size"),
        "labels, size[1]",
        "high is too small to read",
        "25 x 10 mm",
    ),
    "pitch below size across": (
        grid('pitch = ["2 1/2", 1] #<', less="pitch"),
        "labels, pitch[0]",
        "2 1/2 in is below the label's 2 5/8 in",
        "same edge of the next",
    ),
    "pitch below size along": (
        grid('pitch = ["2 3/4", "15/16"] #<', less="pitch"),
        "labels, pitch[1]",
        "15/16 in is below the label's 1 in",
        "same edge of the next",
    ),
    "margin as one length": (
        grid("margin = 1 #<"),
        "labels, margin",
        "corner of the first label",
        "left = 1",
    ),
    "margin of another side": (
        grid("margin = { right = 1 } #<"),
        "labels, margin, right",
        "not a key of margin of [labels]",
        "left",
    ),
    "margin negative": (
        grid("margin = { left = -1 } #<"),
        "labels, margin, left",
        "negative",
        "0 or a length",
    ),
    "too wide": (
        grid("columns = 4 #<", less="columns"),
        "labels, columns",
        "4 columns end 10 7/8 in from the left edge; letter is 8 1/2 in wide",
        "as the sheet of labels has them",
    ),
    "too high": (
        grid("rows = 12 #<", less="rows"),
        "labels, rows",
        "12 rows end 12 in from the top edge; letter is 11 in high",
        "as the sheet of labels has them",
    ),
    "moved off the paper": (
        grid('margin = { left = "1/2" }'),
        "labels, columns",
        "3 columns end 8 5/8 in from the left edge",
        "as the sheet of labels has them",
    ),
    "moved below the paper": (
        grid('margin = { top = "1 1/16" }'),
        "labels, rows",
        "10 rows end 11 1/16 in from the top edge",
        "as the sheet of labels has them",
    ),
    "all used": (
        grid("skip = 30 #<"),
        "labels, skip",
        "30 labels are used, and a sheet has 30",
        "Write 0 to 29",
    ),
    "skip negative": (grid("skip = -1 #<"), "labels, skip", "out of range", "from 0"),
    "paper unknown": (grid('paper = "A44" #<'), "labels, paper", '"A44" is no paper', "letter"),
    "paper too small": (grid("paper = [1, 2] #<"), "labels, paper", "none to print on", "5 m a side"),
    "roll": (grid('paper = "roll 24 in" #<'), "labels, paper", "has no length", 'paper = "letter"'),
    "roll of all prints": (
        labels(GRID, 'paper = "roll 24 in"').replace("[labels]", "[labels] #<"),
        "labels, paper",
        "do not lie on roll 24 in",
        'paper = "letter"',
    ),
    "order unknown": (grid('sort = "name" #<'), "labels, sort", '"name" is not known', '"for" or "sheet"'),
    "scale too small for the width": (
        labels('columns = 8 #<\nrows = 1\nsize = [1, 1]\npitch = ["1 1/16", 1]\n', "scale_x = 0.9"),
        "labels, columns",
        "a printer with the scale 0.9 does not reach the last column",
        "fewer columns",
    ),
    "scale too small for the height": (
        labels("columns = 1\nrows = 11 #<\nsize = [4, 1]\n", "scale_y = 0.9"),
        "labels, rows",
        "a printer with the scale 0.9 does not reach the last row",
        "fewer rows",
    ),
    "scale of the long side across": (
        labels(
            'columns = 10 #<\nrows = 1\nsize = [1, 1]\npitch = ["1 1/16", 1]\npaper = [11, "8 1/2"]\n',
            "scale_y = 0.9",
        ),
        "labels, columns",
        "a printer with the scale 0.9 does not reach the last column",
        "fewer columns",
    ),
}


@pytest.mark.parametrize(("text", "place", "said", "remedy"), CASES.values(), ids=CASES)
def test_a_mistake_is_told_with_place_line_and_remedy(tmp_path, text, place, said, remedy):
    """Each wrong table has its one mistake, where it is, in which line, and what to write."""
    found = only(text, tmp_path)
    assert found.place == place
    assert said in found.text
    assert remedy in found.remedy
    line = marked_line(text)
    if line is not None:
        assert found.line == line
    assert found.remedy[0].isupper()
    assert not found.remedy.endswith(".")


def test_all_mistakes_are_told_in_one_run(tmp_path):
    """What is wrong in one key hides no mistake of another, also not elsewhere in the job."""
    text = labels(
        'columns = 0\nrows = "x"\nsize = ["20 mm", "5 mm"]\nskip = 0.5\nsort = 1\npaper = 2\nwho = 1\n'
    )
    places = {m.place for m in mistakes(text + "[marking]\nto = 0\n", tmp_path)}
    keys = ("columns", "rows", "size[0]", "size[1]", "skip", "sort", "paper", "who")
    assert places == {f"labels, {key}" for key in keys} | {"marking, to"}


def test_a_wrong_paper_or_scale_of_all_prints_does_not_blame_the_labels(tmp_path):
    """Labels are held only against a paper and a scale that are right themselves."""
    for printing in ('paper = "A44"', "scale_x = 96"):
        found = only(labels("columns = 9\nrows = 9\nsize = [9, 9]\n", printing), tmp_path)
        assert found.place.startswith("printing")


def test_without_the_table_labels_are_for_plain_paper(tmp_path):
    """No [labels], or one that says only paper and order, asks for plain paper to be cut apart."""
    assert read(SOUND, tmp_path).labels == Labels()
    assert read(labels(""), tmp_path).labels == Labels()
    plain = read(labels('paper = "A3"\nsort = "sheet"\n'), tmp_path).labels
    assert plain.grid is None
    assert plain.paper is not None
    assert (plain.paper.name, plain.order, plain.lying) == ("A3", "sheet", False)


def test_labels_without_pitch_and_margin_touch_and_are_centred(tmp_path):
    """The pitch is the size, and the block of labels lies in the middle of the paper."""
    found = read(labels("columns = 2\nrows = 4\nsize = [4, 2.5]\n"), tmp_path).labels.grid
    assert found is not None
    assert (found.pitch_x, found.pitch_y) == pytest.approx((101.6, 63.5))
    assert (found.left, found.top) == pytest.approx((6.35, 12.7))
    assert found.used == 0


def test_a_full_table_is_read_to_the_last_digit(tmp_path):
    """Sizes with fractions and in the other unit arrive in millimetres."""
    more = 'margin = { left = "3/16", top = "13 mm" }\nskip = 29\npaper = "Letter"\n'
    found = read(labels(GRID + more), tmp_path).labels
    assert found.grid == LabelGrid(3, 10, 66.675, 25.4, 69.85, 25.4, 4.7625, 13.0, 29)
    assert found.paper is not None
    assert found.paper.name == "letter"


def test_labels_may_cover_the_paper_from_edge_to_edge(tmp_path):
    """A block exactly as large as the paper is no mistake, whatever the unit of its size."""
    for lines in (
        'columns = 3\nrows = 10\nsize = ["70 mm", "29.7 mm"]\npaper = "A4"\n',
        'columns = 2\nrows = 5\nsize = ["4 1/4", 2.2]\n',
        'columns = 2\nrows = 5\nsize = ["4 1/4", 2.2]\nmargin = { left = 0, top = 0 }\n',
    ):
        found = read(labels(lines), tmp_path).labels.grid
        assert found is not None
        assert (found.left, found.top) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_paper_that_is_wider_than_high_lies(tmp_path):
    """A size with the long side first lies; a paper by its name stands."""
    lying = read(labels(GRID.replace("rows = 10", "rows = 8") + 'paper = [11, "8 1/2"]\n'), tmp_path).labels
    assert lying.lying
    assert lying.grid is not None
    assert lying.grid.left == pytest.approx((279.4 - 3 * 69.85 + 3.175) / 2)
    assert not read(labels(GRID + 'paper = ["8 1/2", 11]\n'), tmp_path).labels.lying


def test_words_keep_off_the_edges_of_paper_and_page():
    """Whatever the scale, no word is drawn or comes out within 4 mm of an edge."""
    for scale in (0.9, 0.996, 1.0, 1.004, 1.1):
        low, high = reach(200.0, scale)
        assert low >= 4.0
        assert high <= 196.0
        assert low / scale >= 4.0
        assert high / scale <= 196.0 + 1e-9


def test_the_starter_shows_labels_that_can_be_switched_on(tmp_path):
    """Taking the # from the starter's table leaves a sound job with three columns of ten."""
    head, _, rest = starter_text().partition("# [labels]")
    table, _, after = rest.partition("\n\n")
    switched = table.replace("\n# ", "\n")
    found = read(f"{head}[labels]{switched}\n\n{after}", tmp_path)
    assert found.labels.grid is not None
    assert (found.labels.grid.columns, found.labels.grid.rows, found.labels.grid.used) == (3, 10, 4)
    assert found.labels.grid.left == pytest.approx(4.7625)
