"""What holds a joint: screws, blind rivets, wood screws, cable ties, hook-and-loop tape."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from nestkit.job.entry import Entry
from nestkit.job.holes import clearance_of, note_unknown
from nestkit.job.shown import shown
from nestkit.job.values import choice, flag, length, text
from nestkit.parts.joint import FastenerKind, Head, HeldBy, Washers
from nestkit.trade.screws import UnknownScrew, plain_screw
from nestkit.units import MM_PER_INCH, Unit, decimal_text, with_unit

KINDS: dict[str, FastenerKind] = {
    "screw": "screw",
    "rivet": "rivet",
    "wood_screw": "wood screw",
    "cable_tie": "cable tie",
    "hook_and_loop": "hook-and-loop",
}
"""The key of each kind, of which a joint has one."""

GO_THROUGH: tuple[FastenerKind, ...] = ("screw", "rivet", "wood screw")
"""Kinds that fill the holes they go through, and whatever lies loose between the parts."""

_SAID: dict[FastenerKind, str] = {
    "screw": "a screw",
    "rivet": "a blind rivet",
    "wood screw": "a wood screw",
    "cable tie": "a cable tie",
    "hook-and-loop": "hook-and-loop",
}
_BY_TIE = ("held_by", "head", "washers", "thread_locker", "head_on")
# Keys that say nothing of a kind: each would be lost without a word.
_IDLE: dict[FastenerKind, tuple[str, ...]] = {
    "screw": (),
    "rivet": ("held_by", "thread_locker"),
    "wood screw": ("thread_locker",),
    "cable tie": _BY_TIE,
    "hook-and-loop": (*_BY_TIE, "made", "held", "chance", "turned_over", "position"),
}
_HOLDING: dict[FastenerKind, tuple[HeldBy, ...]] = {
    "screw": ("lock nut", "nut", "rivet nut", "tapped hole"),
    "wood screw": ("wood",),
}
_LARGEST_WOOD_SCREW, _THICKEST_WOOD_SCREW = 24, 12


@dataclass(frozen=True, slots=True)
class FastenerRead:
    """A fastener as a joint names it; ``held_by`` is None where that is left to what it goes into."""

    kind: FastenerKind
    size: str
    dia: Fraction
    held_by: HeldBy | None
    head: Head
    washers: Washers | None
    length: Fraction | None
    thread_locker: bool


def fastener_kind(joint: Entry) -> FastenerKind | None:
    """Return what kind of fastener a joint names; none, or more than one, is noted."""
    which = joint.one_of(tuple(KINDS), f"Say what holds it together: {', '.join(KINDS)}")
    return KINDS[which] if which is not None else None


def read_fastener(joint: Entry, kind: FastenerKind | None) -> FastenerRead | None:
    """Return what holds a joint; None where it is wrong. Without a kind, what is there is still read."""
    before = len(joint.notes)
    # Where two kinds stand, each is still read, so that its own mistakes show in the same run.
    sizes = {KINDS[key]: reader(joint) for key, reader in _READERS.items() if key in joint}
    for key in _IDLE[kind] if kind is not None else ():
        if key in joint:
            joint.wrong(key, f"{key} does not go with {_SAID[kind or 'screw']}", "Leave it out")
    idle = _IDLE[kind] if kind is not None else ()
    held_by = _held_by(joint, kind) if "held_by" in joint and "held_by" not in idle else None
    head: Head | None = choice(joint, "head", get_args(Head), "pan")
    washers = _washers(joint, held_by, kind) if "washers" in joint and "washers" not in idle else None
    long = length(joint, "length")
    locker = flag(joint, "thread_locker", False)
    size = sizes.get(kind) if kind is not None else None
    if len(joint.notes) > before or kind is None or size is None or head is None:
        return None
    return FastenerRead(kind, *size, held_by, head, washers, long, locker)


def _held_by(joint: Entry, kind: FastenerKind | None) -> HeldBy | None:
    """Return what holds the far end, as the joint says it."""
    allowed = _HOLDING.get(kind) if kind is not None else None
    said: HeldBy | None = choice(joint, "held_by", allowed or get_args(HeldBy)[:-1])
    return said


def _washers(joint: Entry, held_by: HeldBy | None, kind: FastenerKind | None) -> Washers | None:
    """Return where washers go; under a nut there must be one."""
    said: Washers | None = choice(joint, "washers", get_args(Washers))
    no_nut = held_by in ("tapped hole", "rivet nut", "wood") or kind == "wood screw"
    if said in ("nut", "both") and no_nut:
        text = f"washers {shown(said)} ask for a nut, and there is none"
        joint.wrong("washers", text, 'Write "head" or "none"')
    return said


def _screw(joint: Entry) -> tuple[str, Fraction] | None:
    name = text(joint, "screw")
    if not name:
        return None
    try:
        return plain_screw(name), clearance_of(name, None).major
    except UnknownScrew as fault:
        note_unknown(joint, "screw", str(fault))
        return None


def _wood_screw(joint: Entry) -> tuple[str, Fraction] | None:
    """Return the name and diameter of a wood screw, by its number or in mm.

    A number stands for .060 in and .013 in more each (ASME B18.6.1, from memory).
    """
    name = text(joint, "wood_screw")
    if not name:
        return None
    found = re.fullmatch(r"(?:#|no\.?) ?([0-9]{1,2})", name.lower(), re.ASCII)
    if found and int(found[1]) <= _LARGEST_WOOD_SCREW:
        number = int(found[1])
        return f"#{number}", (Fraction("0.060") + Fraction("0.013") * number) * MM_PER_INCH
    found = re.fullmatch(r"([0-9]{1,2}(?:\.[0-9]{1,2})?) ?mm", name.lower(), re.ASCII)
    if found and 1 <= Fraction(found[1]) <= _THICKEST_WOOD_SCREW:
        return f"{decimal_text(Fraction(found[1]))} mm", Fraction(found[1])
    remedy = f'Write its number, "#0" to "#{_LARGEST_WOOD_SCREW}", or its diameter such as "4 mm"'
    joint.wrong("wood_screw", f"there is no wood screw {shown(name)}", remedy)
    return None


def _measured(
    key: str, least: int, most: int, example: str
) -> Callable[[Entry], tuple[str, Fraction] | None]:
    """Return the reader of a kind that goes by a length, from ``least`` to ``most`` mm."""

    def read(joint: Entry) -> tuple[str, Fraction] | None:
        size = length(joint, key)
        if size is None:
            return None
        if not least <= size <= most:
            text = f"{shown(joint.data[key])} is out of range"
            joint.wrong(key, text, f"Write {least} to {most} mm, such as {example}")
            return None
        return with_unit(size, _own_unit(joint.data[key]) or joint.notes.unit), size

    return read


def _own_unit(value: object) -> Unit | None:
    """Return the unit that a length is written with, as it is bought by it; None where it has none."""
    written = value.lower() if isinstance(value, str) else ""
    if any(sign in written for sign in ("in", '"', "\u2033", "\u201d")):
        return "in"
    return "mm" if written.rstrip().endswith("m") else None


_READERS: dict[str, Callable[[Entry], tuple[str, Fraction] | None]] = {
    "screw": _screw,
    "rivet": _measured("rivet", 1, 12, '"1/8 in" or "3.2 mm"'),
    "wood_screw": _wood_screw,
    "cable_tie": _measured("cable_tie", 1, 30, 'the width "3/16 in" or "4.8 mm"'),
    "hook_and_loop": _measured("hook_and_loop", 5, 300, 'the width "1 in" or "25 mm"'),
}
