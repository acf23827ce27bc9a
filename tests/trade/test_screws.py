from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.errors import UserError
from nestkit.trade import screws
from nestkit.trade.screws import UnknownFit, UnknownScrew, clearance, plain_screw, tap
from nestkit.trade.tables import read


@pytest.mark.parametrize(
    "name", ["10-32", "10-24", "#10", "No. 10", "no 10", "#10-32", "10 - 32", "10-32 UNF"]
)
def test_a_screw_is_found_however_it_is_written(name):
    """All the ways in which the shop writes a No. 10 screw mean the same hole."""
    row = clearance(name)
    assert (row.screw, row.fit, row.drill) == ("#10", "normal", "#2")
    assert row.hole == Fraction("0.221") * Fraction("25.4")
    assert row.major == Fraction("4.826")


@pytest.mark.parametrize(
    ("name", "fit", "drill"),
    [("1/4-20", None, "9/32"), ("1/4", "close", "17/64"), ('1/4"', "loose", "19/64"), ("M5", None, "5.5 mm"),
     ("m5 x 0.8", "fine", "5.3 mm"), ("M5x0.80", "coarse", "5.8 mm"), ("M2.5", "medium", "2.9 mm")],
)  # fmt: skip
def test_fits_by_system(name, fit, drill):
    """Inch screws have close, normal, loose; metric ones fine, medium, coarse."""
    assert clearance(name, fit).drill == drill


def test_the_older_chart_is_no_fit():
    """The handbook's close and free are listed but can be had by no fit of a job."""
    assert {row.fit for row in screws.all_clearances()} == {
        "close",
        "normal",
        "loose",
        "fine",
        "medium",
        "coarse",
    }
    for fit in ("handbook_close", "handbook_free", "free"):
        with pytest.raises(UnknownFit, match="close, normal, loose"):
            clearance("#10", fit)


@pytest.mark.parametrize(
    ("name", "fit"), [("#10", "medium"), ("M5", "normal"), ("M5", ""), ("#10", "x" * 500)]
)
def test_a_fit_of_the_other_system_is_refused(name, fit):
    """A wrong fit is told with the fits that the screw has and the standard."""
    with pytest.raises(UnknownFit, match=r"ASME B18.2.8|ISO 273") as fault:
        clearance(name, fit)
    assert len(str(fault.value)) < 220


@pytest.mark.parametrize(
    ("name", "says"),
    [("10", 'write "#10" or "M10"'), ("10-33", "10-24, 10-32"), ("M5x0.5", "M5x0.8"), ("#11", "#2, #3"),
     ("M9", "M8, M10"), ("hello", "10-32"), ("", "10-32"), ("1/0", "no screw"), ("M", "no screw"),
     ("\x1b[2J", r"\\x1b")],
)  # fmt: skip
def test_an_unknown_screw_is_told_with_those_there_are(name, says):
    """The message names what the tables have, and shows the input harmlessly."""
    with pytest.raises(UnknownScrew, match=says) as fault:
        clearance(name)
    assert isinstance(fault.value, UserError)
    assert "\x1b" not in str(fault.value)


@given(st.text(max_size=30))
def test_any_text_gives_a_hole_or_a_told_error(text):
    """No input raises anything but the told errors."""
    for look_up in (clearance, tap, plain_screw):
        try:
            found = look_up(text)
        except UnknownScrew:
            continue
        assert found


def test_every_hole_is_its_drill():
    """The hole of a row is the drill's exact size, and the table's column is that, rounded."""
    rows = [row for row in read("clearance_holes") if not row["fit"].startswith("handbook")]
    for row, raw in zip(screws.all_clearances(), rows, strict=True):
        unit = Fraction("25.4") if row.system == "inch" else Fraction(1)
        column = Fraction(raw["hole_in"] if row.system == "inch" else raw["hole_mm"])
        assert abs(row.hole / unit - column) <= Fraction("0.00005"), row
        assert (
            abs(row.major / unit - Fraction(raw["major_in" if row.system == "inch" else "major_mm"])) == 0
        ), row


def test_holes_grow_with_fit_and_stay_below_their_largest():
    """major < closest < usual < widest fit, and each hole is below the largest that the standard allows."""
    by_screw = {}
    for row in screws.all_clearances():
        by_screw.setdefault(row.screw, []).append(row)
        assert row.hole <= row.hole_max
    for rows in by_screw.values():
        sizes = [rows[0].major, *(row.hole for row in rows)]
        assert len(rows) == 3
        assert sizes == sorted(set(sizes))


@pytest.mark.parametrize(
    ("thread", "drill"),
    [
        ("10-32", "#21"),
        ("#10-24", "#25"),
        ("1/4-20", "#7"),
        ("1/4-28 UNF", "#3"),
        ("M5", "4.2 mm"),
        ("M6x1.0", "5 mm"),
    ],
)
def test_tap_drills(thread, drill):
    """A thread has its tap drill; a metric size alone is the coarse thread."""
    assert tap(thread).drill == drill


@pytest.mark.parametrize(
    ("thread", "says"),
    [
        ("#10", "10-24 or 10-32"),
        ("1/4", "1/4-20 or 1/4-28"),
        ("M5x0.5", "M5x0.8"),
        ("9-32", "8-32"),
        ("M13", "M12x1.75"),
    ],
)
def test_a_thread_that_is_open_or_unknown_is_told(thread, says):
    """A size with two threads is not guessed, and an unknown one is answered with the nearest."""
    with pytest.raises(UnknownScrew, match=says):
        tap(thread)


def test_percent_of_thread_is_computed_from_the_drill():
    """The table's percentage is (major - drill) / (1.299 pitch), from the exact sizes."""
    for row, raw in zip(screws.all_taps(), read("tap_drills"), strict=True):
        assert abs(row.percent - Fraction(raw["percent_thread"])) <= Fraction("0.06"), row.thread


def test_one_way_of_writing():
    """Lists count the same screw once, however it was written."""
    assert plain_screw("No. 10-32") == plain_screw("#10 - 32") == "10-32"
    assert plain_screw("m5 × 0.80") == "M5x0.8"
    assert plain_screw("1/4 in-20") == "1/4-20"
