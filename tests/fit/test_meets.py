"""Whether screws pass three parts and more, against a general optimiser."""

from __future__ import annotations

import random

import numpy as np
from scipy.optimize import minimize

from nestkit.fit.assemble import assemble
from nestkit.fit.meets import all_pass
from tests.fit.joint_bench import PLAY, SCREW_DIA, bought, job, joint, mate


def stack(rng, screws, slip):
    """Return three parts whose holes are off by normal slips."""
    places = [(rng.uniform(0, 200), rng.uniform(0, 200)) for _ in range(screws)]
    parts = [
        bought(name, [(x + rng.gauss(0, slip), y + rng.gauss(0, slip)) for x, y in places]) for name in "abc"
    ]
    return assemble(job(*parts), joint(*map(mate, parts)))


def lacking(assembly):
    """Return how much wider all plays must be for the screws to pass, by SLSQP over motions and screws."""
    layers = [np.array([complex(*p) for p in layer.points]) for layer in assembly.layers]
    screws = len(layers[0])

    def room(x):
        at, more = x[:screws] + 1j * x[screws : 2 * screws], x[-1]
        found = [(PLAY + more) ** 2 - np.abs(at - layers[0]) ** 2]
        for number, holes in enumerate(layers[1:]):
            dx, dy, turn = x[2 * screws + 3 * number :][:3]
            found.append((PLAY + more) ** 2 - np.abs(at - dx - 1j * dy - np.exp(1j * turn / 50) * holes) ** 2)
        return np.concatenate(found)

    start = np.concatenate([layers[0].real, layers[0].imag, np.zeros(3 * (len(layers) - 1)), [3.0]])
    limits = [{"type": "ineq", "fun": room}, {"type": "ineq", "fun": lambda x: x[-1] + PLAY}]
    found = minimize(
        lambda x: x[-1], start, constraints=limits, method="SLSQP", options={"maxiter": 1000, "ftol": 1e-12}
    )
    return found.x[-1]


def test_three_parts_fit_where_an_optimiser_finds_a_place_for_them():
    """Of stacks with slips near the limit the same ones go together; some only once the parts are shifted."""
    rng = random.Random(5)
    fits = shifted = 0
    for _ in range(20):
        assembly = stack(rng, rng.choice([2, 3, 4]), rng.choice([0.3, 0.4, 0.5, 0.6]))
        less = lacking(assembly)
        assert (not assembly.faults) == (less <= 1e-6)
        fits += less <= 1e-6
        shifted += less <= 1e-6 and not all_pass(assembly.layers, SCREW_DIA, held=True)
    assert 5 < fits < 15
    assert shifted >= 1


def test_two_parts_laid_best_are_judged_by_their_plays():
    """Nothing passes holes further apart than both plays, everything does up to that, held or not."""
    for apart, passes in ((2 * PLAY, True), (2 * PLAY + 0.001, False)):
        lid, base = bought("lid", [(0, 0), (100, 0)]), bought("base", [(0, 0), (100 + 2 * apart, 0)])
        layers = assemble(job(lid, base), joint(mate(lid), mate(base))).layers
        assert all_pass(layers, SCREW_DIA, held=False) is passes
        assert all_pass(layers, SCREW_DIA, held=True) is passes
