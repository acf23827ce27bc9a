"""How long a search goes on, by name; counted in rounds, so that every machine finds the same."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.errors import UserError


@dataclass(frozen=True, slots=True)
class Effort:
    """Most rounds of the search in plain Python, and rounds in a row without gain that end it.

    ``tidy`` are the tries to bring the rest of a sheet together. ``deep`` are the rounds of the compiled
    search, which has its turn where the bound is not met, from so many ``seeds``. ``dives`` are the rounds
    in which lists of sticks are looked for; ``shapes`` is the work of the search for true shapes, which
    counts its moves by what they cost.
    """

    rounds: int
    no_gain: int
    tidy: int
    deep: int = 0
    seeds: int = 1
    dives: int = 1
    shapes: int = 0

    def works_alone(self, *, compiles: bool) -> bool:
        """Say whether plain Python has to do the compiled search's work too."""
        return self.deep > 0 and not compiles

    def plain_rounds(self, *, compiles: bool) -> int:
        """Return the rounds of plain Python; more where it works alone."""
        return self.rounds * ALONE if self.works_alone(compiles=compiles) else self.rounds


EFFORTS = {
    "first": Effort(1, 1, 0),
    "quick": Effort(20, 20, 6, shapes=1_000_000),
    "normal": Effort(25, 25, 12, deep=50, dives=2, shapes=8_000_000),
    "thorough": Effort(200, 100, 40, deep=150, seeds=4, dives=8, shapes=40_000_000),
}
"""``first`` is what can be shown at once; the command line does not offer it."""
FLAT, FLAT_A_PART = 10, 2
"""Rounds in a row without gain that end a search of the long kind: so many, and so many a part."""
ALONE = 4
"""How many times more rounds plain Python gets where the deep search cannot be compiled."""


def flat_rounds(pieces: int) -> int:
    """Return after how many rounds without gain a long search for so many parts has seen enough.

    Of some 280 gains on generated jobs of 9 to 60 parts, off sheets and rolls, one came later after the last.
    """
    return FLAT + FLAT_A_PART * pieces


def effort_named(name: str) -> Effort:
    """Return an effort by its name; raises :class:`~nestkit.errors.UserError` for another."""
    if name not in EFFORTS:
        raise UserError(f'effort "{name}" is not known; write quick, normal or thorough')
    return EFFORTS[name]
