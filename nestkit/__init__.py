"""nestkit: from drawings of panels to stock, sheets, templates and a buy list.

::

    job = nestkit.read_job(Path("boat.toml"))
    made = nestkit.work_out(job)
    files = nestkit.job_files(made.job, made.findings, made.fit, made.layout, made.estimate)
    nestkit.write_folder(Path("output/boat"), files)

Names are loaded when they are first used, so that the command line starts at once.
"""

from __future__ import annotations

from importlib import import_module

__version__ = "0.1.0"

_WHERE = {
    "Finding": "nestkit.checks.findings",
    "Job": "nestkit.job.model",
    "JobError": "nestkit.errors",
    "JobLayout": "nestkit.layout.result",
    "Made": "nestkit.make",
    "NestkitError": "nestkit.errors",
    "Panel": "nestkit.parts.panel",
    "Sheet": "nestkit.stock.sheet",
    "ToolFault": "nestkit.errors",
    "UserError": "nestkit.errors",
    "examine": "nestkit.checks.all_checks",
    "job_files": "nestkit.writers.job_files",
    "lay_out": "nestkit.layout.lay_out",
    "read_job": "nestkit.job.reader",
    "work_out": "nestkit.make",
    "write_folder": "nestkit.writers.folder",
}

__all__ = ["__version__", *_WHERE]


def __getattr__(name: str) -> object:
    """Load a public name from its module."""
    if name not in _WHERE:
        raise AttributeError(f"module 'nestkit' has no attribute {name!r}")
    # A name of the package may not be a module's too: make.make is called work_out here.
    return getattr(import_module(_WHERE[name]), "make" if name == "work_out" else name)


def __dir__() -> list[str]:
    return sorted(__all__)
