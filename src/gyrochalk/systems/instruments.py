"""The instruments an instructor can name, with their parameters in the units of the surface.

Defaults are those of `docs/physics.md`; marks there say which are published, common practice, from memory or assumed.
"""

from __future__ import annotations

import dataclasses
from typing import Literal

Triple = tuple[float, float, float]
NO_VECTOR: Triple = (0.0, 0.0, 0.0)
NO_SOFT_IRON = (NO_VECTOR, NO_VECTOR, NO_VECTOR)


@dataclasses.dataclass(frozen=True, slots=True)
class Magnetism:
    """The aircraft's own magnetism at one mounting place, body axes (nose, right wing, down).

    `hard_ut` is (P, Q, R) [µT]; `soft` is ((a, b, c), (d, e, f), (g, h, k)), dimensionless; `loads_ut` names the
    vector [µT] each electrical load adds while switched on.
    """

    hard_ut: Triple = NO_VECTOR
    soft: tuple[Triple, Triple, Triple] = NO_SOFT_IRON
    loads_ut: tuple[tuple[str, Triple], ...] = ()


@dataclasses.dataclass(frozen=True, slots=True)
class DirectCompass:
    """A direct-reading compass: a pendulous magnet card floating in a bowl of fluid."""

    moment_a_m2: float = 0.15
    period_s: float = 8.0
    damping: float = 0.7
    reference_field_ut: float = 19.0
    reference_dip_deg: float = 67.0
    residual_tilt_deg: float = 2.0
    tilt_inertia_ratio: float = 0.75
    tilt_damping: float = 0.7
    fluid_time_s: float = 6.0
    friction_deg: float = 0.5
    friction_speed_deg_s: float = 0.5
    tilt_stop_deg: float = 18.0
    start_offset_deg: float = 0.0
    magnetism: Magnetism = Magnetism()


Levelling = Literal["case", "gravity", "ideal", "none"]


@dataclasses.dataclass(frozen=True, slots=True)
class Gyro:
    """A directional gyro: a spinning rotor in two gimbals whose outer axis is the aircraft's down axis.

    `drift_deg_h` positive: the reading increases. `nut_latitude_deg` is the latitude the nut is set for (None: no
    nut). `levelling` says what the inner gimbal is levelled to. `start_error_deg` is reading minus actual magnetic
    heading at the start; `spin_bearing_true_deg` the spin axis's bearing from true north at the start, clockwise (it
    decides the gimballing error in a bank). `rotor_running` False means the rotor stands still until switched on;
    `run_up_s` and `run_down_s` are time constants.
    """

    drift_deg_h: float = 0.0
    random_walk_deg_sqrt_h: float = 0.0
    nut_latitude_deg: float | None = None
    levelling: Levelling = "case"
    levelling_rate_deg_min: float = 3.0
    levelling_band_deg: float = 0.5
    stop_deg: float = 85.0
    spin_bearing_true_deg: float = 0.0
    start_error_deg: float = 0.0
    start_tilt_deg: float = 0.0
    rotor_running: bool = True
    run_up_s: float = 60.0
    run_down_s: float = 300.0


@dataclasses.dataclass(frozen=True, slots=True)
class Detector:
    """A flux detector hung as a damped pendulum, free to swing `freedom_deg` in pitch and roll."""

    period_s: float = 1.0
    damping: float = 0.5
    freedom_deg: float = 25.0
    leg_gains: Triple = (1.0, 1.0, 1.0)
    magnetism: Magnetism = Magnetism()


@dataclasses.dataclass(frozen=True, slots=True)
class Loop:
    """The slaving loop: comparison, amplifier and motor that turn the gyro to the detector.

    `automatic` says when fast alignment may start by itself from an error of `large_error_deg`; it ends at
    `settled_deg`. `cut_off_deg_s`: slaving is interrupted while the turn rate exceeds it (None: never).
    """

    slow_rate_deg_min: float = 3.0
    band_deg: float = 2.0
    dead_zone_deg: float = 0.1
    lag_s: float = 0.5
    reference_field_ut: float = 20.0
    fast_rate_deg_min: float = 60.0
    large_error_deg: float = 5.0
    settled_deg: float = 0.25
    automatic: Literal["never", "at switch-on", "always"] = "at switch-on"
    hold_rate_deg_min: float = 900.0
    hold_band_deg: float = 15.0
    slaved: bool = True
    cut_off_deg_s: float | None = None
    indicator_time_s: float = 1.0
