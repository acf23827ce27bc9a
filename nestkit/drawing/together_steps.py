"""The steps of drilling parts through one another: one end, pin, the far end, pin, the rest, open up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from nestkit.drawing.bench_drills import Step
from nestkit.drawing.later_words import hand_said, holes_word
from nestkit.drawing.together_lay import clamp_said
from nestkit.drawing.together_plan import Place, Setup, follower_names
from nestkit.fit.drill_words import drill_said
from nestkit.job.model import Job
from nestkit.job.pairs import later_of
from nestkit.parts.bought import Bought
from nestkit.parts.holes import Drill
from nestkit.parts.tube import Tube
from nestkit.text import number_list
from nestkit.trade.pilots import by_hand_tool, is_large, spoken
from nestkit.units import Unit

_PASSES = 0.05
"""A screw goes into a hole that is as wide as it, within so many millimetres."""


def together_steps(job: Job, setup: Setup) -> tuple[Step, ...]:
    """Return the steps of one clamping, and of all further pairs."""
    return (
        Step(_ready(setup)),
        *_first(job, setup),
        Step(_pair_mark(setup)),
        Step(clamp_said(setup, job.unit)),
        *_drilled(job, setup),
        *_afterwards(job, setup),
    )


def _ready(setup: Setup) -> str:
    """Say what is drilled by now, and what is not."""
    leader = setup.leader.plane.mate
    numbers = [place.number for place in setup.places]
    holes = f"{holes_word(numbers)} {number_list(numbers)}"
    ready = "there" if isinstance(setup.leader.part, Bought) else "made as its own prints say"
    others = " and ".join(hand_said(mate) for mate in follower_names(setup))
    return f"{hand_said(leader)}: {holes} {ready}, deburred. {others}: no holes there yet."


def _first(job: Job, setup: Setup) -> Iterator[Step]:
    """What must be drilled together before, so that the leader has its holes."""
    part, mate = setup.leader.part, setup.leader.plane.mate
    if isinstance(part, Bought):
        return
    later = later_of(job, part, mate.opposite)
    names = {pair.joint.name for number in mate.holes for pair in later.get(number, ())}
    if names:
        yield Step(f"Drill these together first: {', '.join(sorted(names))}.", large=True)


def pair_word(setup: Setup) -> str:
    """Return what parts are called that are drilled together: two are a pair, more are a set."""
    return "pair" if len(setup.layers) == 2 else "set"


def _pair_mark(setup: Setup) -> str:
    """Say how parts that belong together from now on are told apart from others."""
    word, count = pair_word(setup), setup.pair.joint.quantity
    more = f" The next {word}s get 2, 3, and so on." if count > 2 else ""
    more = f" The next {word} gets 2." if count == 2 else more
    which = "both" if word == "pair" else f"all {len(setup.layers)}"
    return f"Write or scratch 1 on {which}, where it does not show: a marked {word} from now on.{more}"


def _drilled(job: Job, setup: Setup) -> Iterator[Step]:
    """The holes: one end, the far end, each pinned, then the rest."""
    unit, places = job.unit, setup.places
    walls = [layer for layer in setup.followers if len(layer.plane.walls) > 1]
    if walls:
        names = " and ".join(dict.fromkeys(hand_said(layer.plane.mate) for layer in walls))
        yield Step(f"Keep the drill square: it goes through both walls of {names} in one go.")
    first = _how(places[0], unit)

    def same(how: str) -> str:
        return "the same way." if how == first else how

    if len(places) == 1:
        yield _drill_step(f"Hole {places[0].number}: {first}", places)
        return
    yield _drill_step(f"One end first, hole {places[0].number}: {first}", places[:1])
    yield Step(_pin(setup, places[0]))
    yield _drill_step(f"The far end, hole {places[1].number}: {same(_how(places[1], unit))}", places[1:2])
    yield Step(_pin(setup, places[1]))
    rest: dict[str, list[Place]] = {}
    for place in places[2:]:
        rest.setdefault(_how(place, unit), []).append(place)
    for how, some in rest.items():
        numbers = [place.number for place in some]
        which = f"{holes_word(numbers)} {number_list(numbers)}"
        yield _drill_step(f"{'The rest' if len(rest) == 1 else 'Then'}, {which}: {same(how)}", some)


def _drill_step(text: str, places: Sequence[Place]) -> Step:
    numbers = tuple(place.number for place in places)
    large = any(is_large(place.through.dia) for place in places)
    return Step(text, large=True, signed_off=large, holes=numbers)


def _how(place: Place, unit: Unit) -> str:
    """Say with which drills a hole is made through the one that is there."""
    through = f"{by_hand_tool(place.through.dia)} {drill_said(place.through, unit)} right through."
    if not place.spotted:
        return through
    spot = f"spot with {drill_said(place.drill, unit)}, only a full cone."
    if is_large(place.drill.dia):
        spot = "mark its middle through the hole."
    pilots = f" Pilot in the cone: {', then '.join(map(spoken, place.pilots))}." if place.pilots else ""
    return f"{spot}{pilots} {through[0].upper()}{through[1:]}"


def _pin(setup: Setup, place: Place) -> str:
    """Say what keeps the parts from slipping while the other holes are drilled."""
    fastener = setup.pair.joint.fastener
    taps = _taps(place)
    if place.through.dia >= fastener.dia - _PASSES:
        if fastener.kind == "rivet":
            return "Pin it: push in a screw or a pin that just fits. No rivet yet."
        return f"Pin it: push in a screw ({fastener.size})."
    if taps:
        return f"Tap it {' and '.join(taps)} now, square. Pin it: turn in a screw ({fastener.size}) by hand."
    if fastener.kind == "wood screw":
        return f"Pin it: turn in a wood screw ({fastener.size}) by hand, just snug."
    return "Pin it: push in a drill or a pin that just fits."


def _taps(place: Place) -> list[str]:
    return list(dict.fromkeys(drill.tap for drill in place.drills if drill.tap))


def _afterwards(job: Job, setup: Setup) -> Iterator[Step]:
    """Open up and tap what is left, deburr, put together, the next pair."""
    opened = list(_opened(job.unit, setup))
    if opened:
        yield Step("Take the parts apart.")
    yield from opened
    yield from _tapped(setup)
    apart = "" if opened else "Take the parts apart. "
    yield Step(f"{apart}Deburr every hole, both sides{_inside(setup)}.")
    yield Step("Put together: all screws in loose first, then tighten.")
    count = setup.pair.joint.quantity
    if count > 1:
        numbers = "2" if count == 2 else f"2 to {count}"
        word = pair_word(setup)
        yield Step(f"Do the same for {word if count == 2 else f'{word}s'} {numbers}. 1 only goes with 1.")
    spares = _spares(setup)
    if spares:
        yield Step(f"Leave spares undrilled: {', '.join(spares)}. Drill one when it is needed, the same way.")


def _opened(unit: Unit, setup: Setup) -> Iterator[Step]:
    """What of the followers is wider than the drill that went through all."""
    for index, layer in enumerate(setup.followers):
        found: dict[Drill, list[int]] = {}
        for place in setup.places:
            drill = place.opened(index)
            if drill is not None:
                found.setdefault(drill, []).append(place.numbers[index])
        for drill, numbers in found.items():
            which = f"{holes_word(numbers)} {number_list(numbers)} of {hand_said(layer.plane.mate)}"
            tool = f" ({by_hand_tool(drill.dia)})" if is_large(drill.dia) else ""
            yield Step(
                f"Open up {which}: {drill_said(drill, unit)}{tool}",
                large=True,
                signed_off=is_large(drill.dia),
                holes=tuple(numbers),
            )


def _tapped(setup: Setup) -> Iterator[Step]:
    """The threads that no pin asked for."""
    fastener = setup.pair.joint.fastener
    ends = setup.places[:2] if len(setup.places) > 1 else ()
    pinned = {place.number for place in ends if place.through.dia < fastener.dia - _PASSES}
    for index, layer in enumerate(setup.followers):
        found: dict[str, list[int]] = {}
        for place in setup.places:
            tap = place.drills[index].tap
            if tap and place.number not in pinned:
                found.setdefault(tap, []).append(place.numbers[index])
        for tap, numbers in found.items():
            which = f"{holes_word(numbers)} {number_list(numbers)} of {hand_said(layer.plane.mate)}"
            yield Step(f"Tap {tap}, square to the face: {which}", large=True)


def _inside(setup: Setup) -> str:
    hollow = any(isinstance(x.part, Tube) and x.part.section.kind in ("tube", "round") for x in setup.layers)
    return ", tubes inside too" if hollow else ""


def _spares(setup: Setup) -> list[str]:
    """Return the followers of which there are spares."""
    names = []
    for layer in setup.followers:
        part, mate = layer.part, layer.plane.mate
        if isinstance(part, Bought) or (mate.opposite and not part.either_hand):
            continue
        if part.spare or part.spare_if_room:
            names.append(part.name)
    return list(dict.fromkeys(names))
