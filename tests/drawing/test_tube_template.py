"""What a tube's template says and when there is one; on one page of its own size as SVG, read back."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction

import pytest
import svgelements

from nestkit.drawing.model import Text
from nestkit.drawing.tube_facts import BOTH_WALLS, tube_facts
from nestkit.drawing.tube_piece import fewest_pairs
from nestkit.drawing.tube_template import has_template, tube_template, tube_template_pages
from nestkit.errors import UserError
from nestkit.geometry.mitre import Mitre
from nestkit.geometry.points import Point
from nestkit.geometry.section import FACES, Section
from nestkit.geometry.wrap import Strip
from nestkit.job.model import Paper
from nestkit.stock.section import read_section
from nestkit.writers.svg import svg_bytes
from tests.drawing import bench, folded, tube_bench
from tests.drawing.tube_bench import INCH, SQUARE
from tests.folding import fold_strip

STEEL = Section("tube", Fraction(40), Fraction(40), Fraction(2))


def words(job, part, **more):
    """All words of a template's pages."""
    return "\n".join(page.words for page in folded.printed(job, part, **more))


def facts(part, unit="in", **more):
    """The facts of a tube's template."""
    return tube_facts(tube_bench.job(part, unit=unit, **more), part, opposite=False, corrected=True)


def test_what_has_nothing_to_mark_has_no_template():
    """A square-cut tube without holes, and what comes off a roll, have none; a mitre alone is one."""
    plain = tube_bench.tube(SQUARE)
    assert not has_template(plain)
    assert not has_template(tube_bench.tube(Section("roll", INCH, Fraction(0))))
    assert has_template(tube_bench.frame())
    assert has_template(tube_bench.tube(SQUARE, mitres=(None, Mitre.on("A", Fraction(45)))))
    with pytest.raises(UserError, match="nothing to mark"):
        tube_template_pages(tube_bench.job(plain), plain)
    with pytest.raises(UserError, match="nothing to mark"):
        tube_template(tube_bench.job(plain), plain)


def test_paper_too_small_to_join_is_told():
    """A paper on which nothing can be joined is a mistake of the job, with what to do."""
    part = tube_bench.rail()
    job = tube_bench.job(part)
    job = replace(job, printing=replace(job.printing, paper=Paper("card", 60.0, 90.0)))
    with pytest.raises(UserError, match=r'paper "card" is too small .* choose a larger paper'):
        tube_template_pages(job, part)


@pytest.mark.parametrize(
    ("section", "ends", "as_drawn", "opposite"),
    [
        ("1 x 1 x 1/16", (Mitre.on("B", Fraction(45)), None), ["End 0 B"], ["End 0 D"]),
        ("round 1 x 1/16", (None, Mitre(Fraction(30), Fraction(45))), ["End 1 45 deg"], ["End 1 315 deg"]),
        ("angle 1 x 1 x 1/8", (Mitre.on("A", Fraction(45)), None), ["End 0 A"], ["End 1 A"]),
    ],
)
def test_the_ends_of_the_opposite_hand_are_its_own(section, ends, as_drawn, opposite):
    """The cover names the long side, and of an angle the end, of the hand that it is for."""
    part = tube_bench.tube(read_section(section, "in"), mitres=ends, opposite_hand=1)
    for hand, wanted in ((False, as_drawn), (True, opposite)):
        facts = tube_facts(tube_bench.job(part), part, opposite=hand, corrected=True).facts
        said = [f"{key} {words.rpartition('long at ')[2]}" for key, words in facts if key.startswith("End ")]
        assert said == wanted


def test_mitre_alone_is_drawn_on_the_faces_that_it_crosses():
    """A mitre long on A slopes over B and D: those are the strips."""
    part = tube_bench.tube(SQUARE, mitres=(Mitre.on("A", Fraction(45)), None))
    assert [piece.name for piece, _ in facts(part).pieces] == ["B", "D"]
    folded.check(tube_bench.job(part), part, [Strip(SQUARE, "B"), Strip(SQUARE, "D")])


