"""How mistakes, findings and columns are shown, in words and for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from nestkit.errors import Mistake
from nestkit.text import sentence, wrapped

if TYPE_CHECKING:
    from nestkit.checks.findings import Finding


def json_text(value: Any) -> str:
    """Return a value as JSON, readable and in its own order."""
    return json.dumps(value, ensure_ascii=False, indent=1) + "\n"


def check_object(mistakes: Iterable[Mistake], findings: Iterable[Finding]) -> dict[str, list[dict[str, Any]]]:
    """Return mistakes and findings as the object that ``--json`` prints."""
    return {
        "mistakes": [
            {"place": m.place, "line": m.line, "text": m.text, "remedy": m.remedy} for m in mistakes
        ],
        "findings": [
            {
                "level": f.level,
                "rule": f.rule,
                "place": f.place,
                "text": f.text,
                "remedy": f.remedy,
                "source": f.source,
            }
            for f in findings
        ],
    }


def mistakes_text(mistakes: Sequence[Mistake]) -> str:
    """Return mistakes as paragraphs, each with line, place, what is wrong and the remedy."""
    lines = []
    for mistake in mistakes:
        at = f"line {mistake.line}" if mistake.line is not None else "mistake"
        lines.append(f"{at:<10}{mistake.place}")
        lines.extend(_indented(sentence(mistake.text)))
        lines.extend(_indented(sentence(mistake.remedy)))
        lines.append("")
    count = len(mistakes)
    lines.append(f"{count} {'mistake' if count == 1 else 'mistakes'}; nothing was written.")
    return "\n".join(lines) + "\n"


def findings_text(findings: Sequence[Finding]) -> str:
    """Return findings as paragraphs: errors stand out by their word, not by colour."""
    lines = []
    for finding in findings:
        lines.append(f"{finding.level.upper():<10}{finding.place}")
        lines.extend(_indented(sentence(finding.text)))
        lines.extend(_indented(sentence(finding.remedy)))
        basis = f"Rule {finding.rule}: {finding.source}" if finding.rule else finding.source
        lines.extend(_indented(sentence(basis)))
        lines.append("")
    return "\n".join(lines) + ("\n" if lines else "")


def _indented(text: str) -> list[str]:
    return wrapped(text, first=" " * 10, rest=" " * 10)
