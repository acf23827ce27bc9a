"""What ``estimate`` costs on generated plywood jobs, and how far it stays from what is possible.

Run ``python tests/benchmarks/workshop_cost.py [--small N] [--large N] [--runs N]``. The jobs have a kerf of
1/8 in, grain on a third of the panels and three sheet sizes; one a seed. Jobs of 20 parts run at normal
effort, those of 500 parts at normal and thorough. CPU time and memory are those of whole processes; the
least CPU time of the runs counts, since other work on the machine only ever adds. Exit 1 when over a target.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from workshop import three_sizes_text

ROOT = Path(__file__).resolve().parent.parent.parent
SMALL, LARGE = 20, 500
SMALL_S, LARGE_S, MEMORY_MB = 0.6, 20.0, 300.0
"""CPU seconds: of a small job whose bound is met, and of a large one; memory of any."""
LARGE_GAP = 1.0
"""Per cent by which a large job may cost more than its bound."""


@dataclass(frozen=True)
class Outcome:
    """A job's cost and the least it could be, its sheets, what the search ran on, and what that took."""

    pieces: int
    seed: int
    effort: str
    sheets: int
    cost: float
    least: float
    engine: str
    cpu_s: float
    memory_mb: float

    @property
    def gap(self) -> float:
        """Per cent by which the cost is above the bound."""
        return 100 * (self.cost / self.least - 1)

    @property
    def met(self) -> bool:
        """Say whether no layout can cost less."""
        return self.cost <= self.least

    def line(self) -> str:
        """Return it as a line of the table."""
        return (
            f"{self.pieces:>6}{self.seed:>6}  {self.effort:<10}{self.sheets:>6}{self.cost:>10.2f}"
            f"{self.least:>10.2f}{self.gap:>8.2f}{self.cpu_s:>8.2f}{self.memory_mb:>7.0f}  {self.engine}"
        )


HEAD = (
    f"{'parts':>6}{'seed':>6}  {'effort':<10}{'sheets':>6}{'cost':>10}{'bound':>10}{'gap %':>8}"
    f"{'CPU s':>8}{'MB':>7}  engine"
)


def estimated(job: Path, effort: str) -> tuple[dict[str, object], float, float]:
    """Run ``estimate --json`` once; return its result, CPU seconds and MB of the process."""
    with tempfile.TemporaryFile() as answer:
        run = subprocess.Popen(
            [sys.executable, "-m", "nestkit", "estimate", str(job), "--json", "--quiet", "--effort", effort],
            stdout=answer,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
        _, status, usage = os.wait4(run.pid, 0)
        run.returncode = os.waitstatus_to_exitcode(status)
        if run.returncode:
            raise SystemExit(f"estimate {job.name} --effort {effort} ended with {run.returncode}")
        answer.seek(0)
        return json.load(answer), usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def outcome(folder: Path, pieces: int, seed: int, effort: str, runs: int) -> Outcome:
    """Return what a generated job comes to."""
    job = folder / f"plywood_{pieces}_{seed}.toml"
    job.write_text(three_sizes_text(pieces, seed), encoding="utf-8")
    found = [estimated(job, effort) for _ in range(runs)]
    result = found[0][0]
    (group,) = result["groups"]
    cpu_s, memory_mb = min(f[1] for f in found), max(f[2] for f in found)
    sheets, engine = group["sheets_used"], result["engine"]
    return Outcome(pieces, seed, effort, sheets, group["cost"], group["least_cost"], engine, cpu_s, memory_mb)


def main() -> int:
    """Print a row a job, then the targets; 1 when over one."""
    parser = argparse.ArgumentParser(description="Measure estimate on generated plywood jobs.")
    parser.add_argument("--small", type=int, default=8, help=f"jobs of {SMALL} parts")
    parser.add_argument("--large", type=int, default=3, help=f"jobs of {LARGE} parts")
    parser.add_argument("--runs", type=int, default=3, help="runs of each small job")
    options = parser.parse_args()
    print(HEAD)
    wanted = [(SMALL, seed + 1, "normal", options.runs) for seed in range(options.small)]
    wanted += [(LARGE, s + 1, effort, 1) for s in range(options.large) for effort in ("normal", "thorough")]
    over = 0
    with tempfile.TemporaryDirectory() as name:
        if options.small:
            outcome(Path(name), SMALL, 1, "normal", 1)  # reads all files from the disk once
        for one in wanted:
            found = outcome(Path(name), *one)
            most_s = LARGE_S if found.pieces == LARGE else SMALL_S
            slow = found.cpu_s > most_s and (found.met or found.pieces == LARGE)
            wide = found.pieces == LARGE and found.gap > LARGE_GAP
            large = found.memory_mb > MEMORY_MB
            over += slow or wide or large
            words = [w for w, is_over in (("CPU", slow), ("gap", wide), ("memory", large)) if is_over]
            print(f"{found.line()}{'  over: ' + ', '.join(words) if words else ''}", flush=True)
    print(
        f"targets: {SMALL} parts with the bound met {SMALL_S:g} CPU s; {LARGE} parts {LARGE_S:g} CPU s and "
        f"{LARGE_GAP:g} %; {MEMORY_MB:g} MB"
    )
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
