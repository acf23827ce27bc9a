"""The section of a bar or a tube, as a table of the job names it."""

from __future__ import annotations

from nestkit.geometry.section import Section
from nestkit.job.entry import Entry
from nestkit.job.values import text
from nestkit.stock.section import EXAMPLES, SectionError, read_section


def section_of(entry: Entry) -> Section | None:
    """Return the section that a table names; None where it is missing or wrong."""
    if "section" not in entry:
        entry.missing("section", f'Write its section, such as "{EXAMPLES["tube"]}" or "{EXAMPLES["angle"]}"')
        return None
    written = text(entry, "section")
    if not written:
        return None
    try:
        return read_section(written, entry.notes.unit)
    except SectionError as fault:
        entry.wrong("section", fault.reason, fault.remedy[:1].upper() + fault.remedy[1:])
        return None
