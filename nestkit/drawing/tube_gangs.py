"""Gang marking on paper: which tubes to clamp together, which way up, and the lines across all of them."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.drawing.gang_picture import gang_picture, letter_of
from nestkit.drawing.marking_flow import Pages, Table, height_of, put_table
from nestkit.drawing.marking_table import HEADING, SMALL, columns_of
from nestkit.drawing.template_flow import Flow, ruled
from nestkit.drawing.tube_sizes import place_cells, place_names
from nestkit.drawing.whole import put_whole
from nestkit.job.model import Job
from nestkit.parts.gangs import Gang, GangLine, Member
from nestkit.text import number_list
from nestkit.units import with_unit

CLAMPED = 8
"""Tubes that one clamp may still hold; common practice, no source."""
NUMBERED = 3
"""Of a gang of more tubes than this a row names the tubes only, not the numbers of their holes."""
ALWAYS = (
    "Push every end 0 against a straight stop, then clamp.",
    "How far across the face each hole lies: see the tables.",
)
"""What holds for each gang."""

_SHARES = (0.10, 0.18, 0.14, 0.18, 0.14, 0.26)
_BETWEEN = 7.0


def gang_name(number: int) -> str:
    """Return what a gang is called on all pages."""
    return f"MARK TOGETHER {number}"


def put_gangs(job: Job, gangs: Sequence[Gang], pages: Pages) -> None:
    """Put gangs on pages, several on one where each has room as a whole; the first begins a new one.

    What holds for all gangs is said once a page.
    """
    pages.turn()
    for number, gang in enumerate(gangs, 1):
        title = gang_name(number)
        head, again = (_head(job, gang, title, pages.width, first=first) for first in (True, False))
        picture = Flow(pages.width)
        picture.gap(3.0)
        picture.picture(gang_picture(gang, pages.width))
        table = _table(job, gang)
        columns = columns_of(table.names, table.rows, pages.width, _SHARES)
        whole = again.height + picture.height + height_of(table, columns, pages.width)
        if pages.begun and _BETWEEN + whole <= pages.left:
            pages.add(ruled(pages.width, _BETWEEN), title)
            pages.add(again, title)
        else:
            pages.turn()
            pages.add(head, title)
        if picture.height > pages.left:
            pages.turn()
        pages.add(picture, title)
        put_table(table, columns, title, pages)


def _head(job: Job, gang: Gang, title: str, width: float, *, first: bool) -> Flow:
    """Return the name of a gang, its tubes and what to do; ``first``: it stands at the top of a page."""
    flow = Flow(width)
    put_whole(flow, title, 9.0, least=4.0, bold=True)
    put_whole(
        flow, "Clamp flush at end 0. Square these lines across all of them.", 6.0, least=HEADING, bold=True
    )
    if first:
        flow.text(job.name, SMALL)
    flow.gap(1.5)
    for index, member in enumerate(gang.members):
        flow.text(f"{letter_of(index)}  {_member(member)}", 4.6, bold=True)
    flow.gap(1.0)
    said = " ".join([*(ALWAYS if first else ()), *_how(job, gang)])
    if said:
        flow.text(said, HEADING)
    return flow


def _member(member: Member) -> str:
    """Say which tubes, how many, which way up: ``deck frame, all 4 together: A up, then C``."""
    name = f"{member.tube.name}, OPPOSITE HAND" if member.opposite else member.tube.name
    many = f", all {member.copies} together" if member.copies > 1 else ""
    first, *others = member.ups
    then = "".join(f", then {up}" for up in others)
    return f"{name}{many}: {first} up{then}"


def _how(job: Job, gang: Gang) -> list[str]:
    said = []
    if any(any(member.tube.mitres) for member in gang.members):
        said.append("Mitres are sawn last: every end 0 is still square.")
    if not gang.level:
        heights = " and ".join(with_unit(height, job.unit) for height in gang.heights)
        said.append(f"They are {heights} high: pack the lower ones up until all are level.")
    if gang.copies > CLAMPED:
        said.append("More than the clamp holds? Leave one that is marked in each turn, as the pattern.")
    if any(len(member.ups) > 1 for member in gang.members):
        said.append("Roll the tubes over for the next face: end 0 stays at your left.")
    if any(len(one.members) < len(gang.members) for one in gang.lines):
        said.append("Where a row names some, only these have a hole there: no line on the others.")
    return said


def _table(job: Job, gang: Gang) -> Table:
    names = ("Line", *place_names(job), "Holes")
    rows = tuple(
        (str(number), *place_cells(job, one.at), _holes(gang, one))
        for number, one in enumerate(gang.lines, 1)
    )
    return Table("", names, rows)


def _holes(gang: Gang, one: GangLine) -> str:
    """Say which tubes have which holes on a line."""
    every = len(one.members) == len(gang.members)
    if len(gang.members) > NUMBERED:
        return "all" if every else f"only {', '.join(map(letter_of, one.members))}"
    numbers = [number_list(m.number for m in gang.members[i].at(one.at)) for i in one.members]
    if len(gang.members) == 1:
        return numbers[0]
    only = "" if every else "only "
    return only + " · ".join(f"{letter_of(i)} {n}" for i, n in zip(one.members, numbers, strict=True))
