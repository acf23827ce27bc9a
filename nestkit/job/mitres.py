"""The mitred ends of a tube: how far the saw is turned, and which side stays long."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from nestkit.geometry.mitre import Mitre, least_length
from nestkit.geometry.section import FACE_DEG, FACES, Section
from nestkit.job.entry import Entry
from nestkit.job.shown import shown
from nestkit.job.tube_holes import TURN
from nestkit.job.values import choice, number
from nestkit.units import with_unit

Mitres = tuple[Mitre | None, Mitre | None]

_SAW = "Write how far the saw is turned from the square cut, above 0 and below 90: 45 for a corner of 90"


def read_mitres(tube: Entry, section: Section | None, length: Fraction | None) -> Mitres:
    """Return the mitres of end 0 and end 1, None where an end is cut square or its mitre is wrong."""
    before = len(tube.notes)
    ends = _mitre(tube, "mitre_0", section), _mitre(tube, "mitre_1", section)
    if section is None or length is None or len(tube.notes) > before or not any(ends):
        return ends
    if least_length(section, float(length), ends) <= 0:
        long = with_unit(length, tube.notes.unit)
        both = all(ends)
        text = f"the two mitres meet: {long} over the long points leaves nothing on the short side"
        if not both:
            text = f"the mitre runs out past the other end of {long}"
        tube.wrong("mitre_1" if ends[1] else "mitre_0", text, "Make the tube longer, or the angle smaller")
    return ends


def _mitre(tube: Entry, key: Literal["mitre_0", "mitre_1"], section: Section | None) -> Mitre | None:
    entry = tube.child(key, "mitre", named=True)
    if entry is None:
        return None
    before = len(entry.notes)
    angle = _angle(entry)
    by_angle = section.is_round if section is not None else "long_deg" in entry
    long = _long_deg(entry, section) if by_angle else _long(entry, section)
    if len(entry.notes) > before or angle is None or long is None:
        return None
    return Mitre(angle, long)


def _angle(entry: Entry) -> Fraction | None:
    if "angle_deg" not in entry:
        entry.missing("angle_deg", _SAW)
        return None
    angle = number(entry, "angle_deg", 0, least=0, most=90, remedy=_SAW)
    if angle == 0:
        entry.wrong("angle_deg", "0 is a square cut", "Leave the mitre out, or write its angle")
    elif angle == 90:
        entry.wrong("angle_deg", "90 is along the tube", _SAW)
    return angle


def _long(entry: Entry, section: Section | None) -> Fraction | None:
    """Return the angle of the long side where it goes by face."""
    if "long_deg" in entry and section is not None:
        text = f"the long side of {section.words} is a face, not an angle"
        entry.wrong("long_deg", text, 'Write long = "A", "B", "C" or "D"')
        return None
    if "long" not in entry:
        entry.missing("long", 'Write which side stays long: "A", "B", "C" or "D"')
        return None
    face = choice(entry, "long", FACES)
    return None if face is None else Fraction(FACE_DEG[face])


def _long_deg(entry: Entry, section: Section | None) -> Fraction | None:
    """Return the angle of the long side where it goes round."""
    if "long" in entry:
        value = entry.data["long"]
        named = next((face for face in FACES if face == value), None)
        words = section.words if section is not None else "tube"
        text = f"the long side of a {words} is an angle, not {shown(value)}"
        entry.wrong("long", text, f"Write long_deg = {FACE_DEG[named]}" if named else TURN)
        return None
    if "long_deg" not in entry:
        entry.missing("long_deg", f"Write where it stays long. {TURN}")
        return None
    turned = number(entry, "long_deg", 0, least=-360, most=360, remedy=TURN)
    return None if turned is None else turned % 360
