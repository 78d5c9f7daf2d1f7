"""Small runs made by hand, whose measures can be worked out in the head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from gyrochalk.quantities import CHANNELS
from gyrochalk.systems.run import Column, Event, Provenance, Run, Span

PROVENANCE = Provenance("stated", "2026-01-01", "0", 0.01)


def make_run(
    time_s: ArrayLike,
    channels: Mapping[str, ArrayLike],
    *,
    events: Sequence[tuple[float, str]] = (),
    spans: Sequence[tuple[float, float, str]] = (),
    valid: Mapping[str, NDArray[np.bool_]] | None = None,
) -> Run:
    """A run with these channels; `time_s` the times of the samples [s]."""
    columns = {
        name: Column(
            name,
            CHANNELS[name].unit,
            CHANNELS[name].meaning,
            np.asarray(values, dtype=np.float64),
            CHANNELS[name].north,
            (valid or {}).get(name),
        )
        for name, values in channels.items()
    }
    return Run(
        np.asarray(time_s, dtype=np.float64),
        columns,
        tuple(Event(at_s, kind, kind) for at_s, kind in events),
        tuple(Span(start_s, end_s, kind, kind) for start_s, end_s, kind in spans),
        PROVENANCE,
    )
