"""Labels: clear of everything, nearest to their own hole, led by a line where they stand far off."""

from __future__ import annotations

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.drawing.model import Path, Text
from nestkit.drawing.punch import punch_boxes
from nestkit.drawing.template_labels import Field, place_label, place_words
from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import corners_cut, disc, rectangle

ROOM = Rect(0, 0, 200, 150)


def labels_of(places: list[Point], dia: float = 5.0, room: Rect = ROOM):
    """The marks of each hole's label, in the order of the holes."""
    field = Field(room)
    for at in places:
        for box in punch_boxes(at, dia):
            field.take(box)
    return [
        place_label(field, at, dia, (f"{i}  #2 .221", str(i)), 3.8, places) for i, at in enumerate(places, 1)
    ]


@settings(max_examples=40)
@given(st.lists(st.tuples(st.integers(8, 190), st.integers(8, 140)), min_size=1, max_size=25, unique=True))
def test_labels_are_clear_of_marks_and_of_each_other(places):
    """However holes lie, no label meets a punch mark or another label, nor leaves the room."""
    points = [Point(*p) for p in places]
    texts = [mark for label in labels_of(points) for mark in label if isinstance(mark, Text)]
    boxes = [t.bounds for t in texts]
    for a, b in itertools.combinations(boxes, 2):
        assert not a.meets(b)
    for box in boxes:
        assert ROOM.left <= box.left
        assert box.right <= ROOM.right
        assert not any(box.meets(other) for at in points for other in punch_boxes(at, 5.0))


@settings(max_examples=40)
@given(st.lists(st.tuples(st.integers(8, 190), st.integers(8, 140)), min_size=2, max_size=25, unique=True))
def test_label_without_a_line_is_nearest_to_its_own_hole(places):
    """A label that no line leads from stands nearer to its hole than to any other."""
    points = [Point(*p) for p in places]
    for at, label in zip(points, labels_of(points), strict=True):
        if len(label) != 1:
            continue
        box = label[0].bounds

        def away(p: Point, box: Rect = box) -> float:
            near = Point(min(max(p.x, box.left), box.right), min(max(p.y, box.bottom), box.top))
            return near.to(p)

        assert all(away(at) < away(other) for other in points if other != at)


def test_lone_hole_has_its_label_beside_it():
    """With room all round the full label stands beside the mark, without a line."""
    [label] = labels_of([Point(100, 75)])
    assert [type(m) for m in label] == [Text]
    assert label[0].text == "1  #2 .221"
    assert label[0].bounds.centre.to(Point(100, 75)) < 20


def test_crowded_hole_has_a_line_to_its_label():
    """A hole among others has its label led by a line that ends at its own sight ring."""
    row = [Point(60 + 9 * i, 75) for i in range(6)]
    led = [(at, label) for at, label in zip(row, labels_of(row), strict=True) if len(label) == 2]
    assert led
    for at, (_, leader) in led:
        assert isinstance(leader, Path)
        assert 3.75 < leader.vertices[1].point.to(at) < 8.0


def test_no_room_gives_no_label():
    """Where nothing fits nothing is drawn, and the caller learns it."""
    assert labels_of([Point(5, 5)], room=Rect(0, 0, 10, 10)) == [[]]


def test_words_stand_on_material_near_the_middle():
    """Large words stand on the part, not in its opening nor outside an odd outline."""
    ring = disc(150, centre=Point(75, 75))
    hole = disc(90, centre=Point(75, 75))
    angle = corners_cut(
        [Point(0, 0), Point(150, 0), Point(150, 30), Point(30, 30), Point(30, 140), Point(0, 140)]
    )
    for outline, openings in ((rectangle(150, 140), []), (ring, [hole]), (angle, [])):
        field = Field(ROOM)
        for loop in (outline, *openings):
            field.take_outline(loop)
        for words in place_words(field, "FACE", 6.0, (outline, *openings), ROOM):
            middle = words.bounds.centre
            assert not openings or middle.to(Point(75, 75)) > 45
            assert outline is not angle or middle.x < 30 or middle.y < 30
    field = Field(ROOM)
    assert (
        place_words(field, "THIS FACE UP", 6.0, [rectangle(150, 140)], ROOM)[0].bounds.centre.to(
            Point(75, 70)
        )
        < 1
    )


BOXES = st.builds(
    lambda x, y, wide, high: Rect(x, y, x + wide, y + high),
    *(st.integers(-150, 350),) * 2,
    *(st.integers(1, 400),) * 2,
)


@given(st.lists(BOXES, max_size=12), st.lists(BOXES, max_size=12), st.lists(BOXES, min_size=1, max_size=12))
def test_a_place_is_free_where_no_box_meets_it_however_far_boxes_reach(taken, given_back, asked):
    """Boxes that reach out of the room count within it, and those given back leave nothing behind."""
    field = Field(ROOM)
    for box in (*taken, *given_back):
        field.take(box)
    for box in given_back:
        field.give_back(box)
    for box in asked:
        assert field.free(box) == (ROOM.holds(box) and not any(box.meets(other) for other in taken))
