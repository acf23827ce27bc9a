"""The sentences of the saw plan, followed by someone who has nothing else, give exactly the parts."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.estimate.saw_repeats import folded
from nestkit.estimate.saw_steps import as_set, counts_of, saw_steps
from nestkit.estimate.saw_words import label_of, words_of
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import Cut
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


def singly(steps):
    """Return each cut by itself, as if no other were like it."""
    return [repeat for step in steps for repeat in folded([step])]


def pieces_said(gives, word):
    """Return how many pieces the sentences with a word speak of: two that are alike are said together."""
    return sum(1 + (", 2 pieces" in g) for g in gives if word in g)


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
        if re.search(r"[ab](?: \w+)?, 2 pieces", said["gives"]):
            # Two pieces that are alike bear one name; a cut said by itself may call the second by its own.
            names = [said["number"] + side for side in "ab"]
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
    said = [str(words) for words in words_of(singly(steps), unit)]
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
    """What is shorter than its setting or 12 in goes on the sled; a narrow rip needs a stick (R092-94)."""
    seen = set()
    for laid in lay_out(read_job(SAMPLE)).groups:
        for sheet in laid.sheets if laid.group.way.edge_to_edge else ():
            steps = saw_steps(sheet, laid.group.way.kerf, "in")
            for step, words in zip(steps, words_of(singly(steps), "in"), strict=True):
                opens = 24 * Fraction("25.4")
                short = step.along < step.across or step.along < 12 * Fraction("25.4")
                wide = step.setting > opens or (short and step.across > opens)
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
            said = words_of(singly(steps), "in")
            stay = [w for w in said if " stays at " in w.setting]
            stayed += len(stay)
            counts = counts_of(steps, "in")
            for held in ("fence", "stop"):
                set_anew = sum(w.setting.lower().startswith(f"{held} ") and w not in stay for w in said)
                assert (f"{set_anew} {held} setting" in counts) == (set_anew > 0)
    assert stayed > 5


@given(jobs())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_part_is_done_once_and_every_offcut_is_kept(text):
    """A plan says DONE once for each part, keep for each offcut of the layout, and waste for other rests."""
    laid = lay_out(read_text(text, Path()), effort="quick").groups[0]
    for sheet in laid.sheets:
        steps = saw_steps(sheet, laid.group.way.kerf, "mm")
        gives = [g for words in words_of(singly(steps), "mm") for g in words.gives]
        done = [g.done for step in steps for g in step.gained if g.done is not None]
        if steps:
            assert sorted((p.panel.name, p.copy) for p in done) == sorted(
                (p.panel.name, p.copy) for p in sheet.parts
            )
            assert pieces_said(gives, " DONE") == len(sheet.parts)
        kept = {g.box for step in steps for g in step.gained if g.keep}
        assert kept == {(o.x, o.y, o.x + o.width, o.y + o.height) for o in sheet.offcuts}
        assert pieces_said(gives, " keep") == len(sheet.offcuts)


@given(jobs())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_fence_is_set_wider_than_it_opens(text):
    """Settings of fence and stop end at 24 in or 600 mm (common practice); beyond, a line is measured."""
    job = read_text(text, Path())
    laid = lay_out(job, effort="quick").groups[0]
    opens = 24 * Fraction("25.4") if job.unit == "in" else Fraction(600)
    for sheet in laid.sheets:
        for step in saw_steps(sheet, laid.group.way.kerf, job.unit):
            assert step.held == "line" or step.setting <= opens


TRIMS = """
job = "trims"
unit = "mm"
[cutting]
how = "saw"
kerf = 3
margin = { left = 5 }
[[sheet]]
name = "s"
material = "MDF"
thickness = 6
size = [1005, 500]
[[panel]]
name = "board"
material = "MDF"
thickness = 6
size = [SIZE, 500]
grain = "x"
turn = "none"
"""


@pytest.mark.parametrize(
    ("size", "said"),
    [
        # The later trim at the right gives the size: what comes off the left is measured there.
        ("900", "Line 5 mm Measured from the left edge. Saw left of the line, along a straight edge. "),
        # No later cut gives the size: it is measured from the edge that stays.
        ("1000", "Line 1000 mm Measured from the right edge. Saw left of the line, along a straight edge. "),
    ],
)
def test_a_thin_trim_of_a_wide_sheet_is_measured_where_it_can_be(size, said):
    """The edge that goes and how much are said; no fence is set across a whole sheet."""
    laid = lay_out(read_text(TRIMS.replace("SIZE", size), Path())).groups[0]
    (sheet,) = laid.sheets
    first = str(words_of(singly(saw_steps(sheet, laid.group.way.kerf, "mm")), "mm")[0])
    assert first.startswith(f"Cut 1: trim the sheet, left edge, 5 mm off, kerf included. {said}")
    check_sheet(sheet, laid.group.way.kerf, "mm", Fraction(0))


TWO = """
job = "two"
unit = "in"
[cutting]
how = "saw"
kerf = "1/8"
[[sheet]]
name = "s"
material = "MDF"
thickness = "1/4"
size = [47, 50]
[[panel]]
name = "long"
material = "MDF"
thickness = "1/4"
size = [30, 50]
turn = "none"
[[panel]]
name = "short"
material = "MDF"
thickness = "1/4"
size = [15, 50]
turn = "none"
"""


def test_a_wide_piece_is_set_from_its_other_side_once_a_cut_has_given_it_its_width():
    """A raw sheet is not known to the last 1/64: before it is trimmed a line is measured from the left."""
    laid = lay_out(read_text(TWO, Path())).groups[0]
    sheet, kerf, inch = laid.sheets[0], laid.group.way.kerf, Fraction("25.4")
    end, apart = inch * 361 / 8, inch * 30
    trim_first = (
        Cut(1, "sheet", "x", end, Fraction(0), inch * 50, True),
        Cut(2, "1a", "x", apart, Fraction(0), inch * 50, False),
    )
    trim_last = (
        Cut(1, "sheet", "x", apart, Fraction(0), inch * 50, False),
        Cut(2, "1b", "x", end, Fraction(0), inch * 50, True),
    )
    said = []
    for cuts in (trim_first, trim_last):
        steps = saw_steps(replace(sheet, cuts=cuts), kerf, "in")
        said.append([(w.setting, s.edge) for s, w in zip(steps, words_of(singly(steps), "in"), strict=True)])
        check_sheet(replace(sheet, cuts=cuts), kerf, "in", Fraction(0))
    assert said == [
        [("Line 45 1/8 in", "left"), ("Fence 15 in", "right")],
        [("Line 30 in", "left"), ("Fence 15 in", "left")],
    ]


def test_copies_are_left_out_where_one_plan_stands_for_several_sheets():
    """Labels carry name, hand and revision always, the copy only where it is this sheet's."""
    job = read_job(SAMPLE)
    for laid in lay_out(job).groups:
        for part in (p for s in laid.sheets for p in s.parts):
            label = label_of(part, copies=True)
            assert label.startswith(part.panel.name)
            assert ("OPPOSITE HAND" in label) == part.opposite_hand
            assert (f"rev {part.panel.revision}" in label) == bool(part.panel.revision)
            assert (f", copy {part.copy}" in label) == (part.panel.needed + part.panel.spare_if_room > 1)
            assert ", copy " not in label_of(part, copies=False)


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
