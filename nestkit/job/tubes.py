"""The tubes of a job: cut lengths of any section, with their holes, ends and how their templates lie."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from nestkit.geometry.section import Kind, Section
from nestkit.job.entry import Entry
from nestkit.job.methods import read_method
from nestkit.job.mitres import read_mitres
from nestkit.job.sections import section_of
from nestkit.job.shown import shown
from nestkit.job.tube_holes import Match, read_tube_holes
from nestkit.job.values import choice, count, length, text
from nestkit.parts.tube import Paper, Tube, Twin, numbered
from nestkit.trade.rules import rule
from nestkit.units import with_unit

PANELS_ONLY = ("thickness", "width", "height", "disc", "corner_radius", "chamfer", "faces", "grain", "turn")
"""Columns of a spreadsheet that a row with a section leaves empty."""

# A strip has one face that a template lies on; over both legs of an angle lies an L.
_TEMPLATES: dict[Kind, tuple[Paper, ...]] = {
    "tube": ("strips", "corner", "wrap"),
    "angle": ("strips", "corner"),
    "strip": ("strips",),
    "round": ("wrap",),
    "rod": ("wrap",),
}
_GIRTH_OUT = Fraction(5, 100)
_GIRTH_FOLDS = 8


@dataclass(frozen=True, slots=True)
class TubeRead:
    """A tube as read, None where anything of it is wrong, and what is checked once all are read.

    ``name`` and ``groups`` are what the job calls it and its holes, also where they are wrong.
    """

    tube: Tube | None
    name: str
    groups: frozenset[str]
    matches: tuple[Match, ...]


def read_tube(entry: Entry, fold: float | None) -> TubeRead:
    """Return a tube; ``fold`` is what the paper adds at a corner, None where the rules decide."""
    before = len(entry.notes)
    name = text(entry, "name", required=True, slash=False)
    used_for = text(entry, "for")
    material = text(entry, "material", required=True)
    section = section_of(entry)
    long = length(entry, "length", required=True)
    quantity = count(entry, "quantity", 1)
    others = [count(entry, key, 0) for key in ("opposite_hand", "spare", "spare_if_room")]
    revision = text(entry, "revision")
    method = read_method(entry)
    if entry.level == "row of a spreadsheet":
        _note_panels_columns(entry)
    mitres = read_mitres(entry, section, long)
    holes = read_tube_holes(entry, None if section is not None and section.kind == "roll" else section)
    paper, corner, girth = _template(entry, section), _corner(entry, section), _girth(entry, section, fold)
    _check_roll(entry, section)
    told = entry.data.get("name")
    read = TubeRead(None, told.strip() if isinstance(told, str) else "", holes.names, holes.matches)
    if len(entry.notes) > before or section is None or long is None or not (name and material):
        return read
    tube = Tube(
        name=name,
        place=f"tube {shown(name)}",
        material=material,
        section=section,
        length=long,
        holes=numbered(holes.groups, section, long),
        mitres=mitres,
        used_for=used_for or "",
        quantity=quantity or 0,
        opposite_hand=others[0] or 0,
        spare=others[1] or 0,
        spare_if_room=others[2] or 0,
        revision=revision or "",
        line=entry.line,
        paper=paper,
        corner=corner,
        girth=girth,
        twins=tuple(Twin(match.group, match.tube, match.of_group) for match in holes.matches),
        method=method,
    )
    return TubeRead(tube, tube.name, holes.names, holes.matches)


def _note_panels_columns(row: Entry) -> None:
    for key in PANELS_ONLY:
        if key in row:
            text = f"a row with a section is a cut length, which has no {key}"
            row.wrong(key, text, "Empty this cell, or that of the section")


def _check_roll(entry: Entry, section: Section | None) -> None:
    """Note holes and ends of what comes off a roll, which is cut square with scissors."""
    if section is None or section.kind != "roll":
        return
    for key, what in (("holes", "not drilled"), ("mitre_0", "cut square"), ("mitre_1", "cut square")):
        if key in entry:
            entry.wrong(key, f"what comes off a roll is {what}", "Leave it out, or write another section")


def _template(entry: Entry, section: Section | None) -> Paper:
    """Return how the template lies around a tube: as the job says, else a strip a face, or right round."""
    usual: Paper = "wrap" if section is not None and section.is_round else "strips"
    said: Paper | None = choice(entry, "template", get_args(Paper), usual)
    if said is None or section is None or "template" not in entry:
        return usual
    allowed = _TEMPLATES.get(section.kind, ())
    if said in allowed:
        return said
    remedy = "Leave it out"
    if section.kind == "angle":
        remedy = 'Write "corner": it lies over both legs'
    elif allowed:
        remedy = f'Leave it out, or write "{allowed[0]}"'
    text = f"there is no template {shown(said)} for {section.words}"
    entry.wrong("template", text, remedy)
    return usual


def _corner(entry: Entry, section: Section | None) -> Fraction | None:
    """Return the outside corner radius as measured; None leaves it to the tables."""
    if "corner_radius" not in entry or entry.level == "row of a spreadsheet":
        return None
    radius = length(entry, "corner_radius", "amount")
    if section is None or radius is None:
        return radius
    if section.kind != "tube":
        text = f"there are no rounded corners on {section.words}"
        entry.wrong("corner_radius", text, "Leave it out: only square and rectangular tube has them")
    elif 2 * radius > min(section.a, section.b):
        text = f"{shown(entry.data['corner_radius'])} is more than half the smaller side"
        entry.wrong("corner_radius", text, "Write the outside radius as measured with a radius gauge")
    return radius


def _girth(entry: Entry, section: Section | None, fold: float | None) -> Fraction | None:
    """Return the way around a round section as measured; None leaves it to reckoning."""
    girth = length(entry, "girth")
    if section is None or girth is None:
        return girth
    if not section.is_round:
        entry.wrong(
            "girth",
            f"the girth of {section.words} is not asked for",
            "Leave it out: only round tube and rod are measured around",
        )
        return girth
    around = Fraction(math.pi) * section.a
    fold_rule = rule("R109")
    paper = Fraction(fold) if fold is not None else fold_rule.mm(fold_rule.typical)
    off = _GIRTH_OUT * around
    if not around - off <= girth <= around + off + _GIRTH_FOLDS * paper:
        unit = entry.notes.unit
        text = (
            f"{with_unit(girth, unit)} around does not agree with {with_unit(section.a, unit)} across, "
            f"which makes {with_unit(around, unit)}"
        )
        entry.wrong("girth", text, "Measure both once more: wrap a strip of paper once around and mark it")
    return girth
