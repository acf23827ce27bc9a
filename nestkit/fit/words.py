"""What is known of joints in plain words: first what happens at the bench, then the figures behind it."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator

from nestkit.fit.accuracy import practised
from nestkit.fit.assembly import Assembly, Layer, Placement
from nestkit.fit.odds import figure, odds, turn_said
from nestkit.fit.result import Advice, JobFit, JointFit, Zone
from nestkit.fit.tube_planes import looks_up
from nestkit.job.model import Job
from nestkit.parts.methods import Method
from nestkit.parts.tube import Tube
from nestkit.text import columns, counted, number_list, sentence
from nestkit.units import Unit, decimal_text, with_unit

WIDTH = 96
_NO_HOLES = "No joint has holes that must meet."
OFF = 0.05
"""Millimetres from which holes that do not meet are told: less is what rounding of sizes leaves."""
_KEY = 13
_MOST_ADVICE = 5
_BENDS = ("cable tie", "hook-and-loop")
"""What goes round corners: nobody knows how its parts lie."""
_FASTENERS = {
    "screw": "{} screws",
    "rivet": "{} blind rivets",
    "wood screw": "{} wood screws",
    "cable tie": "cable ties {} wide",
    "hook-and-loop": "hook-and-loop tape {} wide",
}


def verdict(fit: JointFit) -> str:
    """Return in a few words whether a joint goes together."""
    if fit.assembly.faults:
        return "CANNOT MEET"
    if fit.chance is None:
        return "holes need not line up"
    if fit.chance.value >= 0.9995:
        return "goes together"
    if fit.chance.value < 0.01:
        return "hardly any goes together without filing"
    return f"{odds(fit.chance.value)} go together without filing"


def headline(fit: JointFit) -> str:
    """Return the verdict, and what the next drill up would make of it where more is asked."""
    larger = [advice.chance.value for advice in fit.advice if advice.kind == "hole"]
    if not larger or fit.chance is None:
        return verdict(fit)
    return f"{verdict(fit)}; next drill up, {odds(min(larger))}"


def joint_lines(job: Job, fit: JointFit) -> list[str]:
    """Return a joint as lines for a terminal: the verdict, then what it rests on, then what would help."""
    rows = [*joint_rows(job, fit)]
    lines = [f"{fit.name}: {headline(fit)}"]
    for key, text in rows:
        lines += _keyed(key, text)
    return lines


def _keyed(key: str, text: str) -> list[str]:
    return textwrap.wrap(
        sentence(text),
        WIDTH,
        initial_indent=f"  {key:<{_KEY}}",
        subsequent_indent=" " * (_KEY + 2),
        break_long_words=False,
        break_on_hyphens=False,
    )


def joint_rows(job: Job, fit: JointFit) -> Iterator[tuple[str, str]]:
    """Yield what a verdict rests on and what would help, each with a word for it; further advice without."""
    assembly = fit.assembly
    for fault in assembly.faults:
        yield "error", fault.text
        yield "do", fault.remedy
    yield "through", through_said(job, assembly)
    if lie := lie_said(job, assembly):
        yield "as they lie", lie
    if off := off_said(job, fit):
        yield "as drawn", off
    if fit.chance is None:
        return
    if not assembly.joint.together:
        yield "zone", zone_said(job, fit)
    yield "holes by", methods_said(fit)
    yield "chance", chance_said(fit)
    if heat := heat_said(job, fit):
        yield "heat", heat
    for number, advice in enumerate(fit.advice[:_MOST_ADVICE]):
        yield "better" if number == 0 else "", advice_said(advice)


def through_said(job: Job, assembly: Assembly) -> str:
    """Return what goes through which holes of which parts, the heads' side first."""
    joint = assembly.joint
    fastener = joint.fastener
    size = fastener.size if fastener.kind in ("screw", "wood screw") else with_unit(fastener.dia, job.unit)
    said = _FASTENERS[fastener.kind].format(size)
    parts = [_layer_said(layer) for layer in assembly.layers] or [mate.part for mate in joint.mates]
    for loose in reversed(assembly.loose):
        parts.insert(loose.after, f"{loose.part.name} (loose)")
    held = f", {fastener.held_by}" if fastener.held_by != "itself" else ""
    together = ", drilled together" if joint.together else ""
    return f"{said} through {', then '.join(parts)}{held}{together}; made {joint.quantity} x"


def _layer_said(layer: Layer) -> str:
    hands = [" opposite hand"] if layer.plane.mate.opposite else []
    hands += [" turned over"] if layer.plane.mate.turned_over else []
    numbers = f" {number_list(layer.numbers)}" if layer.numbers else ""
    return f"{layer.part.name}{','.join(hands)}{numbers}"


