"""A process made ready: what layouts and drawings need is loaded before anybody waits for it."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

from nestkit.page.bench import Line


def work(line: Line, layouts: bool) -> None:
    """Load what checks take; for ``layouts`` lay the starter job out, which brings in all that they take."""
    import_module("nestkit.page.work.checked")
    if layouts:
        import_module("nestkit.page.work.layout")
        _lay_out_once()


def _lay_out_once() -> None:
    from nestkit.job.reader import read_data, toml_data
    from nestkit.job.starter import starter_text
    from nestkit.layout.lay_out import lay_out
    from nestkit.page.work.result import Results

    tree = toml_data(starter_text())
    job = read_data(tree, Path())
    Results(job, tree)(lay_out(job, effort="first", shapes=None), quick=True)
