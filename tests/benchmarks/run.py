"""Lays out the problems of benchmark files and compares with the best known values.

``python tests/benchmarks/run.py --data DIR --family NAME [--kind KIND] [--sample N] [--seconds S]
[--seed N] [--out FILE]`` reads ``pack-bench-1`` files and prints one row a group. ``--seconds`` is CPU
time a task; without it each search takes the rounds of the normal effort. ``--out`` writes one JSON object
a line, which ``recheck.py`` checks. ``--plain`` leaves the compiled search out. ``--edge-to-edge`` and
``--stages N`` pose the same tasks to a saw. ``--rectpack`` adds what the packing library reaches.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
import time
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import bin2d
import guillotine2d
import polystrip
import strip2d
from packfiles import Answer, BenchmarkError, Posed, number, read_family, sampled
from rectpack_settings import values_of
from rows import Row, table, variant_of

from nestkit.layout.efforts import EFFORTS, Effort
from nestkit.layout.ready import make_ready
from nestkit.layout.rects.engine.twin import can_compile

KINDS: dict[str, Any] = {
    "bin2d": bin2d,
    "strip2d": strip2d,
    "guillotine2d": guillotine2d,
    "polystrip": polystrip,
}
SAWN_KINDS = ("bin2d", "strip2d")
"""Kinds that can be posed to a saw where the file does not."""
KNOWN = ("best", "literature")
"""What a file knows of a task; it holds only as long as the task is the file's own."""
NO_END = 10**9
FIRST_IN_PLAIN = 12
"""Rounds in plain Python before the compiled search goes on."""


def effort_for(seconds: float | None, *, compiles: bool) -> Effort:
    """Return the normal effort, or one that only the clock ends."""
    if seconds is None:
        normal = replace(EFFORTS["normal"], tidy=0)
        return normal if compiles else replace(normal, deep=0)
    if compiles:
        return Effort(rounds=FIRST_IN_PLAIN, no_gain=NO_END, tidy=0, deep=NO_END)
    return Effort(rounds=NO_END, no_gain=NO_END, tidy=0)


def clock(seconds: float | None) -> Callable[[], bool] | None:
    """Return a rule that says stop once so much CPU time has passed from now on."""
    if seconds is None:
        return None
    end = time.process_time() + seconds
    return lambda: time.process_time() > end


def make_kind_ready(kind: str) -> float:
    """Compile what a kind of task needs, or load what is kept of it; return the CPU seconds that took."""
    if kind != "polystrip":
        return make_ready()
    begun = time.process_time()
    polystrip.ready()
    return time.process_time() - begun


def run_task(posed: Posed, *, seconds: float | None, seed: int, effort: Effort) -> tuple[Answer, float]:
    """Lay out one task; return what it came to and the CPU seconds that took."""
    begun = time.process_time()
    answer = KINDS[posed.task["kind"]].lay(posed, seed=seed, effort=effort, stop=clock(seconds))
    return answer, time.process_time() - begun


def row_of(posed: Posed, answer: Answer, cpu_s: float, *, packed: bool) -> Row:
    """Return a task's row of the table."""
    best = (posed.task.get("best") or {}).get("value")
    return Row(
        posed.instance["group"],
        variant_of(posed.task),
        answer.value,
        answer.bound,
        None if best is None else Fraction(best),
        answer.value == answer.bound,
        cpu_s,
        posed.task["goal"] == "max_value",
        values_of(posed) if packed else {},
    )


def record_of(family: str, posed: Posed, answer: Answer, cpu_s: float) -> dict[str, Any]:
    """Return what an independent check needs."""
    record = {
        "family": family,
        "instance": posed.instance["name"],
        "task": posed.task,
        "value": None if answer.value is None else number(answer.value),
        "bound": number(answer.bound),
        "proved": answer.value == answer.bound,
        "cpu_s": round(cpu_s, 4),
        "bins": answer.bins,
    }
    return record | ({"left": answer.left} if answer.left else {})


def wanted_kind(instances: list[dict[str, Any]], kind: str | None) -> str:
    """Return the kind of task to run; raises :class:`BenchmarkError` for one that cannot be run."""
    have = sorted({t["kind"] for i in instances for t in i["tasks"]})
    known = f"known here: {', '.join(KINDS)}"
    found = kind or next((k for k in KINDS if k in have), None)
    if found is None:
        raise BenchmarkError(f"the family has tasks of kind {', '.join(have)}; {known}")
    if found not in KINDS:
        raise BenchmarkError(f"the kind {found} cannot be run; {known}")
    if found not in have:
        raise BenchmarkError(f"the family has no task of kind {found}; it has {', '.join(have)}")
    return found


