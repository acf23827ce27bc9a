"""All screws, nuts, washers, rivets, ties and tape that the joints take, counted, with spares."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from nestkit.fit.assembly import Assembly
from nestkit.fit.case import Case, case_of
from nestkit.fit.conflicts import conflicts
from nestkit.fit.length_of import size_unit
from nestkit.fit.result import Hardware, Item
from nestkit.fit.stack import ends, exact_dia, is_soft_plastic
from nestkit.fit.stack_words import stack_line
from nestkit.job.model import Job
from nestkit.units import MM_PER_INCH

_ORDER = (
    "machine screw", "wood screw", "blind rivet", "lock nut", "hex nut", "rivet nut", "flat washer",
    "cable tie",
)  # fmt: skip
"""The kinds of hardware as they are listed."""


@dataclass(frozen=True, slots=True)
class _Need:
    """What one joint takes of a thing; ``dia`` in mm is for the order of sizes."""

    what: str
    size: str
    dia: Fraction
    length: Fraction | None
    count: int
    source: str = ""
    notes: tuple[str, ...] = ()


@dataclass(slots=True)
class _Sum:
    """A line of the list while it is summed up: dicts keep each word once, in order."""

    first: _Need
    count: int = 0
    joints: dict[str, None] = field(default_factory=dict)
    notes: dict[str, None] = field(default_factory=dict)


def hardware(job: Job, assemblies: Sequence[Assembly]) -> Hardware:
    """Return the hardware of a job's joints, and what of it needs care.

    Like things of several joints are one line. Spares are the job's share, rounded up: one at least of
    anything that is needed, none where the share is 0. Hook-and-loop is one line a width, its length in
    all with the share on top.
    """
    cases = tuple(case_of(assembly, job.unit) for assembly in assemblies)
    lines: dict[tuple[str, str, Fraction | None], _Sum] = {}
    for case in cases:
        for need in _needs(case):
            line = lines.setdefault((need.what, need.size, need.length), _Sum(need))
            line.count += need.count
            line.joints[case.name] = None
            line.notes.update(dict.fromkeys(need.notes))
    ordered = sorted(lines.values(), key=lambda line: _place(line.first))
    share = job.fitting.spares
    items = (*(_item(line, share) for line in ordered), *_tapes(cases, share))
    rigid = (case for case in cases if case.stack.fastener.kind in ("screw", "rivet", "wood screw"))
    stacks = tuple(
        (case.name, stack_line(case.stack, case.length, job.unit)) for case in rigid if case.assembly.layers
    )
    return Hardware(items, conflicts(job, cases), stacks)


def _place(need: _Need) -> tuple[int, Fraction, str, Fraction, str]:
    kind = need.what.split(",")[0]
    return _ORDER.index(kind), need.dia, need.size, need.length or Fraction(-1), need.what


def _item(line: _Sum, share: Fraction) -> Item:
    need = line.first
    return Item(
        what=need.what,
        size=need.size,
        length=None if need.length is None else float(need.length),
        count=line.count,
        spares=math.ceil(line.count * share),
        joints=tuple(line.joints),
        source=need.source,
        note="; ".join(line.notes),
    )


def _needs(case: Case) -> Iterator[_Need]:
    """Yield what all copies of a joint take, tape left out."""
    fastener, length = case.stack.fastener, case.length
    if fastener.kind == "hook-and-loop":
        return
    count, dia = case.screws * case.assembly.joint.quantity, exact_dia(fastener)
    what = {
        "screw": f"machine screw, {fastener.head} head",
        "wood screw": f"wood screw, {fastener.head} head",
        "rivet": f"blind rivet, {'dome' if fastener.head == 'pan' else 'flat'} head",
        "cable tie": "cable tie",
    }[fastener.kind]
    notes = (*_open(case), *length.notes)
    if fastener.kind == "cable tie":
        notes = (*notes, "one a hole; half as many where each goes through two")
    yield _Need(what, length.size, dia, length.length, count, length.source, notes)
    yield from _far_end(case, count, dia)
    washers = sum(case.stack.washers)
    if washers:
        on_plastic = any(is_soft_plastic(material) for material in ends(case.assembly))
        wide = ("wide ones on plastic, where there is room",) if on_plastic else ()
        source = next((e.source for e in case.stack.entries if e.kind == "washer"), "")
        yield _Need("flat washer", case.stack.washer_size, dia, None, count * washers, source, wide)


def _open(case: Case) -> tuple[str, ...]:
    """Say why a length is open that a screw must have."""
    if case.length.length is not None or case.stack.fastener.kind not in ("screw", "wood screw"):
        return ()
    if not case.assembly.layers:
        return ("length open: the joint does not meet as drawn",)
    missing = case.stack.missing
    return (f"length open: measure {', '.join(missing)}",) if missing else ("length open",)


def _far_end(case: Case, count: int, dia: Fraction) -> Iterator[_Need]:
    """Yield the nuts of a screw."""
    stack = case.stack
    if stack.thread is None or stack.fastener.held_by not in ("lock nut", "nut", "rivet nut"):
        return
    what = {"lock nut": "lock nut, nylon insert", "nut": "hex nut", "rivet nut": "rivet nut"}
    source = stack.entries[-1].source if stack.entries else ""
    held = stack.fastener.held_by
    notes = ("makers differ: measure the hole, grip and length of yours",) if held == "rivet nut" else ()
    yield _Need(what[held], stack.thread.text, dia, None, count, source, notes)


def _tapes(cases: Sequence[Case], share: Fraction) -> Iterator[Item]:
    """Yield the hook-and-loop of each width: its length in all, with what is to spare."""
    widths: dict[str, list[Case]] = {}
    for case in cases:
        if case.stack.fastener.kind == "hook-and-loop":
            widths.setdefault(case.stack.fastener.size, []).append(case)
    for size, using in sorted(widths.items(), key=lambda pair: (pair[1][0].stack.fastener.dia, pair[0])):
        known = [(case, case.stack.fastener.length) for case in using if case.stack.fastener.length]
        used = sum((length * case.assembly.joint.quantity for case, length in known if length), Fraction(0))
        pieces = sum(case.assembly.joint.quantity for case in using)
        notes = [f"in all, for {pieces} {'piece' if pieces == 1 else 'pieces'}"]
        if share:
            notes.append("with some to spare")
        if len(known) < len(using):
            notes.append("the length of some is open: write length in their joints")
        length = _run(used * (1 + share), size) if used else None
        names = tuple(dict.fromkeys(case.name for case in using))
        yield Item("hook-and-loop", size, length, 1, 0, names, "", "; ".join(notes))


def _run(mm: Fraction, size: str) -> float:
    """Return a length of tape in mm, up to a sixteenth of an inch or a millimetre."""
    step = MM_PER_INCH / 16 if size_unit(size) == "in" else Fraction(1)
    return float(math.ceil(mm / step) * step)
