"""The joints of a draft: do they go together, what would help, what they need."""

from __future__ import annotations

from pathlib import Path

from nestkit.drawing.joint_picture import joint_picture
from nestkit.fit.chance import TRIALS
from nestkit.fit.drill_words import drill_lines, drill_said, holes_said, order_said, use_said
from nestkit.fit.fit_job import fit_job
from nestkit.fit.hardware_words import hardware_lines
from nestkit.fit.odds import figure
from nestkit.fit.result import DrillUse, JointFit
from nestkit.fit.words import advice_said, headline, joint_rows, last_line
from nestkit.job.model import Job
from nestkit.job.reader import read_data
from nestkit.page.bench import Line
from nestkit.page.objects import Object, json_bytes
from nestkit.units import Unit
from nestkit.writers.hardware import hardware_rows
from nestkit.writers.svg import svg_inline


def work(line: Line, tree: Object, folder: Path) -> bytes:
    """Return every joint with its picture, the hardware list and the drills, as JSON."""
    job = read_data(tree, folder)
    found = fit_job(job, trials=TRIALS["normal"])
    return json_bytes(
        {
            "joints": [_joint(job, fit, index) for index, fit in enumerate(found.joints)],
            "lead": last_line(found),
            "hardware": hardware_rows(job, found.hardware),
            "hardware_lines": hardware_lines(job, found.hardware),
            "drills": [_drill(use, job.unit) for use in found.drills],
            "drill_lines": drill_lines(job, found.drills),
        }
    )


def _joint(job: Job, fit: JointFit, index: int) -> Object:
    picture = joint_picture(job, fit)
    chance = None if fit.chance is None else fit.chance.value
    return {
        "name": fit.name,
        "say": headline(fit),
        "chance": chance,
        "chance_text": ""
        if chance is None
        else f"chance {figure(chance)}; asked is {figure(float(fit.goal))}",
        "asked": float(fit.goal),
        "below": chance is not None and chance < fit.goal,
        "faults": [{"text": fault.text, "remedy": fault.remedy} for fault in fit.assembly.faults],
        "svg": None if picture is None else svg_inline(picture, prefix=f"joint{index}"),
        "advice": [advice_said(advice) for advice in fit.advice],
        "rows": [[key, text] for key, text in joint_rows(job, fit)],
    }


def _drill(use: DrillUse, unit: Unit) -> Object:
    return {
        "drill": drill_said(use.drill, unit),
        "for": use_said(use),
        "order": order_said(use),
        "holes": holes_said(use),
        "speed": use.speed,
        "instead": use.instead,
        "merge": use.merge,
    }
