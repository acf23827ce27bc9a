"""hardware.csv: the screws, nuts, washers and the rest that the joints take."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from nestkit.fit.result import Hardware, Item
from nestkit.job.model import Job
from nestkit.units import Unit
from nestkit.writers.lists import Row, csv_bytes, length_cell

HARDWARE_COLUMNS = ("item", "size", "length", "count", "spares", "buy", "joints", "note")


def hardware_rows(job: Job, hardware: Hardware) -> list[dict[str, Any]]:
    """Return the rows of the hardware list by their columns; lengths as decimal text in the job's unit."""
    return [dict(zip(HARDWARE_COLUMNS, _row(item, job.unit), strict=True)) for item in hardware.items]


def hardware_csv(job: Job, hardware: Hardware) -> bytes:
    """Return hardware.csv: a row for each size and length, with what is needed and what to buy."""
    return csv_bytes(HARDWARE_COLUMNS, [_row(item, job.unit) for item in hardware.items])


def _row(item: Item, unit: Unit) -> Row:
    length = None if item.length is None else length_cell(Fraction(item.length), unit)
    counts = (item.count, item.spares, item.count + item.spares)
    return [item.what, item.size, length, *counts, "; ".join(item.joints), item.note]
