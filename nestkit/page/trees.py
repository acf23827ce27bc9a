"""The job as a tree of plain values: from TOML to the browser's JSON, and back.

Every table in a list has ``_was``, its place in that list as the file has it, so that saving knows which
table is which after some were moved, added or taken out.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from nestkit.errors import JobError, Mistake
from nestkit.job.saving.same import WAS
from nestkit.page.answers import Refused
from nestkit.page.objects import Object

DEEPEST = 40
"""Lists and tables in one another: a job needs ten."""
_LONGEST_INT = 10**300


def json_value(value: Any) -> Any:
    """Return a value of TOML as JSON has it: dates as text, numbers as numbers, what is no number as text."""
    if isinstance(value, dict):
        return {key: json_value(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [json_value(inner) for inner in value]
    if isinstance(value, Decimal):
        number = float(value)
        return number if number - number == 0 else str(value)
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > _LONGEST_INT:
        return hex(value)
    return value


def tree_of(data: Mapping[str, Any]) -> Object:
    """Return a job's data as the browser's tree. Raises :class:`JobError` where a key of it is in the way."""
    tree = _marked(json_value(dict(data)))
    assert isinstance(tree, dict)
    return tree


def _marked(value: Any) -> Any:
    if isinstance(value, dict):
        if WAS in value:
            text, remedy = f"the key {WAS} is the page's own", "Take it out of the file"
            raise JobError((Mistake("job file", text, remedy),))
        return {key: _marked(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [
            {**_marked(inner), WAS: index} if isinstance(inner, dict) else _marked(inner)
            for index, inner in enumerate(value)
        ]
    return value


def asked(body: bytes) -> Object:
    """Return what a request asks for. Raises :class:`Refused` for what is no JSON object."""
    try:
        found = json.loads(body, parse_float=_decimal, parse_constant=_no_number)
    except RecursionError:
        raise Refused(400, "The request has lists in lists without end") from None
    except (ValueError, InvalidOperation):
        # ValueError: no JSON, no UTF-8, or a whole number of thousands of digits.
        raise Refused(400, "The request is not JSON", "Load the page again") from None
    if not isinstance(found, dict):
        raise Refused(400, "The request is not a JSON object", "Load the page again")
    return found


def _decimal(text: str) -> Decimal:
    return Decimal(text)


def _no_number(text: str) -> Any:
    raise ValueError(f"{text} is no number")


def tree_in(request: Mapping[str, Any]) -> Object:
    """Return the tree of a request, ``_was`` still in it. Raises :class:`Refused` where it has none."""
    tree = unread_tree(request)
    check_values(tree)
    return tree


def unread_tree(request: Mapping[str, Any]) -> Object:
    """Return the tree of a request whose values nobody has looked at; raises :class:`Refused`."""
    tree = request.get("tree")
    if not isinstance(tree, dict):
        raise Refused(400, "The request has no job", "Load the page again")
    return tree


def check_values(value: Any, depth: int = 0) -> None:
    """Raise :class:`Refused` for what no job can have: no value, or lists in one another without end."""
    if depth > DEEPEST:
        raise Refused(400, "The job has lists in lists without end", "Write points as [[x, y], ...]")
    if value is None:
        raise Refused(400, "A value of the job is empty", "Leave its key out instead")
    if isinstance(value, dict):
        for inner in value.values():
            check_values(inner, depth + 1)
    elif isinstance(value, list):
        for inner in value:
            check_values(inner, depth + 1)


def text_in(request: Mapping[str, Any], key: str, usual: str = "", longest: int = 300) -> str:
    """Return a text of a request. Raises :class:`Refused` for anything else."""
    value = request.get(key, usual)
    if not isinstance(value, str) or len(value) > longest:
        raise Refused(400, f"The request's {key} is no short text")
    return value


def flag_in(request: Mapping[str, Any], key: str) -> bool:
    """Return yes or no of a request, no where it says nothing. Raises :class:`Refused`."""
    value = request.get(key, False)
    if not isinstance(value, bool):
        raise Refused(400, f"The request's {key} is neither true nor false")
    return value


def count_in(request: Mapping[str, Any], key: str, usual: int, most: int) -> int:
    """Return a whole number from 0 of a request. Raises :class:`Refused`."""
    value = request.get(key, usual)
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= most:
        raise Refused(400, f"The request's {key} is no whole number from 0 to {most}")
    return value
