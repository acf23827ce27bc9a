"""The holes of a tube: on which face or at which angle, where along it, and what makes them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.geometry.section import FACE_DEG, FACES, Face, Section
from nestkit.job.entry import LONGEST_NAME, Entry
from nestkit.job.holes import read_drill
from nestkit.job.patterns import MOST_HOLES
from nestkit.job.shown import shown
from nestkit.job.values import MOST_PIECES, choice, count, flag, length, length_at, number, text
from nestkit.parts.tube import HoleGroup, row
from nestkit.units import with_unit

ALONG = ("at", "row")
_ENDS = ("end 0", "end 1")
_CENTRE = ("centre", "center")
_LIST = 'Write the distances along the tube as a list, at = ["1/2", 4, 8]'
TURN = "Write degrees from -360 to 360, counted from A towards B: A is 0, B is 90"


@dataclass(frozen=True, slots=True)
class Match:
    """A group that must lie along its tube as another does: where it says so, and of which it says it."""

    entry: Entry
    group: str
    tube: str
    of_group: str


@dataclass(frozen=True, slots=True)
class HolesRead:
    """What was read of a tube's holes; ``names`` are those of all groups, also of wrong ones."""

    groups: tuple[HoleGroup, ...]
    matches: tuple[Match, ...]
    names: frozenset[str]


def read_tube_holes(tube: Entry, section: Section | None) -> HolesRead:
    """Return the groups of holes of a tube in file order; where its section is wrong, only their mistakes."""
    groups: list[HoleGroup] = []
    matches: list[Match] = []
    names: set[str] = set()
    for entry in tube.children("holes", "tube holes"):
        name = text(entry, "name", slash=False)
        if name and name in names:
            entry.wrong("name", f"two groups of holes of this part are called {shown(name)}", "Rename one")
        told = entry.data.get("name")
        names |= {told.strip()} if isinstance(told, str) else set()
        group = _group(entry, section, name or "")
        tube.notes.holes += len(group.at) if group else 0
        if group and tube.notes.holes <= MOST_PIECES:
            groups.append(group)
        match = _match(entry, name)
        if match:
            matches.append(match)
    return HolesRead(tuple(groups), tuple(matches), frozenset(names))


def _group(entry: Entry, section: Section | None, name: str) -> HoleGroup | None:
    before = len(entry.notes)
    drill = read_drill(entry)
    face = _face(entry, section)
    at_deg = _at_deg(entry, section)
    across = _across(entry, section, face)
    through = flag(entry, "through", False)
    start = choice(entry, "from", _ENDS, "end 0")
    places = _along(entry)
    if len(entry.notes) > before or drill is None or not places:
        return None
    return HoleGroup(
        name=name,
        drill=drill,
        at=places,
        face=face,
        at_deg=at_deg,
        across=across,
        through=through,
        from_end=1 if start == "end 1" else 0,
    )


def _face(entry: Entry, section: Section | None) -> Face | None:
    """Return the face of a group; on a round section there is none, and the angle counts."""
    named = next((face for face in FACES if face == entry.data.get("face")), None)
    if section is None:
        return choice(entry, "face", FACES) if "face" in entry else None
    if section.is_round:
        if "face" in entry:
            remedy = f"Write at_deg = {FACE_DEG[named]} instead, counted from A towards B" if named else TURN
            entry.wrong("face", f"holes of a {section.words} go by angle, not by face", remedy)
        return None
    if "face" not in entry:
        # An angle in its stead is noted where it is read.
        if "at_deg" not in entry:
            entry.missing("face", f"Write on which face the holes are: {_faces(section)}")
        return None
    if named and named not in section.faces:
        back = ", and through = true for both sides" if section.kind == "strip" else ""
        entry.wrong("face", f"{section.words} has no face {named}", f"Write {_faces(section)}{back}")
        return None
    return choice(entry, "face", section.faces)


def _faces(section: Section) -> str:
    return " or ".join(f'"{face}"' for face in section.faces)


