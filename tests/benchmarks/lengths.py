"""Cuts the lengths of benchmark files from sticks, and compares with bounds and best known values.

``python tests/benchmarks/lengths.py --data DIR [--family NAME ...] [--seconds S] [--seed N]`` runs the
``stock1d`` tasks of ``pack-bench-1`` files, so many CPU seconds each at most, and prints a line a family, and
one for each task that is not proved or took more than a second. "First fit" takes the longest piece first and
lays it on the first stick with room. Every cut list is counted here, apart from the package's own check.
"""

from __future__ import annotations

import argparse
import sys
import time
from fractions import Fraction
from pathlib import Path
from typing import Any

from packfiles import BenchmarkError, read_family

from nestkit.layout.bars.problem import CutList, LengthProblem, Piece, Stick
from nestkit.layout.bars.solve import solve_lengths

FAMILIES = ("falkenauer", "scholl1", "scholl2", "scholl3", "hard28")
NO_END = 10**6
SLOW_S = 1.0


def posed(instance: dict[str, Any]) -> LengthProblem:
    """Return an instance as a problem in which sticks count."""
    pieces = tuple(Piece(length, number) for length, number in instance["items"])
    sticks = tuple(Stick(length, 0, count, Fraction(1)) for length, count in instance["stock"])
    return LengthProblem(pieces, sticks, 0)


def first_fit(instance: dict[str, Any]) -> int:
    """Return how many of the first sticks first fit takes, the longest piece first."""
    room = instance["stock"][0][0]
    sticks: list[int] = []
    for length, number in sorted(instance["items"], reverse=True):
        for _ in range(number):
            at = next((i for i, left in enumerate(sticks) if left >= length), None)
            if at is None:
                sticks.append(room - length)
            else:
                sticks[at] -= length
    return len(sticks)


def recount(instance: dict[str, Any], found: CutList) -> None:
    """Raise :class:`BenchmarkError` where a cut list is none."""
    wanted = [number for _, number in instance["items"]]
    for load in found.loads:
        length = 0
        for piece, number in load.pieces:
            length += number * instance["items"][piece][0]
            wanted[piece] -= number
        if length > instance["stock"][load.stick][0]:
            raise BenchmarkError(f"{instance['name']}: a stick is overrun")
    if any(wanted):
        raise BenchmarkError(f"{instance['name']}: a piece is lost or made twice")


def run(instance: dict[str, Any], seconds: float, seed: int) -> tuple[int, int, float]:
    """Return sticks, the bound on them, and the CPU seconds it took."""
    problem = posed(instance)
    begun = time.process_time()
    solved = solve_lengths(
        problem, seed=seed, rounds=NO_END, stop=lambda: time.process_time() - begun > seconds
    )
    cpu_s = time.process_time() - begun
    recount(instance, solved.found)
    return len(solved.found.loads), int(solved.least_cost), cpu_s


def main(arguments: list[str] | None = None) -> int:
    """Run the command; 0 done, 2 if the file or the command is wrong."""
    parser = argparse.ArgumentParser(description="Cut the lengths of benchmark files from sticks.")
    parser.add_argument("--data", type=Path, required=True, help="the folder of the files")
    parser.add_argument("--family", nargs="+", default=FAMILIES, help="files' names without .json")
    parser.add_argument("--seconds", type=float, default=10.0, help="CPU seconds a task at most")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(arguments)
    print(
        f"{'family':<12}{'tasks':>6}{'proved':>8}{'sticks':>8}{'bound':>8}{'best known':>12}{'first fit':>11}"
        f"{'mean CPU s':>12}{'most':>7}"
    )
    try:
        for family in options.family:
            instances = read_family(options.data, family)["instances"]
            found = [(i, *run(i, options.seconds, options.seed)) for i in instances]
            best = sum(i["tasks"][0]["best"]["value"] for i in instances)
            times = [cpu_s for *_, cpu_s in found]
            print(
                f"{family:<12}{len(found):>6}{sum(v == b for _, v, b, _ in found):>8}"
                f"{sum(v for _, v, _, _ in found):>8}{sum(b for _, _, b, _ in found):>8}{best:>12}"
                f"{sum(map(first_fit, instances)):>11}{sum(times) / len(times):>12.2f}{max(times):>7.2f}",
                flush=True,
            )
            for i, v, b, cpu_s in found:
                if v > b or cpu_s > SLOW_S:
                    print(f"    {i['name']:<14} {v} sticks, at least {b}, {cpu_s:.2f} CPU s")
    except (BenchmarkError, OSError) as error:
        print(error, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
