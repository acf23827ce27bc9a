"""What a screw passes from its head to its far end, piece by piece, in mm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from nestkit.fit.assembly import Assembly, Layer, Loose
from nestkit.job.model import Part
from nestkit.parts.joint import Fastener
from nestkit.trade.fasteners import Thread, nut, thread, washer
from nestkit.trade.materials import is_plastic, is_wood, plain_name
from nestkit.trade.rivets import backing_washer, rivet_nut

EntryKind = Literal["part", "spacer", "washer", "lock nut", "nut", "rivet nut"]


@dataclass(frozen=True, slots=True)
class Entry:
    """A piece of a stack: its kind, its words, and its thickness in mm, None where it is not known."""

    kind: EntryKind
    words: str
    thickness: Fraction | None
    material: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Stack:
    """A joint's stack. ``entries`` run from the head; a nut or a rivet nut is the last.

    ``far`` is what the last part gives to hold the screw: the thickness of its first wall, None where it is
    not known. ``thread`` is that of a screw, None of anything else. ``washer_size`` is the screw size whose
    washers are used; ``washers`` how many under the head and at the far end.
    """

    joint: str
    fastener: Fastener
    entries: tuple[Entry, ...]
    far: Fraction | None
    thread: Thread | None
    washer_size: str
    washers: tuple[int, int]

    @property
    def missing(self) -> tuple[str, ...]:
        """What has no known thickness, each once."""
        return tuple(dict.fromkeys(e.words for e in self.entries if e.thickness is None))

    @property
    def total(self) -> Fraction | None:
        """The whole stack, nut and washers included; None while something of it is not known."""
        laid = any(e.kind in ("part", "rivet nut") for e in self.entries)
        return _sum(self.entries) if laid else None

    @property
    def clear(self) -> Fraction | None:
        """What lies before the piece that holds the screw: the last part, or a nut."""
        return _sum(self.entries[:-1])

    @property
    def parts(self) -> Fraction | None:
        """What lies between the head and the last part's far side, a washer under the head included."""
        last = max((i for i, e in enumerate(self.entries) if e.kind in ("part", "spacer")), default=-1)
        return _sum(self.entries[: last + 1])


def _sum(entries: tuple[Entry, ...]) -> Fraction | None:
    known = [e.thickness for e in entries if e.thickness is not None]
    return sum(known, Fraction(0)) if len(known) == len(entries) else None


def stack_of(assembly: Assembly) -> Stack:
    """Return the stack of an assembly in its order, with the washers and the nut that its joint asks for.

    The part with a rivet nut is passed by the nut's own body; of a part that is tapped only its first wall
    counts. Raises :class:`~nestkit.trade.screws.UnknownScrew` for a screw that is none.
    """
    fastener = assembly.joint.fastener
    made = thread(fastener.size) if fastener.kind == "screw" else None
    inner = list(_inner(assembly))
    size, at_head, at_far = _washers(assembly, made)
    entries = inner
    if fastener.held_by == "rivet nut" and inner and made is not None:
        entries = [*inner[:-1], _rivet_nut(made, inner[-1].words)]
    if at_head:
        entries = [_washer(fastener, size), *entries]
    if at_far:
        entries = [*entries, _washer(fastener, size)]
    if made is not None and fastener.held_by in ("lock nut", "nut"):
        entries = [*entries, _nut(fastener, made)]
    far = _mm(holding_depth(assembly.layers[-1])) if assembly.layers else None
    return Stack(assembly.joint.name, fastener, tuple(entries), far, made, size, (at_head, at_far))


def pieces(assembly: Assembly) -> Iterator[Layer | Loose]:
    """Yield layers and spacers as they lie, the heads' side first."""
    yield from (loose for loose in assembly.loose if loose.after <= 0)
    for i, layer in enumerate(assembly.layers, start=1):
        yield layer
        last = i == len(assembly.layers)
        yield from (loose for loose in assembly.loose if loose.after == i or (last and loose.after > i))