def _at_deg(entry: Entry, section: Section | None) -> Fraction:
    """Return the angle of a group on a round section, 0 on others."""
    if section is not None and not section.is_round:
        if "at_deg" in entry:
            text = f"holes of {section.words} go by face, not by angle"
            entry.wrong("at_deg", text, f"Write face = {_faces(section)}")
    elif section is not None and not {"at_deg", "face"} & set(entry.data):
        entry.missing("at_deg", TURN)
    return number(entry, "at_deg", 0, least=-360, most=360, remedy=TURN) or Fraction(0)


def _across(entry: Entry, section: Section | None, face: Face | None) -> Fraction | None:
    """Return how far the holes are from the edge shared with the next letter; None in the middle."""
    value = entry.data.get("across")
    if "across" in entry and section is not None and section.is_round:
        text = f"a {section.words} has no edge to measure across from"
        entry.wrong("across", text, "Leave it out: at_deg says where around the holes are")
        return None
    if "across" not in entry or (isinstance(value, str) and value.strip() in _CENTRE):
        return None
    edge = "the next letter"
    if section is not None and face is not None:
        edge = "the heel" if section.kind == "angle" else f"the edge of {section.next_face(face)}"
    if isinstance(value, str) and not any(c.isdigit() for c in value):
        remedy = f'Write "centre", or how far from {edge}'
        entry.wrong("across", f"{shown(value)} is neither the centre nor a length", remedy)
        return None
    across = length(entry, "across", "amount")
    if across is None or section is None or face is None:
        return across
    width = section.width(face)
    if across > width:
        wide = with_unit(width, entry.notes.unit)
        remedy = f'Write 0 to {wide}, counted from {edge}, or "centre"'
        entry.wrong("across", f"{shown(value)} is past face {face}, which is {wide} wide", remedy)
    return across


def _along(entry: Entry) -> tuple[Fraction, ...] | None:
    """Return the places along the tube in their order; None where something is wrong."""
    which = entry.one_of(ALONG, "Say where along the tube the holes are: at or row")
    # Where both stand, each is still read, so that its own mistakes show in the same run.
    read = {key: reader(entry) for key, reader in (("at", _list), ("row", _row)) if key in entry}
    return read[which] if which is not None else None


def _list(entry: Entry) -> tuple[Fraction, ...] | None:
    value = entry.data["at"]
    if not isinstance(value, list):
        entry.wrong("at", f"a list is wanted, not {shown(value)}", _LIST)
        return None
    if not 1 <= len(value) <= MOST_PIECES:
        entry.wrong("at", f"1 to {MOST_PIECES:,} distances are wanted, not {len(value)}", _LIST)
        return None
    pairs = [i for i, place in enumerate(value) if isinstance(place, list)]
    if pairs:
        text = f"one distance along the tube is wanted, not {shown(value[pairs[0]])}"
        entry.wrong("at", text, f"{_LIST}; across says how far across the face", pairs[0])
        return None
    found = [length_at(entry, "at", i, "place") for i in range(len(value))]
    whole = tuple(place for place in found if place is not None)
    return whole if len(whole) == len(found) else None


def _row(entry: Entry) -> tuple[Fraction, ...] | None:
    table = entry.child("row", "tube row")
    if table is None:
        return None
    start = length(table, "start", "place", required=True)
    holes = count(table, "count", None, least=1, most=MOST_HOLES)
    which = table.one_of(
        ("end", "pitch"), "Write where the last hole is (end), or the step to the next (pitch)"
    )
    read = {key: length(table, key, "place") for key in ("end", "pitch") if key in table}
    if start is None or holes is None or which is None or read[which] is None:
        return None
    try:
        return row(start, holes, **{which: read[which]})
    except ValueError as fault:
        table.wrong(which, str(fault), "Make the step longer than 0")
        return None


def _match(entry: Entry, name: str | None) -> Match | None:
    """Return the group of a tube that this one must match; whether there is one is not looked at."""
    told = text(entry, "matches", longest=2 * LONGEST_NAME + 3)
    if not told:
        return None
    parts = [part.strip() for part in told.split("/")]
    if len(parts) != 2 or not all(parts):
        remedy = 'Write the tube, a slash and its group: matches = "deck frame / lid side"'
        entry.wrong("matches", f"{shown(told)} does not name one group of one tube", remedy)
        return None
    if not name:
        if name is not None:
            entry.missing("name", "Give this group its name", "a group that matches another has a name")
        return None
    return Match(entry, name, parts[0], parts[1])
