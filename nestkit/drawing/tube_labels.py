"""Labels of tubes: one for each, one for a bag of short plain pieces, one for a rest worth keeping."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from nestkit.drawing.label_rows import Said, dated, items, places_in_job
from nestkit.drawing.label_text import Row, Words, few_words, full_words
from nestkit.estimate.bar_words import stick_name
from nestkit.job.model import Job
from nestkit.layout.bars.result import CutStick, PlacedTube
from nestkit.layout.result import JobLayout
from nestkit.parts.tube import Tube
from nestkit.stock.section import section_in_words
from nestkit.text import number_list
from nestkit.units import MM_PER_INCH, rest_text, with_unit

IN_A_BAG = 6 * MM_PER_INCH
"""Pieces without a hole and shorter than this are kept in a bag; common practice, no source."""

_Hand = tuple[str, bool]


def tube_labels(job: Job, layout: JobLayout, small: bool) -> list[list[Said]]:
    """Return the labels of each stick's pieces, stick by stick as they are cut."""
    order = places_in_job(job)
    sticks = [stick for laid in layout.bars for stick in laid.sticks]
    counts = Counter(_hand(part) for stick in sticks for part in stick.parts)
    return [list(_of_stick(job, stick, order, counts, small)) for stick in sticks]


def _hand(part: PlacedTube) -> _Hand:
    """Return what copies are counted by: where both hands are one part they are counted together."""
    return part.tube.name, part.opposite_hand and not part.tube.either_hand


def _of_stick(
    job: Job, stick: CutStick, order: dict[str, int], counts: Counter[_Hand], small: bool
) -> Iterator[Said]:
    by_hand: dict[_Hand, list[PlacedTube]] = {}
    for part in stick.parts:
        by_hand.setdefault(_hand(part), []).append(part)
    for (name, opposite), parts in by_hand.items():
        parts.sort(key=lambda part: part.copy)
        tube = parts[0].tube
        bags = [parts] if _in_a_bag(tube) else [[part] for part in parts]
        for bag in bags:
            key = (not tube.used_for, tube.used_for, order[name], opposite, bag[0].copy)
            yield Said(key, _piece(job, stick, bag, counts[name, opposite], small))


def _in_a_bag(tube: Tube) -> bool:
    """Say whether pieces of a tube are alike in all and short, so that nobody asks which one it is."""
    return not tube.holes and tube.mitres == (None, None) and tube.length < IN_A_BAG


def _piece(job: Job, stick: CutStick, bag: list[PlacedTube], count: int, small: bool) -> Words:
    tube, opposite = bag[0].tube, _hand(bag[0])[1]
    hand = "OPPOSITE HAND" if opposite else ""
    numbers = number_list(part.copy for part in bag)
    copy = f"{numbers} of {count}{', spare' if all(map(_is_spare, bag)) else ''}"
    come_from = stick_name(stick)
    if small:
        return few_words(tube.name, items((0, hand), (1, copy), (2, come_from)))
    long = f"{with_unit(tube.length, job.unit)} long"
    revision = f"revision {tube.revision}" if tube.revision else ""
    rows = (
        Row(items((0, hand), (1, copy)), 5.0, bold=True),
        Row(items((3, long)), 4.6),
        Row(items((4, f"{tube.material}, {section_in_words(tube.section, job.unit)}")), 3.4),
        Row(items((5, f"for {tube.used_for}" if tube.used_for else "")), 4.0),
        Row(items((2, come_from), (6, revision), (7, dated(job))), 3.2),
    )
    return full_words(tube.name, rows)


def _is_spare(part: PlacedTube) -> bool:
    """Say whether a copy is a spare: spares are counted after all that were asked for."""
    return not _hand(part)[1] and part.copy > part.tube.as_drawn


def rest_labels(job: Job, layout: JobLayout, small: bool) -> Iterator[Words]:
    """Yield what the label of each rest worth keeping says, in the order in which sticks are cut."""
    for laid in layout.bars:
        for stick in laid.sticks:
            if stick.kept:
                yield _rest(job, stick, small)


def _rest(job: Job, stick: CutStick, small: bool) -> Words:
    long = f"{rest_text(stick.left, job.unit)} {job.unit} long"
    of = f"{stick.stock.material}, {section_in_words(stick.stock.section, job.unit)}"
    come_from = f"from {stick_name(stick)}"
    if small:
        return few_words("OFFCUT", items((0, long), (1, of), (2, come_from)))
    rows = (
        Row(items((0, long)), 5.4, bold=True),
        Row(items((1, of)), 3.4),
        Row(items((2, come_from)), 3.4),
        Row(items((3, dated(job)), (4, job.name)), 3.2),
    )
    return full_words("OFFCUT", rows)
