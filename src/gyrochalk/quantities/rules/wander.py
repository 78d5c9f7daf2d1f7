"""Rules about the wander of an unslaved gyro. Positive: the reading increases."""

from __future__ import annotations

import math

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.rules.rule import LATITUDE, Given, Parameter, Rule
from gyrochalk.units import convert

EARTH_RATE_DEG_H = math.degrees(7.292115e-5) * 3600.0
ROUND_RATE_DEG_H = 15.0
WGS84_AXIS_M = 6378137.0
WGS84_ECCENTRICITY_SQUARED = 0.00669437999014

BELOW_POLE = Parameter("lat", "deg", "the latitude, north positive", -89.0, 89.0, kind="latitude")
NUT = Parameter("set", "deg", "the latitude the nut is set for, north positive", -90.0, 90.0, kind="latitude")
GROUND_SPEED = Parameter("gs", "kt", "the ground speed", 0.0, 1000.0)
TRACK = Parameter("track", "deg", "the true track", 0.0, 360.0, kind="heading")
ALLOWED_ERROR = Parameter("error", "deg", "the error allowed", 0.1, 90.0, default=3.0)
DRIFT = Parameter(
    "drift", "deg/h", "the drift of the gyro, positive when the reading increases", -100.0, 100.0, default=0.0
)


def _sine(latitude_deg: float) -> float:
    return math.sin(math.radians(latitude_deg))


def _transport(given: Given) -> float:
    east = math.sin(math.radians(given["track"]))
    return -given["gs"] * east * math.tan(math.radians(given["lat"])) / 60.0 + 0.0


def _transport_on_the_ellipsoid(given: Given) -> float:
    speed_m_s = convert(given["gs"], "kt", "m/s") * math.sin(math.radians(given["track"]))
    sine = _sine(given["lat"])
    radius_m = WGS84_AXIS_M / math.sqrt(1.0 - WGS84_ECCENTRICITY_SQUARED * sine * sine)
    rate_rad_s = -speed_m_s * math.tan(math.radians(given["lat"])) / radius_m
    return math.degrees(rate_rad_s) * 3600.0 + 0.0


def _reset_interval_min(given: Given) -> float:
    rate_deg_h = abs(given["drift"] - EARTH_RATE_DEG_H * _sine(given["lat"]))
    if rate_deg_h * 1000.0 < given["error"]:
        what = "the gyro of the rule unslaved-reset does not wander"
        allowed = "an interval needs a wander"
        raise MaterialError(Problem("rule-parameter", what, allowed, "choose another lat or drift"))
    return given["error"] / rate_deg_h * 60.0


WANDER: tuple[Rule, ...] = (
    Rule(
        name="earth-rate-wander",
        sentence="An unslaved gyro wanders 15 sin(latitude) degrees an hour; in the north its reading decreases.",
        mark="S",
        source="mil-g-19027",
        unit="deg/h",
        parameters=(LATITUDE,),
        says=lambda given: -ROUND_RATE_DEG_H * _sine(given["lat"]) + 0.0,
        model=lambda given: -EARTH_RATE_DEG_H * _sine(given["lat"]) + 0.0,
        model_note="the Earth turns 15.041° an hour against the stars",
    ),
    Rule(
        name="transport-wander",
        sentence=(
            "Carried east, an unslaved gyro wanders by the eastward ground speed times the tangent of the latitude, "
            "over 60, in degrees an hour; in the north its reading decreases."
        ),
        mark="S",
        source="afpam-11-216",
        unit="deg/h",
        parameters=(GROUND_SPEED, TRACK, BELOW_POLE),
        says=_transport,
        model=_transport_on_the_ellipsoid,
        model_note="on the WGS-84 ellipsoid, at this instant",
    ),
    Rule(
        name="latitude-nut",
        sentence="A latitude nut takes out 15° an hour times the sine of the latitude it is set for.",
        mark="C",
        source="common practice",
        unit="deg/h",
        parameters=(NUT, LATITUDE),
        says=lambda given: ROUND_RATE_DEG_H * (_sine(given["set"]) - _sine(given["lat"])) + 0.0,
        model=lambda given: EARTH_RATE_DEG_H * (_sine(given["set"]) - _sine(given["lat"])) + 0.0,
        model_note="what is left of the wander, with 15.041° an hour",
    ),
    Rule(
        name="unslaved-reset",
        sentence="Reset an unslaved gyro to the compass every 10 to 15 minutes (the number here is the longer).",
        mark="C",
        source="common practice",
        unit="min",
        parameters=(
            Parameter("lat", "deg", "the latitude, north positive", -90.0, 90.0, default=52.0, kind="latitude"),
            ALLOWED_ERROR,
            DRIFT,
        ),
        says=lambda given: 15.0,
        model=_reset_interval_min,
        model_note="how long the Earth's rotation and the drift need for the error allowed",
    ),
)
