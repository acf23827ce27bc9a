"""The cells of a spreadsheet, each refused where its meaning is not certain."""

from __future__ import annotations

import re
from decimal import Decimal

MOST_ROWS = 100_000
MOST_COLUMNS = 200

_ERROR = re.compile(
    r"#(?:REF|DIV/0|VALUE|NUM|NULL|SPILL|CALC|FIELD|BLOCKED)!|#N/A|#NAME\?|#GETTING_DATA|#{3,}"
)


class CellFault(Exception):
    """What is wrong with a cell or a workbook; handed out in a cell's place, raised for a workbook."""

    def __init__(self, reason: str, remedy: str) -> None:
        self.reason, self.remedy = reason, remedy
        super().__init__(f"{reason}; {remedy}")


Cell = str | int | Decimal | bool | CellFault | None


def text_cell(text: str) -> str | CellFault | None:
    """Return the text of a cell without outer spaces, None where it is empty, or its fault."""
    clean = text.strip()
    if _ERROR.fullmatch(clean):
        return CellFault(
            f"the cell holds the error {clean[:20]}", "Mend the formula, or write the value itself"
        )
    return clean or None


def date_fault(text: str) -> CellFault:
    """Return the fault of a cell that holds a date where a part has none."""
    remedy = "Format the column as text, then write the fraction again: spreadsheets take 3/4 for a date"
    return CellFault(f"a date, {text[:30]}", remedy)
