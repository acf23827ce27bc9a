"""Lays out the problems of benchmark files and compares with the best known values.

``python tests/benchmarks/run.py --data DIR --family NAME [--kind KIND] [--sample N] [--seconds S]
[--seed N] [--out FILE]`` reads ``pack-bench-1`` files and prints one row a group. ``--seconds`` is CPU
time a task; without it each search takes 200 rounds. ``--out`` writes one JSON object a line.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import time
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from packfiles import BenchmarkError, Posed, bins_of, left_of, number, pose, read_family, sampled

from nestkit.layout.efforts import Effort
from nestkit.layout.problem import Layout
from nestkit.layout.solve import solve

KINDS = ("bin2d",)
NO_END = 10**9


@dataclass(frozen=True, slots=True)
class Row:
    """What one task came to; None where there is no value: parts left over, or no best known."""

    group: str
    value: float | None
    bound: float
    best: float | None
    proved: bool
    cpu_s: float


def exact_value(posed: Posed, layout: Layout) -> Fraction | None:
    """Return the goal's value, None while parts are left over."""
    return None if any(layout.left_over) else layout.cost(posed.problem)


def run_task(family: str, posed: Posed, *, seconds: float | None, seed: int) -> tuple[Row, dict[str, Any]]:
    """Lay out one task; return its row and the record for an independent check."""
    begun = time.process_time()
    if seconds is None:
        effort, stop = Effort(rounds=200, no_gain=200, tidy=0), None
    else:
        end = begun + seconds
        effort, stop = Effort(rounds=NO_END, no_gain=NO_END, tidy=0), lambda: time.process_time() > end
    solved = solve(posed.problem, seed=seed, effort=effort, stop=stop)
    cpu_s = time.process_time() - begun
    value = exact_value(posed, solved.layout)
    bound = solved.bounds.cost.value if solved.bounds.cost else Fraction(0)
    proved = value is not None and solved.bounds.cost is not None and value == bound
    best = (posed.task.get("best") or {}).get("value")
    row = Row(
        f"{posed.instance['group']} {'turning' if posed.task.get('rot90') else 'fixed'}",
        None if value is None else float(value),
        float(bound),
        None if best is None else float(best),
        proved,
        cpu_s,
    )
    record = {
        "family": family,
        "instance": posed.instance["name"],
        "task": posed.task,
        "value": None if value is None else number(value),
        "bound": number(bound),
        "proved": proved,
        "cpu_s": round(cpu_s, 4),
        "bins": bins_of(posed, solved.layout),
    }
    left = left_of(posed, solved.layout)
    return row, record | ({"left": left} if left else {})


def table(rows: list[Row]) -> str:
    """Return one row a group and a row for all."""
    titles = ("instances", 10), ("ours", 14), ("bound", 14), ("best known", 14), ("gap %", 8), ("proved", 8)
    head = "".join([f"{'group':<24}", *(f"{t:>{n}}" for t, n in titles), f"{'CPU s':>9}"])
    names = list(dict.fromkeys(r.group for r in rows))
    groups = [(name, [r for r in rows if r.group == name]) for name in names]
    lines = [head]
    for name, members in [*groups, ("all", rows)]:
        whole = [r for r in members if r.value is not None]
        ours = sum(r.value or 0 for r in whole)
        bound = sum(r.bound for r in whole)
        best = sum(r.best or 0 for r in whole) if all(r.best is not None for r in whole) else None
        gap = f"{100 * (ours / bound - 1):.2f}" if bound else "-"
        left = f"  {len(members) - len(whole)} with parts left over" if len(whole) < len(members) else ""
        lines.append(
            f"{name:<24}{len(members):>10}{ours:>14.10g}{bound:>14.10g}"
            f"{'-' if best is None else f'{best:.10g}':>14}{gap:>8}{sum(r.proved for r in members):>8}"
            f"{sum(r.cpu_s for r in members):>9.1f}{left}"
        )
    return "\n".join(lines)


def wanted_kind(instances: list[dict[str, Any]], kind: str | None) -> str:
    """Return the kind of task to run; raises :class:`BenchmarkError` for one that cannot be run."""
    have = sorted({t["kind"] for i in instances for t in i["tasks"]})
    if kind is None:
        kind = next((k for k in KINDS if k in have), None)
        if kind is None:
            raise BenchmarkError(
                f"the family has tasks of kind {', '.join(have)}; known here: {', '.join(KINDS)}"
            )
    if kind not in KINDS:
        raise BenchmarkError(f"the kind {kind} cannot be run yet; known here: {', '.join(KINDS)}")
    if kind not in have:
        raise BenchmarkError(f"the family has no task of kind {kind}; it has {', '.join(have)}")
    return kind


def main(arguments: list[str] | None = None) -> int:
    """Run the command; 0 done, 2 if the file or the command is wrong."""
    parser = argparse.ArgumentParser(description="Lay out benchmark problems and compare.")
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--family", required=True)
    parser.add_argument("--kind")
    parser.add_argument("--sample", type=int)
    parser.add_argument("--seconds", type=float)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--out", type=Path)
    options = parser.parse_args(arguments)
    begun = time.process_time()
    try:
        if options.seconds is not None and not 0 < options.seconds < math.inf:
            raise BenchmarkError(f"{options.seconds:g} CPU seconds a task are none; write more than 0")
        instances = read_family(options.data, options.family)["instances"]
        kind = wanted_kind(instances, options.kind)
        posed = [
            pose(i, t) for i in sampled(instances, options.sample) for t in i["tasks"] if t["kind"] == kind
        ]
    except BenchmarkError as error:
        print(error, file=sys.stderr)
        return 2
    reading = time.process_time() - begun
    rows, records = [], []
    for one in posed:
        row, record = run_task(options.family, one, seconds=options.seconds, seed=options.seed)
        rows.append(row)
        records.append(record)
    if options.out:
        lines = (json.dumps(r, default=number) for r in records)
        options.out.write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    print(table(rows))
    print(f"reading: {reading:.2f} CPU s, not counted above; compiling: none")
    return 0


if __name__ == "__main__":
    sys.exit(main())
