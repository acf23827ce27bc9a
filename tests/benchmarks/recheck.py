"""Checks the answers of ``run.py --out`` against the files they answer; takes nothing from the package.

``python tests/benchmarks/recheck.py --data DIR ANSWERS.jsonl ...`` reads the problems itself, with exact
fractions, and looks at sizes, sheet edges with their margin, distances, turns, counts, stock, value, bound
and, where the task asks for it, cuts from edge to edge and their stages. The first thing found wrong is
printed with its place, exit 1; exit 2 where a file cannot be read.

Beside the rules of each task: no value may beat the file's own bound, and no bound a value that the file's
makers computed or saw (those marked as recalled from memory prove nothing).
"""

from __future__ import annotations

import argparse
import json
import sys
from collections import Counter
from fractions import Fraction
from itertools import combinations
from pathlib import Path
from typing import Any, NamedTuple

POSED_BY_RUNNER = ("guillotine", "stages")
"""What the runner may set in a task of the file, to pose it to a saw; it then leaves out what is known."""
KNOWN = ("best", "literature")
ROUNDING = Fraction(1, 10**7)
"""Shares by which lengths of true shapes may be out."""


class Fault(Exception):
    """What is wrong with an answer."""


class Rect(NamedTuple):
    """Where a part lies."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction

    def __str__(self) -> str:
        return f"[{', '.join(f'{float(n):g}' for n in self)}]"


def space_of(task: dict[str, Any], key: str) -> Fraction:
    """Return the kerf, gap or margin of a task, 0 where it has none."""
    return Fraction(task.get(key) or 0)


def lies(row: list[Any], instance: dict[str, Any], task: dict[str, Any]) -> Rect:
    """Return where an item lies; its turn must be one that the task allows."""
    index, x, y, turn = row
    width, height, _ = (Fraction(n) for n in instance["items"][index])
    fixed = "fixed" in instance and instance["fixed"][index]
    if turn not in ((0, 90, 180, 270) if task.get("rot90") and not fixed else (0, 180)):
        raise Fault(f"item {index} is turned by {turn} degrees, which is not allowed")
    if turn % 180:
        width, height = height, width
    return Rect(Fraction(x), Fraction(y), Fraction(x) + width, Fraction(y) + height)


def check_inside(rect: Rect, container: list[Any], margin: Fraction, *, open_end: bool) -> None:
    """A part lies inside the container's margin; a strip has no upper edge."""
    width, height = container[:2]
    right_of_all = rect.right <= Fraction(width) - margin
    below_all = open_end or rect.top <= Fraction(height) - margin
    if not (rect.left >= margin and rect.bottom >= margin and right_of_all and below_all):
        raise Fault(f"{rect} lies over the edge of {width} x {'open' if open_end else height}")


def check_apart(rects: list[Rect], least: Fraction) -> None:
    """No two parts overlap or lie nearer to each other than ``least``."""
    for a, b in combinations(rects, 2):
        dx = max(b.left - a.right, a.left - b.right)
        dy = max(b.bottom - a.top, a.bottom - b.top)
        if dx < 0 and dy < 0:
            raise Fault(f"{a} and {b} overlap")
        if max(dx, 0) ** 2 + max(dy, 0) ** 2 < least**2:
            raise Fault(f"{a} and {b} are nearer to each other than {float(least):g}")


def parted(rects: list[Rect], axis: int, kerf: Fraction) -> list[list[Rect]]:
    """Return the pieces that all possible cuts across an axis make of one, by what lies on them."""
    pieces: list[list[Rect]] = []
    reach = Fraction(0)
    for rect in sorted(rects, key=lambda r: r[axis]):
        if not pieces or rect[axis] >= reach + kerf:
            pieces.append([])
        pieces[-1].append(rect)
        reach = max(reach, rect[axis + 2])
    return pieces


def stages_of(rects: list[Rect], axis: int, kerf: Fraction) -> int | None:
    """Return the least stages that part all of several parts, the first across an axis; None if no cuts do.

    A cut never makes a later one impossible, so all that are possible are made at once; after them only
    the other axis is left.
    """
    pieces = parted(rects, axis, kerf)
    if len(pieces) == 1:
        return None
    below = [stages_of(piece, 1 - axis, kerf) for piece in pieces if len(piece) > 1]
    deepest = [stages for stages in below if stages is not None]
    return None if len(deepest) < len(below) else 1 + max(deepest, default=0)


def check_cuts(rects: list[Rect], kerf: Fraction, most: int) -> None:
    """Cuts from edge to edge part all parts, in at most so many stages (0: any number)."""
    if len(rects) < 2:
        return
    ways = [stages_of(rects, axis, kerf) for axis in (0, 1)]
    found = [stages for stages in ways if stages is not None]
    if not found:
        raise Fault("no cuts from edge to edge part all that lies there")
    if most and min(found) > most:
        raise Fault(f"the cuts take {min(found)} stages, {most} are allowed")


