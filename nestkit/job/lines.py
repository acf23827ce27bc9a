"""Where in the file each key stands: a light scan of text that is known to be TOML."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Generator, Iterator

KeyPath = tuple[str | int, ...]
"""Keys and places in lists from the top, such as ``("panel", 0, "holes", 1, "pitch")``."""

_KEY = r"(?:\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'|[A-Za-z0-9_-]+)"
_DOTTED = rf"{_KEY}(?:[ \t]*\.[ \t]*{_KEY})*"
_HEADER = re.compile(rf"[ \t]*(\[\[?)[ \t]*({_DOTTED})")
_PAIR = re.compile(rf"[ \t]*({_DOTTED})[ \t]*=[ \t]*")
_PART = re.compile(_KEY)
# What can stand in a value that may run over several lines; strings before anything in them.
_TOKEN = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{},=\n]|[^\s\[\]{},=#"\']+',
    re.DOTALL,
)


def key_lines(text: str) -> dict[KeyPath, int]:
    """Return the line, counted from 1, of each table header and each key of a text that is TOML.

    Keys inside tables in braces are found too.
    """
    return dict(_Scan(text).pairs())


def header_lines(text: str) -> list[tuple[int, KeyPath]]:
    """Return the line, counted from 1, of each table header of a text that is TOML, and the table's path."""
    scan = _Scan(text)
    for _ in scan.pairs():
        pass
    return scan.headers


class _Scan:
    """Walks through the text line by line; only values in brackets or braces are read token by token."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.line = 1
        self.counts: dict[KeyPath, int] = {}
        self.headers: list[tuple[int, KeyPath]] = []

    def pairs(self) -> Iterator[tuple[KeyPath, int]]:
        """Yield each path and its line."""
        text, at = self.text, 0
        base: KeyPath = ()
        while at < len(text):
            if header := _HEADER.match(text, at):
                base = self._table(header[2], is_list=header[1] == "[[")
                self.headers.append((self.line, base))
                if base[-1] == 0:
                    yield base[:-1], self.line
                yield base, self.line
                at = header.end()
            elif pair := _PAIR.match(text, at):
                path = base + _names(pair[1])
                yield path, self.line
                at = pair.end()
                if text.startswith(("[", "{", '"""', "'''"), at):
                    at = yield from self._value(path, at)
            end = text.find("\n", at)
            at = len(text) if end < 0 else end + 1
            self.line += 1

    def _table(self, dotted: str, *, is_list: bool) -> KeyPath:
        """Return the path of a table header: lists on the way stand at their last table."""
        names = _names(dotted)
        path: KeyPath = ()
        for index, name in enumerate(names):
            path = (*path, name)
            if is_list and index == len(names) - 1:
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        return path

    def _value(self, path: KeyPath, at: int) -> Generator[tuple[KeyPath, int], None, int]:
        """Walk over one value of several tokens; return where it ends."""
        # Each open bracket or brace: the path of what is in it, and the place in the list or None.
        open_: list[tuple[KeyPath, int | None]] = []
        current, key = path, ""
        while token := _TOKEN.search(self.text, at):
            word, at = token[0], token.end()
            if word == "[":
                open_.append((current, 0))
                current = (*current, 0)
            elif word == "{":
                open_.append((current, None))
                key = ""
            elif word in "]}":
                current = open_.pop()[0]
            elif word == ",":
                inside, index = open_[-1]
                if index is not None:
                    open_[-1] = inside, index + 1
                    current = (*inside, index + 1)
                key = ""
            elif word == "=":
                current = open_[-1][0] + _names(key)
                key = ""
                yield current, self.line
            elif word == "\n":
                self.line += 1
            elif not word.startswith("#"):
                key += word
                self.line += word.count("\n")
            if not open_:
                return at
        return at


def _names(dotted: str) -> tuple[str, ...]:
    """Return the parts of a dotted key, quotes and escapes resolved."""
    if dotted.replace("_", "").isalnum():
        return (dotted,)
    parts = _PART.findall(dotted)
    return tuple(next(iter(tomllib.loads(f"{p} = 0"))) if p[0] in "\"'" else p for p in parts)
