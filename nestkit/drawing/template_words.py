"""What the words of any template are made of, whatever the part: heads, covers and tables read this."""

from __future__ import annotations

from collections.abc import Sequence, Set
from typing import Protocol, Self

from nestkit.drawing.template_checks import Check
from nestkit.drawing.template_holes import HoleRow
from nestkit.geometry.points import Rect
from nestkit.units import Unit


class Words(Protocol):
    """The words of one template."""

    @property
    def unit(self) -> Unit:
        """The job's unit."""

    @property
    def title(self) -> str:
        """The part's name."""

    @property
    def face(self) -> str:
        """How the part lies."""

    @property
    def hand(self) -> str:
        """Empty for a part as drawn."""

    @property
    def facts(self) -> tuple[tuple[str, str], ...]:
        """Pairs of a word and what it is."""

    @property
    def in_short(self) -> str:
        """The least of the facts, in one line."""

    @property
    def order(self) -> str:
        """The order of work at the bench, in a sentence or two."""

    @property
    def holes(self) -> tuple[HoleRow, ...]:
        """The table of holes."""

    @property
    def places(self) -> tuple[str, ...]:
        """Where each hole is, where the drawing has no room for all labels."""

    @property
    def places_from(self) -> str:
        """From where those places are told."""

    @property
    def drilled(self) -> Sequence[object]:
        """What is marked through the print."""

    @property
    def later(self) -> Sequence[object]:
        """What is drilled through another part, and not marked here."""

    @property
    def cut(self) -> Set[int]:
        """The numbers of holes that are there already."""

    @property
    def punch(self) -> str:
        """How the crosses are carried over to the material; empty where there are none."""

    @property
    def checks(self) -> tuple[Check, ...]:
        """What to measure before the first drill."""

    @property
    def footer(self) -> str:
        """The caution of every page."""

    @property
    def cautions(self) -> tuple[str, ...]:
        """All cautions of this work."""

    @property
    def area(self) -> Rect:
        """What must be on paper, in the drawing's own frame."""

    def with_places(self) -> Self:
        """Return the same words with the place of every hole listed."""
