"""The sentences of the saw plan, followed by someone who has nothing else, give exactly the parts."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.estimate.saw_steps import care_of, saw_steps, sentence_of, setting_text
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.units import parse_length

SAMPLE = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"

SENTENCE = re.compile(
    r"Cut (\d+): (trim|rip|cross-cut) (?:the (sheet)|piece (\w+)), "
    r"(left|right|lower|upper) edge at the (fence|stop), "
    r"(.+?)(?: \([.0-9]+ (?:over|under)\))?\. Gives (.+)\."
)


def follow(sentences, width, height, kerf, unit):
    """Do what the sentences say, knowing only the sheet's size and the saw; return the pieces by name."""
    pieces = {"sheet": (width, height)}
    for text in sentences:
        number, _, sheet, piece, edge, _, setting, gives = SENTENCE.fullmatch(text).groups()
        across, up = pieces.pop(sheet or piece)
        size = parse_length(setting, unit)
        names = re.findall(r"(\d+[ab]) \(", gives)
        assert all(name[:-1] == number for name in names)
        whole = across if edge in ("left", "right") else up
        other = max(Fraction(0), whole - size - kerf)
        low, high = (size, other) if edge in ("left", "lower") else (other, size)
        for side, extent in (("a", low), ("b", high)):
            if number + side in names:
                pieces[number + side] = (extent, up) if edge in ("left", "right") else (across, extent)
    return pieces


def check_sheet(sheet, kerf, unit, within):
    """Follow a sheet's sentences and compare the pieces that are named as parts with these parts."""
    steps = saw_steps(sheet, kerf)
    pieces = follow([sentence_of(s, unit) for s in steps], sheet.stock.width, sheet.stock.height, kerf, unit)
    found = 0
    for step in steps:
        for gained in step.gained:
            if len(gained.parts) == 1 and gained.name in pieces:
                part = gained.parts[0]
                width, height = pieces[gained.name]
                assert abs(width - part.width) <= within
                assert abs(height - part.height) <= within
                found += 1
    assert found == (len(sheet.parts) if steps else 0)


def test_the_boats_plan_can_be_followed_from_its_sentences_alone():
    """With all sizes in 1/8 in, no setting is rounded, and each part comes out exactly."""
    for laid in lay_out(read_job(SAMPLE)).groups:
        if laid.group.way.edge_to_edge:
            for sheet in laid.sheets:
                within = Fraction(0) if laid.group.material == "polycarbonate" else Fraction(1, 2)
                check_sheet(sheet, laid.group.way.kerf, "in", within)


@st.composite
def jobs(draw):
    """Small saw jobs in either unit, with odd sizes, kerfs, gaps and margins."""
    unit = draw(st.sampled_from(["in", "mm"]))
    side = st.integers(30, 400)
    panels = "".join(
        f'[[panel]]\nname = "p{i}"\nmaterial = "MDF"\nthickness = "6 mm"\n'
        f'size = ["{draw(side)}.{draw(st.integers(0, 99)):02d} mm", "{draw(side)} mm"]\n'
        f"quantity = {draw(st.integers(1, 3))}\n"
        for i in range(draw(st.integers(1, 5)))
    )
    kerf = draw(st.sampled_from(["3 mm", "1/8 in", "0.5 mm"]))
    gap = draw(st.sampled_from(["", 'gap = "7 mm"\n']))
    margin = draw(st.sampled_from(["", 'margin = "5 mm"\n', 'margin = { left = "1 mm", top = "12 mm" }\n']))
    first = draw(st.sampled_from(["x", "y", "any"]))
    head = f'job = "j"\nunit = "{unit}"\n[cutting]\nhow = "saw"\nkerf = "{kerf}"\nfirst = "{first}"\n'
    sheet = '[[sheet]]\nname = "s"\nmaterial = "MDF"\nthickness = "6 mm"\nsize = ["900 mm", "600 mm"]\n'
    return head + gap + margin + sheet + panels


@given(jobs())
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_plan_can_be_followed_within_the_printed_rounding(text):
    """Settings rounded to 1/64 in or 0.1 mm leave each part within what the roundings add up to."""
    job = read_text(text, Path())
    laid = lay_out(job, effort="quick").groups[0]
    for sheet in laid.sheets:
        # A part measured at the fence is out by one rounding; one left over by all before it.
        one = Fraction("25.4") / 128 if job.unit == "in" else Fraction(1, 20)
        check_sheet(sheet, laid.group.way.kerf, job.unit, one * (len(sheet.cuts) + 1))


def test_what_must_not_go_against_the_fence_is_said():
    """A piece shorter than its setting goes on the sled, a narrow rip needs a stick (R092 to R094)."""
    for laid in lay_out(read_job(SAMPLE)).groups:
        for sheet in laid.sheets if laid.group.way.edge_to_edge else ():
            for step in saw_steps(sheet, laid.group.way.kerf):
                short = step.along < step.setting or step.along < 12 * Fraction("25.4")
                assert ("Sled" in care_of(step)) == short
                assert ("stop, " in sentence_of(step, "in")) == short
                if not short:
                    assert (care_of(step) == "Push stick.") == (step.setting < 6 * Fraction("25.4"))


@pytest.mark.parametrize(
    ("setting", "unit", "text"),
    [
        ("374.65", "in", "14 3/4 in"),
        ("0.396875", "in", "1/64 in"),
        ("100", "in", "3 15/16 in (.000 over)"),
        ("152.4", "mm", "152.4 mm"),
        ("152.46", "mm", "152.5 mm (0.04 over)"),
    ],
)
def test_a_setting_shows_its_rounding(setting, unit, text):
    """Fractions to 1/64 in, or 0.1 mm, with what the rounding leaves (arithmetic done by hand)."""
    assert setting_text(Fraction(setting), unit) == text
