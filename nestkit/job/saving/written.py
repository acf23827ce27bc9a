"""Values and tables as TOML is written by hand: short, on one line, names bare where they can be."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from nestkit.errors import UserError
from nestkit.job.saving.same import WAS
from nestkit.job.shown import shown

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}
_WIDEST = 100
"""Letters of a list at most; a longer one of lists or tables takes a line for each."""


def value_text(value: Any) -> str:
    """Return a value of a tree as TOML. Raises :class:`~nestkit.errors.UserError` for what TOML has not.

    >>> value_text([24, Decimal("0.5"), "18 3/4"]), value_text({"left": 1, "_was": 0})
    ('[24, 0.5, "18 3/4"]', '{ left = 1 }')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float | Decimal):
        return _number(value)
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, list):
        return _list(value)
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{key_text(key)} = {value_text(v)}" for key, v in value.items() if key != WAS)
        return f"{{ {pairs} }}" if pairs else "{}"
    raise UserError(f"{shown(value)} cannot be written into a job file; leave its key out")


def key_text(key: str) -> str:
    """Return a key as TOML, in quotes where it has to be."""
    return key if _BARE.fullmatch(key) else _string(key)


def is_day(text: object) -> bool:
    """Say whether a text is a day as TOML writes it."""
    if not isinstance(text, str) or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        return False
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _string(text: str) -> str:
    try:
        text.encode()
    except UnicodeEncodeError:
        raise UserError(f"{shown(text)} has half a letter in it; write it anew") from None
    return '"' + "".join(_letter(char) for char in text) + '"'


def _letter(char: str) -> str:
    if char in _ESCAPES:
        return _ESCAPES[char]
    code = ord(char)
    return f"\\u{code:04x}" if code < 0x20 or code == 0x7F else char


def _number(value: float | Decimal) -> str:
    exact = Decimal(repr(value)) if isinstance(value, float) else value
    if not exact.is_finite():
        raise UserError("a number without end cannot be written into a job file; write a length")
    if abs(exact.adjusted()) > 30:
        return f"{exact:E}"
    text = f"{exact:f}"
    return text if "." in text else f"{text}.0"


def _list(value: list[Any]) -> str:
    text = f"[{', '.join(map(value_text, value))}]"
    if len(text) <= _WIDEST or not any(isinstance(inner, list | Mapping) for inner in value):
        return text
    return "[\n" + "".join(f"  {value_text(inner)},\n" for inner in value) + "]"
