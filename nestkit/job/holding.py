"""What holds the far end of a joint, by what the job says and by what the holes there are."""

from __future__ import annotations

from nestkit.job.entry import Entry
from nestkit.job.fasteners import FastenerRead
from nestkit.job.shown import shown
from nestkit.job.through import Layer
from nestkit.parts.holes import Drill
from nestkit.parts.joint import HeldBy
from nestkit.trade.screws import plain_screw


def holder(joint: Entry, fastener: FastenerRead, far: Layer) -> HeldBy | None:
    """Return what holds the far end; None where the holes of the far part do not go with it."""
    if fastener.kind == "wood screw":
        return "wood"
    if fastener.kind != "screw":
        return "itself"
    drills = [far.named.holes[number - 1].drill for number in far.holes]
    tapped = [drill for drill in drills if drill.tap is not None]
    every = bool(drills) and len(tapped) == len(drills)
    if fastener.held_by is None:
        if tapped and not every:
            text = f"some of the holes of {shown(far.name)} are tapped, and others are not"
            joint.wrong("through", text, "Make two joints of them, or write held_by", far.index)
            return None
        return _threaded(joint, fastener, far, tapped) if every else "lock nut"
    if fastener.held_by != "tapped hole":
        return fastener.held_by
    if not every:
        text = f"the holes of {shown(far.name)}, where the screw ends, are not tapped"
        remedy = f'Give them tap = "{fastener.size}", or write "lock nut", "nut" or "rivet nut"'
        joint.wrong("held_by", text, remedy)
        return None
    return _threaded(joint, fastener, far, tapped)


def _threaded(joint: Entry, fastener: FastenerRead, far: Layer, tapped: list[Drill]) -> HeldBy | None:
    """Return that a tapped hole holds the screw; None where its thread is another one."""
    other = next((d.tap for d in tapped if d.tap is not None and not _goes_in(fastener, d)), None)
    if other is not None:
        text = f"the holes of {shown(far.name)} are tapped {other}, and the screw is {fastener.size}"
        joint.wrong("screw", text, f'Write screw = "{other}", or tap = "{fastener.size}" there')
        return None
    return "tapped hole"


def _goes_in(fastener: FastenerRead, drill: Drill) -> bool:
    """Say whether a screw fits a thread; one without its pitch fits any of its diameter."""
    size = fastener.size
    if "x" in size or "-" in size:
        return plain_screw(drill.tap or "") == size
    return drill.fastener_dia is not None and abs(drill.fastener_dia - float(fastener.dia)) < 1e-6
