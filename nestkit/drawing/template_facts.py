"""What a template says in words: the part, its holes and drills, the order of work."""

from __future__ import annotations

from dataclasses import dataclass, replace

from nestkit.checks.findings import holes_said
from nestkit.drawing.datum import room_for_datum
from nestkit.drawing.later_words import leaders_said, not_yet_said
from nestkit.drawing.marking_words import how_to_punch
from nestkit.drawing.template_checks import Check, checks_of
from nestkit.drawing.template_holes import HoleRow, hole_rows
from nestkit.geometry.points import Point, Rect
from nestkit.job.model import Group, Job
from nestkit.job.pairs import later_of, without
from nestkit.parts.holes import Hole
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.stock.ways import MACHINES, How
from nestkit.trade.cautions import cautions, for_materials
from nestkit.units import Unit, decimal_text, length_text, with_unit

AT_FULL_SIZE = "Print at 100 %, do not fit to page."


@dataclass(frozen=True, slots=True)
class Facts:
    """The words of one template. ``view`` is the panel as it is drawn: mirrored where that is due.

    It has no holes that are drilled ``later`` through another part: these are apart.
    ``face`` is what the print says about the face, ``hand`` is empty for a part as drawn.
    ``facts`` are pairs of a word and what it is, ``in_short`` the least of them in one line;
    ``places`` lists holes from the datum corner where the drawing has no room for all labels.
    ``cut`` are the numbers of holes that a machine has made, ``punch`` says how the others are
    marked (empty where there are none), ``checks`` what to measure before they are drilled.
    """

    view: Panel
    unit: Unit
    back: bool
    title: str
    face: str
    hand: str
    facts: tuple[tuple[str, str], ...]
    order: str
    holes: tuple[HoleRow, ...]
    places: tuple[str, ...]
    in_short: str
    footer: str
    cautions: tuple[str, ...]
    how: How
    cut: frozenset[int]
    punch: str
    checks: tuple[Check, ...]
    later: tuple[Hole, ...] = ()

    @property
    def part_box(self) -> Rect:
        """The part's box in its own frame."""
        return Rect(0.0, 0.0, float(self.view.width), float(self.view.height))

    @property
    def by_machine(self) -> bool:
        """Say whether a machine has cut the part's edges before this print is used."""
        return self.how in MACHINES

    @property
    def sawn_first(self) -> bool:
        """Say whether the part's box has been sawn to size before this print is used."""
        return sawn_first(self.view, self.how)

    @property
    def drilled(self) -> tuple[Hole, ...]:
        """The holes that are to be marked through this print and drilled."""
        return tuple(h for h in self.view.holes if h.number not in self.cut)

    @property
    def area(self) -> Rect:
        """What must be on paper: the part and its datum bracket."""
        return room_for_datum(self.part_box, back=self.back)

    @property
    def places_from(self) -> str:
        """From where the places of holes are told."""
        return f"{'left' if self.back else 'right'} and up from DATUM"

    def with_places(self) -> Facts:
        """Return the same facts with the place of every hole in words."""
        return replace(self, places=tuple(_place(hole, self) for hole in self.view.holes))


def facts_of(job: Job, panel: Panel, *, opposite: bool, back: bool, corrected: bool) -> Facts:
    """Return what the template of a panel, one hand and one face, has to say.

    ``corrected`` says that the job's printer scale is taken out of the print.
    """
    whole = panel
    # A back is seen from behind, which mirrors it; the back of an opposite hand is mirrored twice.
    for mirrored in (opposite, back):
        whole = whole.mirrored() if mirrored else whole
    later = later_of(job, panel, opposite)
    view = without(whole, later)
    group = job.group_of(panel)
    way = job.way_of(panel)
    cut = frozenset(h.number for h in view.holes if not way.by_hand(h.dia))
    drilled = [h for h in view.holes if h.number not in cut]
    corner = datum_corner(view, way.how, back=back)
    facts = _facts(job, panel, group, opposite=opposite, back=back, corrected=corrected)
    return Facts(
        view=view,
        unit=job.unit,
        back=back,
        title=panel.name,
        face="BACK FACE - MIRRORED" if back else "THIS FACE UP",
        hand="OPPOSITE HAND" if opposite else "",
        facts=tuple(facts),
        order=f"{_order(job, without(panel, later), way.how, cut)} {not_yet_said(later)}".strip(),
        holes=tuple(hole_rows(whole, job.unit, cut, {n: leaders_said(p) for n, p in later.items()})),
        places=(),
        in_short=in_short(dict(facts)),
        footer=cautions("footer")[0],
        cautions=cautions("template") + for_materials([panel.material], []),
        how=way.how,
        cut=cut,
        punch=how_to_punch(panel.material) if drilled else "",
        checks=checks_of(view, drilled, job.unit, corner=corner),
        later=tuple(h for h in whole.holes if h.number in later),
    )


