"""How holes are marked and made, and what a practice piece says of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from nestkit.geometry.points import Point

Method = Literal[
    "tape and marker",
    "rule and pencil",
    "scribe and punch",
    "template",
    "router",
    "laser",
    "waterjet",
    "match drilled",
    "as bought",
]
METHODS: tuple[Method, ...] = get_args(Method)

BY_TABLE: frozenset[Method] = frozenset({"tape and marker", "rule and pencil", "scribe and punch"})
"""Methods that measure from a marking-out table, whose places are rounded."""


@dataclass(frozen=True, slots=True)
class Practice:
    """A practice piece: where marks were wanted and where the drilled holes were measured, in mm."""

    method: Method
    wanted: tuple[Point, ...]
    measured: tuple[Point, ...]
