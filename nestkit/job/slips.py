"""A job file that is not TOML yet: finding the usual slips of people who write one by hand."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from nestkit.errors import Mistake
from nestkit.job.shown import shown

LONGEST_LINE = 2000
"""Characters of a line that are looked at."""

_CURLY = "“”„‟«»‘’‚"
_STRING = re.compile(r'"(?:[^"\\]|\\.)*"|\'[^\']*\'')
_AT = re.compile(r"\(at line (\d+), column \d+\)")
_TWICE = re.compile(r"Cannot (?:declare|mutate|overwrite)")


@dataclass(frozen=True, slots=True)
class _Slip:
    """A pattern in the line at fault (texts in quotes emptied), what it means and what to write."""

    pattern: re.Pattern[str]
    text: str
    remedy: str
    about_quotes: bool = False


def _slip(pattern: str, text: str, remedy: str, *, about_quotes: bool = False) -> _Slip:
    return _Slip(re.compile(pattern), text, remedy, about_quotes)


_VALUE = r"(?:^|[=\[,{])\s*"
_GIVEN = r"[=\[,{]\s*"
_SLIPS = (
    _slip(
        _VALUE + r"(?:[0-9]{1,2}[/.][0-9]{1,2}[/.][0-9]{2,4}|[0-9]{4}[-/.][0-9]{1,2}[-/.][0-9]{1,2})",
        "a date is not written as TOML has it",
        "Write year, month and day as 2026-03-01",
    ),
    _slip(
        r"""(?:""|'')(?:["']|\s*[^\W\d])""",
        "a text in quotes has a quote inside, or more text behind it",
        'Write the inch as in, "14 1/2 in", or put the text in the other kind of quotes',
        about_quotes=True,
    ),
    _slip(
        _VALUE + r"[0-9.]+\s*(?:[-\s]\s*[0-9]+\s*)?/\s*[0-9]",
        "a fraction stands without quotes",
        'Put it in quotes, such as "14 1/2" or "1/8"',
    ),
    _slip(
        _VALUE + r"(?:True|False|TRUE|FALSE|yes|no|Yes|No)\b",
        "a yes or no is not written as TOML has it",
        "Write true or false, in small letters and without quotes",
    ),
    _slip(
        _VALUE + r"(?:None|null|nil|NaN|Null)\b",
        "there is no empty value in TOML",
        "Leave the line out where there is nothing to say",
    ),
    _slip(
        _VALUE + r"[-+]?[0-9]*(?:\.[0-9]+)?\s*(?:mm|cm|in|inch|inches|ft|m)\b",
        "a length with its unit stands without quotes",
        'Put it in quotes, such as "152.4 mm" or "6 in"',
    ),
    _slip(
        _VALUE + r"[-+]?[0-9./ -]*[0-9]\s*[\"'″′]",
        "a length with its inch or foot mark stands without quotes",
        'Write "6 in" or "1 ft 6 in", in quotes',
        about_quotes=True,
    ),
    _slip(
        _VALUE + r"[0-9]+\s*[x×X*]\s*[0-9]",
        "a size is written with x",
        "Write a size as a list, [24, 48]",
    ),
    _slip(
        _VALUE + r"[-+]?\.[0-9]",
        "a number begins with its decimal point",
        'Write 0.118, or ".118" in quotes',
    ),
    _slip(_VALUE + r"[-+]?[0-9]+\.(?![0-9])", "a number ends with its decimal point", "Write 5.0 or 5"),
    _slip(
        _VALUE + r"[-+]?0[0-9]",
        "a number begins with a nought too many",
        "Leave the leading nought out, or put the text in quotes",
    ),
    _slip(
        r"=\s*[-+]?[0-9]+,[0-9]+\s*$",
        "a decimal comma",
        "Write the decimal point as a point, 2.5",
    ),
    _slip(
        r"""=\s*(?:""|''|[0-9.]+)(?:(?:\s*,\s*|\s+)(?:""|''|[0-9.]+))+\s*,?\s*$""",
        "several values stand without brackets",
        "Write them as a list, [24, 48]",
    ),
    _slip(r"//|/\*", "a note begins with a slash", "Begin notes with #"),
    _slip(r";\s*$", "the line ends with a semicolon", "Leave the semicolon out"),
    _slip(r"\[[^\]]*;", "the values of a list are parted by a semicolon", "Part them with commas, [24, 48]"),
    _slip(
        r"""[\[{].*[0-9"'\]}]\s+[\w"'\[{]""",
        "a comma is missing between two values",
        "Write a comma between them, [24, 48]",
    ),
    _slip(r",\s*,", "two commas stand in a row", "Leave one of them out"),
    _slip(
        r"\{[^}]*,\s*\}",
        "a comma stands before the closing brace",
        "Leave it out: { a = 1, b = 2 }",
    ),
    _slip(
        r"""^\s*[\w"'-]+\s*:=?\s*\S""",
        "a colon stands where an equals sign is wanted",
        "Write key = value",
    ),
    _slip(r"=\s*$", "a key has no value", "Write the value behind the equals sign, or leave the line out"),
    _slip(r"^\s*=", "a key is missing before the equals sign", "Write key = value"),
    _slip(r"=\s*\(|\)\s*$", "a list stands in round brackets", "Write it in square ones, [24, 48]"),
    _slip(
        _GIVEN + r"[^\W\d][\w. /-]*\s*(?:[,\]}#]|$)",
        "a text stands without quotes",
        'Put it in quotes, such as "saw"',
    ),
    _slip(
        r"^\s*[\w-]+\s+[\w-]+\s*=", "a key has a space in it", "Join its words with _, as in corner_radius"
    ),
    _slip(r"""^\s*[\w-]+\s+[^=\s][^=]*$""", "the equals sign is missing", "Write key = value"),
)


