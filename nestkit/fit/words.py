"""What is known of joints in plain words: first what happens at the bench, then the figures behind it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from nestkit.fit.accuracy_words import accuracy_said, heat_said, methods_said, zone_said
from nestkit.fit.lie_words import lie_said, off_said, through_said
from nestkit.fit.odds import figure, in_100, odds
from nestkit.fit.result import Advice, JobFit, JointFit
from nestkit.job.model import Job
from nestkit.text import WIDTH, columns, counted, sentence, wrapped

_NO_HOLES = "No joint has holes that must meet."
_KEY = 13
_MOST_ADVICE = 5


def verdict(fit: JointFit) -> str:
    """Return in a few words whether a joint goes together."""
    if fit.assembly.faults:
        return "CANNOT MEET"
    if fit.chance is None:
        return "holes need not line up"
    if fit.chance.value >= 0.9995:
        return "goes together"
    if fit.chance.value < 0.01:
        return "hardly any goes together without filing"
    return f"{odds(fit.chance.value)} go together without filing"


def headline(fit: JointFit) -> str:
    """Return the verdict, and what the next drill up would make of it where more is asked."""
    larger = [advice.chance.value for advice in fit.advice if advice.kind == "hole"]
    if not larger or fit.chance is None:
        return verdict(fit)
    return f"{verdict(fit)}; next drill up, {odds(min(larger))}"


def joint_lines(job: Job, fit: JointFit) -> list[str]:
    """Return a joint as lines for a terminal: the verdict, then what it rests on, then what would help."""
    rows = [*joint_rows(job, fit)]
    lines = [f"{fit.name}: {headline(fit)}"]
    for key, text in rows:
        lines += _keyed(key, text)
    return lines


def _keyed(key: str, text: str) -> list[str]:
    return wrapped(ended(key, text), first=f"  {key:<{_KEY}}", rest=" " * (_KEY + 2))


def ended(key: str, text: str) -> str:
    """Return a row's text as a sentence; one that begins with a part's name leaves that as it is written."""
    return f"{text}." if key in ("zone", "holes by") else sentence(text)


def joint_rows(job: Job, fit: JointFit) -> Iterator[tuple[str, str]]:
    """Yield what a verdict rests on and what would help, each with a word for it; further advice without."""
    assembly = fit.assembly
    for fault in assembly.faults:
        yield "error", fault.text
        yield "do", fault.remedy
    yield "through", through_said(job, assembly)
    if lie := lie_said(job, assembly):
        yield "as they lie", lie
    if off := off_said(job, fit):
        yield "as drawn", off
    if fit.chance is None:
        return
    if not assembly.joint.together:
        yield "zone", zone_said(job, fit)
    yield "holes by", methods_said(fit)
    yield "chance", chance_said(fit)
    if heat := heat_said(job, fit):
        yield "heat", heat
    for number, advice in enumerate(fit.advice[:_MOST_ADVICE]):
        yield "better" if number == 0 else "", advice_said(advice)


def chance_said(fit: JointFit) -> str:
    """Return the figure behind the verdict, that of the screws by themselves, and how it was found."""
    if fit.chance is None:
        return ""
    chance = fit.chance
    how = f"{chance.trials:,} trials" if chance.trials else "in closed form"
    held = "parts held by their edges" if fit.assembly.joint.held else "parts free to slide and turn"
    alone = ""
    if fit.screws:
        lowest = min(fit.screws, key=lambda screw: screw.chance.value)
        one = fit.assembly.joint.fastener.kind
        alone = f"; with nothing moved, {one} {lowest.number} by itself {figure(lowest.chance.value)}"
    asked = "" if chance.value >= fit.goal else f"; asked is {figure(float(fit.goal))}"
    return f"{figure(chance.value, chance.error)} ({how}, {held}){alone}{asked}"


def advice_said(advice: Advice) -> str:
    """Return a change with what it gives."""
    warning = f". Mind: {advice.warning}" if advice.warning else ""
    return f"{advice.text}: {odds(advice.chance.value)} ({figure(advice.chance.value)}){warning}"


def fit_lines(job: Job, found: JobFit) -> list[str]:
    """Return all joints for a terminal, without hardware and drills: a line each, then each by itself."""
    lines = [*overview(found), ""]
    for said in not_made_said(found):
        lines += [*textwrap.wrap(said, WIDTH, subsequent_indent="  "), ""]
    for fit in found.joints:
        lines += [*joint_lines(job, fit), ""]
    for said in accuracy_said(job, found):
        lines += textwrap.wrap(said, WIDTH, subsequent_indent="  ")
    return [*lines, ""]


def not_made_said(found: JobFit) -> list[str]:
    """Return a sentence that names the joints of which none is made; nothing where all are."""
    names = ", ".join(found.not_made)
    return [f"Not made, as their quantity or that of a part is 0: {names}."] if names else []


def overview(found: JobFit) -> list[str]:
    """Return a line a joint: its name, its screws, how often it is made, the verdict."""
    rows = []
    for fit in found.joints:
        joint = fit.assembly.joint
        size = (
            f"{fit.assembly.screws} x {joint.fastener.size}" if fit.assembly.screws else joint.fastener.size
        )
        below = fit.chance is not None and fit.chance.value < fit.goal
        asked = f"BELOW {figure(float(fit.goal))}" if below else ""
        rows.append((fit.name, size, f"made {joint.quantity} x", verdict(fit), asked))
    return columns(rows)


def last_line(found: JobFit) -> str:
    """Return the one sentence that matters: do all joints go together, and which is the weakest."""
    faulty = [fit.name for fit in found.joints if fit.assembly.faults]
    if faulty:
        return f"{counted(len(faulty), 'joint')} cannot meet as drawn: {', '.join(faulty)}."
    apart = dict.fromkeys(name for c in found.hardware.conflicts if c.error for name in (c.joint, *c.also))
    first = f"{counted(len(apart), 'joint')} cannot be put together with its screws: {', '.join(apart)}. "
    first = first.replace("its", "their") if len(apart) > 1 else first if apart else ""
    known = [(fit.chance.value, fit) for fit in found.joints if fit.chance is not None]
    if not known or found.chance is None:
        unmade = not found.joints and found.not_made
        what = f"No joint is made: {', '.join(found.not_made)}." if unmade else _NO_HOLES
        return f"{first}{what}"
    below = [(value, fit) for value, fit in known if value < fit.goal]
    if not below:
        every = "By its holes every joint" if first else "Every joint"
        return f"{first}{every} is above what is asked. {_all_of_them(found.chance.value)}"
    _, weakest = min(below, key=lambda pair: pair[0])
    return (
        f"{first}{counted(len(below), 'joint')} below what is asked; the weakest, {weakest.name}: "
        f"{verdict(weakest)}. {_all_of_them(found.chance.value)}"
    )


def _all_of_them(chance: float) -> str:
    """Say how often a whole set of parts goes together without filing."""
    return f"That every joint goes together: {in_100(chance)} ({figure(chance)})."
