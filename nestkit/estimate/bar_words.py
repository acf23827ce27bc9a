"""How sticks are said: their groups, what no cut list can beat, weights, cuts."""

from __future__ import annotations

from nestkit.estimate.amounts import cost_text, least_cost_text, weight_text, yield_text
from nestkit.estimate.bars import BarsEstimate
from nestkit.estimate.estimate import TWO_PEOPLE_KG
from nestkit.job.model import BarGroup
from nestkit.layout.bars.result import BarsLayout, CutStick
from nestkit.stock.section import section_text
from nestkit.text import counted
from nestkit.units import Unit, decimal_text


def bar_group_name(group: BarGroup, unit: Unit) -> str:
    """Return a group's name: material, section, way of cutting."""
    if group.way is None:
        how = "cut with scissors" if group.off_a_roll else "no way of cutting"
    else:
        how = f"{group.way.how} ({group.way.name})" if group.way.name else group.way.how
    return f"{group.material}, {section_text(group.section, unit)} {unit}, {how}"


def stick_name(stick: CutStick) -> str:
    """Return which stick it is: ``square 8 ft, stick 2``, ``edge trim, roll 1``."""
    return f"{stick.stock.name}, {'roll' if stick.stock.roll else 'stick'} {stick.number}"


def sticks_text(number: int, group: BarGroup) -> str:
    """Return so many sticks, or rolls: ``3 sticks``."""
    return counted(number, "roll" if group.off_a_roll else "stick")


def least_sticks_text(laid: BarsLayout) -> str:
    """Return in a sentence what no cut list of all parts can beat, and why."""
    if laid.unplaced:
        missing = counted(len(laid.unplaced), "part")
        return f"{missing} without a place, so nothing is said about the least that could do."
    if laid.least_cost is None or laid.least_sticks is None:
        return "Nothing is known about the least that could do."
    used, least = len(laid.sticks), laid.least_sticks
    if least.value >= used:
        fewer = f"no cut list needs fewer: {least.why}."
    else:
        verb = "is" if least.value == 1 else "are"
        fewer = f"at least {decimal_text(least.value)} {verb} needed: {least.why}."
    said = f"{sticks_text(used, laid.group)}; {fewer}"
    verb = "costs" if laid.cost_in == "price" else "takes"
    if laid.proved:
        if least.value >= used and least.why == laid.least_cost.why:
            return f"{said} None {verb} less than {cost_text(laid.cost, laid.cost_in)}."
        return f"{said} None {verb} less than {cost_text(laid.cost, laid.cost_in)}: {laid.least_cost.why}."
    floor = least_cost_text(laid.least_cost.value, laid.cost_in)
    return (
        f"{said} It {verb} at least {floor}: {laid.least_cost.why}. That this can be reached is not proved."
    )


def bars_facts(taken: BarsEstimate, unit: Unit) -> list[tuple[str, str]]:
    """Return what a group takes, each with its name: parts, weight, cuts, holes; nothing if none is cut."""
    if not taken.pieces:
        return []
    group = taken.group
    yield_said = yield_text(taken.used_share)
    facts = [
        ("parts", f"{taken.pieces} from {sticks_text(taken.sticks, group)}, yield {yield_said}"),
    ]
    if not group.off_a_roll:
        facts.append(("weight", _weights(taken, unit)))
    mitres = f", {counted(taken.mitres, 'mitre')} among them" if taken.mitres else ""
    tool = "with scissors" if group.off_a_roll else "with the saw"
    facts.append(("to cut", f"{counted(taken.cuts, 'cut')} {tool}{mitres}"))
    if taken.drilled:
        facts.append(("holes", f"{taken.drilled} to drill by hand, wall by wall"))
    return facts


def _weights(taken: BarsEstimate, unit: Unit) -> str:
    weight = taken.weight
    if weight is None:
        return f"not known: the tables have no density for {taken.group.material}"
    said = f"parts {weight_text(weight.parts, unit)}, full sticks {weight_text(weight.sticks, unit)}"
    said += f", at {float(weight.material.density):g} kg/m3"
    if weight.heaviest > TWO_PEOPLE_KG:
        said += f"; a stick of {weight_text(weight.heaviest, unit)} needs two people"
    return said
