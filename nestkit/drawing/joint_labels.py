"""The numbers beside the screws of a joint's picture: the hole of each part, and how far it lies off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from nestkit.drawing.joint_key import LETTERS
from nestkit.drawing.joint_rings import Exaggeration
from nestkit.drawing.joint_view import View, holes_of
from nestkit.drawing.model import Mark
from nestkit.drawing.punch import SIGHT
from nestkit.drawing.template_labels import Field, along, place_label
from nestkit.fit.result import JointFit
from nestkit.geometry.points import Point, Rect
from nestkit.text import counted
from nestkit.units import Unit, decimal_text, inches_text

MANY = 12
"""More screws than these have numbers without the parts' letters."""
LARGE, SMALL, LEAST = 5.2, 3.4, 2.8


class LabelField(Field):
    """A field whose words keep off the parts' outlines, while lines that lead to words may cross them."""

    def __init__(self, room: Rect) -> None:
        super().__init__(room)
        self.outlines = Field(room)

    def free(self, box: Rect) -> bool:
        """Say whether a box lies in the room and meets nothing that is taken, nor an outline."""
        return super().free(box) and self.outlines.free(box)

    def free_line(self, a: Point, b: Point) -> bool:
        """Say whether a straight line meets nothing that is taken; outlines may be crossed."""
        return all(super(LabelField, self).free(box) for box in along(a, b))


@dataclass(frozen=True, slots=True)
class _Label:
    """What stands beside a screw or a hole: its number, and what more there is to say of it."""

    at: Point
    radius: float
    number: str
    more: str


def put_labels(
    fit: JointFit, view: View, shown: Exaggeration, field: Field, unit: Unit
) -> tuple[list[Mark], list[str]]:
    """Return the labels of all screws, their room taken, and what the key must say of them."""
    many = len(shown.rings) > MANY
    labels = [*_of_screws(fit, view, shown, unit, many), *_alone(fit, view)]
    height = LARGE if len(labels) <= MANY else max(SMALL, LARGE - 0.1 * (len(labels) - MANY))
    places = [label.at for label in labels]
    marks: list[Mark] = []
    without = 0
    for label in labels:
        put = _put(field, label, height, places)
        without += not put
        marks += put
    notes = []
    if many:
        parts = " / ".join(LETTERS[: len(fit.assembly.layers)])
        notes.append(f"Numbers: the hole of {parts}; one number alone is that of all.")
    if without:
        notes.append(f"{counted(without, 'hole')} without a number here: there is no room.")
    return marks, notes


def _of_screws(fit: JointFit, view: View, shown: Exaggeration, unit: Unit, many: bool) -> Iterator[_Label]:
    layers = fit.assembly.layers
    off: dict[int, float] = {}
    for offset in shown.offsets:
        off[offset.screw] = max(off.get(offset.screw, 0.0), offset.length)
    for i, ring in enumerate(shown.rings):
        numbers = [layer.numbers[i] for layer in layers]
        if many:
            number = "/".join(map(str, numbers if len(set(numbers)) > 1 else numbers[:1]))
        else:
            number = " ".join(f"{LETTERS[k]}{n}" for k, n in enumerate(numbers))
        widest = max(layer.dias[i] for layer in layers) / 2 * view.scale
        more = f"{size_text(off[i], unit)} off" if i in off else ""
        yield _Label(view(ring.at), max(ring.radius * shown.factor, widest), number, more)


def _alone(fit: JointFit, view: View) -> Iterator[_Label]:
    """The holes without a partner."""
    for k, layer in enumerate(fit.assembly.layers):
        for number, point, dia in holes_of(layer):
            if number not in layer.numbers:
                yield _Label(view(point), dia / 2 * view.scale, f"{LETTERS[k]}{number}", "no partner")


def _put(field: Field, label: _Label, height: float, others: list[Point]) -> list[Mark]:
    """Return a label in one piece, else in two, else the number alone."""
    # The label's rule keeps it off a sight ring, which these marks do not have.
    dia = 2 * max(label.radius + 0.3 - SIGHT, 0.0)
    sizes = (height, SMALL, LEAST)
    whole = f"{label.number}  {label.more}" if label.more else label.number
    for text, size in dict.fromkeys(product((whole, label.number), sizes)):
        put = place_label(field, label.at, dia, (text,), size, others)
        if put and text == label.number and label.more:
            put += place_label(field, label.at, dia, (label.more,), SMALL, others)
        if put:
            return put
    return []


def size_text(mm: float, unit: Unit) -> str:
    """Return a small length with its unit: ``.031 in``, ``0.79 mm``.

    >>> size_text(0.7874, "in"), size_text(0.7874, "mm")
    ('.031 in', '0.79 mm')
    """
    # What sums of floats leave must not decide where half a thousandth goes.
    return f"{decimal_text(mm, 2) if unit == 'mm' else inches_text(round(mm, 4))} {unit}"
