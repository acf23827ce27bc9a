"""Whether a value of a job file is still what a tree says."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

WAS = "_was"
"""The key under which a table of a tree says which place it had in its list, in the file."""


def without_was(value: Any) -> Any:
    """Return a value of a tree without the places that its tables had.

    >>> without_was({"holes": [{"dia": 1, "_was": 0}]})
    {'holes': [{'dia': 1}]}
    """
    if isinstance(value, dict):
        return {key: without_was(inner) for key, inner in value.items() if key != WAS}
    if isinstance(value, list):
        return [without_was(inner) for inner in value]
    return value


def same(old: Any, new: Any) -> bool:
    """Say whether a value as read from TOML is what a tree has.

    Numbers are compared as JSON carries them: 24.0 is 24. Dates are as good as their text.

    >>> same(Decimal("24.50"), 24.5), same(datetime.date(2026, 3, 2), "2026-03-02"), same(True, 1)
    (True, True, False)
    """
    if isinstance(old, dict):
        return isinstance(new, Mapping) and _same_tables(old, new)
    if isinstance(old, list):
        return isinstance(new, list) and len(old) == len(new) and all(map(same, old, new))
    if isinstance(old, bool) or isinstance(new, bool):
        return old is new
    if isinstance(old, datetime.date | datetime.time):
        return old.isoformat() == new if isinstance(new, str) else bool(old == new)
    if isinstance(old, Decimal) and not old.is_finite():
        return isinstance(new, str) and str(old) == new
    if isinstance(old, int | Decimal):
        return isinstance(new, int | float | Decimal) and _same_numbers(old, new)
    return bool(old == new)


def _same_tables(old: Mapping[str, Any], new: Mapping[str, Any]) -> bool:
    keys = [key for key in new if key != WAS]
    return len(keys) == len(old) and all(key in old and same(old[key], new[key]) for key in keys)


def _same_numbers(old: int | Decimal, new: float | Decimal) -> bool:
    if old == new:
        return True
    try:
        return float(old) == float(new)
    except OverflowError:
        return False
