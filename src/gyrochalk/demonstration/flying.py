"""Flies demonstrations, each setup once: later calls get the same run, from memory or from the cache folder."""

from __future__ import annotations

import collections
import concurrent.futures
import threading

from gyrochalk.demonstration.demonstration import Demonstration
from gyrochalk.demonstration.fingerprint import fingerprint
from gyrochalk.demonstration.run_cache import keep_run, kept_run
from gyrochalk.errors import MaterialError
from gyrochalk.systems.run import Run
from gyrochalk.systems.setup import Setup

MOST_IN_MEMORY = 32

Pending = concurrent.futures.Future[Run]
_flown: collections.OrderedDict[str, Pending] = collections.OrderedDict()
_lock = threading.Lock()


def fly(demonstration: Demonstration, variant: str | None = None) -> Run:
    """The run of a demonstration, or of one of its variants.

    Raises `MaterialError`: variant-unknown, or what `simulate` refuses, placed in the demonstration's file.
    """
    setup = demonstration.variant(variant).setup
    try:
        return fly_setup(setup)
    except MaterialError as error:
        file = demonstration.path.as_posix()
        raise MaterialError([p if p.file else p.at(file) for p in error.problems]) from error


def fly_setup(setup: Setup) -> Run:
    """The run of a setup. Two threads that ask for the same one at once wait for one flight."""
    name = fingerprint(setup)
    with _lock:
        pending = _flown.get(name)
        first = pending is None
        if pending is None:
            pending = _flown[name] = Pending()
        _flown.move_to_end(name)
        while len(_flown) > MOST_IN_MEMORY:
            _flown.popitem(last=False)
    if first:
        _fly_now(name, setup, pending)
    return pending.result()


def forget_runs() -> None:
    """Forget the runs held in memory; those in the cache folder stay."""
    with _lock:
        _flown.clear()


def _fly_now(name: str, setup: Setup, pending: Pending) -> None:
    try:
        run = kept_run(name)
        if run is None:
            from gyrochalk.systems.simulate import simulate  # here, so that a kept run needs no compiled kernels

            run = simulate(setup)
            keep_run(name, run)
    except BaseException as error:
        with _lock:
            _flown.pop(name, None)
        pending.set_exception(error)
        raise
    pending.set_result(run)
