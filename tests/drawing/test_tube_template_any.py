"""Any tube on any paper: no mark is lost or out of place, no word lies on a mark or on another word."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.drawing.model import Text
from nestkit.drawing.tube_bend import bend_of
from nestkit.drawing.tube_piece import fewest_pairs
from nestkit.drawing.tube_template import tube_template, tube_template_pages
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.round_wrap import RoundWrap, clear_seam
from nestkit.geometry.section import FACES, Section
from nestkit.geometry.wrap import Strip, Wrap, right_round
from nestkit.parts.holes import Drill
from tests.drawing import bench, folded, tube_bench
from tests.drawing.clear import covered, windows

SMALL = Drill(3.3, "3.3 mm", "drills")
DRILLS = (SMALL, bench.NO_7, bench.M5, bench.QUARTER)
NAMES = ["rail", "W" * 60, "long words " * 5]
SIDES = [Fraction(v) for v in (6, 10, 20, 40, 75)]


@st.composite
def sections(draw):
    """A section of any kind that can be marked."""
    kind = draw(st.sampled_from(["tube", "tube", "tube", "round", "rod", "angle", "strip"]))
    a, b = draw(st.sampled_from(SIDES)), draw(st.sampled_from(SIDES))
    if kind in {"round", "rod"}:
        return Section(kind, a, a, a / 10 if kind == "round" else Fraction(0))
    if kind == "strip":
        return Section(kind, a, Fraction(3))
    return Section(kind, a, b, min(a, b) / 10)


@st.composite
def tubes(draw):
    """A tube with rows of holes that keep a drill's reach from each other, and perhaps mitres."""
    section = draw(sections())
    long = Fraction(draw(st.integers(60, 1500)))
    groups = []
    for i in range(draw(st.integers(1, 3))):
        drill, pitch = draw(st.sampled_from(DRILLS)), draw(st.integers(12, 90))
        # Groups of a tube keep to thirds of it, so that none lies on another's marks.
        low, high = 15 + int(long - 30) * i // 3, 15 + int(long - 30) * (i + 1) // 3 - 8
        at = [Fraction(v) for v in range(low, max(low + 1, high), pitch)][: draw(st.integers(1, 8))]
        more = (
            {"at_deg": draw(st.integers(0, 359))}
            if section.is_round
            else {"face": draw(st.sampled_from(section.faces))}
        )
        groups.append(tube_bench.holes(f"g{i}", drill, at, through=draw(st.booleans()), **more))
    angle = st.sampled_from([None, None, 15, 45])
    ends = [draw(angle), draw(angle)] if section.kind not in {"angle"} else [None, None]
    mitres = tuple(end and Mitre.on(draw(st.sampled_from(FACES)), Fraction(end)) for end in ends)
    name = draw(st.sampled_from(NAMES))
    part = tube_bench.tube(
        section, *groups, length=long, name=name, mitres=mitres,
        used_for=name, revision="W" * 20 if len(name) > 10 else "",
        paper=draw(st.sampled_from(["strips", "corner", "wrap"])), corner=min(section.a, section.b) / 5,
    )  # fmt: skip
    return part if part.least_length > 5 else replace(part, mitres=(None, None))


@st.composite
def cases(draw):
    """A tube and the job that prints it."""
    part, scale = draw(tubes()), draw(st.sampled_from([(1.0, 1.0), (0.997, 1.004)]))
    paper = draw(st.sampled_from(sorted(bench.PAPERS)))
    unit = draw(st.sampled_from(["in", "mm"]))
    return tube_bench.job(part, unit=unit, paper=paper, scale_x=scale[0], scale_y=scale[1], fold=0.1), part


