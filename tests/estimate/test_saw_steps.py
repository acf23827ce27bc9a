"""The sentences of the saw plan, followed by someone who has nothing else, give exactly the parts."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.estimate.saw_steps import as_set, counts_of, saw_steps, words_of
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.units import parse_length

SAMPLE = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"

SENTENCE = re.compile(
    r"Cut (?P<number>\d+): (?:trim|rip|cross-cut) (?:the (?P<sheet>sheet)|piece (?P<piece>\w+))"
    r"(?:, \w+ edge, [^,]+ off, kerf included)?\. "
    r"(?P<held>Fence|Stop|Line)(?: stays at)? (?P<setting>.+? (?:in|mm)) "
    r"(?:(?P<edge>Left|Right|Lower|Upper) edge at the (?:fence|stop)"
    r"|Measured from the (?P<from>\w+) edge\. Saw (?P<beside>left of|right of|below|above) the line)"
    r"(?P<gives>.+)"
)


def follow(sentences, width, height, kerf, unit):
    """Do what the sentences say, knowing only the sheet's size and the saw; return the pieces by name."""
    pieces = {"sheet": (width, height)}
    for text in sentences:
        said = SENTENCE.fullmatch(text).groupdict()
        across, up = pieces.pop(said["sheet"] or said["piece"])
        edge = (said["edge"] or said["from"]).lower()
        whole = across if edge in ("left", "right") else up
        line = parse_length(said["setting"], unit)
        low_edge = edge in ("left", "lower")
        at = line if low_edge else whole - line
        # The blade is beyond fence, stop or line, unless the plan puts it on the near side of the line.
        beyond = said["beside"] in ("right of", "above") if said["beside"] else low_edge
        low, high = (at, whole - at - kerf) if beyond else (at - kerf, whole - at)
        names = re.findall(r"\b(\d+[ab])\b", said["gives"])
        assert names
        assert all(name[:-1] == said["number"] for name in names)
        for side, extent in (("a", low), ("b", high)):
            if said["number"] + side in names:
                size = max(Fraction(0), extent)
                pieces[said["number"] + side] = (size, up) if edge in ("left", "right") else (across, size)
    return pieces


def check_sheet(sheet, kerf, unit, within):
    """Follow a sheet's sentences and compare the pieces that are said to be parts with these parts."""
    steps = saw_steps(sheet, kerf, unit)
    said = [str(words) for words in words_of(steps, unit)]
    pieces = follow(said, sheet.stock.width, sheet.stock.height, kerf, unit)
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
    """What is shorter than its setting or than 12 in goes on the sled; narrow rips need a stick (R092-R094)."""
    seen = set()
    for laid in lay_out(read_job(SAMPLE)).groups:
        for sheet in laid.sheets if laid.group.way.edge_to_edge else ():
            steps = saw_steps(sheet, laid.group.way.kerf, "in")
            for step, words in zip(steps, words_of(steps, "in"), strict=True):
                wide = step.setting > 24 * Fraction("25.4")
                short = step.along < step.setting or step.along < 12 * Fraction("25.4")
                held = "line" if wide else "stop" if short else "fence"
                seen.add(held)
                assert step.held == held
                assert ("sled or mitre gauge, not the fence" in words.how) == (held == "stop")
                assert ("along a straight edge" in words.how) == (held == "line")
                narrow = held == "fence" and step.setting < 6 * Fraction("25.4")
                assert ("Push stick." in words.how) == narrow
    assert seen == {"line", "stop", "fence"}


def test_a_fence_that_stays_is_said_and_not_counted():
    """Of the boat's cuts those after an equal setting say that it stays; the head counts the others."""
    stayed = 0
    for laid in lay_out(read_job(SAMPLE)).groups:
        for sheet in laid.sheets if laid.group.way.edge_to_edge else ():
            steps = saw_steps(sheet, laid.group.way.kerf, "in")
            said = words_of(steps, "in")
            stay = [w for w in said if " stays at " in w.setting]
            stayed += len(stay)
            counts = counts_of(steps, "in")
            for held in ("fence", "stop"):
                set_anew = sum(w.setting.lower().startswith(f"{held} ") and w not in stay for w in said)
                assert (f"{set_anew} {held} setting" in counts) == (set_anew > 0)
    assert stayed > 5


@pytest.mark.parametrize(
    ("setting", "unit", "text"),
    [
        ("374.65", "in", ("14 3/4 in", "")),
        ("0.396875", "in", ("1/64 in", "")),
        ("100", "in", ("3 15/16 in", "less than .001 in over")),
        ("152.4", "mm", ("152.4 mm", "")),
        ("152.46", "mm", ("152.5 mm", "0.04 mm over")),
    ],
)
def test_a_setting_shows_its_rounding(setting, unit, text):
    """Fractions to 1/64 in, or 0.1 mm, with what the rounding leaves (arithmetic done by hand)."""
    assert as_set(Fraction(setting), unit) == text
