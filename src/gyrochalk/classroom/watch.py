"""Looks at the workspace again and again while the server runs."""

from __future__ import annotations

import threading
from collections.abc import Callable

INTERVAL_S = 0.7
"""Pause between two looks [s]. Files are polled because synced and remote folders send no notice of a change."""


class Watch:
    """Calls `look` in a thread of its own, first at once, then every `interval_s` seconds, until stopped."""

    def __init__(
        self, look: Callable[[], bool], on_fault: Callable[[Exception], None], interval_s: float = INTERVAL_S
    ) -> None:
        self._look, self._on_fault, self._interval_s = look, on_fault, interval_s
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="gyrochalk watch", daemon=True)

    def start(self) -> None:
        """Begin to look."""
        self._thread.start()

    def stop(self) -> None:
        """Stop looking; returns when the look in progress, if any, is over or five seconds have passed."""
        self._stop.set()
        self._thread.join(5.0)

    def _run(self) -> None:
        while not self._stop.is_set():
            try:
                self._look()
            except Exception as fault:  # noqa: BLE001 a fault of ours must not end the lesson; it is told and tried again
                self._on_fault(fault)
            self._stop.wait(self._interval_s)
