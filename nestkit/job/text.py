"""From the bytes of a file to text: size, encoding, line ends."""

from __future__ import annotations

import codecs
from pathlib import Path

from nestkit.errors import JobError, Mistake, UserError
from nestkit.job.shown import escaped

LARGEST_FILE = 20_000_000
"""Bytes of a job file or spreadsheet at most."""

_WIDE = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def file_bytes(path: Path, called: str | None = None) -> bytes:
    """Return the bytes of a file of at most 20 MB; messages call it as the user did.

    Raises :class:`~nestkit.errors.UserError` when it cannot be read or is larger.
    """
    name = escaped(called or str(path))
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise UserError(f"there is no file {name}; check its name and folder") from None
    except IsADirectoryError:
        raise UserError(f"{name} is a folder; name the file in it") from None
    except PermissionError:
        raise UserError(f"{name} may not be read; ask for the right to read it") from None
    except (OSError, ValueError) as fault:
        # ValueError: a name with a zero byte in it.
        reason = fault.strerror if isinstance(fault, OSError) else fault
        raise UserError(f"{name} cannot be read: {reason}; check its name") from None
    if len(data) > LARGEST_FILE:
        raise UserError(f"{name} is larger than 20 MB; split it into smaller ones")
    return data


def decoded(data: bytes, place: str) -> str | Mistake:
    """Return UTF-8 text without its byte order mark, or the mistake that it is in another encoding."""
    if data.startswith(_WIDE) or (len(data) >= 4 and 0 in data[:2]):
        return Mistake(place, "the file is in UTF-16 or UTF-32, not in UTF-8", "Save it as UTF-8 text", 1)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        return Mistake(
            place,
            f"the byte {fault.object[fault.start]:#04x} is not UTF-8; the file is in an older encoding",
            "Save it as UTF-8 text",
            data.count(b"\n", 0, fault.start) + 1,
        )


def job_text(content: bytes) -> str:
    """Return the text of a job file; raises :class:`~nestkit.errors.JobError` where it is none."""
    text = decoded(content, "job file")
    if isinstance(text, Mistake):
        raise JobError((text,))
    return text
