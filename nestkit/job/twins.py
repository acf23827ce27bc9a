"""Rows of two tubes that must match: whether what a group names is there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from nestkit.job.nearest import Nearest
from nestkit.job.shown import shown
from nestkit.job.tube_holes import Match
from nestkit.job.tubes import TubeRead


def note_unmatched(tubes: Sequence[TubeRead]) -> None:
    """Note each group that must match one that is not there, or itself."""
    groups: dict[str, frozenset[str]] = {}
    for tube in tubes:
        groups[tube.name] = groups.get(tube.name, frozenset()) | tube.groups
    nearest = Nearest()
    for tube in tubes:
        for match in tube.matches:
            if match.tube == tube.name and match.of_group == match.group:
                text, remedy = "a group cannot match itself", "Name the other tube of the pair, and its group"
                match.entry.wrong("matches", text, remedy)
            elif match.of_group not in groups.get(match.tube, ()):
                _note(match, groups, nearest)


def _note(match: Match, groups: Mapping[str, frozenset[str]], nearest: Nearest) -> None:
    tube: str | None = match.tube
    text = f"the tube {shown(match.tube)} has no group of holes {shown(match.of_group)}"
    if match.tube not in groups:
        text = f"{shown(match.tube)} is no tube of this job"
        tube = nearest(match.tube, groups)
    group = nearest(match.of_group, sorted(groups[tube])) if tube else None
    remedy = "Write a tube of this job, a slash, and the name of one of its groups of holes"
    if tube and group:
        remedy = f"Did you mean {shown(f'{tube} / {group}')}"
    match.entry.wrong("matches", text, remedy)