def sawn(tasks: list[dict[str, Any]], stages: int | None) -> list[dict[str, Any]]:
    """Return tasks posed to a saw, those that become the same once; what is known of them is left out."""
    found: list[dict[str, Any]] = []
    for task in tasks:
        posed = {k: v for k, v in task.items() if k not in KNOWN} | {"guillotine": True}
        posed |= {"stages": stages} if stages else {}
        if posed not in found:
            found.append(posed)
    return found


def on_plates(task: dict[str, Any], plates: int) -> dict[str, Any]:
    """Return a task posed on so many strips of one length; what is known of it is left out."""
    return {k: v for k, v in task.items() if k not in KNOWN and not k.startswith("lb")} | {"plates": plates}


def posed_tasks(options: argparse.Namespace) -> list[Posed]:
    """Read the family and return the tasks to lay out; raises :class:`BenchmarkError`."""
    if options.seconds is not None and not 0 < options.seconds < math.inf:
        raise BenchmarkError(f"{options.seconds:g} CPU seconds a task are none; write more than 0")
    if options.stages is not None and options.stages < 1:
        raise BenchmarkError(f"{options.stages} stages are none; write --stages 1 or more")
    saw = options.edge_to_edge or options.stages is not None
    instances = read_family(options.data, options.family)["instances"]
    kind = wanted_kind(instances, options.kind)
    if saw and kind not in SAWN_KINDS:
        raise BenchmarkError(f"the kind {kind} is posed as its file says; leave --edge-to-edge and --stages")
    if options.plates is not None and (kind != "polystrip" or options.plates < 1):
        raise BenchmarkError("strips of true shapes alone are posed on plates, 1 or more: leave --plates")
    if options.rectpack and kind == "polystrip":
        raise BenchmarkError("the packing library lays no true shapes; leave --rectpack")
    posed = []
    for instance in sampled(instances, options.sample):
        tasks = [t for t in instance["tasks"] if t["kind"] == kind]
        if options.plates is not None:
            tasks = [on_plates(t, options.plates) for t in tasks]
        posed += [KINDS[kind].pose(instance, t) for t in (sawn(tasks, options.stages) if saw else tasks)]
    return posed


def parsed(arguments: list[str] | None) -> argparse.Namespace:
    """Return the options of the command."""
    parser = argparse.ArgumentParser(description="Lay out benchmark problems and compare.")
    parser.add_argument("--data", type=Path, required=True, help="the folder of the files")
    parser.add_argument("--family", required=True, help="the file's name without .json")
    parser.add_argument("--kind", help=f"{', '.join(KINDS)}; else the first of these that the family has")
    parser.add_argument("--sample", type=int, help="so many instances, spread evenly")
    parser.add_argument("--seconds", type=float, help="CPU seconds a task; else the normal effort's rounds")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--out", type=Path, help="one JSON object a line, for a check")
    parser.add_argument("--plain", action="store_true", help="plain Python only")
    parser.add_argument("--edge-to-edge", action="store_true", help="pose the tasks to a saw")
    parser.add_argument("--stages", type=int, help="the same, with at most so many stages")
    parser.add_argument("--plates", type=int, help="polystrip: on so many strips of one length")
    parser.add_argument("--rectpack", action="store_true", help="add what the packing library reaches")
    return parser.parse_args(arguments)


def main(arguments: list[str] | None = None) -> int:
    """Run the command; 0 done, 2 if the file or the command is wrong."""
    options = parsed(arguments)
    begun = time.process_time()
    try:
        posed = posed_tasks(options)
        out = options.out.open("w", encoding="utf-8") if options.out else nullcontext()
    except (BenchmarkError, OSError) as error:
        print(error, file=sys.stderr)
        return 2
    reading = time.process_time() - begun
    compiles = can_compile() and not options.plain
    compiling = make_kind_ready(posed[0].task["kind"]) if compiles and posed else 0.0
    effort = effort_for(options.seconds, compiles=compiles)
    rows, told = [], []
    with out as lines:
        for one in posed:
            answer, cpu_s = run_task(one, seconds=options.seconds, seed=options.seed, effort=effort)
            rows.append(row_of(one, answer, cpu_s, packed=options.rectpack))
            if one.task["kind"] == "polystrip":
                told.append(polystrip.told(one, answer))
            if lines is not None:
                record = record_of(options.family, one, answer, cpu_s)
                lines.write(f"{json.dumps(record, default=number)}\n")
                lines.flush()
    print("\n".join([table(rows, packed=options.rectpack), *told]))
    done = f"compiling, or loading what is compiled: {compiling:.2f} CPU s" if compiles else "compiling: none"
    print(f"reading: {reading:.2f} CPU s, not counted above; {done}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
