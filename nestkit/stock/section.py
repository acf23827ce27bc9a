"""Sections from the text of a job, back to text, and what the trade tables say of them."""

from __future__ import annotations

import difflib
import itertools
import re
from dataclasses import dataclass
from fractions import Fraction

from nestkit.errors import LengthError, UserError
from nestkit.geometry.section import SIZES, Kind, Section
from nestkit.trade.materials import density, family
from nestkit.trade.rules import Rule, rule
from nestkit.units import LARGEST, SMALLEST, Unit, length_text, parse_length

LONGEST = 60
"""Characters of a section's text at most."""

EXAMPLES: dict[Kind, str] = {
    "tube": "1 x 1 x 1/16",
    "round": "round 1 x 1/16",
    "rod": "rod 1/4",
    "angle": "angle 1 x 1 x 1/8",
    "strip": "strip 1 x 1/8",
    "roll": "roll 1",
}
_WORDS: tuple[Kind, ...] = ("round", "rod", "angle", "strip", "roll")
_ALL = "write one such as " + ", ".join(f'"{text}"' for text in EXAMPLES.values())
_BETWEEN = re.compile(r"\s*[xX×]\s*")
_UNIT_AT_END = re.compile(r"(?:[A-Za-z]+\.?|[\"″”]|'')$")


class SectionError(UserError, ValueError):
    """A text that is no section: ``reason`` says why, ``remedy`` what to write."""

    def __init__(self, reason: str, remedy: str = _ALL) -> None:
        self.reason, self.remedy = reason, remedy
        super().__init__(f"{reason}; {remedy}")


def read_section(text: str, unit: Unit) -> Section:
    """Return the section that a job means by ``text``, exact in millimetres.

    Bare numbers are in ``unit``; a unit of its own stands once, after the last size, or after each.

    >>> read_section("1 x 1 x 1/16", "in").words, float(read_section("round 25 x 1.5 mm", "in").inner_dia)
    ('square tube', 22.0)

    Raises :class:`SectionError`.
    """
    if len(text) > LONGEST:
        raise SectionError("the text is too long for a section")
    clean = text.strip()
    if not clean:
        raise SectionError("an empty text is not a section")
    if not clean.isprintable():
        raise SectionError(
            f"{text!r} has a sign that does not print", "write it in plain letters and figures"
        )
    word = "".join(itertools.takewhile(str.isalpha, clean))
    kind = _kind(word, text)
    pieces = _BETWEEN.split(clean[len(word) :].strip())
    _check_count(kind, pieces, text)
    if not all(pieces):
        raise SectionError(f"{text!r} lacks a size beside an x", _written(kind))
    sizes = [_size(piece, unit, text) for piece in _with_units(pieces, text)]
    return _section(kind, sizes, text)


def _kind(word: str, text: str) -> Kind:
    if not word:
        return "tube"
    for kind in _WORDS:
        if word.lower() == kind:
            return kind
    near = difflib.get_close_matches(word.lower(), _WORDS, 1)
    if near:
        raise SectionError(f"{text!r} begins with no known word", f'did you mean "{near[0]}"? {_ALL}')
    raise SectionError(f"{text!r} begins with no known word", f"{_ALL}; a tube with faces needs no word")


def _written(kind: Kind) -> str:
    return f'write {", ".join(SIZES[kind])}: "{EXAMPLES[kind]}"'


def _check_count(kind: Kind, pieces: list[str], text: str) -> None:
    wanted = len(SIZES[kind])
    if len(pieces) == wanted and pieces != [""]:
        return
    remedy = _written(kind)
    if kind == "tube" and len(pieces) == 2 and all(map(_readable, pieces)):
        a, b = pieces
        remedy = f'write "strip {a} x {b}", or the wall of a tube too: "{EXAMPLES["tube"]}"'
        if 2 * parse_length(b, "in") < parse_length(a, "in"):
            remedy = f'write "{a} x {a} x {b}" for square tube, "round {a} x {b}" or "strip {a} x {b}"'
    elif kind == "tube" and len(pieces) == 1 and _readable(pieces[0]):
        remedy = f'write "rod {pieces[0]}" or "roll {pieces[0]}", or all sizes: "{EXAMPLES["tube"]}"'
    have = "no size" if pieces == [""] else f"{len(pieces)} size{'s' * (len(pieces) != 1)}"
    raise SectionError(f"{text!r} has {have} where {wanted} {'is' if wanted == 1 else 'are'} wanted", remedy)


