"""The picture of a joint: holes in their place, the stated factor, words that can be read."""

from __future__ import annotations

import io
import re
from itertools import combinations

import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.joint_key import turn_said
from nestkit.drawing.joint_picture import HIGHEST, WIDTH, joint_picture
from nestkit.drawing.joint_rings import FACTORS, exaggerated
from nestkit.drawing.layers import Layer as Style
from nestkit.drawing.model import Circle, Drawing, Path, Text
from nestkit.drawing.record import dump, record
from nestkit.fit.assembly import Loose
from nestkit.fit.result import Chance, JointFit, ScrewFit
from nestkit.geometry.points import Point, Rect
from nestkit.writers.svg import svg_bytes
from tests.drawing.clear import enters, straight
from tests.drawing.joint_bench import NO_10, bracket, joint_of, laid, marks_of, plate
from tests.fit.drill_bench import for_screw, for_tap, job
from tests.laid_tubes import SCREW, group, tube

JOB = job()
LONG = "a name of sixty letters that a student wrote for this one part"[:60]
LID = plate("console lid", 368, 248, (12.7, 12.7), (50.8, 12.7), (317.5, 12.7), (355.6, 12.7))
STRIP = plate("strip", 368, 25, (12.7, 12.7), (50.8, 12.7), (317.5, 12.7), (355.6, 12.7))
GRID = [(25.0 + 25 * i, 25.0 + 25 * j) for j in range(5) for i in range(8)]
ROW = [(25.0 + 25 * i, 25.0) for i in range(40)]
FRAME = tube("deck frame", "1 x 1 x 1/16", "22", group("lid", "A", "1/2", "4", "8", "12", drill=SCREW))
DECK = plate("deck", 600, 560, *((50.0, y) for y in (12.7, 101.6, 203.2, 304.8)))
BEAM = tube(LONG, "2 x 1 x 1/8", "72", group("strut", "A", "40", "41 1/2", "43", drill=SCREW))
PLATE = plate("motor plate", 101.6, 76.2, (12.7, 38.1), (50.8, 38.1), (88.9, 38.1))
OFF = plate("strip", 368, 25, (12.7, 12.7), (53.975, 12.7), (317.5, 12.7), (355.6, 12.7))


def alike(count: int, *at: tuple[float, float], size: tuple[float, float] = (90, 60)) -> JointFit:
    """A joint of so many plates with long names and the same holes."""
    return joint_of(*(laid(plate(f"{i} {LONG}"[:60], *size, *at)) for i in range(count)), name=LONG)


HINGE = bracket("hinge", (6.35, 6.35), (44.45, 6.35))
BACKING = plate(
    "backing plate", 101.6, 76.2, (12.7, 38.1), (50.8, 38.1), (88.9, 38.1), drill=for_tap("10-32")
)
SOLE = plate("sole", 500, 500, (250, 250))
TAPPED = plate("block", 50, 50, (25, 25), drill=for_tap("10-32"))
SCENES: dict[str, JointFit] = {
    "hinge": joint_of(laid(LID, only=(1, 2)), laid(HINGE, move=(6.35, 6.35))),
    "lid on strip": joint_of(laid(LID), laid(STRIP)),
    "wrong": joint_of(laid(LID), laid(OFF)),
    "deck": joint_of(laid(DECK), laid(FRAME, 90.0, (62.7, 0.0))),
    "three deep": joint_of(
        laid(PLATE),
        laid(BEAM, move=(12.7 - 1016.0, 12.7)),
        laid(BACKING, holds=True),
        name=LONG,
        loose=(Loose(bracket("spacer"), 1, 12.7),),
    ),
    "forty": alike(2, *GRID, size=(225, 150)),
    "row of forty": alike(2, *ROW, size=(1050, 50)),
    "one": joint_of(laid(plate("foot", 50, 50, (25, 25))), laid(SOLE, move=(-225, -225))),
    "turned over": joint_of(laid(LID), laid(STRIP, over=True, move=(368.3, 0.0))),
    "without a partner": joint_of(laid(LID, only=(1, 2, 4)), laid(OFF, only=(1, 2, 4))),
    "six deep": alike(6, (20, 30), (70, 30)),
    "twelve deep": alike(12, (20, 30)),
    "very far apart": alike(2, (20, 25), (8980, 25), size=(9000, 50)),
    "tight": joint_of(laid(TAPPED, holds=True), laid(TAPPED, holds=True)),
}


def pictured(fit: JointFit) -> Drawing:
    """The picture, which is there."""
    made = joint_picture(JOB, fit)
    assert made is not None
    return made


