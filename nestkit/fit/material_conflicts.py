"""Hardware that does a material no good: nuts, thread-locker and flat heads in plastic, heads on metal."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from nestkit.fit.case import Case
from nestkit.fit.length_of import Trouble
from nestkit.fit.stack import ends, is_abs, is_soft_plastic, pieces
from nestkit.job.shown import shown
from nestkit.trade.fasteners import head
from nestkit.trade.materials import family, is_metal
from nestkit.trade.rules import rule
from nestkit.units import with_unit

_CRACKED = ("polycarbonate", "acrylic")
_NO_COUNTERSINK = {"polycarbonate": "R072", "acrylic": "R073"}
_FLAT = 0.6
"""Height of a flat head over the screw's diameter, where the tables have none (common practice)."""


def plain_nut_on_plastic(case: Case) -> Iterator[Trouble]:
    """Screws in plastic stay snug only (rule R075), so that a plain nut comes loose."""
    names = _names(case, is_soft_plastic)
    if names and case.in_nuts and case.stack.fastener.held_by == "nut":
        text = (
            f"plain nuts with plastic in the joint ({names}): it is only tightened snug, and they come loose"
        )
        yield Trouble(False, text, "use lock nuts with a nylon insert", "R075")


def thread_locker_near_plastic(case: Case) -> Iterator[Trouble]:
    """Liquid thread-locker cracks polycarbonate, acrylic and ABS (rule R076)."""
    names = _names(case, lambda material: family(material) in _CRACKED or is_abs(material))
    if names and case.stack.fastener.thread_locker:
        text = f"liquid thread-locker cracks {names}, at once or weeks later"
        yield Trouble(False, text, "keep it away from this joint: use lock nuts with a nylon insert", "R076")


def flat_head(case: Case) -> Iterator[Trouble]:
    """A flat head splits polycarbonate and acrylic, and leaves a knife edge in thin aluminium."""
    fastener = case.stack.fastener
    first = next(pieces(case.assembly), None)
    if fastener.head != "flat" or first is None:
        return
    name, material = shown(first.part.name), family(first.part.material)
    if material in _NO_COUNTERSINK:
        text = f"a flat head is wedged into {name}: countersunk {material} splits"
        yield Trouble(False, text, "use a pan head and a washer", _NO_COUNTERSINK[material])
    elif material == "aluminium" and fastener.kind != "rivet":
        yield from _knife_edge(case, name)
    if fastener.washers in ("head", "both"):
        yield Trouble(False, "a washer does not go under a flat head; none is counted", "use a pan head")


def _knife_edge(case: Case, name: str) -> Iterator[Trouble]:
    made, by = case.stack.thread, rule("R074")
    row = head("flat", made.size) if made else None
    deep = float(row.height) if row else _FLAT * case.stack.fastener.dia
    thick = _first_wall(case)
    if thick and deep > float(by.typical or 0) * thick + 1e-6:
        text = (
            f"the flat head is {with_unit(deep, case.unit)} deep, {name} only {with_unit(thick, case.unit)} "
            "thick there: the countersink leaves a knife edge"
        )
        yield Trouble(False, text, "use a pan head, or a thicker part under the head", by.id)


def _first_wall(case: Case) -> float:
    """Return the thickness that a countersink is cut in, 0 where it is not known or a spacer is first."""
    if not case.assembly.layers or any(loose.after <= 0 for loose in case.assembly.loose):
        return 0.0
    plane = case.assembly.layers[0].plane
    return plane.walls[0] if plane.walls else plane.depth


def head_side(case: Case) -> Iterator[Trouble]:
    """Where one end bears on plastic and the other on metal the heads are on the plastic (rule R111)."""
    first, last = ends(case.assembly)
    if case.in_nuts and is_metal(first) and is_soft_plastic(last):
        far = [piece.part.name for piece in pieces(case.assembly)][-1]
        text = f"the heads bear on metal and the nuts on plastic, {shown(far)}"
        yield Trouble(False, text, f"turn the screws round: head_on = {shown(far)}", "R111")


def rivet_on_plastic(case: Case) -> Iterator[Trouble]:
    """The end of a blind rivet that spreads cracks plastic without a washer behind it (common practice)."""
    _, last = ends(case.assembly)
    if case.stack.fastener.kind == "rivet" and is_soft_plastic(last) and not case.stack.washers[1]:
        far = [piece.part.name for piece in pieces(case.assembly)][-1]
        text = (
            f"the rivets spread against {shown(far)} without a washer: plastic cracks there (common practice)"
        )
        yield Trouble(
            False, text, "put a washer behind each rivet, or ask; or put their heads on the plastic"
        )


def _names(case: Case, found_by: Callable[[str], bool]) -> str:
    """Return the parts of a joint whose material is found, each once."""
    names = (shown(p.part.name) for p in pieces(case.assembly) if found_by(p.part.material))
    return ", ".join(dict.fromkeys(names))
