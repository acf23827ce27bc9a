"""The bars of a job: stock lengths of any section that can be bought, or are here."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from nestkit.geometry.section import Section
from nestkit.job.entry import Entry
from nestkit.job.sections import section_of
from nestkit.job.shown import shown
from nestkit.job.stock import DEAREST, names_of_sheets, note_twice, note_unlike, read_cut
from nestkit.job.values import count, flag, length, number, text
from nestkit.stock.bar import Bar
from nestkit.stock.ways import Way
from nestkit.trade.materials import plain_name
from nestkit.units import with_unit

_SAW = 'Give cut = a way with how = "saw"'


def read_bars(top: Entry, ways: Mapping[str, Way | None]) -> tuple[Bar, ...]:
    """Return all bars that have no mistake, and note what does not agree between them."""
    found: list[tuple[Entry, Bar]] = []
    names = names_of_sheets(top)
    for entry in top.children("bar", "bar"):
        bar = _bar(entry, ways)
        note_twice(entry, names)
        if bar is not None:
            found.append((entry, bar))
    note_unlike(found, _kind, "one material and section")
    return tuple(bar for _, bar in found)


def _kind(bar: Bar) -> tuple[object, ...]:
    return plain_name(bar.material), *bar.section.stock_key


def _bar(entry: Entry, ways: Mapping[str, Way | None]) -> Bar | None:
    before = len(entry.notes)
    name = text(entry, "name", required=True)
    material = text(entry, "material", required=True)
    section = section_of(entry)
    long = length(entry, "length", required=True)
    what = "roll" if section is not None and section.kind == "roll" else "bar"
    remedy = f"Write what one {what} costs as a plain number, without a currency"
    price = number(entry, "price", 0, least=0, most=DEAREST, remedy=remedy) if "price" in entry else None
    on_hand = count(entry, "on_hand", 0)
    buy = flag(entry, "buy", True)
    trim = length(entry, "trim", "amount")
    keep = length(entry, "keep", "amount")
    cut = _cut(entry, section, ways)
    if trim:
        _check_trim(entry, section, trim, long)
    if len(entry.notes) > before or not (name and material) or section is None or long is None:
        return None
    return Bar(
        name=name,
        place=entry.place,
        material=material,
        section=section,
        length=long,
        price=price,
        on_hand=on_hand or 0,
        buy=buy,
        trim=trim or Fraction(0),
        keep=keep,
        cut=cut,
        line=entry.line,
    )


def _cut(entry: Entry, section: Section | None, ways: Mapping[str, Way | None]) -> str:
    """Return the name of the saw that cuts a bar; none cuts what comes off a roll."""
    cut = read_cut(entry, ways)
    if section is not None and section.kind == "roll":
        if "cut" in entry:
            text = "what comes off a roll is cut with scissors, without a kerf"
            entry.wrong("cut", text, "Leave it out")
        return ""
    way = ways.get(cut)
    # What is wrong, the way itself or the section of what may be a roll, was noted already.
    if way is None or way.edge_to_edge or (not cut and (section is None or "cut" in entry)):
        return cut
    if cut:
        entry.wrong("cut", f"{shown(cut)} cuts by {way.how}, and a bar is sawn", _saws(ways))
    else:
        entry.missing("cut", _saws(ways), f"[cutting] cuts by {way.how}, and a bar is sawn")
    return cut


def _saws(ways: Mapping[str, Way | None]) -> str:
    """Return what to write where the way of a bar is not a saw."""
    saws = [way.name for way in ways.values() if way is not None and way.edge_to_edge]
    if not saws:
        return f'{_SAW}: add [cutting.hacksaw] with how and kerf, then cut = "hacksaw"'
    named = " or ".join(f"cut = {shown(name)}" for name in saws if name)
    usual = "leave it out, as [cutting] is one" if "" in saws else ""
    return f"{_SAW}: {', or '.join(said for said in (named, usual) if said)}"


def _check_trim(entry: Entry, section: Section | None, trim: Fraction, long: Fraction | None) -> None:
    """Note a trim that a roll does not have, or that leaves nothing of a bar."""
    unit = entry.notes.unit
    if section is not None and section.kind == "roll":
        entry.wrong("trim", "a roll has no ends to trim", "Leave it out")
    elif long is not None and 2 * trim >= long:
        entry.wrong(
            "trim",
            f"{with_unit(trim, unit)} lost at each end leaves nothing of {with_unit(long, unit)}",
            "Make the trim less than half the length",
        )