def ends(assembly: Assembly) -> tuple[str, str]:
    """Return the materials that the head and the far end bear on; empty where not known."""
    found = [piece.part.material for piece in pieces(assembly)]
    return (found[0], found[-1]) if found else ("", "")


def holding_depth(layer: Layer) -> float:
    """Return what a part gives a thread in mm: of a tube its first wall, 0 where it is not known."""
    return layer.plane.walls[0] if layer.plane.walls else layer.plane.depth


def is_soft_plastic(material: str) -> bool:
    """Say whether a screw's parts dent or crack a material: the sheet plastics and ABS."""
    return is_plastic(material) or is_abs(material)


def is_abs(material: str) -> bool:
    """Say whether a material is ABS, which the tables have no row for."""
    return "abs" in plain_name(material).split()


def _inner(assembly: Assembly) -> Iterator[Entry]:
    held_here = assembly.joint.fastener.held_by == "tapped hole"
    last = assembly.layers[-1] if assembly.layers else None
    for piece in pieces(assembly):
        part: Part = piece.part
        if isinstance(piece, Loose):
            yield Entry("spacer", part.name, _mm(piece.length), part.material)
        else:
            depth = holding_depth(piece) if held_here and piece is last else piece.plane.depth
            yield Entry("part", part.name, _mm(depth), part.material)


def _mm(value: float) -> Fraction | None:
    """Return a length to a millionth of a millimetre, so that sums are exact; None for 0, not known."""
    return Fraction(round(value * 1_000_000), 1_000_000) if value > 0 else None


def _washers(assembly: Assembly, made: Thread | None) -> tuple[str, int, int]:
    """Return the washers' size, and how many lie under the head and at the far end: 0 or 1.

    A flat head has none, and nothing without a nut has one at the far end. Where the job leaves it open one
    lies under what bears on plastic or wood; a wood screw is drawn into wood without.
    """
    fastener = assembly.joint.fastener
    if fastener.kind not in ("screw", "rivet", "wood screw"):
        return "", 0, 0
    first, last = ends(assembly)
    asked = fastener.washers
    if asked is None:
        wide = is_soft_plastic(first) or (is_wood(first) and fastener.kind == "screw")
        at_head = wide and fastener.kind != "rivet"
        at_far = is_soft_plastic(last) or is_wood(last)
    else:
        at_head, at_far = asked in ("head", "both"), asked in ("nut", "both")
    at_head = at_head and fastener.head == "pan"
    at_far = at_far and fastener.held_by in ("lock nut", "nut", "itself")
    return _washer_size(fastener, made), int(at_head), int(at_far)


def _washer_size(fastener: Fastener, made: Thread | None) -> str:
    if made is not None:
        return made.size
    if fastener.kind == "rivet":
        found = backing_washer(exact_dia(fastener))
        return found[0] if found else fastener.size
    return fastener.size


def exact_dia(fastener: Fastener) -> Fraction:
    """Return a fastener's largest diameter in mm, to a ten thousandth."""
    return Fraction(round(fastener.dia * 10_000), 10_000)


def _washer(fastener: Fastener, size: str) -> Entry:
    row = washer(size)
    if row is None:
        return Entry("washer", f"washer for {fastener.size}", None)
    return Entry("washer", "washer", row.thickness, source=row.source)


def _nut(fastener: Fastener, made: Thread) -> Entry:
    kind: Literal["lock nut", "nut"] = "lock nut" if fastener.held_by == "lock nut" else "nut"
    row = nut(kind, made.size)
    if row is None:
        return Entry(kind, f"{kind} for {made.text}", None)
    return Entry(kind, kind, row.height, source=row.source)


def _rivet_nut(made: Thread, part: str) -> Entry:
    row = rivet_nut(made.text)
    if row is None:
        return Entry("rivet nut", f"rivet nut for {made.text}", None)
    return Entry("rivet nut", f"rivet nut in {part}", row.body, source=row.source)