def check_stock(record: dict[str, Any], instance: dict[str, Any]) -> None:
    """No more sheets are used than there are, and none for nothing; strips and values take one."""
    for index, number in Counter(b["container"] for b in record["bins"]).items():
        if type(index) is not int or not 0 <= index < len(instance["containers"]):
            raise Fault(f"container {index} is not in the file")
        count = instance["containers"][index][2]
        if count is not None and number > count:
            raise Fault(f"{number} of container {index} are used, there are {count}")
    if any(not b["items"] for b in record["bins"]):
        raise Fault("a sheet is used for nothing")
    if record["task"]["kind"] != "bin2d" and len(record["bins"]) > 1:
        raise Fault(f"{len(record['bins'])} sheets are used, the task has one")


def check_needs_stock(index: int, instance: dict[str, Any], task: dict[str, Any]) -> None:
    """An item may be left over only if no container without a limit can hold it."""
    margin = space_of(task, "margin")
    for number, container in enumerate(instance["containers"]):
        for turn in (0, 90):
            try:
                check_inside(
                    lies([index, margin, margin, turn], instance, task), container, margin, open_end=False
                )
            except Fault:
                continue
            if container[2] is None:
                raise Fault(f"item {index} is left over, but fits container {number}")


def check_counts(record: dict[str, Any], instance: dict[str, Any]) -> None:
    """Every copy lies somewhere or is listed as left, once; with values, at most so many lie there."""
    task, items = record["task"], instance["items"]
    placed = Counter(row[0] for b in record["bins"] for row in b["items"])
    left = {int(index): number for index, number in record.get("left", {}).items()}
    for index in (*placed, *left):
        if type(index) is not int or not 0 <= index < len(items):
            raise Fault(f"item {index} is not in the file")
    if left and (task["kind"] != "bin2d" or min(left.values()) < 1):
        raise Fault(f"{left} cannot be left over")
    for index in left:
        check_needs_stock(index, instance, task)
    for index, (_, _, quantity) in enumerate(items):
        if task["goal"] == "max_value":
            if placed[index] > quantity and not task.get("unlimited"):
                raise Fault(f"item {index} lies there {placed[index]} times, there are {quantity}")
        elif placed[index] + left.get(index, 0) != quantity:
            raise Fault(f"item {index}: {placed[index]} placed and {left.get(index, 0)} left of {quantity}")


def value_of(record: dict[str, Any], instance: dict[str, Any], tops: list[Fraction]) -> Fraction:
    """Return what the goal comes to, counted anew."""
    goal, bins = record["task"]["goal"], record["bins"]
    used = [instance["containers"][b["container"]] for b in bins]
    if goal == "min_bins":
        return Fraction(len(bins))
    if goal == "min_area":
        return sum((Fraction(c[0]) * Fraction(c[1]) for c in used), Fraction(0))
    if goal == "min_cost":
        return sum((Fraction(c[3]) for c in used), Fraction(0))
    if goal == "min_height":
        return max(tops, default=Fraction(0)) + space_of(record["task"], "margin")
    if goal == "max_value":
        return sum((Fraction(instance["values"][row[0]]) for b in bins for row in b["items"]), Fraction(0))
    raise Fault(f"the goal {goal} is not known here")


def check_worth(
    record: dict[str, Any], instance: dict[str, Any], task: dict[str, Any], counted: Fraction
) -> None:
    """The value is what was counted, and no bound is on the wrong side of it; ``task`` is the file's own."""
    bound = Fraction(record["bound"])
    sign = -1 if task["goal"] == "max_value" else 1
    best = task.get("best") or {}
    found = task == record["task"] and best.get("how", "memory") != "memory"
    if found and sign * bound > sign * Fraction(best["value"]):
        raise Fault(f"the bound {float(bound):g} is beaten by the best known value {best['value']}")
    if record.get("left"):
        if record["value"] is not None or record["proved"]:
            raise Fault("parts are left over, and yet a value or a proof is given")
        return
    if record["value"] is None:
        raise Fault("no value is given, although nothing is left over")
    value = Fraction(record["value"])
    if value != counted:
        raise Fault(f"the value is said to be {float(value):.12g}, counted it is {float(counted):.12g}")
    if sign * bound > sign * value:
        raise Fault(f"the bound {float(bound):.12g} is beaten by the value {float(value):.12g}")
    if record["proved"] != (value == bound):
        raise Fault(f"proved is {record['proved']} with value {record['value']} and bound {record['bound']}")
    known = task.get("lb", task.get("lb_area", task.get("ub_area")))
    if known is not None and sign * value < sign * Fraction(known):
        raise Fault(f"the value {float(value):.12g} beats the file's own bound {known}")