def words(drawing: Drawing) -> list[str]:
    """All texts of a picture."""
    return [text for text, _ in record(drawing).texts]


def rings(drawing: Drawing) -> list[tuple[Point, float]]:
    """Centres and radii of the thin rings on the page."""
    return [(c, r) for layer, c, r in record(drawing).circles if layer == Style.FINE]


def overlaps(drawing: Drawing) -> list[str]:
    """What is wrong with a picture: words on words or on marks, or beyond its edge."""
    found = []
    page = Rect(0.0, 0.0, drawing.width, drawing.height)
    texts: list[tuple[str, Rect]] = []
    lines, circles = [], []
    for mark, at, scale, seen in marks_of(drawing):
        if isinstance(mark, Text):
            assert scale == 1.0
            b = mark.bounds
            texts.append((mark.text, Rect(b.left + at.x, b.bottom + at.y, b.right + at.x, b.top + at.y)))
        elif isinstance(mark, Circle):
            centre = Point(at.x + mark.centre.x * scale, at.y + mark.centre.y * scale)
            circles.append(Rect(*centre, *centre).grown(mark.radius * scale))
        elif isinstance(mark, Path):
            for a, b in straight(mark):
                ends = [Point(at.x + p.x * scale, at.y + p.y * scale) for p in (a, b)]
                lines.append((*ends, seen))
    for text, box in texts:
        inner = box.grown(-0.05)
        if not page.holds(inner):
            found.append(f"{text!r} leaves the page")
        found += [f"{text!r} lies on a circle" for c in circles if c.meets(inner)]
        found += [f"{text!r} lies on a line" for a, b, seen in lines if _enters(a, b, inner, seen)]
    for (a, box), (b, other) in combinations(texts, 2):
        if box.grown(-0.05).meets(other.grown(-0.05)):
            found.append(f"{a!r} meets {b!r}")
    return found


def _enters(a: Point, b: Point, box: Rect, seen: Rect) -> bool:
    return box.meets(seen) and enters(a, b, box.common(seen))


@pytest.mark.parametrize("scene", SCENES)
def test_words_lie_on_nothing_and_fit_the_page(scene):
    """No word meets another, a line, a ring or a hole; the page is 180 mm wide and at most 200 high."""
    drawing = pictured(SCENES[scene])
    assert overlaps(drawing) == []
    assert drawing.width == WIDTH <= 200
    assert 60 <= drawing.height <= HIGHEST + 8 <= 200


@pytest.mark.parametrize("scene", SCENES)
def test_holes_lie_as_they_do_in_the_joint(scene):
    """Holes on the page are the joint's, all at one scale: distances and diameters keep their ratios."""
    fit = SCENES[scene]
    layers = fit.assembly.layers
    wanted = [
        (layer.placement(p), d / 2)
        for layer in layers
        for p, d in zip(layer.plane.points, layer.plane.dias, strict=True)
    ]
    zones = sum(ring.radius > 0 for ring in exaggerated(fit, 1.0).rings)
    circles = [(c, r) for _, c, r in record(pictured(fit)).circles][zones:]
    assert len(circles) == len(wanted)
    scale = circles[0][1] / wanted[0][1]
    dx, dy = circles[0][0].x - wanted[0][0].x * scale, circles[0][0].y - wanted[0][0].y * scale
    for (centre, radius), (point, true) in zip(circles, wanted, strict=True):
        assert radius == pytest.approx(true * scale)
        assert centre == pytest.approx((point.x * scale + dx, point.y * scale + dy))


def test_outlines_lie_with_their_holes():
    """A panel turned over and turned, a tube along y: each outline is where its own holes say."""
    over = laid(plate("q", 100, 40, (10, 10), (50, 10)), 90.0, (7.0, 3.0), over=True)
    fit = joint_of(laid(plate("p", 60, 60, (-3, -7), (-3, -47))), over)
    # x becomes -x, then the quarter turn left: (x, y) of q lies at (-y + 7, -x + 3).
    edges = [
        Point(at.x + p.x * scale, at.y + p.y * scale)
        for mark, at, scale, _ in marks_of(pictured(fit))
        if isinstance(mark, Path) and mark.closed and mark.layer == Style.SECOND_PART
        for p in (v.point for v in mark.vertices)
    ]
    holes = [(c, r) for _, c, r in record(pictured(fit)).circles][-2:]
    scale = holes[0][1] / (NO_10.dia / 2)
    first = holes[0][0]
    corners = {(round((p.x - first.x) / scale, 6), round((p.y - first.y) / scale, 6)) for p in edges}
    assert corners == {(10.0, 10.0), (10.0, -90.0), (-30.0, -90.0), (-30.0, 10.0)}


