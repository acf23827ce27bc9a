"""The trade tables against values from outside, typed in here with where each comes from.

Values marked *from memory* were typed from memory of the work named and not looked up again.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from nestkit.trade.drills import drill
from nestkit.trade.gauges import gauge
from nestkit.trade.papers import paper
from nestkit.trade.screws import all_clearances, clearance, tap
from nestkit.trade.tables import read

INCH = Fraction("25.4")

# Normal fit, recommended drill: ASME B18.2.8 as printed in Machinery's Handbook 31st ed. p. 1741;
# close and loose from memory of the same standard.
B18_2_8 = {
    "#2": ("3/32", "#38", "#32"),
    "#3": ("#36", "#32", "#30"),
    "#4": ("#31", "#30", "#27"),
    "#5": ("9/64", "5/32", "11/64"),
    "#6": ("#23", "#18", "#13"),
    "#8": ("#15", "#9", "#3"),
    "#10": ("#5", "#2", "B"),
    "1/4": ("17/64", "9/32", "19/64"),
    "5/16": ("21/64", "11/32", "23/64"),
    "3/8": ("25/64", "13/32", "27/64"),
    "1/2": ("17/32", "9/16", "39/64"),
}

# Clearance holes fine, medium, coarse in mm: ISO 273, from memory.
ISO_273 = {
    "M2": ("2.2", "2.4", "2.6"),
    "M2.5": ("2.7", "2.9", "3.1"),
    "M3": ("3.2", "3.4", "3.6"),
    "M4": ("4.3", "4.5", "4.8"),
    "M5": ("5.3", "5.5", "5.8"),
    "M6": ("6.4", "6.6", "7"),
    "M8": ("8.4", "9", "10"),
    "M10": ("10.5", "11", "12"),
    "M12": ("13", "13.5", "14.5"),
}

# Standard tolerances IT12, IT13, IT14 in mm up to and including a nominal size: ISO 286-1, from memory.
ISO_286 = ((3, "0.10", "0.14", "0.25"), (6, "0.12", "0.18", "0.30"), (10, "0.15", "0.22", "0.36"),
           (18, "0.18", "0.27", "0.43"))  # fmt: skip

# Twist drills in inches: the handbook table of number and letter drills (ASME B94.11M), from memory.
TWIST_DRILLS = {
    "#80": ".0135", "#60": ".0400", "#50": ".0700", "#43": ".0890", "#38": ".1015", "#36": ".1065",
    "#30": ".1285", "#29": ".1360", "#25": ".1495", "#21": ".1590", "#18": ".1695", "#10": ".1935",
    "#9": ".1960", "#7": ".2010", "#5": ".2055", "#3": ".2130", "#2": ".2210", "#1": ".2280",
    "A": ".2340", "B": ".2380", "E": ".2500", "F": ".2570", "I": ".2720", "Q": ".3320",
    "U": ".3680", "Z": ".4130",
}  # fmt: skip

# Tap drills: shop charts and the handbook (UNC, UNF), ISO 2306 for metric coarse; from memory.
TAP_DRILLS = {
    "4-40": "#43", "6-32": "#36", "8-32": "#29", "10-24": "#25", "10-32": "#21", "1/4-20": "#7",
    "1/4-28": "#3",
    "5/16-18": "F", "3/8-16": "5/16", "1/2-13": "27/64", "M3": "2.5 mm", "M4": "3.3 mm", "M5": "4.2 mm",
    "M6": "5 mm", "M8": "6.8 mm", "M10": "8.5 mm", "M12": "10.2 mm",
}  # fmt: skip

# Manufacturers' standard gauge for steel sheet in inches: gauge charts, from memory.
STEEL = {
    10: ".1345",
    11: ".1196",
    12: ".1046",
    14: ".0747",
    16: ".0598",
    18: ".0478",
    20: ".0359",
    22: ".0299",
}


@pytest.mark.parametrize("screw", B18_2_8)
def test_inch_clearance_drills_are_the_standards(screw):
    """Close, normal and loose are the drills that ASME B18.2.8 recommends."""
    assert tuple(clearance(screw, fit).drill for fit in ("close", "normal", "loose")) == B18_2_8[screw]


@pytest.mark.parametrize("screw", ISO_273)
def test_metric_clearance_holes_are_the_standards(screw):
    """Fine, medium and coarse are the holes of ISO 273."""
    holes = tuple(clearance(screw, fit).hole for fit in ("fine", "medium", "coarse"))
    assert holes == tuple(Fraction(mm) for mm in ISO_273[screw])


def test_largest_metric_holes_are_the_tolerance_classes():
    """A metric hole's largest size is the hole plus H12, H13 or H14 of ISO 286-1."""
    for row in all_clearances():
        if row.system == "metric":
            grades = next(grades for most, *grades in ISO_286 if row.hole <= most)
            grade = grades[("fine", "medium", "coarse").index(row.fit)]
            assert row.hole_max == row.hole + Fraction(grade), row


@pytest.mark.parametrize("name", TWIST_DRILLS)
def test_twist_drills_are_the_handbooks(name):
    """Number and letter drills have the handbook's sizes."""
    assert drill(name).dia == Fraction(TWIST_DRILLS[name]) * INCH


