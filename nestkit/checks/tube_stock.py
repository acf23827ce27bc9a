"""Tubes that no bar can hold, and groups that have no bar."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from nestkit.checks.findings import Finding, by_rule, listed, measured
from nestkit.geometry.section import Section
from nestkit.job.model import BarGroup, Job
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.stock.section import section_text
from nestkit.trade.materials import family, plain_name
from nestkit.trade.rules import rule
from nestkit.units import Unit, with_unit


def no_bar(job: Job) -> Iterator[Finding]:
    """Every tube has a bar of its material and section that is here or can be bought."""
    for group in job.bar_groups:
        if not group.tubes or any(bar.to_be_had for bar in group.bars):
            continue
        names = listed(f'"{tube.name}"' for tube in group.tubes)
        kind = f"{group.material} {section_text(group.section, job.unit)}"
        if group.bars:
            known = listed(f'"{bar.name}"' for bar in group.bars)
            text = f"{known} can neither be bought nor is any on hand, and {names} must be cut from it"
            remedy = "write buy = true, or how many are on_hand"
        else:
            text = f"there is no bar of {kind} to cut {names} from; {_what_there_is(job, group)}"
            remedy = f"add a [[bar]] of {kind}{_other_words(job, group)}"
        yield measured(group.tubes[0].place, text, remedy)


def _alike(job: Job, group: BarGroup) -> list[Bar]:
    return [b for b in job.bars if plain_name(b.material) == plain_name(group.material)]


def _what_there_is(job: Job, group: BarGroup) -> str:
    alike = _alike(job, group)
    if alike:
        alike.sort(key=lambda bar: _unlike(bar.section, group.section))
        words = dict.fromkeys(f'{section_text(bar.section, job.unit)} ("{bar.name}")' for bar in alike)
        return f"of {group.material} there is {listed(words)}"
    materials = dict.fromkeys(bar.material for bar in job.bars)
    return f"the bars are of {listed(materials)}" if materials else "the job has no bar at all"


def _other_words(job: Job, group: BarGroup) -> str:
    """The likeliest slip: the material under another name, or a section of other figures."""
    alike = _alike(job, group)
    if alike:
        nearest = min(alike, key=lambda bar: _unlike(bar.section, group.section))
        return f', or write the section as the bar does: "{section_text(nearest.section, job.unit)}"'
    kin = [
        bar.material
        for bar in job.bars
        if bar.section.stock_key == group.section.stock_key
        or (family(bar.material) and family(bar.material) == family(group.material))
    ]
    return f', or write the material as the bar does: "{kin[0]}"' if kin else ""


def _unlike(one: Section, other: Section) -> tuple[bool, Fraction]:
    """Say how little two sections are alike: another kind first, then how far their sizes are apart."""
    sizes = zip(one.stock_key[1:], other.stock_key[1:], strict=True)
    return one.kind != other.kind, sum((abs(a - b) for a, b in sizes), Fraction(0))


def too_long_for_bars(job: Job) -> Iterator[Finding]:
    """Some bar of its group is long enough between its trims for each tube."""
    for group in job.bar_groups:
        bars = [bar for bar in group.bars if bar.to_be_had]
        for tube in group.tubes:
            if bars and not any(bar.holds(tube.length) for bar in bars):
                yield measured(tube.place, *_too_long(tube, group, bars, job.unit))


def _too_long(tube: Tube, group: BarGroup, bars: list[Bar], unit: Unit) -> tuple[str, str]:
    what = "roll" if group.off_a_roll else "bar"
    rooms = listed(f'"{bar.name}" leaves {with_unit(bar.usable, unit)}' for bar in bars)
    trims = any(bar.trim for bar in bars)
    where = " between its trims" if trims else ""
    text = f"no {what} is long enough for it, {with_unit(tube.length, unit)}: {rooms}{where}"
    lessen = ", or lessen the trim" if trims else ""
    return text, f"add a longer [[bar]], or make the part of two with a splice{lessen}"


def saw_without_kerf(job: Job) -> Iterator[Finding]:
    """A saw takes some length with each cut; a kerf of 0 was mostly never measured."""
    ways = dict.fromkeys(group.way for group in job.bar_groups if group.way is not None and group.tubes)
    for way in ways:
        if not way.kerf:
            yield by_rule(
                "advice",
                rule("R035"),
                way.place,
                "kerf is 0: the cuts take no length, so of a stick that is used up a piece comes out short",
                "saw into scrap, measure the slot, and write it as kerf",
            )