@pytest.mark.parametrize("scene", ["hinge", "lid on strip", "forty", "row of forty", "one"])
def test_rings_are_drawn_by_the_stated_factor(scene):
    """A ring's radius is the clearance of its screw times the factor that the key states."""
    fit = SCENES[scene]
    drawing = pictured(fit)
    [key] = [text for text in words(drawing) if text.startswith("Grey zone")]
    stated = re.search(r"shown (\d+) x", key)
    factor = int(stated[1]) if stated else 1
    assert factor in FACTORS
    [radius] = {round(r, 6) for _, r in rings(drawing)[: fit.assembly.screws]}
    clearance = 2 * min((layer.dias[0] - 4.826) / 2 for layer in fit.assembly.layers)
    assert radius == pytest.approx(clearance * factor, abs=1e-5)
    assert f"may be {clearance / 25.4:.3f} in".replace("0.", ".") in key


def test_the_clearance_is_that_of_the_chance_where_there_is_one():
    """What was worked out for a screw is what is drawn."""
    fit = SCENES["lid on strip"]
    screws = tuple(ScrewFit(i, (), Chance(1.0), 0.1 * i) for i in range(1, 5))
    known = JointFit(fit.assembly, (), (), None, screws, fit.goal)
    assert [ring.radius for ring in exaggerated(known, 0.5).rings] == pytest.approx([0.1, 0.2, 0.3, 0.4])
    assert exaggerated(known, 0.5).factor == 10


def test_a_mismatch_is_an_arrow_with_its_length():
    """1/8 in off: an arrow out of the grey zone, and the length in the job's unit beside it."""
    drawing = pictured(SCENES["wrong"])
    said = words(drawing)
    assert "P2 Q2  .125 in off" in said
    assert [text for text in said if " off" in text and text[0] == "P"] == ["P2 Q2  .125 in off"]
    shown = exaggerated(SCENES["wrong"], 0.5)
    assert f"Arrow: how far the other part's hole lies off; shown {shown.factor} x." in said
    (offset,) = shown.offsets
    assert offset.length == pytest.approx(3.175)
    assert offset.length > shown.rings[1].radius
    mm = joint_picture(job(unit="mm"), SCENES["wrong"])
    assert "P2 Q2  3.18 mm off" in words(mm)


def test_an_arrow_that_does_not_fit_says_so():
    """Two parts laid far apart: the length in figures, the arrow cut off at the picture's edge."""
    drawing = pictured(SCENES["turned over"])
    assert "An arrow that leaves the picture is longer than shown." in words(drawing)
    assert "P1 Q1  13.500 in off" in words(drawing)
    assert "An arrow that leaves the picture is longer than shown." not in words(pictured(SCENES["wrong"]))


def test_no_arrow_for_what_rounding_leaves():
    """Holes 0.04 mm off are drawn as they are and not told; 0.06 mm is."""
    for by, arrows in ((0.04, 0), (0.06, 1)):
        other = plate("q", 60, 60, (20, 30), (40 + by, 30))
        fit = joint_of(laid(plate("p", 60, 60, (20, 30), (40, 30))), laid(other))
        assert len(exaggerated(fit, 1.0).offsets) == arrows


def test_the_key_says_how_parts_lie():
    """Order from the heads, numbers, turns, backs, who holds the screws, and spacers."""
    said = words(pictured(SCENES["deck"]))
    key = "Q  deck frame: holes 1 to 4; face A to the heads; turned 90 degrees to the left"
    assert key in " ".join(said)
    assert "Q: END 0" in said
    assert "Q  strip: holes 1 to 4; turned over" in words(pictured(SCENES["turned over"]))
    deep = words(pictured(SCENES["three deep"]))
    assert "R  backing plate: holes 1 to 3; holds the screws" in deep
    assert "spacer, 1/2 in, loose over each screw, behind P" in deep
    assert "to Q: END 0" in deep
    assert "10-32 screws, seen from the heads" in deep


def test_holes_without_a_partner_are_named():
    """They are drawn and labelled as such, in both parts."""
    said = words(pictured(SCENES["without a partner"]))
    assert "P3  no partner" in said
    assert "Q3  no partner" in said


