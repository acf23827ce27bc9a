"""The runner's table: one line a group, with what is known and what the packing library reaches beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

Setting = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """What one task came to; None where there is no value: parts left over, or no best known.

    ``variant`` says how the task lets parts lie and be cut; ``most``: more is better. ``packed`` are the
    values of the packing library's settings, empty where none was asked for.
    """

    group: str
    variant: str
    value: Fraction | None
    bound: Fraction
    best: Fraction | None
    proved: bool
    cpu_s: float
    most: bool = False
    packed: dict[Setting, Fraction | None] = field(default_factory=dict)


COLUMNS = (
    ("instances", 10), ("ours", 14), ("bound", 14), ("best known", 14), ("gap %", 8), ("mean gap %", 12),
    ("over best %", 13), ("proved", 8), ("CPU s", 10),
)  # fmt: skip
PACKED = (("rectpack, one", 15), ("of many", 12))
WIDE = 34


def variant_of(task: dict[str, Any]) -> str:
    """Return in a few words how a task lets parts lie and be cut."""
    if task.get("kind") == "polystrip":
        return "by shape"
    words = ["turning" if task.get("rot90") else "fixed"]
    if task.get("guillotine"):
        words.append("edge to edge")
    if task.get("guillotine") and task.get("stages"):
        words.append(f"{task['stages']} stages")
    return ", ".join(words)


def best_setting(rows: Sequence[Row]) -> Setting | None:
    """Return the one setting that serves all tasks best; None where none lays all parts of all."""
    totals: dict[Setting, Fraction] = {}
    for setting in rows[0].packed:
        values = [r.packed[setting] for r in rows]
        if None not in values:
            totals[setting] = sum((v for v in values if v is not None), Fraction(0))
    return min(totals, key=lambda s: (totals[s], s), default=None)


def best_of_many(row: Row) -> Fraction | None:
    """Return the best value that any setting gives for one task."""
    return min((v for v in row.packed.values() if v is not None), default=None)


def total(values: Sequence[Fraction | None]) -> str:
    """Return a sum as text, a dash where one of its terms is missing."""
    known = [v for v in values if v is not None]
    return f"{float(sum(known)):.10g}" if values and len(known) == len(values) else "-"


def excess(value: Fraction | None, other: Fraction | None, most: bool) -> float | None:
    """Return by how many per cent a value is worse than another; None where there is nothing to compare."""
    if not value or not other:
        return None
    return 100 * float((other / value if most else value / other) - 1)


def mean_excess(rows: Sequence[Row], others: Sequence[Fraction | None]) -> str:
    """Return the mean over tasks of what their values are worse than others, a dash if one is missing."""
    found = [excess(r.value, other, r.most) for r, other in zip(rows, others, strict=True)]
    known = [f for f in found if f is not None]
    return f"{sum(known) / len(known):.2f}" if known and len(known) == len(found) else "-"


def cells(rows: Sequence[Row], settings: dict[str, Setting | None]) -> list[str]:
    """Return the cells of a line; values and bounds are those of tasks whose parts all found a place."""
    whole = [r for r in rows if r.value is not None]
    ours = sum((r.value for r in whole if r.value is not None), Fraction(0))
    gap = excess(ours, sum((r.bound for r in whole), Fraction(0)), any(r.most for r in rows))
    found = [
        str(len(rows)),
        total([r.value for r in whole]),
        total([r.bound for r in whole]),
        total([r.best for r in whole]),
        "-" if gap is None else f"{gap:.2f}",
        mean_excess(whole, [r.bound for r in whole]),
        mean_excess(whole, [r.best for r in whole]),
        str(sum(r.proved for r in rows)),
        f"{sum(r.cpu_s for r in rows):.1f}",
    ]
    if settings:
        ones = [r.packed[s] if (s := settings[r.variant]) else None for r in rows]
        found += [total(ones), total([best_of_many(r) for r in rows])]
    return found


def table(rows: Sequence[Row], *, packed: bool = False) -> str:
    """Return one line a group and one a variant; with ``packed`` what the library reaches."""
    by_variant: dict[str, list[Row]] = {}
    by_group: dict[str, list[Row]] = {}
    for row in rows:
        by_variant.setdefault(row.variant, []).append(row)
        by_group.setdefault(f"{row.group} {row.variant}", []).append(row)
    settings = {v: best_setting(some) for v, some in by_variant.items()} if packed else {}
    columns = COLUMNS + (PACKED if packed else ())
    lines = ["".join([f"{'group':<{WIDE}}", *(f"{title:>{n}}" for title, n in columns)])]
    for name, some in [*by_group.items(), *((f"all {v}", some) for v, some in by_variant.items())]:
        short = sum(r.value is None for r in some)
        texts = [f"{cell:>{n}}" for cell, (_, n) in zip(cells(some, settings), columns, strict=True)]
        left = f"  {short} with parts left over" if short else ""
        lines.append(f"{name:<{WIDE}}{''.join(texts)}{left}")
    for variant, setting in settings.items():
        lines.append(f"rectpack's best setting, {variant}: {', '.join(setting) if setting else 'none'}")
    return "\n".join(lines)
