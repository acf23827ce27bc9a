"""What the commands cost: CPU seconds and memory of whole processes, against their targets.

Run ``python tests/benchmarks/cost.py``. Each command runs three times after one run to warm up;
the least CPU time counts, since other work on the machine only ever adds. Exit 1 when over.
"""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from workshop import job_text

ROOT = Path(__file__).resolve().parent.parent.parent
SAMPLE = ROOT / "sample_parts" / "solar_boat.toml"


@dataclass(frozen=True)
class Cost:
    """User and system CPU seconds, and the most memory held, in MB."""

    cpu_s: float
    memory_mb: float


def holes_text(panels: int, count: int) -> str:
    """Return a job of panels with so many holes each, as the largest have."""
    head = (
        'job = "rails"\nunit = "mm"\n[cutting]\nhow = "saw"\nkerf = 3\n[[sheet]]\nname = "ply"\n'
        'material = "birch plywood"\nthickness = 6\nsize = [2400, 1200]\n'
    )
    one = (
        '[[panel]]\nname = "rail {}"\nmaterial = "birch plywood"\nthickness = 6\nsize = [820, 420]\n'
        "corner_radius = 10\n[[panel.holes]]\ndia = 5.6\n"
        f"grid = {{{{ start = [20, 20], columns = 20, rows = {count // 20}, pitch = [40, 40] }}}}\n"
    )
    return head + "".join(one.format(i) for i in range(panels))


def tubes_text(pieces: int, lengths: int) -> str:
    """Return a job of so many tubes, of lengths that have nothing in common, from two stock lengths."""
    rng = random.Random(7)
    head = 'job = "frames"\nunit = "mm"\n[cutting]\nhow = "saw"\nkerf = 1.2\n'
    for name, length, price in (("six", 6000, 30), ("four", 4000, 21)):
        head += (
            f'[[bar]]\nname = "{name}"\nmaterial = "aluminium"\nsection = "25 x 25 x 2"\n'
            f"length = {length}\nprice = {price}\ntrim = 5\n"
        )
    one = (
        '[[tube]]\nname = "part {i}"\nmaterial = "aluminium"\nsection = "25 x 25 x 2"\nlength = {length}\n'
        'quantity = {number}\n[[tube.holes]]\nface = "A"\nthrough = true\ndrill = "5 mm"\nat = [10, {far}]\n'
    )
    sizes = rng.sample(range(120, 2400), lengths)
    number = -(-pieces // lengths)
    return head + "".join(
        one.format(i=i, length=size, number=number, far=size - 10) for i, size in enumerate(sizes)
    )


def sample_without_routed_sheet(folder: Path) -> Path:
    """Copy the sample into a folder without what comes as outline files and the sheets for it."""
    blocks = SAMPLE.read_text(encoding="utf-8").split("\n[[")
    kept = [b for b in blocks if "\noutline " not in b and '= "6061 3/16 ' not in b]
    if len(blocks) - len(kept) != 8:
        raise SystemExit("the sample has other outline files or sheets for them than this knows of")
    copy = folder / "plain.toml"
    copy.write_text("\n[[".join(kept), encoding="utf-8")
    for table in SAMPLE.parent.glob("*.csv"):
        shutil.copy(table, folder)
    return copy


def measure(arguments: list[str], folder: Path) -> Cost:
    """Run the command once and return what it cost."""
    run = subprocess.Popen(
        [sys.executable, "-m", "nestkit", *arguments],
        cwd=folder,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    _, status, usage = os.wait4(run.pid, 0)
    run.returncode = os.waitstatus_to_exitcode(status)
    if run.returncode not in (0, 1):
        raise SystemExit(f"nestkit {' '.join(arguments)} ended with {run.returncode}")
    return Cost(usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def main() -> None:
    """Print a row a command: target, measured, memory."""
    over = 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        large = folder / "large.toml"
        large.write_text(job_text(1000, 50, 1), encoding="utf-8")
        holes = folder / "holes.toml"
        holes.write_text(holes_text(25, 200), encoding="utf-8")
        tubes = folder / "tubes.toml"
        tubes.write_text(tubes_text(5000, 60), encoding="utf-8")
        plain = sample_without_routed_sheet(folder)
        rows = [
            ("--help", ["--help"], 0.35, None, 3),
            ("check, sample", ["check", str(SAMPLE)], 0.6, None, 3),
            ("check, sample, plain", ["check", str(plain)], 0.6, None, 3),
            ("check, 5000 holes", ["check", str(holes)], 1.5, None, 3),
            ("fit, sample", ["fit", str(SAMPLE)], 3.0, None, 3),
            ("estimate, sample", ["estimate", str(SAMPLE)], 20.0, None, 3),
            ("estimate, sample, plain", ["estimate", str(plain)], 0.8, None, 3),
            ("nest, sample", ["nest", str(SAMPLE)], 20.0, 500.0, 3),
            ("nest, sample, plain", ["nest", str(plain)], 4.0, 300.0, 3),
            ("nest, 1000 pieces", ["nest", str(large)], 60.0, None, 1),
            ("nest, 5000 tubes", ["nest", str(tubes)], 20.0, None, 1),
        ]
        print(f"{'command':24}{'CPU s':>8}{'target':>8}{'MB':>8}{'target':>8}")
        for title, arguments, most_s, most_mb, runs in rows:
            if runs > 1:
                measure(arguments, folder)
            costs = [measure(arguments, folder) for _ in range(runs)]
            cpu, memory = min(c.cpu_s for c in costs), max(c.memory_mb for c in costs)
            print(f"{title:24}{cpu:8.2f}{most_s:8.2f}{memory:8.0f}{most_mb or '':>8}")
            over += cpu > most_s or (most_mb is not None and memory > most_mb)
    sys.exit(1 if over else 0)


if __name__ == "__main__":
    main()
