"""A job as read: everything resolved, in millimetres, nothing left to look up."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from nestkit.geometry.section import Section
from nestkit.parts.bought import Bought
from nestkit.parts.joint import Joint
from nestkit.parts.methods import Method, Practice
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way
from nestkit.trade.drills import DrillRow
from nestkit.units import Unit

Part = Panel | Tube | Bought
"""Whatever a joint may have."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper to print on, short side first, in millimetres; a roll has no long side."""

    name: str
    short: float
    long: float | None


@dataclass(frozen=True, slots=True)
class Printing:
    """Paper and the printer's measured / nominal scale along its short (x) and long (y) side.

    ``all_pages`` asks for every page of a large template, also where some alone would do. ``fold`` is what
    the paper adds in mm at each corner that it is folded over; None leaves that to the rules table.
    """

    paper: Paper
    scale_x: float = 1.0
    scale_y: float = 1.0
    all_pages: bool = False
    fold: float | None = None


LabelOrder = Literal["for", "sheet"]
"""Labels by bench, or in the order in which sheets are cut."""


@dataclass(frozen=True, slots=True)
class LabelGrid:
    """Where labels lie on sheets of labels, in millimetres from the paper's upper left corner.

    ``left`` and ``top`` lead to the corner of the first label, the pitch from one label to the next.
    ``used`` labels of the first sheet are gone already.
    """

    columns: int
    rows: int
    width: float
    height: float
    pitch_x: float
    pitch_y: float
    left: float
    top: float
    used: int = 0


@dataclass(frozen=True, slots=True)
class Labels:
    """How labels are printed, and in which order.

    ``paper`` None is that of all prints; ``lying`` puts its long side across. ``grid`` None is plain
    paper, to be cut apart.
    """

    paper: Paper | None = None
    lying: bool = False
    grid: LabelGrid | None = None
    order: LabelOrder = "for"


@dataclass(frozen=True, slots=True)
class DxfOptions:
    """How DXF files are written."""

    version: Literal["R2010", "R2000", "R12"] = "R2010"
    single_layer: bool = False


@dataclass(frozen=True, slots=True)
class Temperatures:
    """Degrees C: the coldest and hottest that a joint must bear, and what it is when the parts are made."""

    low: float
    high: float
    made_at: float = 20.0


@dataclass(frozen=True, slots=True)
class Fitting:
    """How well holes are made here, and what is asked of joints.

    ``chance``: below it a joint gets an advice. ``method``: how parts are marked that do not say, None:
    template by hand, the machine's otherwise. ``press``: holes are drilled at a drill press, not by hand.
    ``in_one_go``: both walls of a tube from one side. ``accuracy``: the shop's own figures, +- mm per axis,
    in place of the table's. ``practice``: practice pieces, which count before both. ``spares``: share of
    further screws.
    """

    chance: Fraction = Fraction(95, 100)
    method: Method | None = None
    press: bool = False
    in_one_go: bool = False
    temperatures: Temperatures | None = None
    accuracy: tuple[tuple[Method, Fraction], ...] = ()
    practice: tuple[Practice, ...] = ()
    spares: Fraction = Fraction(1, 10)


@dataclass(frozen=True, slots=True)
class Hold:
    """A copy of a panel that lies where the job says.

    It lies on the sheet number ``on`` of the stock called ``sheet``; the outline, mirrored first when
    ``opposite_hand``, is turned counter-clockwise by ``turn`` degrees, and the lower left of its box is at
    ``x, y``, exact millimetres. ``place`` is where the job file has it.
    """

    panel: str
    copy: int
    opposite_hand: bool
    sheet: str
    on: int
    x: Fraction
    y: Fraction
    turn: int | Fraction
    place: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Panels and sheets of one material, real thickness and way of cutting, laid out together.

    ``gap`` and ``margin`` are settled here, from the job or the rules table; ``settled_by`` says
    which rule decided where the job did not. ``sheets`` may be empty: no stock was found. ``holds`` are the
    copies that lie where the job says.
    """

    material: str
    thickness: Fraction
    way: Way
    gap: Fraction
    margin: Margin
    panels: tuple[Panel, ...]
    sheets: tuple[Sheet, ...]
    settled_by: tuple[str, ...] = ()
    holds: tuple[Hold, ...] = ()

    @property
    def fixed(self) -> bool:
        """Say whether copies are held where they lie, or regions of its sheets kept clear."""
        return bool(self.holds) or any(sheet.keep_clear for sheet in self.sheets)

    @property
    def off_a_roll(self) -> bool:
        """Say whether its stock is goods off a roll; then all of it is."""
        return any(sheet.roll for sheet in self.sheets)


@dataclass(frozen=True, slots=True)
class BarGroup:
    """Tubes and bars of one material and section, cut together.

    ``section`` is that of the first tube; bars and other tubes may name the same one turned. ``way`` is a
    saw's; None off a roll, which scissors cut without a kerf, and where there is no bar and no usual saw.
    ``bars`` may be empty: no stock was found.
    """

    material: str
    section: Section
    way: Way | None
    tubes: tuple[Tube, ...]
    bars: tuple[Bar, ...]

    @property
    def kerf(self) -> Fraction:
        """Width of the saw cut in mm, 0 where none is sawn."""
        return self.way.kerf if self.way is not None else Fraction(0)

    @property
    def off_a_roll(self) -> bool:
        """Say whether its stock is goods off a roll."""
        return self.section.kind == "roll"


@dataclass(frozen=True, slots=True)
class Job:
    """A whole job. ``marking_to`` is the step of marking-out tables in mm.

    ``panels`` and ``tubes`` are what is to be made of ``sheets`` and ``bars``; ``groups`` and ``bar_groups``
    bring them together. ``shop_drills`` are the drills that the shop owns, None where the job does not say.
    """

    name: str
    unit: Unit
    date: datetime.date | None
    ways: tuple[Way, ...]
    printing: Printing
    dxf: DxfOptions
    marking_to: Fraction
    sheets: tuple[Sheet, ...]
    panels: tuple[Panel, ...]
    groups: tuple[Group, ...]
    labels: Labels = field(default_factory=Labels)
    bars: tuple[Bar, ...] = ()
    tubes: tuple[Tube, ...] = ()
    bar_groups: tuple[BarGroup, ...] = ()
    bought: tuple[Bought, ...] = ()
    joints: tuple[Joint, ...] = ()
    fitting: Fitting = field(default_factory=Fitting)
    shop_drills: tuple[DrillRow, ...] | None = None

    @property
    def parts(self) -> tuple[Panel | Tube, ...]:
        """All parts, panels first."""
        return *self.panels, *self.tubes

    @property
    def every_part(self) -> tuple[Part, ...]:
        """All that joints are made of: panels, tubes, what is bought; no two have one name."""
        return *self.parts, *self.bought

    def group_of(self, panel: Panel) -> Group | None:
        """Return the group that a panel is laid out in; None for one that is not of this job."""
        return next((g for g in self.groups if any(p.name == panel.name for p in g.panels)), None)

    def way_of(self, panel: Panel) -> Way:
        """Return the way in which a panel is cut; the usual one for a panel that is not of this job."""
        group = self.group_of(panel)
        return self.ways[0] if group is None else group.way

    def bar_group_of(self, tube: Tube) -> BarGroup | None:
        """Return the group that a tube is cut in; None for one that is not of this job."""
        return next((g for g in self.bar_groups if any(t.name == tube.name for t in g.tubes)), None)
