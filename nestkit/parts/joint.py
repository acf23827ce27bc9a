"""A joint: the holes that one set of screws goes through, part by part from the heads on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.geometry.points import Point

FastenerKind = Literal["screw", "rivet", "wood screw", "cable tie", "hook-and-loop"]
HeldBy = Literal["lock nut", "nut", "rivet nut", "tapped hole", "wood", "itself"]
"""What holds the far end. A rivet, a tie and a tape hold by themselves."""
Washers = Literal["none", "head", "nut", "both"]
Head = Literal["pan", "flat"]


@dataclass(frozen=True, slots=True)
class Position:
    """Where a part's origin lies in the frame of the first part, seen from the heads, and its turn."""

    at: Point
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Mate:
    """One part of a joint and the numbers of its holes in it, in file order.

    Without holes it goes loose over the screw: a spacer. ``turned_over``: its back looks to the heads.
    ``opposite``: it is the opposite hand of the part as drawn. ``position`` None: found from the holes.
    """

    part: str
    holes: tuple[int, ...]
    turned_over: bool = False
    opposite: bool = False
    position: Position | None = None


@dataclass(frozen=True, slots=True)
class Fastener:
    """What goes through the holes: its kind, its size as the trade writes it, its largest diameter in mm.

    ``washers`` None leaves them to the materials; ``length`` None to the stack. Of hook-and-loop the size is
    the width of the tape and ``length`` what is used; of a cable tie the size is its width.
    """

    kind: FastenerKind
    size: str
    dia: float
    held_by: HeldBy
    head: Head = "pan"
    washers: Washers | None = None
    length: Fraction | None = None
    thread_locker: bool = False


@dataclass(frozen=True, slots=True)
class Joint:
    """A joint. ``mates`` run from the heads to the far side; two of one name are two copies.

    ``quantity`` is how often it is made. ``together``: the first part is drilled, the others through it.
    ``held``: the parts are lined up by their edges or by something else, and cannot slide to suit the
    screws. ``chance`` is the least that is asked of it, None: what the job asks of all.
    """

    name: str
    place: str
    fastener: Fastener
    mates: tuple[Mate, ...]
    quantity: int = 1
    together: bool = False
    held: bool = False
    chance: Fraction | None = None
    line: int | None = None
