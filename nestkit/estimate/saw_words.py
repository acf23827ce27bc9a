"""What a saw plan says of cuts: how often, in which piece, what to set, what they give."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from nestkit.estimate.saw_repeats import Lot, Repeat
from nestkit.estimate.saw_steps import EDGES, as_set, stays
from nestkit.layout.result import PlacedPart
from nestkit.parts.panel import Panel
from nestkit.text import counted, number_list, sentence
from nestkit.units import Unit, length_text, with_unit

_BESIDE = (("left of", "right of"), ("below", "above"))
_RUNS = 3
"""Copies in more runs of numbers than this and one are not listed."""


@dataclass(frozen=True, slots=True)
class StepWords:
    """What a plan says of a cut or several: what, how often, the setting (both large), how, what it gives.

    ``times`` is empty for a single cut.
    """

    what: str
    setting: str
    how: str
    gives: tuple[str, ...]
    times: str = ""

    def __str__(self) -> str:
        return " ".join(filter(None, (self.what, self.setting, self.times, self.how, *self.gives)))


def words_of(
    repeats: Sequence[Repeat], unit: Unit, *, copies: bool = True, whole: str = "the sheet"
) -> tuple[StepWords, ...]:
    """Return what a plan says of each cut or repeat of cuts.

    ``copies``: with the number of each copy of a part. ``whole`` is what is sawn called before its first cut.
    """
    stay = stays([r.first for r in repeats], unit)
    return tuple(_words(r, s, unit, copies, whole) for r, s in zip(repeats, stay, strict=True))


def _words(repeat: Repeat, stay: bool, unit: Unit, copies: bool, whole: str) -> StepWords:
    step = repeat.first
    size, out = as_set(step.setting, unit)
    how = {
        "fence": f"{step.edge} edge at the fence{{}}.",
        "stop": f"{step.edge} edge at the stop{{}}, on a sled or mitre gauge, not the fence.",
        "line": f"Measured from the {step.edge} edge{{}}. "
        f"Saw {_BESIDE[step.axis][step.side]} the line, along a straight edge.",
    }[step.held]
    how = sentence(how.format(" each time" if len(repeat.steps) > 1 else ""))
    if out:
        how += f" That is {out}."
    if step.push_stick:
        how += " Push stick."
    setting = f"{step.held.capitalize()}{' stays at' if stay else ''} {size}"
    gives = tuple(_gives(lot, repeat, unit, copies) for lot in repeat.lots)
    return StepWords(_what(repeat, unit, whole), setting, how, gives, times_text(repeat))


def _what(repeat: Repeat, unit: Unit, whole: str) -> str:
    step, last = repeat.first, repeat.steps[-1]
    names = names_text(repeat.names)
    if step.cut.piece == "sheet":
        piece = whole
    elif repeat.pieces == 1:
        piece = f"piece {names}"
    else:
        piece = f"each of the {repeat.pieces} pieces {names}"
    numbers = number_list(range(step.cut.step, last.cut.step + 1))
    cuts = f"{'Cut' if step is last else 'Cuts'} {numbers}"
    what = f"{cuts}: {step.kind} {piece}"
    if step.kind == "trim":
        kept = next(g for g in step.gained if g.parts)
        edge = EDGES[step.axis][kept.name.endswith("a")]
        what += f", {edge} edge, {with_unit(step.across - kept.size[step.axis], unit)} off, kerf included"
    return f"{what}."


def times_text(repeat: Repeat) -> str:
    """Return how often a cut is made: ``12 times``, ``5 pieces, once each``; empty for a single cut."""
    if repeat.pieces == 1:
        return f"{repeat.times} times" if repeat.times > 1 else ""
    return f"{repeat.pieces} pieces, {'once' if repeat.times == 1 else f'{repeat.times} times'} each"


def names_text(names: Iterable[str]) -> str:
    """Return names of pieces, runs of three and more joined.

    >>> names_text(["5a", "6a", "7a", "7b"])
    '5a to 7a, 7b'
    """
    runs: list[list[str]] = []
    for name in names:
        if runs and (int(runs[-1][-1][:-1]) + 1, runs[-1][-1][-1]) == (int(name[:-1]), name[-1]):
            runs[-1].append(name)
        else:
            runs.append([name])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _gives(lot: Lot, repeat: Repeat, unit: Unit, copies: bool) -> str:
    """What pieces are: parts to write the name on, with parts still to be cut, offcuts, or waste."""
    piece, count = lot.pieces[0], len(lot.pieces)
    size = f"{' x '.join(length_text(side, unit) for side in piece.size)} {unit}"
    many = f", {counted(count, 'piece')}" if count > 1 else ""
    many += _from(lot, repeat)
    if not piece.parts:
        use = "keep" if piece.keep else "waste"
        if piece.clear is not None:
            use = f"KEEP CLEAR ({piece.clear})" if piece.clear else "KEEP CLEAR"
        return f"{lot.name} {use}{many}: {size}."
    if piece.done is not None:
        return f"{lot.name} DONE{many}{_done(lot, piece.done, size, copies)}"
    held = counted(len(piece.parts), "part")
    if len(piece.parts) == 1:
        held = f"{label_of(piece.parts[0], copies=copies and count == 1)}, not to size yet"
    if count > 1:
        return f"{lot.name}{many}: {size}, {held}{' each' if len(piece.parts) > 1 else ''}."
    return f"{lot.name}{many}: {held}."


def _done(lot: Lot, part: PlacedPart, size: str, copies: bool) -> str:
    """What is still to be said of finished parts, and what is written on them."""
    count = len(lot.pieces)
    box = "" if _is_box(part.panel) else " as a box" if count == 1 else ", boxes"
    if lot.pieces[0].left_over:
        box += f", MEASURE {'IT' if count == 1 else 'EACH'}: must be {size}"
    if count == 1:
        return f'{box}: write "{label_of(part, copies=copies)}" on it.'
    numbers = [p.done.copy for p in lot.pieces if p.done is not None]
    which = number_list(numbers)
    if which.count(",") > _RUNS:
        which = f"{min(numbers)} to {max(numbers)}, none twice"
    each = f" and a copy number ({which})" if copies else ""
    return f'{box}: write "{label_of(part, copies=False)}"{each} on each.'


def _from(lot: Lot, repeat: Repeat) -> str:
    """Return which of the pieces and cuts before leave a lot, empty where that is plain."""
    times = repeat.times
    strips, rest, both = range(1, times + 1), (times + 1,), range(1, times + 2)
    found = {numbers for _, numbers in lot.places}
    plain = len(found) == 1 and found <= {tuple(strips), rest, tuple(both)}
    if repeat.pieces == 1:
        # One piece is named by the cut that leaves it.
        if plain or len(lot.pieces) == 1:
            return ""
        ((_, numbers),) = lot.places
        cuts = number_list(n - 1 + repeat.first.cut.step for n in numbers if n <= times)
        return f" (cuts {cuts}{' and what is left' if numbers[-1] > times else ''})"
    if plain:
        whole = len(lot.places) == len(repeat.names)
        return "" if whole else f" (from {names_text(name for name, _ in lot.places)})"
    by_numbers: dict[tuple[int, ...], list[str]] = {}
    for name, numbers in lot.places:
        by_numbers.setdefault(numbers, []).append(name)
    said = [
        f"the {ordinals(numbers)} of {names_text(names) if len(repeat.names) > 1 else 'each'}"
        for numbers, names in by_numbers.items()
    ]
    return f" ({'; '.join(said)})"


def ordinals(numbers: Iterable[int]) -> str:
    """Return ordinal numbers in order, runs of three and more joined.

    >>> ordinals([1, 2, 3, 12, 22])
    '1st to 3rd, 12th, 22nd'
    """
    return re.sub(r"\d+", lambda found: f"{found[0]}{_ending(int(found[0]))}", number_list(numbers))


def _ending(number: int) -> str:
    return "th" if number // 10 % 10 == 1 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


def label_of(part: PlacedPart, *, copies: bool) -> str:
    """Return what is written on a part: name, copy where there are several, hand, revision."""
    panel = part.panel
    said = [panel.name]
    if copies and panel.needed + panel.spare_if_room > 1:
        said.append(f"copy {part.copy}")
    if part.opposite_hand:
        said.append("OPPOSITE HAND")
    if panel.revision:
        said.append(f"rev {panel.revision}")
    return ", ".join(said)


def _is_box(panel: Panel) -> bool:
    """Say whether a part is finished once its box is sawn."""
    return panel.shape == "rectangle" and len(panel.outline.vertices) == 4
