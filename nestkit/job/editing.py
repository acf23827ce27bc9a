"""Changing a job file in place: comments, order and everything else stay as they are."""

from __future__ import annotations

import codecs
import os
import re
import tempfile
from pathlib import Path

from nestkit.errors import UserError
from nestkit.job.lines import key_lines
from nestkit.job.reader import read_job
from nestkit.job.text import file_bytes


def set_printer_scale(path: Path, scale_x: str, scale_y: str) -> None:
    """Write ``scale_x`` and ``scale_y`` (decimal text) under ``[printing]`` of a job file, in one step.

    Raises :class:`~nestkit.errors.UserError` when the file is no sound job or cannot be written; then
    it is as it was.
    """
    read_job(path)
    data = file_bytes(path)
    text = data.decode("utf-8-sig")
    ends = "\r\n" if "\r\n" in text else "\n"
    lines = text.split(ends)
    for key, value in (("scale_y", scale_y), ("scale_x", scale_x)):  # each goes right below the header
        _set(lines, key, value, path)
    mark = codecs.BOM_UTF8 if data.startswith(codecs.BOM_UTF8) else b""
    _replace(path, mark + ends.join(lines).encode())


def _set(lines: list[str], key: str, value: str, path: Path) -> None:
    """Change the one line of a key under [printing], or add it there; every other line stays."""
    places = key_lines("\n".join(lines))
    at = places.get(("printing", key))
    if at is not None:
        found = re.fullmatch(rf"(\s*{key}\s*=\s*)[-+0-9._eE]+(\s*(?:#.*)?)", lines[at - 1])
        if found is None:
            raise UserError(
                f"{path}, line {at}: {key} cannot be changed there; write {key} = {value} by hand"
            )
        lines[at - 1] = f"{found[1]}{value}{found[2]}"
        return
    header = places.get(("printing",))
    if header is None:
        while lines and not lines[-1].strip():
            lines.pop()
        lines += ["", "[printing]", f"{key} = {value}", ""]
        return
    if not lines[header - 1].lstrip().startswith("["):
        raise UserError(f"{path}, line {header}: {key} cannot be added there; write {key} = {value} by hand")
    lines.insert(header, f"{key} = {value}")


def _replace(path: Path, content: bytes) -> None:
    """Write a file's new content beside it, prove that it is a sound job, and put it in its place."""
    target = Path(os.path.realpath(path))
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".toml", dir=target.parent)
        fresh = Path(name)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
            read_job(fresh)
            fresh.chmod(target.stat().st_mode & 0o777)
            fresh.replace(target)
        finally:
            fresh.unlink(missing_ok=True)
    except OSError as fault:
        raise UserError(f"{path}: cannot be written ({fault.strerror}); it is as it was") from fault
