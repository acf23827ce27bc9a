"""What of the joints' hardware cannot be put together, or needs care."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from nestkit.fit.case import Case
from nestkit.fit.copies import too_few_copies
from nestkit.fit.holding_conflicts import rivet_holes, rivet_nut_fits, threads_in_parts, wood_screw_in_wood
from nestkit.fit.length_of import Trouble
from nestkit.fit.material_conflicts import (
    flat_head,
    head_side,
    plain_nut_on_plastic,
    rivet_on_plastic,
    thread_locker_near_plastic,
)
from nestkit.fit.result import Conflict
from nestkit.fit.together_conflicts import together_conflicts
from nestkit.fit.tube_conflicts import head_in_hollow, hollow_crushed, nut_in_hollow, too_long_for_hollow
from nestkit.job.model import Job


def length_troubles(case: Case) -> Iterator[Trouble]:
    """The length of a fastener is known, is sold, and is neither too short nor too long."""
    yield from case.length.troubles


ALL: tuple[Callable[[Case], Iterator[Trouble]], ...] = (
    nut_in_hollow,
    head_in_hollow,
    too_long_for_hollow,
    threads_in_parts,
    length_troubles,
    rivet_holes,
    rivet_nut_fits,
    wood_screw_in_wood,
    thread_locker_near_plastic,
    plain_nut_on_plastic,
    flat_head,
    head_side,
    rivet_on_plastic,
    hollow_crushed,
)
"""Every rule for one joint, those that may be errors first."""


def conflicts(job: Job, cases: Sequence[Case]) -> tuple[Conflict, ...]:
    """Return what needs care, joint by joint with the errors of each first, then what cannot be
    drilled together, then parts of too few copies.

    What is the same of several joints is said once, at the first of them.
    """
    found: dict[Trouble, list[str]] = {}
    for case in cases:
        troubles = [trouble for rule in ALL for trouble in rule(case)]
        for trouble in sorted(troubles, key=lambda trouble: not trouble.error):
            found.setdefault(trouble, []).append(case.name)
    said = (
        Conflict(names[0], t.error, t.text, t.remedy, t.rule, tuple(names[1:])) for t, names in found.items()
    )
    return (*said, *together_conflicts(job), *too_few_copies(job, cases))
