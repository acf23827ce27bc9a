"""The keys of one table in its own lines: changed where they stand, taken out, added below."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from typing import Any

import tomlkit
from tomlkit.container import OutOfOrderTableProxy
from tomlkit.items import Array, Item, Table

from nestkit.errors import ToolFault
from nestkit.job.reader import toml_data
from nestkit.job.saving.same import WAS, same, without_was
from nestkit.job.saving.written import is_day, key_text, value_text

_KEY_LINE = re.compile(r"([ \t]*)([A-Za-z0-9_.-]+)([ \t]*)=([ \t]*)\S")


def new_body(body: str, changed: Mapping[str, Any], gone: set[str]) -> str:
    """Return a table's lines with some keys changed or added, and others gone; all else as it was."""
    old = toml_data(body)
    known = {key: value for key, value in changed.items() if key in old}
    if known or gone & old.keys():
        body = _edited(body, old, known, gone & old.keys())
    fresh = {key: value for key, value in changed.items() if key not in old}
    return _with(body, fresh) if fresh else body


def _edited(body: str, old: Mapping[str, Any], known: Mapping[str, Any], gone: set[str]) -> str:
    page = tomlkit.parse(body)
    anew = {key for key in known if _dotted(page[key]) and not _same_keys(old[key], known[key])}
    for key in {*gone, *anew}:
        page.remove(key)
    for key, value in known.items():
        if key not in anew:
            _put(page, key, old[key], value)
    text = tomlkit.dumps(page)
    return _with(text, {key: known[key] for key in known if key in anew}) if anew else text


def _dotted(item: Any) -> bool:
    """Say whether a table is written as keys with dots, which cannot gain or lose keys in their place."""
    return isinstance(item, Table | OutOfOrderTableProxy)


def _same_keys(old: Any, value: Any) -> bool:
    if not isinstance(old, dict) or not isinstance(value, Mapping):
        return not isinstance(old, dict) and not isinstance(value, Mapping)
    keys = {key for key in value if key != WAS}
    return keys == old.keys() and all(_same_keys(old[key], value[key]) for key in keys)


def _new_item(item: Any, old: Any, value: Any) -> Any:
    """Return what stands for a value: the item itself, changed as little as can be, or a new one."""
    if same(old, value):
        return item
    if isinstance(old, dict) and isinstance(value, Mapping):
        for key in [key for key in old if key not in value]:
            del item[key]
        for key, inner in value.items():
            if key in old:
                _put(item, key, old[key], inner)
            elif key != WAS:
                item[key] = _item(inner)
        return item
    if isinstance(old, list) and isinstance(value, list) and isinstance(item, Array) and _in_place(value):
        for at in range(min(len(old), len(value))):
            if not same(old[at], value[at]):
                _put(item, at, old[at], value[at])
        for _ in old[len(value) :]:
            item.pop()
        for inner in value[len(old) :]:
            item.append(_item(inner))
        return item
    return _item(value, day=not isinstance(old, str | list | dict))


def _put(held: Any, key: str | int, old: Any, value: Any) -> None:
    """Change one value of a table or list; what can be changed itself stays where it is."""
    item = held[key]
    fresh = _new_item(item, old, value)
    if fresh is not item:
        held[key] = fresh


def _in_place(value: list[Any]) -> bool:
    """Say whether tables of a list are where they were, new ones behind them."""
    places = [inner.get(WAS) for inner in value if isinstance(inner, Mapping)]
    kept = [place for place in places if place is not None]
    return places[: len(kept)] == list(range(len(kept)))


def _item(value: Any, *, day: bool = False) -> Item:
    text = value if day and is_day(value) else value_text(without_was(value))
    return tomlkit.value(text)


def _with(body: str, fresh: Mapping[str, Any]) -> str:
    """Return a table's lines with new keys below the others, their signs of equality in line with those."""
    if body and not body.endswith("\n"):
        body += "\n"
    aligned, indent = look(body)
    return body + "".join(pair_line(key, value, aligned, indent) for key, value in fresh.items())


def look(body: str) -> tuple[int, str]:
    """Return the column of most signs of equality of a table, 0 for none, and what stands before its keys.

    >>> look('name  = "lid"\\ncorner_radius = 1\\nsize  = [1, 2]\\n')
    (6, '')
    """
    lines = [found for line in body.splitlines() if (found := _KEY_LINE.match(line))]
    columns = Counter(len(found[1] + found[2] + found[3]) for found in lines)
    column, often = columns.most_common(1)[0] if columns else (0, 0)
    indent = lines[-1][1] if lines else ""
    return column if often > 1 else 0, indent


def pair_line(key: str, value: Any, aligned: int = 0, indent: str = "") -> str:
    """Return a key and its value as a line, the sign of equality at a column or right behind the key."""
    name = f"{indent}{key_text(key)}"
    day = key == "date" and is_day(value)
    text = value if day else value_text(without_was(value))
    return f"{name} ".ljust(aligned) + f"= {text}\n"


def check(text: str, tree: Mapping[str, Any]) -> None:
    """Raise :class:`~nestkit.errors.ToolFault` unless a text says exactly what a tree does."""
    if not same(toml_data(text), tree):
        raise ToolFault("the job file that was to be saved does not say what the page does; it is as it was")
