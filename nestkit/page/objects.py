"""Plain values that go to the browser as JSON."""

from __future__ import annotations

import json
from typing import Any

from nestkit.errors import Mistake

Object = dict[str, Any]


def json_bytes(value: Any) -> bytes:
    """Return a value as JSON; a text that is no Unicode is shown as such, never sent broken."""
    return json.dumps(value, ensure_ascii=False, allow_nan=False).encode("utf-8", "replace")


def mistake_object(mistake: Mistake) -> Object:
    """Return a mistake as the browser has it."""
    return {
        "path": list(mistake.path),
        "place": mistake.place,
        "text": mistake.text,
        "remedy": mistake.remedy,
        "line": mistake.line,
    }
