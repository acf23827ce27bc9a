"""``nestkit tables``: the trade tables with their sources."""

from __future__ import annotations

import difflib
import sys

from nestkit.cli.run import DONE
from nestkit.cli.show import json_text
from nestkit.errors import UserError
from nestkit.text import columns
from nestkit.trade.tables import TABLES, read


def act(name: str | None, *, as_json: bool, quiet: bool) -> int:
    """Show one table, or the list of tables. ``quiet`` leaves out the hint, never a table's note."""
    if name is None:
        if as_json:
            sys.stdout.write(json_text({n: t.title for n, t in TABLES.items()}))
            return DONE
        rows = [("table", "what")] + [(n, t.title) for n, t in TABLES.items()]
        hint = "" if quiet else "\nShow one: nestkit tables NAME\n"
        sys.stdout.write("\n".join(columns(rows)) + "\n" + hint)
        return DONE
    if name not in TABLES:
        near = difflib.get_close_matches(name, TABLES, 1)
        hint = f"did you mean {near[0]}? " if near else ""
        raise UserError(f"no table {name!r}; {hint}the tables are {', '.join(TABLES)}")
    table, entries = TABLES[name], read(name)
    if as_json:
        sys.stdout.write(json_text([dict(e) for e in entries]))
        return DONE
    cells = [tuple(table.columns), *(tuple(e[c] for c in table.columns) for e in entries)]
    sys.stdout.write("\n".join([table.title, "", *columns(cells), ""]))
    if table.note:
        sys.stdout.write(f"\n{table.note}\n")
    return DONE
