"""Sheet thickness by gauge number: another one in each metal."""

from __future__ import annotations

import functools
from fractions import Fraction

from nestkit.errors import UserError
from nestkit.trade.tables import read
from nestkit.units import MM_PER_INCH

SYSTEMS = {
    "aluminium": "aluminium_bs_awg_in",
    "steel": "steel_msg_in",
    "galvanised": "galvanised_in",
    "stainless": "stainless_in",
}
"""Gauge systems by the metal they are for, with the table's column."""


class UnknownGauge(UserError):
    """A gauge number or system that the table does not have; the message lists what it has."""


@functools.cache
def _by_number(system: str) -> dict[int, Fraction]:
    column = SYSTEMS[system]
    return {int(row["gauge"]): Fraction(row[column]) * MM_PER_INCH for row in read("gauges") if row[column]}


def gauge(system: str, number: int) -> Fraction:
    """Return the thickness in mm that a gauge number means in a metal, exact from the table's inches.

    >>> float(gauge("aluminium", 16)), float(gauge("steel", 16))
    (1.29032, 1.51892)

    Raises :class:`UnknownGauge`.
    """
    if system not in SYSTEMS:
        raise UnknownGauge(f'no gauges for "{system[:80]}"; write one of {", ".join(SYSTEMS)}')
    known = _by_number(system)
    if number not in known:
        raise UnknownGauge(f"no {system} gauge {number}; the table has {min(known)} to {max(known)}")
    return known[number]