@pytest.mark.parametrize("faces", ["A", "D", "AB", "DA", "AC", "BD", "ABC", "BCD", "CDA", "ABCD"])
def test_fewest_corners_hold_all_faces(faces):
    """Two faces that meet need one corner, any more two; no face is printed twice."""
    pairs = fewest_pairs(tuple(f for f in FACES if f in faces))
    printed = [face for pair in pairs for face in pair]
    assert {*faces} <= {*printed}
    assert len(printed) == len({*printed})
    assert len(pairs) == (1 if len(faces) == 1 or faces in {"AB", "DA"} else 2)


def test_what_the_print_says():
    """Name, section, length, counts, bench, revision, date, job, how to print, how to lay it, both walls."""
    part = tube_bench.frame(spare=1)
    said = " ".join(words(tube_bench.job(part, paper="tabloid"), part).split())
    for text in (
        "deck frame",
        "END 0 AT YOUR LEFT",
        "aluminium 6061, square tube 1 x 1 x 1/16 in",
        "Length: 6 in",
        "Make: 2 + 1 spare",
        "For: deck",
        "Revision: A",
        "Date: 2026-03-01",
        "Solar boat: console and hatches",
        "Page: 1 of 1",
        "Print at 100 %, do not fit to page.",
        "Saw to length first. Cut out on the edge lines.",
        "A and C; lid side",
        BOTH_WALLS,
        "1 to 4 on A: must read 5.000",
        "END 0 to 4 on A: must read 5.500",
    ):
        assert text in said, text


def test_every_mark_is_labelled_on_both_walls():
    """Number, drill and size stand at each mark; where a drill comes out, that too."""
    part = tube_bench.frame()
    labels = [t for t, _ in folded.printed(tube_bench.job(part), part)[0].texts]
    joined = " ".join(" ".join(labels).split())
    for number in (1, 2, 3, 4):
        assert joined.count(f"{number} #7 .201") == 2
        assert joined.count(f"{number} #7 .201 OUT") == 1
    assert "5 #2 .221" in joined
    assert "5 #2 .221 OUT" not in joined


def test_metric_job_is_told_in_millimetres():
    """Sizes, length and holes in mm."""
    part = tube_bench.spacer()
    said = " ".join(words(tube_bench.job(part, unit="mm", paper="A4"), part).split())
    assert "6.35 x 6.35 x 0.794 mm" in said
    assert "Length: 100 mm" in said
    assert "1 Ø5.5" in said
    assert "must read 62.0, accept 61.2 to 62.8 mm" in said


def test_either_hand_has_one_print_and_says_so():
    """A tube that is its own mirror says that both hands are the same."""
    part = tube_bench.tube(SQUARE, tube_bench.holes("a", bench.NO_7, [10], face="A"), opposite_hand=2)
    assert part.either_hand
    assert dict(facts(part).facts)["Hand"] == "either: both hands are the same"
    assert dict(facts(part).facts)["Make"] == "3"


def test_narrow_strip_has_its_labels_on_a_flap():
    """A 1/4 in face has no room for labels: they hang below, and the print says where to fold."""
    part = tube_bench.spacer()
    assert all(flap > 15.0 for _, flap in facts(part).pieces)
    said = words(tube_bench.job(part), part)
    assert "FOLD DOWN" in said
    assert "Fold flaps down over the edge." in " ".join(said.split())
    assert all(flap == 0.0 for _, flap in facts(tube_bench.frame()).pieces)


def test_corner_radius_says_where_it_comes_from():
    """As measured; usual for the material, with its rule; or not known, and what to do about it."""
    for more, text in (
        ({"corner": Fraction(3), "material": "steel"}, "outside radius 3 mm, as measured"),
        ({"material": "steel"}, "outside radius 4 mm, usual (R125"),
        ({"material": "brass"}, "not known, reckoned as sharp. Measure it and write corner_radius"),
    ):
        part = tube_bench.tube(STEEL, tube_bench.holes("a", bench.M5, [20], face="A"), paper="corner", **more)
        assert text in dict(facts(part, unit="mm").facts)["Corners"]


def test_full_wrap_warns_of_its_drift_unless_the_radius_was_measured():
    """Right round, a wrong radius moves every face: the order of work says so."""
    group = tube_bench.holes("a", bench.M5, [20], face="A")
    assert "the faces drift" in facts(tube_bench.tube(STEEL, group, paper="wrap")).order
    measured = tube_bench.tube(STEEL, group, paper="wrap", corner=Fraction(3))
    assert "drift" not in facts(measured).order


