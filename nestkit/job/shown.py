"""Showing input in messages: escaped, and cut where it grows long."""

from __future__ import annotations

import datetime
from decimal import Decimal

LONGEST = 80
"""Characters of input that a message repeats at most."""


def shown(value: object) -> str:
    """Return a value of the job file as a message may repeat it: one line, printable, at most 80 letters.

    >>> shown("a\\u202eb"), shown([24, Decimal("1.5")]), shown(True)
    ('"a\\\\u202eb"', '[24, 1.5]', 'true')
    """
    text = _written(value, 0)
    return text if len(text) <= LONGEST else text[: LONGEST - 3] + "..."


def escaped(text: str) -> str:
    """Return text with quotes, control characters and everything else that does not print escaped.

    Only as much is escaped as a message can show.
    """
    return "".join(_letter(c) for c in text[: LONGEST + 1])


def _letter(char: str) -> str:
    if char in '"\\':
        return "\\" + char
    if char.isprintable():
        return char
    code = ord(char)
    return {"\n": "\\n", "\t": "\\t", "\r": "\\r"}.get(char) or (
        f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
    )


def _written(value: object, depth: int) -> str:
    if isinstance(value, str):
        return f'"{escaped(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        if depth == 3:
            return "[...]"
        return "[" + ", ".join(_written(v, depth + 1) for v in value[: LONGEST // 2]) + "]"
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, int):
        # Turning a very long whole number into text is refused by Python itself.
        return str(value) if value.bit_length() < 1000 else "a number of very many digits"
    return str(value) if isinstance(value, Decimal) else f"a {type(value).__name__}"
