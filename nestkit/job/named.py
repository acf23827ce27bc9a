"""What joints may name: every part of a job with its groups of holes, also those that have mistakes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from nestkit.job.entry import Entry
from nestkit.job.outlines.read import DRAWN
from nestkit.job.schema import LEVELS
from nestkit.job.shown import shown
from nestkit.job.values import name_fault
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube, TubeHole

AnyPart = Panel | Tube | Bought


@dataclass(frozen=True, slots=True)
class Named:
    """A part under its name; ``part`` is None where anything of it is wrong, and then little is asked of it.

    ``groups`` are its named groups of holes with their numbers, which are known of a sound part only; None
    where not even the names can be told for sure.
    """

    kind: str
    part: AnyPart | None
    groups: Mapping[str, tuple[int, ...]] | None

    @property
    def holes(self) -> tuple[Hole | TubeHole, ...]:
        """All holes of the part, none where it has a mistake."""
        return self.part.holes if self.part is not None else ()


@dataclass(frozen=True, slots=True)
class NamedParts:
    """All parts by name. Not ``all_there`` where one may exist whose name could not be read."""

    parts: Mapping[str, Named]
    all_there: bool


def named_parts(
    top: Entry, entries: Iterable[tuple[Entry, AnyPart | None]], *, all_there: bool
) -> NamedParts:
    """Return the parts that joints may name.

    A part that a mistake keeps from being read has its name all the same, also one in a table that is
    misspelt, so that no joint is blamed for it.
    """
    parts: dict[str, Named] = {}
    for entry, part in entries:
        name = _told(entry.data)
        if name is None:
            all_there = False
        elif name in parts:
            # Two of one name: which of them a joint means is not known.
            parts[name] = Named("part", None, None)
        else:
            parts[name] = _named(entry, part)
    for name in _stray_names(top):
        parts.setdefault(name, Named("part", None, None))
    return NamedParts(parts, all_there)


def _named(entry: Entry, part: AnyPart | None) -> Named:
    kind = {Panel: "panel", Tube: "tube", Bought: "bought part"}.get(type(part), "part")
    strange = (value for key, value in entry.data.items() if key not in LEVELS[entry.level].keys)
    if part is None or any(tables_in(value) for value in strange):
        # A table under a misspelt key may be its holes.
        return Named(kind, None, _told_groups(entry))
    groups: dict[str, list[int]] = {}
    for hole in part.holes:
        if hole.group:
            groups.setdefault(hole.group, []).append(hole.number)
    return Named(kind, part, {name: tuple(numbers) for name, numbers in groups.items()})


def _told_groups(entry: Entry) -> Mapping[str, tuple[int, ...]] | None:
    """Return the names of groups of holes as written; None unless each of them has one."""
    names = [_told(table) for table in tables_in(entry.data.get("holes"))]
    if "outline" in entry.data and names:
        names.append(DRAWN)
    whole: dict[str, tuple[int, ...]] = {name: () for name in names if name is not None}
    return whole if names and None not in names else None


def _told(table: Mapping[str, object]) -> str | None:
    """Return the name that a table gives itself, None where it gives none that could be meant."""
    name = table.get("name")
    if not isinstance(name, str) or not name.strip() or name_fault(name.strip(), slash=False):
        return None
    return name.strip()


def _stray_names(top: Entry) -> Iterator[str]:
    """Yield the names in tables that are no parts only because their header is wrong."""
    for key, value in top.data.items():
        single = isinstance(value, dict) and key in ("panel", "tube", "bought")
        if single or key not in LEVELS["top"].keys:
            yield from (name for table in tables_in(value) if (name := _told(table)))


def tables_in(value: object) -> list[dict[str, object]]:
    """Return the tables that a value is or lists."""
    listed = value if isinstance(value, list) else [value]
    return [table for table in listed if isinstance(table, dict)]


def listed(names: Iterable[str]) -> str:
    """Return names as a message lists them: in quotes, six at most."""
    all_names = list(names)
    said = ", ".join(shown(name) for name in all_names[:6])
    return said + (f" and {len(all_names) - 6} more" if len(all_names) > 6 else "")
