"""The text of a job file with a changed tree in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from nestkit.job.lines import KeyPath
from nestkit.job.reader import toml_data
from nestkit.job.saving.blocks import (
    Block,
    blocks_of,
    first_of,
    in_new_order,
    last_of,
    own_block,
    put_after,
    take_out,
    without_first_gap,
)
from nestkit.job.saving.body import check, look, new_body, pair_line
from nestkit.job.saving.same import WAS, same
from nestkit.job.saving.written import key_text
from nestkit.job.schema import LEVELS

_LISTS = frozenset(
    {"panel", "sheet", "bar", "tube", "bought", "joint", "hold", "import", "practice"}
    | {"holes", "slots", "cutouts", "notches", "marks", "keep_clear"}
)
"""Lists of tables that a job file writes with headers of their own."""


def saved_text(text: str, tree: Mapping[str, Any]) -> str:
    """Return a job file's text that says what a tree does; what has not changed is as it was, to the letter.

    Tables of lists tell by ``_was`` which of the file they are. Raises
    :class:`~nestkit.errors.JobError` for a text that is no TOML, :class:`~nestkit.errors.UserError` for what
    cannot be written, and :class:`~nestkit.errors.ToolFault` where the text would not say what the tree does.
    """
    old = toml_data(text)
    if same(old, tree):
        return text
    ends = "\r\n" if "\r\n" in text else "\n"
    saver = _Saver(blocks_of(text.replace("\r\n", "\n")))
    saver.table((), old, tree)
    made = "".join(block.text for block in saver.blocks)
    check(made, tree)
    return made if ends == "\n" else made.replace("\n", ends)


class _Saver:
    """Changes blocks so that they say what a tree does."""

    def __init__(self, blocks: list[Block]) -> None:
        self.blocks = blocks
        self._next = 1_000_000
        """Places of new tables in their lists, so that each has a path of its own."""

    def table(self, path: KeyPath, old: Mapping[str, Any], new: Mapping[str, Any]) -> None:
        """Change one table, with all that is in it."""
        changed: dict[str, Any] = {}
        gone: set[str] = set()
        for key in [*old, *(key for key in new if key not in old and key != WAS)]:
            here = (*path, key)
            headed = any(block.of(here) for block in self.blocks)
            if key not in new:
                gone.add(key)
                take_out(self.blocks, here)
            elif key in old and same(old[key], new[key]):
                continue
            elif headed and isinstance(old[key], dict) and isinstance(new[key], Mapping):
                self.table(here, old[key], new[key])
            elif headed and isinstance(old[key], list) and _tables(new[key]):
                self._list(here, old[key], new[key])
            elif headed:
                take_out(self.blocks, here)
                self._fresh(path, key, new[key], changed)
            elif key in old:
                changed[key] = new[key]
            else:
                self._fresh(path, key, new[key], changed)
        if changed or gone:
            self._body(path, changed, gone)

    def _fresh(self, path: KeyPath, key: str, value: Any, changed: dict[str, Any]) -> None:
        """Note a new key as one of the table's own, or write its tables with headers."""
        if not _headed(path, key, value):
            changed[key] = value
            return
        here = (*path, key)
        if isinstance(value, list):
            fresh = [block for item in value for block in self._blocks((*here, self._place()), item, True)]
        else:
            fresh = self._blocks(here, value, False)
        put_after(self.blocks, last_of(self.blocks, path) if path else len(self.blocks) - 1, fresh)

    def _place(self) -> int:
        self._next += 1
        return self._next

    def _list(self, path: KeyPath, old: list[Any], new: list[Any]) -> None:
        """Change a list of tables: some gone, some moved, some new, the others changed in their place."""
        was = list(_was(new, len(old)))
        kept = [place for place in was if place is not None]
        if not kept:
            # Where the first of them stood the new ones begin.
            self.blocks.insert(first_of(self.blocks, path), Block((*path, -1)))
        for gone in set(range(len(old))) - set(kept):
            take_out(self.blocks, (*path, gone))
        if kept != sorted(kept):
            in_new_order(self.blocks, path, kept)
        for place, item in zip(was, new, strict=True):
            if place is not None and not same(old[place], item):
                self.table((*path, place), old[place], item)
        self._new_tables(path, was, new)

    def _new_tables(self, path: KeyPath, was: Sequence[int | None], new: list[Any]) -> None:
        """Put the new tables of a list, whose place in the file is None, behind those before them."""
        first = next((place for place in was if place is not None), None)
        before = (*path, -1) if first is None else None
        in_front: list[Block] = []
        for place, item in zip(was, new, strict=True):
            here = (*path, self._place() if place is None else place)
            if place is None:
                fresh = self._blocks(here, item, True, like=before)
                if before is None:
                    in_front += fresh
                    continue
                put_after(self.blocks, last_of(self.blocks, before), fresh)
            before = here
        if in_front:
            at = first_of(self.blocks, (*path, *((first,) if first is not None else ())))
            self.blocks[at:at] = [*without_first_gap(in_front), Block(None, body="\n")]

    def _blocks(
        self, path: KeyPath, item: Mapping[str, Any], listed: bool, like: KeyPath | None = None
    ) -> list[Block]:
        """Return a new table's blocks with the look of another of its list, else of the first of its kind."""
        names = tuple(name for name in path if isinstance(name, str))
        at = (
            self._like(names)
            if like is None
            else next(n for n, b in enumerate(self.blocks) if b.path == like)
        )
        aligned, indent, tight = 0, "", False
        if at is not None:
            model = self.blocks[at]
            aligned, indent = look(model.body)
            tight = at > 0 and self.blocks[at - 1].path is not None and not model.lead
        inside = [(key, value) for key, value in item.items() if key != WAS]
        name = ".".join(map(key_text, names))
        header = f"{indent}[[{name}]]\n" if listed else f"{indent}[{name}]\n"
        own = [(key, value) for key, value in inside if not _headed(path, key, value)]
        body = "".join(pair_line(key, value, aligned, indent) for key, value in own)
        found = [] if tight else [Block(None, body="\n")]
        found.append(Block(path, header=header, body=body))
        for key, value in inside:
            if _headed(path, key, value):
                many = isinstance(value, list)
                for one in value if many else [value]:
                    here = (*path, key, self._place()) if many else (*path, key)
                    found += self._blocks(here, one, many)
        return found

    def _like(self, names: tuple[str, ...]) -> int | None:
        """Return where the first table of the same names stands."""
        return next((at for at, block in enumerate(self.blocks) if _names(block) == names), None)

    def _body(self, path: KeyPath, changed: Mapping[str, Any], gone: set[str]) -> None:
        block = own_block(self.blocks, path)
        if block is None:
            # A table that is only there through those in it gets a header of its own.
            at = first_of(self.blocks, path)
            listed = isinstance(path[-1], int)
            block = without_first_gap(self._blocks(path, {}, listed))[0]
            self.blocks[at:at] = [block, Block(None, body="\n")]
        bare = not block.text
        block.body = new_body(block.body, changed, gone)
        after = self.blocks.index(block) + 1
        if bare and after < len(self.blocks) and self.blocks[after].text.strip():
            # The first keys at the top of a file that had none.
            self.blocks.insert(after, Block(None, body="\n"))


def _names(block: Block) -> tuple[str, ...] | None:
    return None if block.path is None else tuple(name for name in block.path if isinstance(name, str))


def _tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(item, Mapping) for item in value)


def _headed(path: KeyPath, key: str, value: Any) -> bool:
    """Say whether a new value is written with headers: some lists of tables, and what is a section."""
    if _tables(value):
        return key in _LISTS
    if not isinstance(value, Mapping):
        return False
    return not path or (path == ("cutting",) and key not in LEVELS["cutting"].keys)


def _was(new: list[Any], count: int) -> Iterator[int | None]:
    """Yield the place in the file of each table, None for a new one and for a second of one place."""
    seen: set[int] = set()
    for item in new:
        place = item.get(WAS)
        known = isinstance(place, int) and not isinstance(place, bool) and 0 <= place < count
        if known and place not in seen:
            seen.add(place)
            yield place
        else:
            yield None
