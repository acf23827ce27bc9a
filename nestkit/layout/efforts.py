"""How long a search goes on, by name; counted in rounds, so that every machine finds the same."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.errors import UserError


@dataclass(frozen=True, slots=True)
class Effort:
    """Most rounds of the search, and rounds in a row without gain that end it.

    ``tidy`` are the tries to bring the rest of a sheet together.
    """

    rounds: int
    no_gain: int
    tidy: int


EFFORTS = {
    "quick": Effort(20, 20, 6),
    "normal": Effort(200, 100, 12),
    "thorough": Effort(2000, 1000, 40),
}


def effort_named(name: str) -> Effort:
    """Return an effort by its name; raises :class:`~nestkit.errors.UserError` for another."""
    if name not in EFFORTS:
        raise UserError(f'effort "{name}" is not known; write quick, normal or thorough')
    return EFFORTS[name]