def lie_said(job: Job, assembly: Assembly) -> str:
    """Return how the parts lie on the first one, seen from the heads; empty where there is but one."""
    if assembly.joint.fastener.kind in _BENDS:
        return ""
    said = [_placed_said(job.unit, layer) for layer in assembly.layers[1:]]
    if not said:
        return ""
    either = "; another way round fits as well" if assembly.symmetric else ""
    first = assembly.layers[0]
    return f"on {first.part.name}{_looks(first)}, seen from the heads: {'; '.join(said)}{either}"


def _placed_said(unit: Unit, layer: Layer) -> str:
    placement: Placement = layer.placement
    turned = turn_said(placement.turn_deg) or "as drawn"
    where = "END 0" if isinstance(layer.part, Tube) else "origin"
    x, y = (with_unit(v, unit) if v >= 0 else f"-{with_unit(-v, unit)}" for v in placement.move)
    return f"{layer.part.name} {turned}{_looks(layer)}, {where} at {x}, {y}"


def _looks(layer: Layer) -> str:
    """Say what of a part looks to the heads: nothing of a panel as drawn, the face of a tube."""
    plane = layer.plane
    if isinstance(layer.part, Tube):
        up = looks_up(layer.part, plane.numbers[0], plane.local[0], inside=plane.mirrored)
        return f", {up} to the heads" if up else ""
    return ", its back to the heads" if plane.mirrored else ""


def off_said(job: Job, fit: JointFit) -> str:
    """Return which holes are off as drawn though clearance takes it up; empty where a fault says more."""
    if fit.assembly.faults or fit.assembly.joint.together:
        return ""
    pairs = zip(fit.assembly.layers, fit.accuracies, strict=False)
    through = {layer.part.name for layer, one in pairs if one.method == "match drilled"}
    off = [(miss, math.hypot(miss.dx, miss.dy)) for miss in fit.assembly.misses
           if miss.dx is not None and miss.dy is not None and not {miss.part, miss.of} & through]  # fmt: skip
    off = [(miss, far) for miss, far in off if far >= OFF]
    if not off:
        return ""
    miss, far = max(off, key=lambda pair: round(pair[1], 6))
    others = f"; {counted(len(off) - 1, 'more hole')} off too" if len(off) > 1 else ""
    return (
        f"hole {miss.number} of {miss.part} lies {_size(far, job.unit)} off "
        f"hole {miss.of_number} of {miss.of}{others}; the clearance takes it up, and less of it is left for "
        "marking"
    )


def heat_said(job: Job, fit: JointFit) -> str:
    """Return what the temperatures do that a joint must bear; empty where they do nothing."""
    warmth, bear = fit.warmth, job.fitting.temperatures
    if warmth is None or bear is None:
        return ""
    low, high, made_at = (decimal_text(t, 1) for t in (bear.low, bear.high, bear.made_at))
    return (
        f"from {low} to {high} C holes move up to {_size(warmth.apart, job.unit)} apart; as made, at "
        f"{made_at} C, the chance is {figure(warmth.as_made.value)}"
    )


def zone_said(job: Job, fit: JointFit) -> str:
    """Return the position zones left: one where all holes have the same."""
    zones = {(zone.part, round(zone.diameter, 6)): zone for zone in fit.zones}
    sizes = {round(zone.diameter, 6) for zone in fit.zones}
    if len(sizes) == 1:
        return f"{_zone(fit.zones[0], job.unit)}, for each hole"
    return "; ".join(f"{part}: {_zone(zone, job.unit)}" for (part, _), zone in zones.items())


def _zone(zone: Zone, unit: Unit) -> str:
    return f"{_size(zone.diameter, unit)} wide, +-{_size(zone.per_axis, unit)} per axis"


def _size(mm: float, unit: Unit) -> str:
    """Return a small length as a caliper reads it, and one place more: ``.0310 in``, ``0.44 mm``."""
    if unit == "in":
        return f"{mm / 25.4:.4f} in".removeprefix("0")
    return f"{mm:.2f} mm"


def methods_said(fit: JointFit) -> str:
    """Return how each part's holes are made; :func:`accuracy_lines` has the figures."""
    told: dict[str, list[str]] = {}
    for accuracy, layer in zip(fit.accuracies, fit.assembly.layers, strict=True):
        told.setdefault(accuracy.method, []).append(layer.part.name)
    return "; ".join(f"{' and '.join(dict.fromkeys(names))}: {how}" for how, names in told.items())


def accuracy_said(job: Job, found: JobFit) -> list[str]:
    """Return how exact each method in use is, with its source; practice pieces with what they leave open."""
    used = dict.fromkeys(accuracy for fit in found.joints for accuracy in fit.accuracies)
    rows = [
        (one.method, f"+-{_size(2 * one.sigma, job.unit)} in 95 of 100, each axis", one.source)
        for one in used
    ]
    methods = dict.fromkeys(piece.method for piece in job.fitting.practice)
    return [": ".join(row[:2]) + f"; {row[2]}" for row in rows] + [practice_said(job, m) for m in methods]