def datum_corner(view: Panel, how: How, *, back: bool) -> Point | None:
    """Return the datum corner, where the part has it by the time it is drilled: sawn, or cut square."""
    corner = Point(float(view.width) if back else 0.0, 0.0)
    square = any(v.point.to(corner) < 1e-6 for v in view.outline.vertices)
    return corner if sawn_first(view, how) or (how in MACHINES and square) else None


def sawn_first(panel: Panel, how: How) -> bool:
    """Say whether a part's box is sawn to size before it is drilled: by a saw always, by hand a rectangle."""
    return how == "saw" or (how not in MACHINES and panel.shape == "rectangle")


def _facts(
    job: Job, panel: Panel, group: Group | None, *, opposite: bool, back: bool, corrected: bool
) -> list[tuple[str, str]]:
    facts = [("Job", job.name), ("Part", panel.name)]
    if panel.used_for:
        facts.append(("For", panel.used_for))
    facts.append(("Make", copies_said(panel, opposite)))
    hand = "either: turned over, one is the other" if panel.either_hand else "as drawn"
    facts.append(("Hand", "opposite hand" if opposite else hand))
    facts.append(("Material", f"{panel.material}, {_thickness(panel, group, job.unit)}"))
    width, height = (length_text(side, job.unit) for side in (panel.width, panel.height))
    facts.append(("Size", f"{width} x {height} {job.unit}"))
    if panel.revision:
        facts.append(("Revision", panel.revision))
    facts.append(("Unit", "inch" if job.unit == "in" else "mm"))
    facts.append(("Scale", scale_said(job) if corrected else "1:1"))
    if job.date is not None:
        facts.append(("Date", job.date.isoformat()))
    if back and panel.marks:
        facts.append(("Marks", "on the other face"))
    return facts


def in_short(facts: dict[str, str]) -> str:
    """Return what every page of many says: what matters most first, as the line may be cut."""
    words = [f"Make {facts['Make']}", facts["Material"]]
    words += [f"Rev {facts[key]}" for key in ("Revision",) if key in facts]
    words += [facts["Unit"], facts["Scale"].partition(",")[0]]
    words += [facts[key] for key in ("Date", "Job") if key in facts]
    return " · ".join(words)


def scale_said(job: Job) -> str:
    """Return the scale of a print on paper, and what of the printer's was taken out."""
    printing = job.printing
    if printing.scale_x == printing.scale_y == 1.0:
        return "1:1"
    short, long = decimal_text(printing.scale_x, 5), decimal_text(printing.scale_y, 5)
    return f"1:1, corrected for a printer that makes {short} of the paper's short side, {long} of the long"


def copies_said(panel: Panel | Tube, opposite: bool) -> str:
    """Return how many of a part, one hand, are made."""
    if opposite:
        return str(panel.opposite_hand)
    extra = f" + {panel.spare} spare" if panel.spare else ""
    more = f" + up to {panel.spare_if_room} more if room" if panel.spare_if_room else ""
    return f"{panel.as_drawn}{extra}{more}"


def _thickness(panel: Panel, group: Group | None, unit: Unit) -> str:
    thickness = f"{with_unit(panel.thickness, unit)} thick"
    named = {s.sold_as for s in (group.sheets if group is not None else ()) if s.sold_as is not None}
    if named:
        thickness += f" (sold as {', '.join(length_text(size, unit) for size in sorted(named))})"
    return thickness


def _order(job: Job, panel: Panel, how: str, cut: frozenset[int]) -> str:
    """Order of work at the bench: a rectangle is sawn to size first, an odd outline last.

    A machine cuts all edges, and the holes ``cut``: only the others are drilled by hand.
    """
    if how in MACHINES:
        rest = [h for h in panel.holes if h.number not in cut]
        if not rest:
            return f"Edges and holes are cut by {how}: nothing to drill. This print is for checking."
        return f"Edges{' and some holes' if cut else ''} are cut by {how}. Drill only {holes_said(rest)}."
    if panel.shape == "rectangle":
        order = "Saw to size first. This line means: edge here."
        if len(panel.outline.vertices) > 4:
            order += " Corners and notches last."
        return order
    drill = "Drill, then cut" if panel.holes else "Then cut"
    if how == "saw":
        width, height = (length_text(side, job.unit) for side in (panel.width, panel.height))
        return f"Saw the box to size first, {width} x {height} {job.unit}. {drill} the outline last."
    return "Drill first, cut last, outside the line." if panel.holes else "Cut outside the line."


def _place(hole: Hole, facts: Facts) -> str:
    """A hole's place in words, from the datum corner: to the right, or on a back to the left."""
    x = float(facts.view.width) - hole.at.x if facts.back else hole.at.x
    return f"{hole.number}: {length_text(x, facts.unit)}, {length_text(hole.at.y, facts.unit)}"
