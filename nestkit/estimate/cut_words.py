"""What a cut plan says of sticks, settings and mitres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from nestkit.estimate.cut_steps import CutRow, Made, Mitred, SticksAlike, StopSetting, Take
from nestkit.estimate.saw_steps import as_set
from nestkit.geometry.mitre import Mitre
from nestkit.layout.bars.result import UnplacedTube
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.text import counted, number_list, sentence
from nestkit.units import Unit, decimal_text, length_text, rest_text, with_unit

PARTS_AT_ONCE = 6
"""So many parts are named in one text; a page could not hold any number of them in a row."""


def hand_steps(kerf: Fraction, unit: Unit) -> tuple[str, ...]:
    """Return how sticks are cut by a hand saw."""
    return (
        "Square the end of the stick.",
        "Mark ONE length from the squared end. X the waste side.",
        "Saw beside the line, on the side of the X.",
        "Measure the piece, deburr it, write its name on it.",
        f"Mark the next from the fresh end, never ahead: each cut takes {with_unit(kerf, unit)}.",
    )


def stop_steps() -> tuple[str, ...]:
    """Return how sticks are cut at a stop block."""
    return (
        "Write its number and its length on each stick.",
        "Clamp the stop at the length, measured from the tooth nearer to the stop.",
        "Squared end to the stop, cut ONE piece and measure it. Then cut the others.",
        "The fresh end goes to the stop next. Deburr it before.",
        "Write its name on each piece. Lay sticks aside for the setting that is named.",
    )


STOP_SHORT = (
    "Clamp the stop, measured from the tooth nearer to it. Squared end to the stop, cut ONE piece and "
    "measure it. Then cut the others, each fresh end deburred."
)
TOTAL = '"Gone" is what the stick has lost by then. It proves that the stick is enough: never mark by it.'
SCISSORS = (
    "Cut with scissors: a cut takes no length. Mark ONE length from the end, cut on the line, then the next."
)
MITRES = (
    "Each is sawn square first, at full length over the long points; the mitre lies within that. "
    "What has holes is drilled before."
)


class StockNames:
    """How sticks are called: by number, with their length or their name where there are several stocks."""

    def __init__(self, sticks: Iterable[SticksAlike], unit: Unit) -> None:
        """Look at all sticks of a group."""
        stocks: dict[str, Bar] = {alike.stock.name: alike.stock for alike in sticks}
        by_length = len({bar.length for bar in stocks.values()}) == len(stocks)
        self._of = {}
        for name, bar in stocks.items():
            what = with_unit(bar.length, unit) if by_length else name
            self._of[name] = f" ({what})" if len(stocks) > 1 else ""

    def which(self, alike: SticksAlike) -> str:
        """Return which sticks they are: ``sticks 1 to 12``, ``stick 3 (96 in)``, ``roll 1``."""
        thing = "roll" if alike.stock.roll else "stick"
        plural = "" if alike.count == 1 else "s"
        return f"{thing}{plural} {number_list(alike.numbers)}{self._of[alike.stock.name]}"


def sticks_title(alike: SticksAlike, names: StockNames) -> str:
    """Return which sticks they are and how many, as a title: ``Sticks 1 to 12: cut 12 alike``."""
    which = names.which(alike)
    return which[0].upper() + which[1:] + (f": cut {alike.count} alike" if alike.count > 1 else "")


def stock_text(alike: SticksAlike, unit: Unit) -> str:
    """Return what sticks are cut from: name, length, whether it must be bought."""
    source = "from what is on hand" if alike.on_hand else "to buy"
    return f"{alike.stock.name}, {with_unit(alike.stock.length, unit)}, {source}"


def part_name(tube: Tube, *, opposite: bool) -> str:
    """Return what is written on a piece: name, hand, revision."""
    said = [tube.name]
    if opposite:
        said.append("OPPOSITE HAND")
    if tube.revision:
        said.append(f"rev {tube.revision}")
    return ", ".join(said)


def parts_texts(parts: Sequence[Made]) -> tuple[str, ...]:
    """Return what pieces of one length become: the part, or how many of each part, a few in a text."""
    if len(parts) == 1:
        return (part_name(parts[0].tube, opposite=parts[0].opposite_hand),)
    said = [f"{made.count} x {part_name(made.tube, opposite=made.opposite_hand)}" for made in parts]
    return tuple("; ".join(said[n : n + PARTS_AT_ONCE]) for n in range(0, len(said), PARTS_AT_ONCE))


def become_texts(row: CutRow, alike: SticksAlike) -> tuple[str, ...]:
    """Return what the pieces of a row become; of several sticks with several parts, those of all sticks."""
    said = parts_texts(row.parts)
    if alike.count == 1 or len(row.parts) == 1:
        return said
    which = "both" if alike.count == 2 else f"all {alike.count}"
    return (f"of {which} sticks: {said[0]}", *said[1:])


def pieces_text(row: CutRow, alike: SticksAlike, unit: Unit) -> str:
    """Return a row in one line: ``6 x 14 1/2 in spacer``."""
    between = ":" if len(row.parts) > 1 else ""
    return f"{row.each} x {as_set(row.length, unit)[0]}{between} {'; '.join(become_texts(row, alike))}"


def first_text(alike: SticksAlike, unit: Unit) -> str:
    """Return what is done to the end of a stick before anything is measured from it."""
    trim = alike.stock.trim
    if trim:
        return f"Square the end: at most {with_unit(trim, unit)} off, blade included"
    if alike.left or alike.beyond > alike.kerf:
        return "Check that the end is square. What truing it takes comes out of the rest"
    return "Check that the end is square: nothing is left for truing it"


def used_text(alike: SticksAlike, unit: Unit) -> str:
    """Return the total that proves that a stick suffices: ``Uses 93 3/8 of 96 in``."""
    return f"Uses {length_text(alike.used, unit)} of {with_unit(alike.stock.length, unit)}"


def left_text(alike: SticksAlike, unit: Unit) -> str:
    """Return what is left of a stick and whether to keep it."""
    if alike.kept:
        return f"KEEP the rest, {rest_text(alike.left, unit)} {unit}"
    if not alike.left:
        return "nothing left over"
    return f"{with_unit(alike.left, unit)} left over: waste"


def tight_text(alike: SticksAlike, unit: Unit) -> str:
    """Return what to mind before the first cut where a stick is nearly used up, else empty."""
    if not alike.tight or alike.last != "cut" or alike.cuts < 2:
        return ""
    spare = _small(alike.beyond - alike.kerf, unit)
    return f"TIGHT: {spare} to spare over {counted(alike.cuts, 'cut')}. Measure the kerf in scrap first."


def last_text(alike: SticksAlike, unit: Unit) -> str:
    """Return what to mind of the last piece of a stick, empty where it is cut as all others."""
    length = with_unit(alike.rows[-1].length, unit)
    if alike.last == "none":
        return f"The last piece is what is left: it must be {length}."
    if alike.last == "shave":
        over = _small(alike.beyond, unit)
        return f"The last piece is what is left, {over} too long, less than a blade: file it to {length}."
    return ""


def _small(mm: Fraction, unit: Unit) -> str:
    """Return a small length that nobody reads off a rule: in inches as a decimal."""
    if mm <= 0:
        return "nothing"
    return with_unit(mm, unit) if unit == "mm" else f"{decimal_text(mm / Fraction(254, 10), 3)} in"


def take_texts(take: Take, names: StockNames, unit: Unit) -> tuple[str, str, str, str]:
    """Return which sticks a setting is for, where they are, how many pieces, and where they go."""
    alike = take.sticks
    begin = "square the end" if alike.stock.trim else "check the end"
    where = begin if take.before is None else f"from setting {take.before}"
    pieces = f"{take.each} each = {take.pieces}" if alike.count > 1 else str(take.each)
    then = [tight_text(alike, unit)] if take.before is None else []
    if take.after is not None:
        then.append(f"keep for setting {take.after}")
    else:
        then += ["done", left_text(alike, unit), last_text(alike, unit)]
    said = " ".join(sentence(part) for part in then if part)
    return names.which(alike), where, pieces, said


def stop_texts(setting: StopSetting, names: StockNames, size: str) -> tuple[str, ...]:
    """Return the only setting of a stop, and of several kinds of sticks which gives how many."""
    heading = f"Or at a stop block: stop {size}, {counted(setting.pieces, 'piece')}"
    took = [(take, names.which(take.sticks)) for take in setting.takes]
    if len(took) > 1:
        return heading, sentence("; ".join(f"{take.pieces} from {which}" for take, which in took))
    [(take, which)] = took
    each = f", {take.each} each" if take.sticks.count > 1 else ""
    return (f"{heading}{each} from {which}",)


def mitre_text(mitre: Mitre | None, tube: Tube) -> str:
    """Return what an end looks like: ``45 degrees, long side A``."""
    if mitre is None:
        return "square"
    angle = f"{decimal_text(mitre.angle_deg, 2)} degrees"
    if mitre.long_face is not None and (mitre.long_face == "A" or not tube.section.is_round):
        return f"{angle}, long side {mitre.long_face}"
    return f"{angle}, long at {decimal_text(mitre.long_deg, 2)} degrees from A towards B"


def mitred_text(row: Mitred) -> str:
    """Return how many, which part, and its two ends: ``2 x bow frame. End 0: square. End 1: ...``."""
    part = row.part
    ends = [f"End {n}: {mitre_text(mitre, part.tube)}." for n, mitre in enumerate(row.ends)]
    return " ".join((f"{part.count} x {part_name(part.tube, opposite=part.opposite_hand)}.", *ends))


def unplaced_texts(unplaced: Sequence[UnplacedTube]) -> tuple[str, ...]:
    """Return the parts that found no stick, equal ones in one line, with why."""
    found: dict[tuple[str, bool, str], tuple[Tube, int]] = {}
    for part in unplaced:
        key = part.tube.name, part.opposite_hand, part.why
        found[key] = part.tube, found.get(key, (part.tube, 0))[1] + 1
    return tuple(
        f"{count} x {part_name(tube, opposite=opposite)}: {sentence(why)}"
        for (_, opposite, why), (tube, count) in found.items()
    )
