"""Random runs for reading pictures back: invented, smooth, each from its seed."""

from __future__ import annotations

import numpy as np

from gyrochalk.systems.run import Run
from tests.figures.sample_runs import make_run


def random_run(seed: int) -> Run:
    """A run of some minutes with errors of random size, from fractions of a degree to half a turn."""
    rng = np.random.default_rng(seed)
    time_s = np.arange(0.0, rng.uniform(60.0, 900.0), rng.choice([0.1, 0.5, 1.0]))
    errors = {}
    for name in ("card", "gyro", "slaved", "detector"):
        size = 10 ** rng.uniform(-0.5, 2.1)
        waves = (np.sin(time_s / rng.uniform(8.0, 200.0) + rng.uniform(0.0, 6.0)) for _ in range(2))
        errors[name] = size * np.sum(list(waves), axis=0) / 2 + rng.normal() * size / 4
    actual = rng.uniform(0.0, 360.0) + rng.uniform(-3.0, 3.0) * time_s
    return make_run(time_s, actual, errors)
