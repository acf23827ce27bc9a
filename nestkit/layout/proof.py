"""What is proved of a layout."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Bound:
    """A number that no layout of all parts can beat, and the reason in a sentence."""

    value: Fraction
    why: str
