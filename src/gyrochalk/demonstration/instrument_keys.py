"""The instruments and their parameters, in trade words."""

from __future__ import annotations

import dataclasses
from typing import Annotated, Any, ClassVar

from pydantic import model_validator

from gyrochalk.demonstration.refusal import refuse
from gyrochalk.demonstration.section import Section, key
from gyrochalk.demonstration.values import Angle, Choice, HeadingValue, Quantity, Switch
from gyrochalk.errors import Problem
from gyrochalk.systems.instruments import Detector, DirectCompass, Gyro, Loop, Triple
from gyrochalk.units import Heading, format_quantity

Share = Annotated[float, Quantity("1", 0, 20)]


class CompassKeys(Section):
    """The direct-reading compass."""

    target: ClassVar[type | None] = DirectCompass

    moment_a_m2: Annotated[float, Quantity("A m2", 0.001, 10)] = key("moment", "Magnetic moment of the card.")
    period_s: Annotated[float, Quantity("s", 0.5, 60)] = key("period", "Time of one free swing at the reference field.")
    damping: Annotated[float, Quantity("1", 0.01, 5)] = key("damping", "Damping ratio of that swing; 1 is dead beat.")
    reference_field_ut: Annotated[float, Quantity("uT", 1, 70)] = key(
        "reference_field", "Horizontal field for which period, damping and friction are stated."
    )
    reference_dip_deg: Annotated[float, Quantity("deg", 5, 85)] = key(
        "reference_dip", "Dip for which the residual tilt is stated."
    )
    residual_tilt_deg: Annotated[float, Quantity("deg", 0.1, 20)] = key(
        "residual_tilt", "How far the card hangs off level at the reference dip."
    )
    tilt_inertia_ratio: Annotated[float, Quantity("1", 0.5, 2)] = key(
        "tilt_inertia", "Moment of inertia about a level axis over that about the pivot."
    )
    tilt_damping: Annotated[float, Quantity("1", 0.01, 5)] = key("tilt_damping", "Damping ratio of the card's tilt.")
    fluid_time_s: Annotated[float, Quantity("s", 0.1, 600)] = key(
        "fluid_time", "Time in which the fluid takes up a turn."
    )
    friction_deg: Annotated[float, Quantity("deg", 0, 10)] = key(
        "friction", "How far off the card may rest by friction."
    )
    friction_speed_deg_s: Annotated[float, Quantity("deg/s", 0.05, 10)] = key(
        "friction_speed", "Speed of the card at which friction is nearly full."
    )
    tilt_stop_deg: Annotated[float, Quantity("deg", 1, 60)] = key("tilt_stop", "Tilt at which the card meets its stop.")
    start_offset_deg: Annotated[float, Quantity("deg", -180, 180)] = key(
        "start_offset", "How far the card is held off its rest at the start, clockwise positive."
    )


class GyroKeys(Section):
    """A directional gyro."""

    target: ClassVar[type | None] = Gyro

    drift_deg_h: Annotated[float, Quantity("deg/h", -1000, 1000)] = key(
        "drift", "Gyro drift from unbalance; positive: the reading increases."
    )
    random_walk_deg_sqrt_h: Annotated[float, Quantity("deg/sqrt(h)", 0, 100)] = key(
        "random_walk", "Random wander, 0.5 deg/sqrt(h)."
    )
    nut_latitude_deg: Annotated[float | None, Angle("latitude", "off")] = key(
        "latitude_nut", "Latitude the nut is set for, or off."
    )
    levelling: Annotated[str, Choice(("case", "gravity", "ideal", "none"))] = key(
        "levelling", "What the inner gimbal is levelled to."
    )
    levelling_rate_deg_min: Annotated[float, Quantity("deg/min", 0, 60)] = key(
        "levelling_rate", "How fast it is levelled."
    )
    levelling_band_deg: Annotated[float, Quantity("deg", 0.01, 20)] = key(
        "levelling_band", "Tilt beyond which levelling works at its full rate."
    )
    stop_deg: Annotated[float, Quantity("deg", 10, 89)] = key("stop", "Inner gimbal angle at which the gyro topples.")
    spin_bearing_true_deg: Annotated[Heading, HeadingValue(("true",))] = key(
        "spin_bearing", "Bearing of the spin axis from true north at the start, 045T."
    )
    start_error_deg: Annotated[float, Quantity("deg", -180, 180)] = key(
        "start_error", "Reading minus actual magnetic heading at the start."
    )
    start_tilt_deg: Annotated[float, Quantity("deg", -80, 80)] = key(
        "start_tilt", "Tilt of the spin axis at the start."
    )
    rotor_running: Annotated[bool, Switch()] = key("rotor_running", "Whether the rotor is up to speed at the start.")
    run_up_s: Annotated[float, Quantity("s", 1, 3600)] = key("run_up", "Time constant of the rotor's running up.")
    run_down_s: Annotated[float, Quantity("s", 1, 7200)] = key("run_down", "Time constant of the rotor's running down.")

    def build(self, base: Any) -> Any:
        """The gyro with what was written put in."""
        given = self.given()
        if "spin_bearing_true_deg" in given:
            given["spin_bearing_true_deg"] = self.spin_bearing_true_deg.degrees
        return dataclasses.replace(base, **given)


