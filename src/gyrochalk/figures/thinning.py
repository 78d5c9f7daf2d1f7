"""Fewer points, same curve: what the eye would see at this size is kept, every peak with it."""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def keep_extremes(values: Floats, buckets: int) -> NDArray[np.intp]:
    """Indices of the first, lowest, highest and last of each of `buckets` equal stretches of `values` (n,)."""
    n = values.size
    if n <= 4 * buckets:
        return np.arange(n)
    edges = np.linspace(0, n, buckets + 1).astype(np.intp)
    starts, width = edges[:-1], int(np.diff(edges).max())
    places = np.minimum(starts[:, None] + np.arange(width), edges[1:, None] - 1)
    blocks = values[places]
    rows = np.arange(buckets)
    chosen = (starts, places[rows, blocks.argmin(axis=1)], places[rows, blocks.argmax(axis=1)], edges[1:] - 1)
    return np.unique(np.concatenate(chosen))


def drop_straight(x: Floats, y: Floats, within: float) -> list[int]:
    """Indices that remain when points within `within` of the straight line through their neighbours are dropped.

    One pass with a narrowing wedge: every dropped point lies within `within` (vertically) of the drawn line.
    """
    n = x.size
    if n <= 2:
        return list(range(n))
    xs, ys = x.tolist(), y.tolist()
    kept, base = [0], 0
    low, high = -np.inf, np.inf
    for i in range(1, n):
        run = xs[i] - xs[base]
        slope = (ys[i] - ys[base]) / run if run > 0 else np.inf
        if i > base + 1 and not low <= slope <= high:
            kept.append(i - 1)
            base, low, high = i - 1, -np.inf, np.inf
            run = xs[i] - xs[base]
        if run > 0:
            low = max(low, (ys[i] - within - ys[base]) / run)
            high = min(high, (ys[i] + within - ys[base]) / run)
        else:
            low, high = np.inf, -np.inf
    kept.append(n - 1)
    return kept


def pieces(values: Floats, valid: NDArray[np.bool_] | None, turn: float | None) -> list[tuple[int, int]]:
    """Stretches [start, stop) of `values` (n,) that may be joined by a line.

    A stretch ends where the value is not valid or not finite, and, with `turn` (360 for angles), where it jumps by
    more than half a turn: a heading passing 360 is no vertical line.
    """
    good = np.isfinite(values) if valid is None else np.isfinite(values) & valid
    cut = np.zeros(values.size + 1, dtype=bool)
    cut[0] = cut[-1] = True
    cut[1:-1] = good[1:] != good[:-1]
    if turn is not None:
        cut[1:-1] |= np.abs(np.diff(np.where(good, values, 0.0))) > turn / 2
    edges = np.flatnonzero(cut)
    return [(int(a), int(b)) for a, b in itertools.pairwise(edges) if good[a]]