def _readable(piece: str) -> bool:
    """Say whether a size can be offered back: it is a length."""
    try:
        return parse_length(piece, "in") > 0
    except LengthError:
        return False


def _with_units(pieces: list[str], text: str) -> list[str]:
    """Return the sizes with the unit that stands after the last one written after each."""
    own = [_own_unit(piece) for piece in pieces]
    if all(own) or not any(own):
        return pieces
    tail = _UNIT_AT_END.search(pieces[-1])
    if any(own[:-1]) or tail is None:
        raise SectionError(
            f"{text!r} gives some sizes a unit and others none",
            'write it once, after the last size ("25 x 25 x 2 mm"), or after each',
        )
    return [f"{piece} {tail[0]}" for piece in pieces[:-1]] + pieces[-1:]


def _own_unit(piece: str) -> bool:
    """Say whether a size carries its unit: then the job's does not matter."""
    try:
        return parse_length(piece, "in") == parse_length(piece, "mm") != 0
    except LengthError:
        return False  # refused where it is read, with its reason


def _size(piece: str, unit: Unit, text: str) -> Fraction:
    try:
        mm = parse_length(piece, unit)
    except LengthError as fault:
        raise SectionError(f"in {text!r}, {fault.reason}", fault.remedy) from fault
    if mm <= 0:
        nothing = "nothing" if mm == 0 else "negative"
        raise SectionError(f"in {text!r}, {piece!r} is {nothing}", "write a length above 0")
    if not SMALLEST <= mm <= LARGEST:
        raise SectionError(f"in {text!r}, {piece!r} is out of range", "sizes run from 0.1 mm to 100 m")
    return mm


def _section(kind: Kind, sizes: list[Fraction], text: str) -> Section:
    a = sizes[0]
    b = Fraction(0) if kind == "roll" else a if kind in {"round", "rod"} else sizes[1]
    wall = sizes[-1] if kind in {"tube", "round", "angle"} else Fraction(0)
    try:
        return Section(kind, a, b, wall)
    except ValueError as fault:
        remedy = {
            "strip": "write the width first, then the thickness",
            "angle": "make it less than both legs",
        }.get(kind, "make the wall less than half of it; what is solid is a strip or a rod")
        raise SectionError(f"{text!r}: {fault}", remedy) from fault


def section_text(section: Section, unit: Unit) -> str:
    """Return a section as a job writes it, in the job's unit.

    >>> section_text(read_section("ANGLE 1x1x.125 in", "mm"), "in")
    'angle 1 x 1 x 1/8'
    """
    sizes = " x ".join(length_text(size, unit) for size in section.sizes)
    return sizes if section.kind == "tube" else f"{section.kind} {sizes}"


def section_in_words(section: Section, unit: Unit) -> str:
    """Return a section with the trade's word for it and its unit.

    >>> section_in_words(read_section("1 x 1 x 1/16", "in"), "in")
    'square tube 1 x 1 x 1/16 in'
    >>> section_in_words(read_section("round 25 x 1.5", "mm"), "mm")
    'round tube 25 x 1.5 mm'
    """
    return f"{section.words} {section_text(section, unit).removeprefix(f'{section.kind} ')} {unit}"


@dataclass(frozen=True, slots=True)
class Corner:
    """The outside corner radius in mm to reckon with, and the rule that it comes from."""

    radius: Fraction
    rule: Rule


def corner(section: Section, material: str) -> Corner | None:
    """Return the usual outside corner radius of a square or rectangular tube.

    None where there is no such corner, or the table has no rule for the material: then it must be measured.
    """
    found = {"aluminium": "R124", "steel": "R125"}.get(family(material))
    if section.kind != "tube" or found is None:
        return None
    known = rule(found)
    if known.unit != "thickness":
        return Corner(known.mm(known.typical), known)
    radius = (known.typical or Fraction(0)) * section.wall
    return Corner(min(radius, section.a / 2, section.b / 2), known)


def kg_per_m(section: Section, material: str) -> float | None:
    """Return what a metre weighs, with sharp corners, so that the figure is never too low.

    None where the tables have no density, or the thickness is not known (off a roll). Rounded corners
    weigh less: about 0.1 % of extruded aluminium, up to a tenth of a small thick-walled steel tube.
    """
    row = density(material)
    if row is None or section.kind == "roll":
        return None
    return section.area() * float(row.density) / 1_000_000
