"""Gang marking: which tubes to clamp side by side and square lines across together, so that rows match.

All lie flush at end 0. One line across all of them marks the same place on each, which measuring one by one
does not. Only places along a tube are shared so; how far a hole lies across its face is marked on each.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.geometry.section import FACE_DEG
from nestkit.parts.marked_tube import MarkedLine, lines_of
from nestkit.parts.tube import Tube, WallMark

LEAST_SHARED = 2
"""Places that two tubes, or two copies of one, must share to be worth a clamp."""

MOST_MEMBERS = 6
"""Different tubes in one gang at most: more are not kept apart on the bench."""

Up = str
"""What of a tube is up: the letter of a face, or the angle of a line along a round one (``90°``)."""


@dataclass(frozen=True, slots=True)
class Member:
    """Copies of one tube and hand in a gang: what of them is up, one after the other, and their marks.

    ``ups`` are several where the same places are marked on several faces: the tubes are rolled over for each.
    """

    tube: Tube
    opposite: bool
    copies: int
    ups: tuple[Up, ...]
    marks: tuple[WallMark, ...]

    def at(self, place: Fraction) -> tuple[WallMark, ...]:
        """Return the marks at a place along the tube, on all that is up in turn."""
        return tuple(mark for mark in self.marks if mark.spot.at == place)


@dataclass(frozen=True, slots=True)
class GangLine:
    """A line to square across: how far from end 0, and which members have marks there, by their index."""

    at: Fraction
    members: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Gang:
    """Tubes to mark together. ``heights``: how high they are as they lie, each height once."""

    members: tuple[Member, ...]
    lines: tuple[GangLine, ...]
    heights: tuple[Fraction, ...]

    @property
    def copies(self) -> int:
        """How many tubes lie side by side."""
        return sum(member.copies for member in self.members)

    @property
    def level(self) -> bool:
        """Say whether all are equally high, so that a square lies on all of them."""
        return len(self.heights) == 1


@dataclass(frozen=True, slots=True)
class _Side:
    """A member of some gang to be, before it is known with whom: its places, its height as it lies."""

    member: Member
    places: frozenset[Fraction]
    height: Fraction
    groups: frozenset[str]


def all_holes(tube: Tube, opposite: bool) -> Tube:
    """Return a tube as it is: all its holes are marked, whatever the hand."""
    return tube


ToMark = Callable[[Tube, bool], Tube]
"""Returns a tube, as drawn, with the holes that are marked on copies of a hand."""


def gangs_of(tubes: Sequence[Tube], to_mark: ToMark = all_holes) -> tuple[Gang, ...]:
    """Return the gangs of some tubes, in the order of the tubes.

    Faces whose rows share at least two places go together, and all that share with any of these; rows
    declared to match go together whatever they share. They must be equally high, unless they were declared,
    and are not more than :data:`MOST_MEMBERS`.
    In one gang a tube lies one way only: another face of it that shares too is another gang. Copies of one
    tube are a gang by themselves.
    """
    pool = _Pool([side for tube in tubes for side in _sides(tube, to_mark)], tubes)
    gangs = []
    for number in range(len(pool.sides)):
        if number in pool.left:
            together = pool.taken_with(number)
            if sum(side.member.copies for side in together) > 1 and _worth_it(together):
                gangs.append(_gang(together))
    return tuple(gangs)


def _sides(tube: Tube, to_mark: ToMark) -> Iterator[_Side]:
    """Yield what can be marked of a tube in one set-up, each hand: faces with the same places are one."""
    counted = tube.numbered(one_hand=tube.either_hand)
    for opposite in tube.hands:
        copies = sum(hand == opposite for some in counted[:2] for _, hand in some)
        if not copies:
            continue
        marked = to_mark(tube, opposite)
        shown = marked.mirrored() if opposite else marked
        found: dict[tuple[frozenset[Fraction], Fraction], _Side] = {}
        for up, height, marks in _faces_up(shown):
            places = frozenset(mark.spot.at for mark in marks)
            groups = frozenset(mark.group for mark in marks)
            known = found.get((places, height))
            if known is None:
                member = Member(tube, opposite, copies, (up,), marks)
                found[places, height] = _Side(member, places, height, groups)
            else:
                seen = known.member
                member = replace(seen, ups=(*seen.ups, up), marks=(*seen.marks, *marks))
                found[places, height] = replace(known, member=member, groups=known.groups | groups)
        yield from found.values()


def _faces_up(tube: Tube) -> Iterator[tuple[Up, Fraction, tuple[WallMark, ...]]]:
    """Yield each face or angle with marks, how high the tube lies with it up, and the marks along it."""
    lines = lines_of(tube)
    for up in dict.fromkeys(_up(one) for one in lines):
        marks = [mark for one in lines if _up(one) == up for mark in one.marks]
        marks.sort(key=lambda mark: (mark.spot.at, mark.number))
        height = tube.section.a if up in FACE_DEG and up in "BD" else tube.section.b
        yield up, height, tuple(marks)


def _up(one: MarkedLine) -> Up:
    return one.face if one.face is not None else f"{float(one.at_deg):g}°"


Twins = set[tuple[str, str, str, str]]


class _Pool:
    """The sides that are in no gang yet, by their numbers, and where each finds those that go with it.

    A thousand tubes are not compared each with each: by its height and places a side finds those that share.
    """

    def __init__(self, sides: Sequence[_Side], tubes: Sequence[Tube]) -> None:
        self.sides = sides
        self.left = set(range(len(sides)))
        self._twins = {(t.name, w.group, w.tube, w.of_group) for t in tubes for w in t.twins}
        self._declared: dict[str, set[str]] = defaultdict(set)
        for name, _, other, _ in self._twins:
            self._declared[name].add(other)
            self._declared[other].add(name)
        self._at: dict[tuple[Fraction, Fraction], list[int]] = defaultdict(list)
        self._of: dict[str, list[int]] = defaultdict(list)
        for number, side in enumerate(sides):
            self._of[side.member.tube.name].append(number)
            for place in side.places:
                self._at[side.height, place].append(number)

    def taken_with(self, first: int) -> list[_Side]:
        """Take a side with all that go with it, directly or by others; each tube and hand once."""
        together = [first]
        have = {_whose(self.sides[first])}
        for number in together:
            one = self.sides[number]
            fitting = [(other, _shared(one, self.sides[other], self._twins)) for other in self._near(one)]
            # Of two faces of one tube the one that shares more goes here.
            for other, shared in sorted(fitting, key=lambda pair: -pair[1]):
                whose = _whose(self.sides[other])
                if shared and whose not in have and len(together) < MOST_MEMBERS:
                    have.add(whose)
                    together.append(other)
        self.left.difference_update(together)
        return [self.sides[number] for number in sorted(together)]

    def _near(self, one: _Side) -> list[int]:
        """The sides that may go with one, in their order: they share enough, or were declared to match."""
        shared = Counter(n for place in one.places for n in self._at[one.height, place])
        near = {number for number, count in shared.items() if count >= LEAST_SHARED}
        for name in self._declared[one.member.tube.name]:
            near.update(self._of[name])
        return sorted(near & self.left)


def _whose(side: _Side) -> tuple[str, bool]:
    return side.member.tube.name, side.member.opposite


def _shared(one: _Side, other: _Side, twins: Twins) -> int:
    """Return how many places two sides share; 0 where they do not go together."""
    shared = len(one.places & other.places)
    if _declared(one, other, twins):
        return max(1, shared)
    return shared if shared >= LEAST_SHARED and one.height == other.height else 0


def _declared(one: _Side, other: _Side, twins: Twins) -> bool:
    return any(
        (a.member.tube.name, group, b.member.tube.name, of_group) in twins
        for a, b in ((one, other), (other, one))
        for group in a.groups
        for of_group in b.groups
    )


def _worth_it(together: Sequence[_Side]) -> bool:
    """Say whether enough is shared: copies of one tube share all that they have."""
    return len(together) > 1 or len(together[0].places) >= LEAST_SHARED


def _gang(together: Sequence[_Side]) -> Gang:
    places = sorted(frozenset().union(*(side.places for side in together)))
    lines = tuple(
        GangLine(at, tuple(i for i, side in enumerate(together) if at in side.places)) for at in places
    )
    heights = tuple(sorted({side.height for side in together}))
    return Gang(tuple(side.member for side in together), lines, heights)
