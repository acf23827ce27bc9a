"""A draft checked as a whole."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from nestkit.checks.findings import Finding
from nestkit.errors import JobError
from nestkit.fit.checking import findings_of
from nestkit.job.entry import told_by
from nestkit.job.reader import read_data
from nestkit.job.shown import shown
from nestkit.page.bench import Line
from nestkit.page.objects import Object, json_bytes, mistake_object
from nestkit.page.work.part import bought_line, panel_line, stock_line, tube_line

LISTS = ("panel", "tube", "bought", "sheet", "bar", "joint", "hold", "import")


def work(line: Line, tree: Object, folder: Path) -> bytes:
    """Return mistakes, or findings and what was understood of each part and stock, as JSON.

    Between its steps it looks whether anybody waits.
    """
    found: Object = {"mistakes": [], "findings": [], "parts": [], "stock": []}
    try:
        job = read_data(tree, folder)
    except JobError as error:
        found["mistakes"] = [mistake_object(mistake) for mistake in error.mistakes]
        return json_bytes(found)
    line.stop()
    places = Places(tree)
    found["findings"] = [finding_object(finding, places) for finding in findings_of(job)]
    line.stop()
    unit = job.unit
    lines = [("panel", p.name, panel_line(p, unit)) for p in job.panels]
    lines += [("tube", t.name, tube_line(t, unit)) for t in job.tubes]
    lines += [("bought", b.name, bought_line(b, unit)) for b in job.bought]
    stock = [("sheet", s.name, stock_line(s)) for s in job.sheets]
    stock += [("bar", b.name, stock_line(b)) for b in job.bars]
    for key, rows in (("parts", lines), ("stock", stock)):
        found[key] = [
            {"path": places.of_name(kind, name), "name": name, "line": said} for kind, name, said in rows
        ]
    return json_bytes(found)


class Places:
    """Where in the tree the things are that findings name."""

    def __init__(self, tree: Object) -> None:
        self._paths: dict[str, list[Any]] = {}
        for kind in LISTS:
            listed = tree.get(kind, [])
            for index, item in enumerate(listed if isinstance(listed, list) else []):
                told = told_by(item if isinstance(item, dict) else {}, index)
                self._paths.setdefault(f"{kind} {told}", [kind, index])

    def of_name(self, kind: str, name: str) -> list[Any] | None:
        """Return the path of a thing by its name; None for a row of a spreadsheet."""
        return self._paths.get(f"{kind} {shown(name)}")

    def of_place(self, place: str) -> list[Any] | None:
        """Return the path of a place in words, as far as the thing that it begins with."""
        if place in self._paths:
            return self._paths[place]
        return next((path for told, path in self._paths.items() if place.startswith(f"{told},")), None)


def finding_object(finding: Finding, places: Places) -> Object:
    """Return a finding as the browser has it."""
    return {
        "level": finding.level,
        "rule": finding.rule,
        "place": finding.place,
        "text": finding.text,
        "remedy": finding.remedy,
        "source": finding.source,
        "path": places.of_place(finding.place),
    }