class LegGainKeys(Section):
    """Gain of each leg of the detector; 1 is sound."""

    leg_1: Share = key("leg_1", "Gain of leg 1.")
    leg_2: Share = key("leg_2", "Gain of leg 2.")
    leg_3: Share = key("leg_3", "Gain of leg 3.")

    def vector(self) -> Triple:
        """The three gains, 1 where nothing is written."""
        given = self.given()
        return (given.get("leg_1", 1.0), given.get("leg_2", 1.0), given.get("leg_3", 1.0))


class DetectorKeys(Section):
    """The flux detector."""

    target: ClassVar[type | None] = Detector

    period_s: Annotated[float, Quantity("s", 0.1, 10)] = key("period", "Time of one free swing of the pendulum.")
    damping: Annotated[float, Quantity("1", 0.01, 5)] = key("damping", "Damping ratio of that swing.")
    freedom_deg: Annotated[float, Quantity("deg", 0, 60)] = key("freedom", "How far the pendulum may swing each way.")
    leg_gains: LegGainKeys = key("leg_gains", "Gain of each leg.")

    def build(self, base: Any) -> Any:
        """The detector with what was written put in."""
        given = self.given()
        if "leg_gains" in given:
            given["leg_gains"] = self.leg_gains.vector()
        return dataclasses.replace(base, **given)


class LoopKeys(Section):
    """The slaving loop."""

    target: ClassVar[type | None] = Loop

    law: Annotated[str, Choice(("textbook", "full"))] = key(
        "law", "The plain rate-and-lock loop, or the proportional one."
    )
    slow_rate_deg_min: Annotated[float, Quantity("deg/min", 0.01, 600)] = key("slow_rate", "Slaving rate, slow.")
    band_deg: Annotated[float, Quantity("deg", 0.05, 45)] = key("band", "Error from which the slow rate is full.")
    dead_zone_deg: Annotated[float, Quantity("deg", 0, 30)] = key("dead_zone", "Error below which nothing moves.")
    lag_s: Annotated[float, Quantity("s", 0, 30)] = key("lag", "Lag of the correction.")
    reference_field_ut: Annotated[float, Quantity("uT", 1, 70)] = key(
        "reference_field", "Horizontal field at which the signal has its stated size."
    )
    fast_rate_deg_min: Annotated[float, Quantity("deg/min", 0.01, 6000)] = key("fast_rate", "Slaving rate, fast.")
    large_error_deg: Annotated[float, Quantity("deg", 0.1, 180)] = key(
        "large_error", "Error from which fast alignment may start by itself."
    )
    settled_deg: Annotated[float, Quantity("deg", 0.01, 20)] = key("settled", "Error at which fast alignment ends.")
    automatic: Annotated[str, Choice(("never", "at switch-on", "always"))] = key(
        "automatic", "When fast alignment may start by itself."
    )
    hold_rate_deg_min: Annotated[float, Quantity("deg/min", 0.01, 6000)] = key(
        "hold_rate", "Rate while the alignment switch is held."
    )
    hold_band_deg: Annotated[float, Quantity("deg", 0.05, 60)] = key("hold_band", "Error from which that rate is full.")
    slaved: Annotated[bool, Switch()] = key("slaved", "Whether the gyro is slaved at the start (no: free).")
    cut_off_deg_s: Annotated[float | None, Quantity("deg/s", 0, 30, above=True, word="never")] = key(
        "cut_off", "Turn rate above which slaving is interrupted, or never."
    )
    indicator_time_s: Annotated[float, Quantity("s", 0.05, 60)] = key(
        "indicator_time", "Time constant of the synchronisation indicator."
    )

    def build(self, base: Any) -> Any:
        """The loop with what was written put in; `law` belongs to the setup."""
        return dataclasses.replace(base, **{name: value for name, value in self.given().items() if name != "law"})

    @model_validator(mode="after")
    def _ordered(self) -> LoopKeys:
        loop: Loop = self.build(Loop())
        for small, large, what in (
            ("settled", "large_error", (loop.settled_deg, loop.large_error_deg)),
            ("dead_zone", "band", (loop.dead_zone_deg, loop.band_deg)),
        ):
            if what[0] >= what[1]:
                raise self._not_below(small, large, what)
        return self

    def _not_below(self, small: str, large: str, values: tuple[float, float]) -> Exception:
        one, other = (format_quantity(value, "deg", 2) for value in values)
        name = small if self._attribute(small) in self.model_fields_set else large
        what = f"{small} {one} is not below {large} {other}"
        return refuse(Problem("out-of-range", what, f"{small} less than {large}", f"change {small} or {large}"), name)