def check_shapes(record: dict[str, Any], instance: dict[str, Any], task: dict[str, Any]) -> None:
    """A strip of true shapes is whole, and its length is what was counted, but for rounding."""
    from recheck_shapes import ShapeFault, check_strip

    try:
        counted = check_strip(record, instance)
    except ShapeFault as fault:
        raise Fault(str(fault)) from fault
    value = None if record["value"] is None else Fraction(record["value"])
    if value is not None and abs(value - counted) <= ROUNDING * counted:
        known = Fraction(task.get("lb", task.get("lb_area", 0)))
        counted = value if value >= known or value < known * (1 - ROUNDING) else known
        bound = Fraction(record["bound"])
        record = record | {"value": counted, "bound": bound if bound > value else min(bound, counted)}
    check_worth(record | {"proved": record["value"] == record["bound"]}, instance, task, counted)


def task_of(record: dict[str, Any], instance: dict[str, Any]) -> dict[str, Any]:
    """Return the file's task that an answer is for: the same, or the same but for the saw or for plates."""
    asked = record["task"]
    for task in instance["tasks"]:
        if task == asked:
            return task
    for task in instance["tasks"]:
        bare = {k: v for k, v in task.items() if k not in KNOWN}
        if asked.get("guillotine") and bare | {k: asked[k] for k in POSED_BY_RUNNER if k in asked} == asked:
            return task
        alone = {k: v for k, v in bare.items() if not k.startswith("lb")}
        if asked.get("plates") and alone | {"plates": asked["plates"]} == asked:
            return alone
    raise Fault("the file has no such task")


def check_record(record: dict[str, Any], instance: dict[str, Any]) -> None:
    """Raise :class:`Fault` naming the first thing wrong with an answer."""
    task, own = record["task"], task_of(record, instance)
    if task["kind"] == "polystrip":
        check_shapes(record, instance, own)
        return
    kerf = space_of(task, "kerf")
    check_stock(record, instance)
    check_counts(record, instance)
    tops = []
    for number, one in enumerate(record["bins"], 1):
        container = instance["containers"][one["container"]]
        try:
            rects = [lies(row, instance, task) for row in one["items"]]
            for rect in rects:
                check_inside(rect, container, space_of(task, "margin"), open_end=task["kind"] == "strip2d")
            check_apart(rects, max(kerf, space_of(task, "gap")))
            if task.get("guillotine"):
                check_cuts(rects, kerf, int(task.get("stages") or 0))
        except Fault as fault:
            raise Fault(f"sheet {number}: {fault}") from fault
        tops += [r.top for r in rects]
    check_worth(record, instance, own, value_of(record, instance, tops))


def read(text: str) -> Any:
    """Return JSON with numbers as exact fractions where they have a point."""
    return json.loads(text, parse_float=Fraction)


def check_file(path: Path, data: Path) -> int:
    """Check all answers of a file; return how many there are."""
    families: dict[str, dict[str, dict[str, Any]]] = {}
    seen: list[tuple[str, str, dict[str, Any]]] = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        record = read(line)
        family, name, task = record["family"], record["instance"], record["task"]
        if family not in families:
            instances = read((data / f"{family}.json").read_text(encoding="utf-8"))["instances"]
            families[family] = {i["name"]: i for i in instances}
        try:
            if name not in families[family]:
                raise Fault("the file has no such instance")
            if (family, name, task) in seen:
                raise Fault("the task is answered twice")
            seen.append((family, name, task))
            check_record(record, families[family][name])
        except Fault as fault:
            raise Fault(f"{path}:{number}: {name}, {task['kind']} {task['goal']}: {fault}") from fault
    if not seen:
        raise Fault(f"{path}: there are no answers")
    return len(seen)


def main(arguments: list[str] | None = None) -> int:
    """Run the command; 0 all is right, 1 the first fault is printed, 2 a file cannot be read."""
    parser = argparse.ArgumentParser(description="Check the answers of run.py --out.")
    parser.add_argument("--data", type=Path, required=True, help="the folder of the problem files")
    parser.add_argument("answers", type=Path, nargs="+", help="files written by run.py --out")
    options = parser.parse_args(arguments)
    for path in options.answers:
        try:
            number = check_file(path, options.data)
        except Fault as fault:
            print(fault)
            return 1
        except OSError as error:
            print(error, file=sys.stderr)
            return 2
        print(f"{path}: {number} answers are right")
    return 0


if __name__ == "__main__":
    sys.exit(main())