def papers(job, part):
    """What a print must have, from its top down."""
    section, bend = part.section, bend_of(job, part)
    if section.is_round:
        return [RoundWrap(section, bend.girth, clear_seam(float(m.spot.at_deg) for m in part.marks))]
    faces = part.drilled_faces
    if section.kind == "angle" and part.paper != "strips":
        return [Wrap(section, ("A", "B"), 0.0, 0.1)]
    if section.kind == "tube" and part.paper == "corner":
        return [Wrap(section, pair, float(part.corner), 0.1) for pair in fewest_pairs(faces)]
    if section.kind == "tube" and part.paper == "wrap":
        return [right_round(section, float(part.corner), 0.1, first) for first in FACES]
    return [Strip(section, face) for face in faces]


def on_paper(part, mark):
    """Say whether a mark lies on the tube's material, ends and all."""
    low, high = part.reach(mark.spot)
    return low + 1 < mark.spot.at < high - 1


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cases())
def test_any_tube_folds_true(case):
    """Whatever section, holes, mitres, paper and printer: folded back, marks are the part's, all of them."""
    job, part = case
    must = papers(job, part)
    if part.section.kind == "tube" and part.paper == "wrap":
        # Right round, the seam may be at any corner: it is the one that the print names.
        said = folded.printed(job, part)
        first = re.search(r"seam, corner [A-D]-\s*([A-D])", " ".join("".join(p.words for p in said).split()))
        must = [must[FACES.index(first[1])]]
    found = folded.check(job, part, must)
    folded.walls_meet(part, found)


def test_a_wrap_too_high_for_a_page_folds_true_and_is_called_right_round():
    """Its map names the paper, not faces run together; crosses are told from boxes of a map as wide."""
    plate = tube_bench.holes("plate", bench.NO_7, [15], at_deg=0)
    section = Section("round", Fraction(75), Fraction(75), Fraction(15, 2))
    part = tube_bench.tube(section, plate, length=935)
    job = tube_bench.job(part)
    pages = folded.printed(job, part)
    said = "\n".join(page.words for page in pages)
    assert len(pages) == 11
    assert "right round" in said
    assert "rightround" not in said
    folded.check(job, part, papers(job, part))


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cases())
def test_no_word_lies_on_a_mark_or_another_word(case):
    """On paper and on a page of its own, whatever the tube and its name; and nothing leaves the page."""
    job, part = case
    for page in (*tube_template_pages(job, part), tube_template(job, part)):
        assert covered(page) == []
        for mark in page.marks:
            box = mark.bounds
            assert min(box.left, box.bottom) > bench.BORDER, mark
            assert page.width - box.right > bench.BORDER, mark
            assert page.height - box.top > bench.BORDER, mark


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cases())
def test_every_mark_is_named_on_the_drawing_or_listed(case):
    """A mark's number stands at it, or else all places are listed in words."""
    job, part = case
    pages = tube_template_pages(job, part)
    texts = [m.text for page in pages for w in windows(page) for m in w.drawing.marks if isinstance(m, Text)]
    told = " ".join(m.text for page in pages for m in page.marks if isinstance(m, Text))
    if "Where the holes are" in told:
        return
    for mark in part.marks:
        start = re.compile(rf"{mark.number}(\D|$)")
        assert sum(1 for text in texts if start.match(text)) >= sum(
            1 for m in part.marks if m.number == mark.number
        )


@pytest.mark.parametrize("paper", sorted(bench.PAPERS))
@pytest.mark.parametrize(
    "part",
    [
        tube_bench.frame(),
        tube_bench.rail(),
        tube_bench.spacer(),
        tube_bench.post(),
        tube_bench.pin(),
        tube_bench.heel(),
    ],
    ids=lambda p: p.name,
)
def test_pages_of_the_boat_are_clear(part, paper):
    """With names of 60 letters, on every paper, no word lies on a mark or on another word."""
    part = replace(part, name="W" * 60, used_for="W" * 60, revision="W" * 20)
    job = replace(tube_bench.job(part, paper=paper), name="W" * 60)
    for page in tube_template_pages(job, part):
        assert covered(page) == []