def test_many_screws_have_numbers_alone():
    """Over twelve screws the letters go; the key says what a number means; what has no room is counted."""
    said = words(pictured(SCENES["forty"]))
    assert {str(n) for n in range(1, 41)} <= set(said)
    assert "Numbers: the hole of P / Q; one number alone is that of all." in said
    row = words(pictured(SCENES["row of forty"]))
    there = {text for text in row if text.isdigit()}
    missing = 40 - len(there)
    left_out = [text for text in row if "without a number here" in text]
    assert left_out == ([f"{missing} holes without a number here: there is no room."] if missing else [])


def test_each_number_is_nearest_to_its_own_hole():
    """A label without a leading line is nearer to its screw than to any other."""
    for scene in ("lid on strip", "deck", "hinge"):
        fit = SCENES[scene]
        drawing = pictured(fit)
        centres = [c for c, _ in rings(drawing)[: fit.assembly.screws]]
        for mark, at, _, _ in marks_of(drawing):
            if isinstance(mark, Text) and re.fullmatch(r"P\d+ Q\d+", mark.text):
                number = int(mark.text[1:].split()[0])
                middle = mark.bounds.centre.moved(*at)
                nearest = min(range(len(centres)), key=lambda i: centres[i].to(middle))
                assert nearest == number - 1


def test_ties_and_tapes_have_no_picture():
    """They bend, so that their holes lie in no one plane; nothing either without a layer."""
    assert joint_picture(JOB, joint_of(laid(LID), laid(STRIP), kind="cable tie")) is None
    assert joint_picture(JOB, joint_of(kind="hook-and-loop")) is None


def test_no_clearance_no_zone():
    """Where the holes leave the screw no room, that is said."""
    drawing = pictured(SCENES["tight"])
    assert "No grey zone: the holes leave the screws no room." in words(drawing)
    assert not any(layer == Style.FINE for layer, _, _ in record(drawing).circles)


def test_the_picture_is_the_same_each_time():
    """Nothing of it depends on a clock or on the order of sets."""
    assert dump(pictured(SCENES["three deep"])) == dump(pictured(SCENES["three deep"]))


@pytest.mark.parametrize("scene", ["deck", "forty", "wrong"])
def test_the_svg_reads_back(scene):
    """Another reader finds as many circles, at the same places, in a page of the same size."""
    drawing = pictured(SCENES[scene])
    picture = svgelements.SVG.parse(io.BytesIO(svg_bytes(drawing)), reify=True)
    pixel = 25.4 / 96
    assert picture.width * pixel == pytest.approx(drawing.width, abs=1e-3)
    found = [s for s in picture.elements() if isinstance(s, svgelements.Circle)]
    wanted = record(drawing).circles
    assert len(found) == len(wanted)
    for shape, (_, centre, radius) in zip(found, wanted, strict=True):
        left, top, right, bottom = (v * pixel for v in shape.bbox())
        assert ((left + right) / 2, drawing.height - (top + bottom) / 2) == pytest.approx(centre, abs=1e-2)
        assert (right - left) / 2 == pytest.approx(radius, abs=1e-2)


@pytest.mark.parametrize(
    ("turn", "said"),
    [
        (0.0, ""),
        (360.0, ""),
        (90.0, "turned 90 degrees to the left"),
        (-90.0, "turned 90 degrees to the right"),
        (180.0, "turned 180 degrees"),
        (37.25, "turned 37.2 degrees to the left"),
    ],
)
def test_turns_in_words(turn, said):
    """The shorter way round, and which way."""
    assert turn_said(turn) == said


@settings(max_examples=25, deadline=None)
@given(
    at=st.lists(st.tuples(st.integers(5, 395), st.integers(5, 195)), min_size=1, max_size=40, unique=True),
    turn=st.sampled_from([0.0, 90.0, 180.0, 33.0]),
    off=st.sampled_from([(0.0, 0.0), (0.3, 0.0), (-2.0, 5.0)]),
    fit=st.sampled_from(["close", "normal", "loose"]),
)
def test_any_joint_is_legible(at, turn, off, fit):
    """Wherever its holes: no word over a word or a mark, never beyond 200 mm."""
    one = plate("fore hatch", 400, 200, *at, drill=for_screw("10-32", fit))
    origin = Point(0.0, 0.0).turned(turn)
    back = [Point(*p).moved(-origin.x, -origin.y).turned(-turn) for p in at]
    other = plate(LONG, 400, 200, *back)
    drawing = pictured(joint_of(laid(one), laid(other, turn, off)))
    assert overlaps(drawing) == []
    assert drawing.height <= 200