def test_seam_keeps_away_from_holes():
    """Round: in the middle of the widest gap; right round a box: the corner furthest from any mark."""
    part = tube_bench.post()
    assert [p.below for p, _ in facts(part).pieces] == ["seam on the D line"]
    box = tube_bench.tube(
        SQUARE, tube_bench.holes("a", bench.M5, [20], face="A", across=20), paper="wrap", corner=Fraction(0)
    )
    # 5.4 mm from D, 20 from B: of the corners without such a neighbour the first is taken.
    assert [p.below for p, _ in facts(box).pieces] == ["seam, corner B-C"]


def test_round_tube_says_what_to_do_if_its_edges_do_not_meet():
    """Gap or overlap over 0.4 mm (R049): measure around and write girth."""
    said = dict(facts(tube_bench.post(), unit="mm").facts)["Around"]
    assert "by more than 0.4 mm, measure around the tube and write girth" in said


def test_cautions_of_tube_are_on_the_cover():
    """A vice crushes thin walls, a leaning drill misses the far hole: for tube, not for a strip."""
    assert "a vice crushes thin walls" in words(tube_bench.job(tube_bench.rail()), tube_bench.rail()).replace(
        "\n", " "
    )
    assert not any("a vice crushes" in text for text in facts(tube_bench.flat()).cautions)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_svg_on_its_own_page_is_true_and_folds_back(unit):
    """All of a long tube on one page, nominal: every ring where its strip has it, each strip a face wide."""
    part = tube_bench.rail()
    drawing = tube_template(tube_bench.job(part, unit=unit, scale_x=0.9, scale_y=1.1), part)
    svg = svg_bytes(drawing)
    read = svgelements.SVG.parse(io.BytesIO(svg), ppi=25.4)
    assert float(read.width) == pytest.approx(drawing.width, abs=0.01)
    rings = [
        (
            float(s.implicit_r) * 2,
            Point(float(s.implicit_center.x), drawing.height - float(s.implicit_center.y)),
        )
        for s in read.elements()
        if isinstance(s, svgelements.Circle)
    ]
    lines = [
        [Point(p.x, drawing.height - p.y) for p in (s.first_point, s.current_point)]
        for s in read.elements()
        if isinstance(s, svgelements.Path) and len(s) == 2
    ]
    lines += [
        [Point(p.x, drawing.height - p.y) for p in (s.point(0), s.point(1))]
        for s in read.elements()
        if isinstance(s, svgelements.SimpleLine | svgelements.Polyline) and len(list(s.segments())) <= 2
    ]
    levels = sorted(
        {
            (round(a.y, 4), round(min(a.x, b.x), 4), round(max(a.x, b.x), 4))
            for a, b in lines
            if abs(a.y - b.y) < 1e-6
        },
        reverse=True,
    )
    found = []
    for face in ("A", "C", "D"):
        strip = Strip(SQUARE, face)
        upper, lower = next(
            (u, w) for u in levels for w in levels if abs(u[0] - w[0] - 25.4) < 0.01 and u[2] - u[1] > 1000
        )
        origin = Point(lower[1] - strip.end_line(part.ends[0])[0].x, lower[0])
        found += [
            (dia, fold_strip(strip, at.moved(-origin.x, -origin.y)))
            for dia, at in rings
            if lower[0] < at.y < upper[0]
        ]
        levels = [level for level in levels if level[0] < lower[0] - 0.01]
    for mark in part.marks:
        place = folded.model(part, mark)
        assert any(abs(d - mark.drill.dia) < 0.01 and folded.away(p, place) < 0.01 for d, p in found), mark


def test_long_tube_has_its_pieces_on_the_same_pages():
    """A 48 in rail with three strips takes a cover and six pages of letter paper, lying."""
    part = tube_bench.rail()
    pages = tube_template_pages(tube_bench.job(part), part)
    assert len(pages) == 7
    assert all(page.width == pytest.approx(279.4) for page in pages)
    letters = {m.text for m in pages[3].marks[0].drawing.marks if isinstance(m, Text)}
    assert {"A", "C", "D", "to END 0"} <= letters


def test_the_same_tube_gives_the_same_drawing():
    """Drawn twice, a template is the same, mark for mark."""
    part = tube_bench.post()
    job = tube_bench.job(part, unit="mm", paper="A4")
    assert tube_template_pages(job, part) == tube_template_pages(job, part)
