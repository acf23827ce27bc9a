"""What of drilling parts through one another cannot be done, or is left undone."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.fit.result import Conflict
from nestkit.job.model import Job
from nestkit.job.pairs import Pair, copies_drilled, drilled_later, pairs_of
from nestkit.job.shown import shown
from nestkit.parts.joint import Mate
from nestkit.text import number_list


def together_conflicts(job: Job) -> Iterator[Conflict]:
    """Yield the parts that can be drilled through nothing, and copies that no joint drills."""
    for pair in pairs_of(job):
        for mate in dict.fromkeys(pair.ringed):
            yield _ringed(pair, mate)
    yield from _left_undrilled(job)


def _ringed(pair: Pair, mate: Mate) -> Conflict:
    """Its holes are those that it is to be drilled through, or these are drilled through them."""
    name, numbers = shown(mate.part), number_list(mate.holes)
    holes = f"{'hole' if len(mate.holes) == 1 else 'holes'} {numbers} of {name}"
    if mate.part == pair.leader.part:
        text = f"{holes} would be drilled through the very same holes of another copy: copies would differ"
        remedy = (
            f'give the one that is drilled through {name} a name of its own, or leave out made = "together"'
        )
    else:
        text = f"{holes} would be drilled through {shown(pair.leader.part)}, and that through them"
        remedy = 'leave out made = "together" in one of these joints, or turn one of them round'
    return Conflict(pair.joint.name, True, f"{text}; its prints have them marked and drilled", remedy)


def _left_undrilled(job: Job) -> Iterator[Conflict]:
    """Of a part more copies are made than its joints drill: the rest have no holes there."""
    parts = {part.name: part for part in job.parts}
    for (name, opposite), later in drilled_later(job).items():
        part = parts.get(name)
        if part is None:
            continue
        made = part.opposite_hand if opposite else part.as_drawn
        short = {n: copies_drilled(pairs, name, opposite) for n, pairs in later.items()}
        left = [n for n, drilled in short.items() if drilled < made]
        if left:
            fewest = min(short[n] for n in left)
            hand = " of the opposite hand" if opposite else ""
            text = (
                f"{fewest} of {made} copies of {shown(name)}{hand} are drilled through another part; the "
                f"others stay without {'hole' if len(left) == 1 else 'holes'} {number_list(left)}"
            )
            yield Conflict(later[left[0]][0].joint.name, False, text, "raise the quantity of the joint")
