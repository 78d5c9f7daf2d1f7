"""Where labels go so that none stands on another."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Places near the `wanted` ones, at least `gap` apart and within [low, high], in the order of `wanted`.

    Neighbours that would touch form a block centred on the mean of what its members want. With too little room the
    gap shrinks evenly.
    """
    count = len(wanted)
    if count == 0:
        return []
    gap = min(gap, (high - low) / max(1, count - 1))
    order = sorted(range(count), key=lambda i: (wanted[i], i))
    blocks: list[list[int]] = []
    starts: list[float] = []
    for i in order:
        blocks.append([i])
        starts.append(_block_start(blocks[-1], wanted, gap, low, high))
        while len(blocks) > 1 and starts[-2] + gap * len(blocks[-2]) > starts[-1] + 1e-9:
            last = blocks.pop()
            starts.pop()
            blocks[-1] += last
            starts[-1] = _block_start(blocks[-1], wanted, gap, low, high)
    places = [0.0] * count
    for block, start in zip(blocks, starts, strict=True):
        for step, i in enumerate(block):
            places[i] = start + step * gap
    return places


def _block_start(block: list[int], wanted: Sequence[float], gap: float, low: float, high: float) -> float:
    length = gap * (len(block) - 1)
    centre = sum(wanted[i] for i in block) / len(block)
    return min(max(centre - length / 2, low), high - length)


def rows_for(spans: Sequence[tuple[float, float]], rows: int, gap: float) -> list[int | None]:
    """The first of `rows` in which each span [left, right] fits beside earlier ones, None where none has room."""
    taken: list[list[tuple[float, float]]] = [[] for _ in range(rows)]
    found: list[int | None] = []
    for left, right in spans:
        free = (r for r in range(rows) if all(right + gap <= a or left >= b + gap for a, b in taken[r]))
        row = next(free, None)
        if row is not None:
            taken[row].append((left, right))
        found.append(row)
    return found