def slip(text: str, fault: str) -> Mistake:
    """Return the mistake behind a text that is not TOML: ``fault`` is what the TOML reader said."""
    lines = text.split("\n")
    found = _AT.search(fault)
    number = int(found[1]) if found else _last_written(lines)
    reason = fault[: found.start()].strip() if found else fault.replace("(at end of document)", "").strip()
    for line, what, remedy in _readings(lines, number, reason):
        return Mistake("job file", what, remedy, line)
    return Mistake(
        "job file",
        f"not TOML: {shown(reason)[1:-1].rstrip('.')}, near {shown(_line(lines, number).strip())}",
        "Each line is a [table], a key = value or a # note; texts stand in quotes",
        number,
    )


def _readings(lines: list[str], number: int, reason: str) -> Iterator[tuple[int, str, str]]:
    """Yield line, text and remedy of what may be wrong, the likeliest first."""
    if "\r" in _line(lines, number):
        yield number, "the line ends are of an old kind", "Save the file with line ends of this system"
    if _TWICE.match(reason):
        yield (number, *_twice(_line(lines, number)))
    for at in (number, number - 1):
        line = _line(lines, at)
        bare = _STRING.sub(lambda m: m[0][0] * 2, line)
        if '"""' in line or "'''" in line:
            yield (
                at,
                "a text in three quotes is not closed with three",
                'Write it on one line in single ones: "lid"',
            )
        if any(c in bare for c in _CURLY):
            yield at, "quotes are curly", 'Write straight quotes: "lid"'
        if "\\" in line and "'" not in line and ("Unescaped" in reason or "hex" in reason):
            yield at, "a text has a backslash", "Write a slash instead, or put the text in single quotes"
        code = bare.split("#")[0]
        yield from _by_pattern(at, code, about_quotes=True)
        if code.count('"') % 2 or code.count("'") % 2:
            yield at, "a text is not closed with its quote", 'Close it on the same line: "lid"'
        if _open_header(code):
            yield at, "a table's name is not closed with its brackets", "Write [cutting] or [[panel]]"
        unlike = next((c for c in code if ord(c) in (0xA0, 0x2007, 0x202F, 0xFEFF, 0x200B)), None)
        if unlike is not None:
            yield (
                at,
                f"an invisible letter {shown(unlike)} stands in the line",
                "Write it anew with plain spaces",
            )
        yield from _by_pattern(at, code)
    if "Unclosed" in reason or "Unterminated" in reason or "inline table" in reason or "key part" in reason:
        yield _unclosed(lines, number)


def _by_pattern(at: int, code: str, *, about_quotes: bool = False) -> Iterator[tuple[int, str, str]]:
    """Try the patterns on a line; those about marks and quotes come before a quote is called unclosed."""
    for known in _SLIPS:
        if (known.about_quotes or not about_quotes) and known.pattern.search(code.rstrip()):
            yield at, known.text, known.remedy


def _open_header(code: str) -> bool:
    head = code.strip()
    return head.startswith("[") and "=" not in head and head.count("[") != head.count("]")


def _twice(line: str) -> tuple[str, str]:
    head = line.split("#")[0].strip()
    if head.startswith("[["):
        name = head.strip("[] \t\r")
        return f"{shown(name)} is first written with another meaning", f"Write [[{name[:40]}]] each time"
    if head.startswith("["):
        name = head.strip("[] \t\r")[:40]
        return (
            f"the table {shown(name)} is written twice",
            f"Join the two; where a job has several, each begins with [[{name}]], in double brackets",
        )
    key = shown(head.split("=")[0].strip())
    return f"the key {key} is written twice in its table", "Leave one of the two out"


def _unclosed(lines: list[str], number: int) -> tuple[int, str, str]:
    """Find the line where a bracket or brace opened that never closes; else blame the line given."""
    depth: list[tuple[str, int]] = []
    for at, line in enumerate(lines[:number], 1):
        code = _STRING.sub('""', line[:LONGEST_LINE]).split("#")[0]
        if not depth and code.lstrip().startswith("["):
            continue
        for c in code:
            if c in "[{":
                depth.append((c, at))
            elif c in "]}" and depth:
                depth.pop()
    if depth and depth[-1][0] == "{":
        at = depth[-1][1]
        return (
            at,
            "braces are opened and not closed on the same line",
            "Write { ... } on one line, without a last comma",
        )
    if depth:
        return (
            depth[-1][1],
            "a list is not closed with ]",
            "Close it, and part its values with commas: [24, 48]",
        )
    return number, "a text, list or table is not closed", 'Close it: "lid", [24, 48], { inset = 1 }'


def _line(lines: list[str], number: int) -> str:
    """Return a line, cut where no hand-written line goes on: the patterns must stay quick."""
    return lines[number - 1][:LONGEST_LINE] if 1 <= number <= len(lines) else ""


def _last_written(lines: list[str]) -> int:
    """The last line with anything on it, counted from 1: where a reader stands at the end."""
    return next((i for i in range(len(lines), 0, -1) if lines[i - 1].strip()), 1)
