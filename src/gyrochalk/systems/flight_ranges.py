"""What a planned flight's own numbers may be; whether its legs can be flown one after another is seen when laid out."""

from __future__ import annotations

from gyrochalk.systems.plans import Accelerate, Climb, FlightPlan, GreatCircle, Hold, Leg, Stand, Taxi, Turn

Range = tuple[str, float, str, float, float]
"""What is limited, its value, its unit, least and greatest allowed."""

SHORTEST_S, LONGEST_S = 0.0, 86_400.0


def flight_ranges(plan: FlightPlan) -> list[Range]:
    """Limits of a planned flight's start, wind and legs."""
    rows: list[Range] = [
        ("true airspeed", plan.tas_kt, "kt", 0.0, 1000.0),
        ("wind", plan.wind_kt, "kt", 0.0, 250.0),
        ("start heading", plan.heading_deg, "deg", -720.0, 720.0),
        ("wind's direction", plan.wind_from_deg, "deg", -720.0, 720.0),
    ]
    for number, leg in enumerate(plan.legs, start=1):
        rows += leg_ranges(f"leg {number}", leg)
    return rows


def leg_ranges(name: str, leg: Leg) -> list[Range]:
    """Limits of one leg, called `name`."""
    if isinstance(leg, (Hold, Stand)):
        return [(f"{name}'s time", leg.duration_s, "s", SHORTEST_S, LONGEST_S)]
    if isinstance(leg, Taxi):
        return [
            (f"{name}'s time", leg.duration_s, "s", 0.001, LONGEST_S),
            (f"{name}'s turn", leg.turn_deg, "deg", -3600.0, 3600.0),
        ]
    if isinstance(leg, Turn):
        return turn_ranges(name, leg)
    if isinstance(leg, Accelerate):
        return [
            (f"{name}'s acceleration", leg.acceleration_g, "g", -2.0, 2.0),
            *given(f"{name}'s time", leg.duration_s, "s", SHORTEST_S, LONGEST_S),
            *given(f"{name}'s airspeed to reach", leg.to_tas_kt, "kt", 0.0, 1000.0),
        ]
    if isinstance(leg, Climb):
        return [
            (f"{name}'s vertical speed", leg.vertical_speed_ft_min, "ft/min", -20_000.0, 20_000.0),
            *given(f"{name}'s time", leg.duration_s, "s", SHORTEST_S, LONGEST_S),
            *given(f"{name}'s height to reach", leg.to_height_ft, "ft", -1500.0, 60_000.0),
        ]
    return goal_ranges(name, leg)


def goal_ranges(name: str, leg: GreatCircle) -> list[Range]:
    """Limits of the place a great circle leads to."""
    return [
        (f"{name}'s latitude", leg.latitude_deg, "deg", -89.5, 89.5),
        (f"{name}'s longitude", leg.longitude_deg, "deg", -360.0, 360.0),
    ]


def turn_ranges(name: str, leg: Turn) -> list[Range]:
    """Limits of a turn; the sign of its angle is its side."""
    size = None if leg.by_deg is None else abs(leg.by_deg)
    return [
        *given(f"{name}'s angle of turn", size, "deg", 0.001, 36_000.0),
        *given(f"{name}'s heading to reach", leg.to_heading_deg, "deg", -720.0, 720.0),
        *given(f"{name}'s turn rate", leg.rate_deg_s, "deg/s", 0.001, 60.0),
        *given(f"{name}'s bank", leg.bank_deg, "deg", 0.001, 90.0),
        (f"{name}'s roll rate", leg.roll_rate_deg_s, "deg/s", 0.1, 90.0),
        *given(f"{name}'s time to roll in", leg.roll_time_s, "s", 0.001, 600.0),
    ]


def given(name: str, value: float | None, unit: str, least: float, greatest: float) -> list[Range]:
    """A limit, if there is a value."""
    return [] if value is None else [(name, value, unit, least, greatest)]
