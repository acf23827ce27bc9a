"""The command line: parses here, acts in the module of each command."""

from __future__ import annotations

import os
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from nestkit import __version__
from nestkit.cli.run import run

app = typer.Typer(
    name="nestkit",
    help="From drawings of panels to stock, sheets, templates and a buy list.",
    rich_markup_mode=None,
    add_completion=False,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
)


class Effort(StrEnum):
    """How long to search; counted in rounds, so that every machine gets the same layout."""

    quick = "quick"
    normal = "normal"
    thorough = "thorough"


JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="The job file.")]
Out = Annotated[Path | None, typer.Option("--out", metavar="DIR", help="Folder to write.")]
Seed = Annotated[int, typer.Option("--seed", metavar="N", min=0, help="Another seed tries other layouts.")]
HowLong = Annotated[Effort, typer.Option("--effort", help="How long to search.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print the result for programs.")]
Quiet = Annotated[bool, typer.Option("--quiet", help="No progress and no notes.")]
Bench = Annotated[
    str | None, typer.Option("--for", metavar="NAME", help='Only what this bench needs ("": no bench).')
]


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"nestkit {__version__}")
        raise typer.Exit


@app.callback()
def nestkit(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """From drawings of panels to stock, sheets, templates and a buy list."""


Shared = Annotated[
    str | None, typer.Option(hidden=True, help="Taken by every command; without effect on this one.")
]
"""Scripts pass one set of options to all commands."""


@app.command()
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The job file to make.")],
    as_json: AsJson = False,
    quiet: Quiet = False,
    out: Shared = None,
    seed: Shared = None,
    effort: Shared = None,
) -> None:
    """Write a commented starter job; never over an existing file."""
    from nestkit.cli import new as command

    run(lambda: command.act(file, as_json=as_json, quiet=quiet), as_json=as_json)


@app.command()
def check(
    job: JobFile,
    as_json: AsJson = False,
    quiet: Quiet = False,
    out: Shared = None,
    seed: Shared = None,
    effort: Shared = None,
) -> None:
    """Show every mistake, or what was understood, with findings and advice."""
    from nestkit.cli import check as command

    run(lambda: command.act(job, as_json=as_json, quiet=quiet), as_json=as_json, mistakes_are_the_result=True)


@app.command()
def nest(
    job: JobFile,
    bench: Bench = None,
    out: Out = None,
    seed: Seed = 1,
    effort: HowLong = Effort.normal,
    as_json: AsJson = False,
    quiet: Quiet = False,
) -> None:
    """Lay everything out and write the whole job folder."""
    from nestkit.cli import nest as command

    run(
        lambda: command.act(
            job, bench=bench, out=out, seed=seed, effort=effort, as_json=as_json, quiet=quiet
        ),
        as_json=as_json,
    )


@app.command()
def template(
    job: JobFile,
    parts: Annotated[
        list[str] | None, typer.Argument(metavar="[PART]...", help="Parts by name; all without.")
    ] = None,
    bench: Bench = None,
    back: Annotated[bool, typer.Option("--back", help="Also the other face, mirrored.")] = False,
    all_pages: Annotated[
        bool,
        typer.Option("--all-pages", help="Every page of large parts, to be joined; not only those needed."),
    ] = False,
    out: Out = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
    seed: Shared = None,
    effort: Shared = None,
) -> None:
    """Write 1:1 drilling templates only."""
    from nestkit.cli import template as command

    run(
        lambda: command.act(
            job,
            tuple(parts or ()),
            bench=bench,
            back=back,
            all_pages=all_pages,
            out=out,
            as_json=as_json,
            quiet=quiet,
        ),
        as_json=as_json,
    )


@app.command()
def estimate(
    job: JobFile,
    spare: Annotated[
        int, typer.Option("--spare", metavar="N", min=0, max=1000, help="As if N more spares of each part.")
    ] = 0,
    seed: Seed = 1,
    effort: HowLong = Effort.normal,
    as_json: AsJson = False,
    quiet: Quiet = False,
    out: Shared = None,
) -> None:
    """Show what to buy, cost, weight and time; writes nothing."""
    from nestkit.cli import estimate as command

    run(
        lambda: command.act(job, spare=spare, seed=seed, effort=effort, as_json=as_json, quiet=quiet),
        as_json=as_json,
    )


@app.command()
def fit(
    job: JobFile,
    seed: Seed = 1,
    effort: HowLong = Effort.normal,
    as_json: AsJson = False,
    quiet: Quiet = False,
    out: Shared = None,
) -> None:
    """Show whether the joints go together, what would help, hardware and drills; writes nothing."""
    from nestkit.cli import fit as command

    run(lambda: command.act(job, seed=seed, effort=effort, as_json=as_json, quiet=quiet), as_json=as_json)


@app.command()
def calibrate(
    job: Annotated[Path | None, typer.Argument(metavar="[JOB]", help="The job, for its paper.")] = None,
    paper: Annotated[str | None, typer.Option("--paper", metavar="NAME", help="Paper to test.")] = None,
    x: Annotated[
        list[str] | None, typer.Option("--x", metavar="READING", help="Ruler x1; again for x2.")
    ] = None,
    y: Annotated[
        list[str] | None, typer.Option("--y", metavar="READING", help="Ruler y1; again for y2.")
    ] = None,
    read_to: Annotated[
        str | None, typer.Option("--read-to", metavar="LENGTH", help="How closely one end is read.")
    ] = None,
    write: Annotated[bool, typer.Option("--write", help="Write the scale into the job.")] = False,
    out: Annotated[Path | None, typer.Option("--out", metavar="FILE", help="PDF to write.")] = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
    seed: Shared = None,
    effort: Shared = None,
) -> None:
    """Write the print test, or turn readings of it into the printer's scale."""
    from nestkit.cli import calibrate as command

    run(
        lambda: command.act(
            job,
            paper=paper,
            x=tuple(x or ()),
            y=tuple(y or ()),
            read_to=read_to,
            write=write,
            out=out,
            as_json=as_json,
            quiet=quiet,
        ),
        as_json=as_json,
    )


@app.command()
def tables(
    name: Annotated[str | None, typer.Argument(metavar="[NAME]", help="A table; the list without.")] = None,
    as_json: AsJson = False,
    quiet: Quiet = False,
    out: Shared = None,
    seed: Shared = None,
    effort: Shared = None,
) -> None:
    """Show the trade tables with their sources."""
    from nestkit.cli import tables as command

    run(lambda: command.act(name, as_json=as_json, quiet=quiet), as_json=as_json)


@app.command()
def page(
    job: Annotated[
        Path | None, typer.Argument(metavar="[JOB]", help="The job file; a starter job without.")
    ] = None,
    port: Annotated[
        int, typer.Option("--port", metavar="N", min=0, max=65535, help="The port; 0 takes a free one.")
    ] = 0,
    no_open: Annotated[bool, typer.Option("--no-open", help="Do not open the browser.")] = False,
    quiet: Quiet = False,
    out: Shared = None,
    seed: Shared = None,
    effort: Shared = None,
) -> None:
    """Open the whole job on a page of the browser, on this computer alone."""
    from nestkit.cli import page as command

    run(lambda: command.act(job, port=port, open_browser=not no_open, quiet=quiet))


_ONE_THREAD = ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")


def main() -> None:
    """Run the command line."""
    # Our matrices are small: threads would only wait for one another, and sums would depend on the cores.
    for name in _ONE_THREAD:
        os.environ.setdefault(name, "1")
    app()
