"""What a joint goes through: parts and their holes, in the order of the stack."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.job.entry import LONGEST_NAME, Entry
from nestkit.job.named import Named, NamedParts, listed
from nestkit.job.nearest import Nearest
from nestkit.job.shown import shown
from nestkit.text import number_list

MOST_HOLES = 1000
"""Holes of one part in a joint at most."""
MOST_PARTS = 50
"""Entries of a joint at most."""
_EXAMPLE = 'through = ["console lid / hinge : 1,2", "hinge / leaf"]'
_NUMBERS = re.compile(r"[0-9]{1,7}(?:\s*,\s*[0-9]{1,7})*", re.ASCII)


@dataclass(frozen=True, slots=True)
class Layer:
    """A part in a joint and its holes there; without holes it stands alone. ``index`` is its first entry."""

    index: int
    name: str
    named: Named
    holes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Through:
    """What a joint goes through: the layers of those entries that have no mistake, nor a part that has one.

    They are ``whole`` where that is all of them. ``names`` are the parts as written, None where not all of
    them are parts of the job for certain.
    """

    layers: tuple[Layer, ...] = ()
    whole: bool = False
    names: tuple[str, ...] | None = None


class ThroughReader:
    """Reads ``through`` of one joint after the other, against the parts of the job."""

    __slots__ = ("nearest", "parts")

    def __init__(self, parts: NamedParts) -> None:
        self.parts, self.nearest = parts, Nearest()

    def read(self, joint: Entry) -> Through:
        """Return the layers of a joint as written; what is wrong with an entry is noted."""
        if "through" not in joint:
            joint.missing("through", f"Write the parts with their holes, {_EXAMPLE}")
            return Through()
        value = joint.data["through"]
        if not isinstance(value, list) or not value:
            joint.wrong("through", f"a list of parts is wanted, not {shown(value)}", f"Write {_EXAMPLE}")
            return Through()
        if len(value) > MOST_PARTS:
            joint.wrong("through", f"{len(value)} entries are too many", f"Write at most {MOST_PARTS}")
            return Through()
        before = len(joint.notes)
        read = [self._layer(joint, i, said) for i, said in enumerate(value)]
        names = tuple(r.name for r in read if r is not None and r.name in self.parts.parts)
        sound = [r for r in read if r is not None and r.named.part is not None]
        whole = len(sound) == len(read) and len(joint.notes) == before
        return Through(tuple(_stacked(sound)), whole, names if len(names) == len(value) else None)

    def _layer(self, joint: Entry, index: int, said: object) -> Layer | None:
        """Return one entry; None where it does not say what part it is, or which of its holes."""
        if not isinstance(said, str) or not said.strip():
            text = f"a part with its holes is wanted, not {shown(said)}"
            joint.wrong("through", text, f"Write {_EXAMPLE}", index)
            return None
        name, slash, rest = (word.strip() for word in said.partition("/"))
        if not name or (slash and not rest):
            text = f"{shown(said)} lacks {'its group of holes' if name else 'the part'}"
            joint.wrong("through", text, f"Write PART / GROUP, {_EXAMPLE}", index)
            return None
        named = self._named(joint, index, name, alone=not slash)
        holes = self._holes(joint, index, name, rest, named) if slash else ()
        return None if named is None or holes is None else Layer(index, name, named, holes)

    def _named(self, joint: Entry, index: int, name: str, *, alone: bool) -> Named | None:
        """Return the part of a name; None where there is none, which is noted if it is certain."""
        known = self.parts.parts
        if name in known:
            return known[name]
        if alone and ":" in name and name.rpartition(":")[0].strip() in known:
            text = f"{shown(name)} has numbers of holes without their group"
            joint.wrong("through", text, 'Write "PART / GROUP : 1,2"', index)
        elif self.parts.all_there:
            near = self.nearest(name[:LONGEST_NAME], known)
            remedy = (
                f"Did you mean {shown(near)}" if near else "Write the name of a panel, tube or bought part"
            )
            joint.wrong("through", f"{shown(name)} is no part of this job", remedy, index)
        return None

    def _holes(
        self, joint: Entry, index: int, name: str, rest: str, named: Named | None
    ) -> tuple[int, ...] | None:
        """Return the numbers of the holes that an entry names; none of a part that has a mistake."""
        groups = named.groups if named is not None else None
        if groups is not None and rest in groups:
            return self._few(joint, index, groups[rest])
        group, colon, told = (word.strip() for word in rest.rpartition(":"))
        if colon and not _NUMBERS.fullmatch(told):
            text = f"behind the colon numbers of holes are wanted, not {shown(told)}"
            joint.wrong("through", text, f"Write each, with commas between: {_EXAMPLE}", index)
            return None
        group = group if colon else rest
        numbers = self._few(joint, index, tuple(map(int, told.split(","))) if colon else ())
        if numbers is None or groups is None or named is None:
            return numbers
        if group not in groups:
            self._note_group(joint, index, name, group, named)
            return None
        has = groups[group]
        others = set(numbers).difference(has) if named.part is not None else set()
        if others:
            text = f"{shown(group)} has {_holes_said(has)}, not {number_list(others)}"
            remedy = "Write numbers of that group: they run through all groups of a part"
            joint.wrong("through", text, remedy, index)
            return None
        return numbers

    def _few(self, joint: Entry, index: int, numbers: tuple[int, ...]) -> tuple[int, ...] | None:
        """Return numbers of holes; too many, or one that stands there twice, are noted."""
        if len(numbers) > MOST_HOLES:
            text = f"{len(numbers):,} holes are too many for one joint"
            joint.wrong("through", text, f"Name at most {MOST_HOLES:,}, and make several joints", index)
            return None
        if len(set(numbers)) < len(numbers):
            twice = next(n for i, n in enumerate(numbers) if n in numbers[:i])
            joint.wrong("through", f"hole {twice} stands there twice", "Write each number once", index)
            return None
        return numbers

    def _note_group(self, joint: Entry, index: int, name: str, group: str, named: Named) -> None:
        """Note a group of holes that a part does not have."""
        groups = named.groups or {}
        text = f"{named.kind} {shown(name)} has no group of holes {shown(group)}"
        near = self.nearest(group[:LONGEST_NAME], groups)
        if near:
            remedy = f"Did you mean {shown(f'{name} / {near}')}"
        elif groups:
            remedy = f"Write one that it has: {listed(groups)}"
        elif named.holes:
            remedy = "Give its group of holes a name, and write that"
        else:
            remedy = "Give it a group of holes with a name"
        if "/" in group:
            remedy = f"Write one slash, between the part and its group; {remedy[:1].lower()}{remedy[1:]}"
        joint.wrong("through", text, remedy, index)


def _holes_said(numbers: Sequence[int]) -> str:
    return f"hole {numbers[0]}" if len(numbers) == 1 else f"holes {number_list(numbers)}"


def _stacked(entries: Sequence[Layer]) -> Iterator[Layer]:
    """Yield entries of one part that follow one another as one layer, as long as they share no hole."""
    last: Layer | None = None
    for entry in entries:
        if last is not None and _beside(last, entry):
            last = Layer(last.index, last.name, last.named, (*last.holes, *entry.holes))
            continue
        if last is not None:
            yield last
        last = entry
    if last is not None:
        yield last


def _beside(last: Layer, entry: Layer) -> bool:
    """Say whether an entry is more holes of the same piece of a part as the one before."""
    both = last.name == entry.name and bool(last.holes and entry.holes)
    return both and not set(last.holes) & set(entry.holes)
