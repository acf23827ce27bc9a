"""Runs a command and turns what happens into an exit code and words.

0 done; 1 done, with parts left over or an error found; 2 the user's; 3 ours; 130 interrupted.
"""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Callable
from typing import NoReturn

import typer

from nestkit.errors import JobError, Mistake, UserError

DONE = 0
WITH_ERRORS = 1
USER = 2
FAULT = 3
INTERRUPTED = 130

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EIO}
"""What the system says of a place that takes no more output. Files are told of by name before."""


def run(act: Callable[[], int], *, as_json: bool = False, mistakes_are_the_result: bool = False) -> NoReturn:
    """Run a command's action and leave with its exit code."""
    _plain_pipes()
    try:
        code = act()
        sys.stdout.flush()
    except UserError as error:
        code = _say_mistakes(error, as_json, mistakes_are_the_result)
    except KeyboardInterrupt:
        say_interrupted()
        code = INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has seen enough. Python would complain once more when it
        # flushes on its way out: give it somewhere to flush to.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = DONE
    except OSError as fault:
        if fault.errno not in _FULL or fault.filename is not None:
            code = _say_fault()
        else:
            sys.stderr.write(
                f"nestkit: the output cannot be written ({fault.strerror}); make room, or send it elsewhere. "
                "A job folder that was written is whole.\n"
            )
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            code = USER
    except Exception:  # the last resort: whatever is left is a fault of ours, and is said so
        code = _say_fault()
    raise typer.Exit(code)


def say_interrupted() -> None:
    """Say that the user ended the run."""
    sys.stderr.write("\nnestkit: interrupted; nothing was written.\n")
    sys.stderr.flush()


def _say_fault() -> int:
    sys.stderr.write(traceback.format_exc())
    sys.stderr.write(
        "nestkit: this is a fault of nestkit, not of your job. Please report it with the lines above.\n"
    )
    return FAULT


def _plain_pipes() -> None:
    """Give pipes UTF-8 whatever the locale; a terminal keeps its own, and shows the rest escaped."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            if stream.isatty():
                stream.reconfigure(errors="backslashreplace")
            else:
                stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def _say_mistakes(error: UserError, as_json: bool, to_stdout: bool) -> int:
    mistakes = error.mistakes if isinstance(error, JobError) else (Mistake("nestkit", str(error), ""),)
    if as_json:
        from nestkit.cli.show import check_object, json_text

        sys.stdout.write(json_text(check_object(mistakes, ())))
    elif not isinstance(error, JobError):
        sys.stderr.write(f"nestkit: {error}\n")
    else:
        from nestkit.cli.show import mistakes_text

        stream = sys.stdout if to_stdout else sys.stderr
        stream.write(mistakes_text(mistakes))
    return USER
