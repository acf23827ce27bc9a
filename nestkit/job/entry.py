"""One table of the job file while it is read: its keys, its place in words, its mistakes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from nestkit.errors import Mistake
from nestkit.job.lines import KeyPath
from nestkit.job.schema import LEVELS, LevelName, unknown_key
from nestkit.job.shown import escaped, shown
from nestkit.units import Unit

LONGEST_NAME = 60
"""Characters of a name at most."""


class Notes:
    """What one reading gathers: the mistakes so far, with the line of each."""

    def __init__(self, lines: Mapping[KeyPath, int], unit: Unit = "in") -> None:
        self.lines = lines
        self.unit: Unit = unit
        self.holes = 0
        self._found: list[tuple[int, Mistake]] = []

    def __len__(self) -> int:
        """Return how many mistakes were noted so far."""
        return len(self._found)

    def line_of(self, path: KeyPath) -> int | None:
        """Return the line of a key, or of the nearest table around it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.lines:
                return self.lines[path[:length]]
        return None

    def add(self, path: KeyPath, place: str, text: str, remedy: str, *, in_file: bool = True) -> None:
        """Note a mistake; ``in_file`` is False for one in a spreadsheet, whose rows have no line here."""
        line = self.line_of(path)
        self._found.append((line or 0, Mistake(place, text, remedy, line if in_file else None, path)))

    def mistakes(self) -> tuple[Mistake, ...]:
        """Return all mistakes in the order of the file."""
        return tuple(mistake for _, mistake in sorted(self._found, key=lambda found: found[0]))


class Entry:
    """One table: what it holds, and where it stands.

    A key that its level does not have is noted at once, so that no reader can forget it. ``besides``
    are keys that are read apart; ``meant`` keys that a noted misspelling stands for.
    """

    __slots__ = ("_meant", "data", "in_file", "level", "notes", "path", "place")

    def __init__(
        self,
        notes: Notes,
        data: Mapping[str, object],
        path: KeyPath,
        place: str,
        level: LevelName,
        *,
        in_file: bool = True,
        besides: frozenset[str] = frozenset(),
        meant: frozenset[str] = frozenset(),
    ) -> None:
        self.notes, self.data, self.path, self.place = notes, data, path, place
        self.level, self.in_file = level, in_file
        self._meant = set(meant)
        known = LEVELS[level].keys
        for key in data:
            if key not in known and key not in besides:
                text, remedy, seems = unknown_key(key, level, frozenset(data))
                self.wrong(key, text, remedy)
                if seems:
                    self._meant.add(seems)

    def __contains__(self, key: str) -> bool:
        return key in self.data

    def at(self, key: str, *index: int) -> str:
        """Return the place of a key, or of a value in its list, in words."""
        inside = escaped(key[:LONGEST_NAME]) + "".join(f"[{i}]" for i in index)
        return f"{self.place}, {inside}" if self.place else inside

    def wrong(self, key: str, text: str, remedy: str, *index: int) -> None:
        """Note a mistake in a key."""
        path = (*self.path, key, *index)
        self.notes.add(path, self.at(key, *index), text, remedy, in_file=self.in_file)

    def fault(self, text: str, remedy: str) -> None:
        """Note a mistake in the table as a whole."""
        self.notes.add(self.path, self.place, text, remedy, in_file=self.in_file)

    def missing(self, key: str, remedy: str, text: str = "missing") -> None:
        """Note that a key is missing, unless a misspelt one was noted in its stead; ``text`` may say why."""
        if key not in self._meant:
            self.wrong(key, text, remedy)

    @property
    def line(self) -> int | None:
        """The line where the table begins, where the job file has it."""
        return self.notes.line_of(self.path) if self.in_file else None

    def one_of(self, keys: tuple[str, ...], remedy: str) -> str | None:
        """Return which one of several keys is given; none or more than one is a mistake."""
        given = [key for key in keys if key in self.data]
        if not given and not self._meant.intersection(keys):
            self.fault(f"one of {', '.join(keys)} is wanted", remedy)
        elif len(given) > 1:
            self.wrong(given[1], f"{' and '.join(given)} cannot stand together", "Keep one of them")
        return given[0] if len(given) == 1 else None

    def child(self, key: str, level: LevelName, *, named: bool = False) -> Entry | None:
        """Return a table in this one, or None where it is not given; ``named`` puts its key in the place."""
        if key not in self.data:
            return None
        value = self.data[key]
        if not isinstance(value, dict):
            top = named and not self.path
            written = f"[{key}] and its keys below" if top else f"{key} = {{ ... }}, in braces"
            self.wrong(key, f"a table is wanted, not {shown(value)}", f"Write {written}")
            return None
        place = self.place
        if named:
            place = f"{place}, {key}" if place else key
        return Entry(self.notes, value, (*self.path, key), place, level)

    def children(self, key: str, level: LevelName) -> Iterator[Entry]:
        """Yield each table of a list of tables, its place told by its name or its number."""
        if key not in LEVELS[self.level].keys:
            return
        value = self.data.get(key, [])
        double = f"[[{self.path[0]}.{key}]]" if self.path else f"[[{key}]]"
        if not isinstance(value, list):
            text = "a single table, where several may stand" if isinstance(value, dict) else shown(value)
            self.wrong(key, f"a list of tables is wanted, not {text}", f"Write {double}, in double brackets")
            return
        for index, table in enumerate(value):
            if not isinstance(table, dict):
                self.wrong(key, f"a table is wanted, not {shown(table)}", f"Write {double}", index)
                continue
            place = f"{key} {told_by(table, index)}"
            place = f"{self.place}, {place}" if self.place else place
            yield Entry(self.notes, table, (*self.path, key, index), place, level, in_file=self.in_file)


def told_by(table: Mapping[str, object], index: int) -> str:
    """Return how a table of a list is told from its like: its name in quotes, else its number from 1."""
    name = table.get("name")
    if isinstance(name, str) and name.strip():
        return shown(name.strip())
    return str(index + 1)
