"""Rows of two tubes that must match: whether what a group names is there."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping, Sequence
from itertools import islice

from nestkit.job.shown import shown
from nestkit.job.tube_holes import Match
from nestkit.job.tubes import TubeRead

_OFFERED, _COMPARED = 50, 1000
"""How many wrong names are offered the nearest one, and among how many: each takes a long look."""


def note_unmatched(tubes: Sequence[TubeRead]) -> None:
    """Note each group that must match one that is not there, or itself."""
    groups: dict[str, frozenset[str]] = {}
    for tube in tubes:
        groups[tube.name] = groups.get(tube.name, frozenset()) | tube.groups
    wrong = 0
    for tube in tubes:
        for match in tube.matches:
            if match.tube == tube.name and match.of_group == match.group:
                text, remedy = "a group cannot match itself", "Name the other tube of the pair, and its group"
                match.entry.wrong("matches", text, remedy)
            elif match.of_group not in groups.get(match.tube, ()):
                _note(match, groups, offer=wrong < _OFFERED)
                wrong += 1


def _note(match: Match, groups: Mapping[str, frozenset[str]], *, offer: bool) -> None:
    tube: str | None = match.tube
    text = f"the tube {shown(match.tube)} has no group of holes {shown(match.of_group)}"
    if match.tube not in groups:
        text = f"{shown(match.tube)} is no tube of this job"
        tube = _nearest(match.tube, groups) if offer else None
    group = _nearest(match.of_group, sorted(groups[tube])) if offer and tube else None
    remedy = "Write a tube of this job, a slash, and the name of one of its groups of holes"
    if tube and group:
        remedy = f"Did you mean {shown(f'{tube} / {group}')}"
    match.entry.wrong("matches", text, remedy)


def _nearest(name: str, names: Iterable[str]) -> str | None:
    """Return the name that is most like one, whatever its case; None where none is."""
    plain = {known.lower(): known for known in islice(names, _COMPARED)}
    near = difflib.get_close_matches(name.lower(), plain, n=1, cutoff=0.6)
    return plain[near[0]] if near else None