def test_fractional_drills_run_by_64ths():
    """Every 64th of an inch up to 1 in is a drill, exact: by definition."""
    for n in range(1, 65):
        part = Fraction(n, 64)
        name = f"{part.numerator}/{part.denominator}" if part < 1 else "1 in"
        assert drill(name).dia == part * INCH


def test_metric_drills_follow_the_series():
    """Steps of .05 to 3 mm and of .1 to 14 mm: the metric series of BS 328 (as an encyclopedia gives it)."""
    for n in range(20, 61):
        assert drill(f"{n * 5 / 100:g}") is not None, n
    for n in range(30, 141):
        assert drill(f"{n / 10:g}") is not None, n


@pytest.mark.parametrize("thread", TAP_DRILLS)
def test_tap_drills_are_the_charts(thread):
    """Tap drills are those of the usual charts."""
    assert tap(thread).drill == TAP_DRILLS[thread]


@pytest.mark.parametrize(
    ("thread", "pitch_mm", "percent"),
    [("10-32", 25.4 / 32, 76.4), ("1/4-20", 25.4 / 20, 75.4), ("M5", 0.8, 77.0), ("M6", 1.0, 77.0)],
)
def test_percent_of_thread_is_the_handbooks_formula(thread, pitch_mm, percent):
    """Percent = (D - drill) / (2 x .6495 x pitch) x 100, the handbook's formula, and its worked figures."""
    row = tap(thread)
    height = 3 / 4 * math.sqrt(3) / 2 * pitch_mm  # 3/4 of the sharp V's height
    by_formula = (float(row.major) - float(row.dia)) / (2 * height) * 100
    assert float(row.percent) == pytest.approx(by_formula, abs=0.01)
    assert float(row.percent) == pytest.approx(percent, abs=0.05)


def test_aluminium_gauges_are_the_formula():
    """Brown and Sharpe (AWG): .005 in x 92^((36 - n)/39), all 28 of the table to four decimals."""
    numbers = [int(row["gauge"]) for row in read("gauges")]
    assert numbers == list(range(3, 31))
    for n in numbers:
        inches = 0.005 * 92 ** ((36 - n) / 39)
        assert float(gauge("aluminium", n) / INCH) == pytest.approx(inches, abs=0.000051), n


@pytest.mark.parametrize("number", STEEL)
def test_steel_gauges_are_the_charts(number):
    """Steel gauges are those of the manufacturers' standard gauge."""
    assert gauge("steel", number) == Fraction(STEEL[number]) * INCH


def test_a_sizes_are_iso_216():
    """ISO 216: A0 is 841 x 1189 mm, and each next size is half, rounded down to the millimetre."""
    short, long = 841, 1189
    for n in range(5):
        row = paper(f"A{n}")
        assert (row.short, row.long) == (short, long)
        short, long = long // 2, short


def test_ansi_sizes_are_asme_y14_1():
    """ASME Y14.1 (from memory): A 8.5 x 11 in, each next two of the last side by side; F stands apart."""
    short, long = Fraction("8.5"), Fraction(11)
    for letter in "ABCDE":
        row = paper(f"ANSI {letter}")
        assert (row.short, row.long) == (short * INCH, long * INCH)
        short, long = long, 2 * short
    assert (paper("ANSI F").short, paper("ANSI F").long) == (28 * INCH, 40 * INCH)


def test_papers_are_those_that_reportlab_carries():
    """The library reportlab has the same sizes, in points of 1/72 in."""
    from reportlab.lib import pagesizes

    for name in ("A0", "A1", "A2", "A3", "A4", "letter", "legal", "TABLOID"):
        sides = sorted(getattr(pagesizes, name))
        row = paper(name)
        assert [float(row.short) / 25.4 * 72, float(row.long) / 25.4 * 72] == pytest.approx(sides, abs=1e-6)


def test_papers_and_inches_are_those_that_ezdxf_carries():
    """The library ezdxf has the same sizes and the same inch."""
    from ezdxf import units
    from ezdxf.addons.drawing.layout import PAGE_SIZES
    from ezdxf.enums import InsertUnits

    factor = units.conversion_factor(InsertUnits.Inches, InsertUnits.Millimeters)
    assert factor == pytest.approx(float(INCH), rel=1e-10)
    assert len(PAGE_SIZES) >= 14
    for name, (one, other, unit) in PAGE_SIZES.items():
        row = paper(name.removeprefix("ISO "))
        factor = INCH if unit.name == "inch" else 1
        short, long = sorted((Fraction(one) * factor, Fraction(other) * factor))
        assert (row.short, row.long) == (short, long), name


def test_weights_of_stock_sheets_follow_from_density():
    """Each sheet's weight is width x length x actual thickness x density, to the table's last digit."""
    from nestkit.trade.materials import density

    for row in read("stock_sheets"):
        kg = density(row["material"]).density
        by_size = (
            Fraction(row["width_mm"])
            * Fraction(row["length_mm"])
            * Fraction(row["actual_in"])
            * INCH
            * kg
            / 10**9
        )
        assert float(by_size) == pytest.approx(float(row["weight_kg"]), abs=0.006, rel=0.002), row
