"""``nestkit new``: a starter job."""

from __future__ import annotations

import sys
from pathlib import Path

from nestkit.cli.run import DONE
from nestkit.cli.show import json_text
from nestkit.errors import UserError
from nestkit.job.starter import starter_text


def act(file: Path, *, as_json: bool, quiet: bool) -> int:
    """Write the starter job to a file that does not exist yet."""
    try:
        with file.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(starter_text())
    except FileExistsError:
        raise UserError(f"{file} exists and is left as it is; choose another name") from None
    except OSError as fault:
        raise UserError(f"{file}: cannot be written ({fault.strerror}); choose another place") from fault
    if as_json:
        sys.stdout.write(json_text({"file": file.as_posix()}))
    else:
        sys.stdout.write(f"Wrote {file}." + ("\n" if quiet else f" Next: nestkit check {file}\n"))
    return DONE
