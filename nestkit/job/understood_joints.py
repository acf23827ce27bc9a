"""What was understood of bought parts, joints, and how well holes are made, in words."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.job.model import Fitting, Job
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Hole
from nestkit.parts.joint import Fastener, Joint, Mate, Position
from nestkit.parts.methods import Method
from nestkit.text import columns, counted, money_text, number_list
from nestkit.units import Unit, decimal_text, length_text, with_unit

_BARE = {"screw": "{n} x {size}", "rivet": "{n} x rivet {size}", "wood screw": "{n} x wood screw {size}"}


def bought_said(job: Job) -> Iterator[str]:
    """Yield lines that say what is bought ready made; none where nothing is."""
    if job.bought:
        yield "Bought ready made"
        yield from (f"  {line}" for line in columns([_bought_row(b, job.unit) for b in job.bought]))


def joints_said(job: Job) -> Iterator[str]:
    """Yield lines that say what is held together by what; none without joints."""
    if job.joints:
        yield "Joints"
        yield from (f"  {joint_said(joint, job.unit)}" for joint in job.joints)


def fitting_said(job: Job) -> Iterator[str]:
    """Yield lines that say how holes are made and what is asked of joints, as far as the job says it."""
    fit, usual = job.fitting, Fitting()
    made = [f"marked by {fit.method} where a part does not say"] if fit.method is not None else []
    made += ["drilled at a drill press"] if fit.press else []
    made += ["both walls of a tube from one side"] if fit.in_one_go else []
    asked = [f"a chance of {decimal_text(fit.chance)} or more"] if fit.chance != usual.chance else []
    if fit.spares != usual.spares:
        asked.append(f"{decimal_text(100 * fit.spares)} % more screws as spares")
    if fit.temperatures is not None:
        low, high, at = (
            decimal_text(t) for t in (fit.temperatures.low, fit.temperatures.high, fit.temperatures.made_at)
        )
        asked.append(f"from {low} to {high} C, made at {at} C")
    if made:
        yield f"Holes are {', '.join(made)}"
    if asked:
        yield f"Joints: {', '.join(asked)}"
    for method, figure in fit.accuracy:
        yield f"Own accuracy: {method}, +- {with_unit(figure, job.unit)} each way"
    for piece in fit.practice:
        yield f"Practice piece: {piece.method}, {counted(len(piece.wanted), 'mark')}"
    if job.shop_drills is not None:
        yield f"Drills in the shop: {', '.join(row.name for row in job.shop_drills)}"


def joint_said(joint: Joint, unit: Unit) -> str:
    """Return a joint in a line.

    As in ``lid to hinge: 2 x 10-32 through console lid (1, 2), hinge (1, 2); lock nut; made 1 x``.
    """
    return f"{joint.name}: {'; '.join(said for said in _said(joint, unit) if said)}"


def method_said(method: Method | None) -> str:
    """Return how a part's holes are made, empty where the part does not say."""
    return f"holes by {method}" if method is not None else ""


def _said(joint: Joint, unit: Unit) -> Iterator[str]:
    held = joint.fastener
    between = "between" if held.kind == "hook-and-loop" else "through"
    yield f"{_fastener(joint)} {between} {', '.join(_mate(mate) for mate in joint.mates)}"
    yield "" if held.held_by == "itself" else "in wood" if held.held_by == "wood" else held.held_by
    yield from _hardware(held, unit)
    yield "drilled together" if joint.together else ""
    yield "held by edges" if joint.held else ""
    yield from (_position(m.part, m.position, unit) for m in joint.mates if m.position is not None)
    yield f"a chance of {decimal_text(joint.chance)} or more" if joint.chance is not None else ""
    yield f"made {joint.quantity} x" if joint.quantity else "not made"


def _fastener(joint: Joint) -> str:
    held = joint.fastener
    count = next((len(mate.holes) for mate in joint.mates if mate.holes), 0)
    if held.kind in _BARE:
        return _BARE[held.kind].format(n=count, size=held.size)
    return f"{held.kind} {held.size} wide"


def _hardware(held: Fastener, unit: Unit) -> Iterator[str]:
    yield "flat heads" if held.head == "flat" else ""
    where = {"none": "no washers", "both": "washers under head and nut"}
    yield "" if held.washers is None else where.get(held.washers, f"washers under the {held.washers}")
    yield f"{with_unit(held.length, unit)} long" if held.length is not None else ""
    yield "thread locker" if held.thread_locker else ""


def _mate(mate: Mate) -> str:
    how = [word for on, word in ((mate.opposite, "opposite hand"), (mate.turned_over, "turned over")) if on]
    name = f"{mate.part} {' '.join(how)}".strip()
    return f"{name} ({number_list(mate.holes)})" if mate.holes else name


def _position(part: str, position: Position, unit: Unit) -> str:
    turn = f", turned {decimal_text(position.turn_deg)} deg" if position.turn_deg else ""
    return f"{part} at {length_text(position.at.x, unit)}, {with_unit(position.at.y, unit)}{turn}"


def _bought_row(part: Bought, unit: Unit) -> tuple[str, ...]:
    said = [
        part.material,
        with_unit(part.thickness, unit) if part.thickness is not None else "",
        holes_said(part.holes, unit),
        method_said(part.method),
    ]
    count = str(part.quantity)
    price = "" if part.price is None else f"{money_text(part.price)} each"
    return part.name, count, price, ", ".join(s for s in said if s)


def holes_said(holes: tuple[Hole, ...], unit: Unit) -> str:
    """Return holes by what makes them: ``2 x #7, 4 x dia .2 in``."""
    counts: dict[str, int] = {}
    for hole in holes:
        # A bare diameter is said where no drill of the tables makes it.
        name = hole.drill.name or f"dia {with_unit(hole.dia, unit)}"
        counts[name] = counts.get(name, 0) + 1
    return ", ".join(f"{n} x {name}" for name, n in counts.items())