def practice_said(job: Job, method: Method) -> str:
    """Return what practice pieces of a method say: their scatter, how sure it is, and a steady offset."""
    own = practised([piece for piece in job.fitting.practice if piece.method == method])
    unit = job.unit
    said = (
        f"{method} by practice: {own.marks} marks, sigma {_size(own.sigma, unit)} an axis, between "
        f"{_size(own.least, unit)} and {_size(own.most, unit)} for sure (95 %)"
    )
    if own.drifts:
        way = f"{_signed(own.mean_x, unit)} to the right, {_signed(own.mean_y, unit)} up"
        said += f"; all marks are off alike, {way}: measure to one edge of the line, from one datum"
    return said


def _signed(mm: float, unit: Unit) -> str:
    return _size(mm, unit) if mm >= 0 else f"-{_size(-mm, unit)}"


def chance_said(fit: JointFit) -> str:
    """Return the figure behind the verdict, that of the screws by themselves, and how it was found."""
    if fit.chance is None:
        return ""
    chance = fit.chance
    how = f"{chance.trials:,} trials" if chance.trials else "in closed form"
    held = "parts held by their edges" if fit.assembly.joint.held else "parts free to slide and turn"
    alone = ""
    if fit.screws:
        lowest = min(fit.screws, key=lambda screw: screw.chance.value)
        alone = f"; with nothing moved, screw {lowest.number} by itself {figure(lowest.chance.value)}"
    asked = "" if chance.value >= fit.goal else f"; asked is {figure(float(fit.goal))}"
    return f"{figure(chance.value, chance.error)} ({how}, {held}){alone}{asked}"


def advice_said(advice: Advice) -> str:
    """Return a change with what it gives."""
    warning = f". Mind: {advice.warning}" if advice.warning else ""
    return f"{advice.text}: {odds(advice.chance.value)} ({figure(advice.chance.value)}){warning}"


def fit_lines(job: Job, found: JobFit) -> list[str]:
    """Return all joints for a terminal, without hardware and drills: a line each, then each by itself."""
    lines = [*overview(found), ""]
    for said in not_made_said(found):
        lines += [*textwrap.wrap(said, WIDTH, subsequent_indent="  "), ""]
    for fit in found.joints:
        lines += [*joint_lines(job, fit), ""]
    for said in accuracy_said(job, found):
        lines += textwrap.wrap(said, WIDTH, subsequent_indent="  ")
    return [*lines, ""]


def not_made_said(found: JobFit) -> list[str]:
    """Return a sentence that names the joints of which none is made; nothing where all are."""
    names = ", ".join(found.not_made)
    return [f"Not made, as their quantity or that of a part is 0: {names}."] if names else []


def overview(found: JobFit) -> list[str]:
    """Return a line a joint: its name, its screws, how often it is made, the verdict."""
    rows = []
    for fit in found.joints:
        joint = fit.assembly.joint
        size = (
            f"{fit.assembly.screws} x {joint.fastener.size}" if fit.assembly.screws else joint.fastener.size
        )
        below = fit.chance is not None and fit.chance.value < fit.goal
        asked = f"BELOW {figure(float(fit.goal))}" if below else ""
        rows.append((fit.name, size, f"made {joint.quantity} x", verdict(fit), asked))
    return columns(rows)


def last_line(found: JobFit) -> str:
    """Return the one sentence that matters: do all joints go together, and which is the weakest."""
    faulty = [fit.name for fit in found.joints if fit.assembly.faults]
    if faulty:
        return f"{counted(len(faulty), 'joint')} cannot meet as drawn: {', '.join(faulty)}."
    apart = dict.fromkeys(name for c in found.hardware.conflicts if c.error for name in (c.joint, *c.also))
    first = f"{counted(len(apart), 'joint')} cannot be put together with its screws: {', '.join(apart)}. "
    first = first.replace("its", "their") if len(apart) > 1 else first if apart else ""
    known = [(fit.chance.value, fit) for fit in found.joints if fit.chance is not None]
    if not known or found.chance is None:
        unmade = not found.joints and found.not_made
        what = f"No joint is made: {', '.join(found.not_made)}." if unmade else _NO_HOLES
        return f"{first}{what}"
    below = [(value, fit) for value, fit in known if value < fit.goal]
    if not below:
        all_of_them = f"{odds(found.chance.value)} ({figure(found.chance.value)})"
        every = "By its holes every joint" if first else "Every joint"
        return f"{first}{every} is above what is asked; all together {all_of_them}."
    _, weakest = min(below, key=lambda pair: pair[0])
    return (
        f"{first}{counted(len(below), 'joint')} below what is asked; the weakest, {weakest.name}: "
        f"{verdict(weakest)}. All together {figure(found.chance.value)}."
    )
