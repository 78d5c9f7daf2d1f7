"""From sampled states to the columns of a run."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from gyrochalk.physics.motion import GRAVITY
from gyrochalk.systems.plans import North
from gyrochalk.systems.run import Column, Event
from gyrochalk.systems.scales import DEG_MIN_RAD_S, FT_M, KT_M_S, UT_T

Floats = NDArray[np.float64]
Valid = NDArray[np.bool_]


def heading_degrees(angle_rad: Floats) -> Floats:
    """Angles [rad] as headings in [0, 360), never 360 itself."""
    wrapped = np.mod(np.degrees(angle_rad), 360.0)
    wrapped[wrapped >= 360.0] = 0.0
    return np.asarray(wrapped)


def error_degrees(indicated_rad: Floats, actual_rad: Floats) -> Floats:
    """Indicated minus actual [rad] as degrees in [−180, 180)."""
    wrapped = np.mod(np.degrees(indicated_rad - actual_rad) + 180.0, 360.0)
    wrapped[wrapped >= 360.0] = 0.0
    return np.asarray(wrapped - 180.0)


class Columns:
    """Collects columns by name."""

    def __init__(self) -> None:
        self.found: dict[str, Column] = {}

    def add(
        self,
        name: str,
        unit: str,
        description: str,
        values: Floats,
        north: North | None = None,
        valid: Valid | None = None,
    ) -> None:
        """Add one column."""
        self.found[name] = Column(name, unit, description, np.ascontiguousarray(values), north, valid)

    def flight(self, motion: Floats, wind: tuple[float, float], airspeed: Floats | None) -> Floats:
        """Columns of the flight and the field; returns the actual magnetic heading [rad]."""
        variation = np.arctan2(motion[:, 12], motion[:, 11])
        magnetic = motion[:, 0] - variation
        north, east, down = motion[:, 4], motion[:, 5], motion[:, 6]
        if airspeed is None:
            airspeed = np.sqrt((north - wind[0]) ** 2 + (east - wind[1]) ** 2 + down**2)
        add = self.add
        add("actual.heading", "deg", "actual heading", heading_degrees(magnetic), "magnetic")
        add("actual.heading_true", "deg", "actual heading from true north", heading_degrees(motion[:, 0]), "true")
        add("actual.bank", "deg", "bank, right positive", np.degrees(motion[:, 2]))
        add("actual.pitch", "deg", "pitch, nose up positive", np.degrees(motion[:, 1]))
        add("actual.turn_rate", "deg/s", "turn rate, right positive", np.degrees(motion[:, 3]))
        add("actual.tas", "kt", "true airspeed", airspeed / KT_M_S)
        add("actual.ground_speed", "kt", "ground speed", np.hypot(north, east) / KT_M_S)
        moving = np.where(np.hypot(north, east) > 1e-6, np.arctan2(east, north), motion[:, 0])
        add("actual.track", "deg", "track over the ground", heading_degrees(moving), "true")
        add("actual.load", "g", "apparent gravity", motion[:, 10] / GRAVITY)
        add("actual.load_bank", "deg", "bank of a plane square to apparent gravity", np.degrees(motion[:, 15]))
        add("actual.load_pitch", "deg", "pitch of a plane square to apparent gravity", np.degrees(motion[:, 16]))
        add("actual.latitude", "deg", "latitude, north positive", np.degrees(motion[:, 14]))
        horizontal = np.hypot(motion[:, 11], motion[:, 12])
        add("field.horizontal", "uT", "horizontal field", horizontal / UT_T)
        add("field.dip", "deg", "dip, north end down positive", np.degrees(np.arctan2(motion[:, 13], horizontal)))
        add("field.variation", "deg", "variation, east positive", np.degrees(variation))
        return np.asarray(magnetic)

    def position(self, longitude_rad: Floats, height_m: Floats) -> None:
        """Columns of longitude [rad] and height [m]."""
        wrapped = np.mod(np.degrees(longitude_rad) + 180.0, 360.0) - 180.0
        self.add("actual.longitude", "deg", "longitude, east positive", wrapped)
        self.add("actual.height", "ft", "height", height_m / FT_M)

    def card(self, read: Floats, magnetic: Floats) -> None:
        """Columns of the direct compass."""
        self.add("card.heading", "deg", "direct compass", heading_degrees(read[:, 0]), "compass")
        self.add("card.error", "deg", "error of the direct compass", error_degrees(read[:, 0], magnetic))
        self.add("card.tilt", "deg", "tilt of the card from the horizontal", np.degrees(read[:, 1]))
        self.add("card.fluid_rate", "deg/s", "spin of the compass fluid", np.degrees(read[:, 2]))
        self.add("card.tilt_bank", "deg", "tilt of the card seen from behind, right side down", np.degrees(read[:, 3]))
        self.add("card.tilt_pitch", "deg", "tilt of the card seen from the side, front up", np.degrees(read[:, 4]))

    def gyro(self, read: Floats, toppled: Floats, magnetic: Floats) -> None:
        """Columns of the unslaved gyro."""
        valid = toppled == 0.0 if np.any(toppled) else None
        self.add("gyro.heading", "deg", "unslaved gyro", heading_degrees(read[:, 0]), "gyro", valid)
        self.add("gyro.error", "deg", "error of the unslaved gyro", error_degrees(read[:, 0], magnetic), None, valid)
        self.add("gyro.tilt", "deg", "spin axis raised from its plane", np.degrees(read[:, 1]))

    def slaved(self, read: Floats, states: Floats, magnetic: Floats) -> None:
        """Columns of the detector and the slaved compass."""
        valid = states[:, 11] == 0.0 if np.any(states[:, 11]) else None
        sensed = read[:, 1] > 1e-12
        sound = None if bool(np.all(sensed)) else sensed
        add = self.add
        add("detector.heading", "deg", "detector", heading_degrees(read[:, 0]), "magnetic", sound)
        add("detector.error", "deg", "error of the detector", error_degrees(read[:, 0], magnetic), None, sound)
        add("detector.field", "uT", "field the detector's lines report", read[:, 1] / UT_T)
        add("detector.tilt", "deg", "tilt of the detector from the horizontal", np.degrees(read[:, 2]))
        add("detector.tilt_bank", "deg", "tilt of the detector seen from behind, right down", np.degrees(read[:, 8]))
        add("detector.tilt_pitch", "deg", "tilt of the detector seen from the side, front up", np.degrees(read[:, 9]))
        add("slaved.heading", "deg", "slaved compass", heading_degrees(read[:, 3]), "magnetic", valid)
        add("slaved.error", "deg", "error of the slaved compass", error_degrees(read[:, 3], magnetic), None, valid)
        add("slaved.difference", "deg", "detector minus indicated", np.degrees(read[:, 4]), None, sound)
        add("slaved.correction", "deg/min", "correction, reading increases", read[:, 5] / DEG_MIN_RAD_S)
        add("slaved.demanded", "deg/min", "correction the amplifier asks for", read[:, 10] / DEG_MIN_RAD_S)
        add("slaved.indicator", "1", "synchronisation indicator", read[:, 6])
        add("slaved.tilt", "deg", "slaved gyro's spin axis raised from its plane", np.degrees(read[:, 7]))
        add("slaved.mode", "1", "0 free, 1 slow, 2 fast, 3 held to align", states[:, 10])


def aligned_event(time_s: Floats, difference_deg: Floats, bound_deg: float = 1.0) -> list[Event]:
    """The first `time_s` at which `difference_deg` comes within `bound_deg`, if it began outside."""
    size = np.abs(difference_deg)
    if len(size) < 2 or size[0] <= bound_deg:
        return []
    inside = np.flatnonzero(size <= bound_deg)
    if len(inside) == 0:
        return []
    k = int(inside[0])
    part = (size[k - 1] - bound_deg) / (size[k - 1] - size[k])
    moment = float(time_s[k - 1] + part * (time_s[k] - time_s[k - 1]))
    return [Event(moment, "aligned", f"slaved compass within {bound_deg:g}° of the detector")]


def vertical_events(time_s: Floats, load_g: Floats, least_g: float = 0.3) -> list[Event]:
    """When apparent gravity is too weak for a pendulum to have a direction, and when it comes back [s, g]."""
    weak = load_g < least_g
    events = []
    for k in np.flatnonzero(np.diff(weak.astype(int)) != 0):
        part = (least_g - load_g[k]) / (load_g[k + 1] - load_g[k])
        moment = float(time_s[k] + part * (time_s[k + 1] - time_s[k]))
        if weak[k + 1]:
            text = f"apparent gravity under {least_g:g} g: pendulum and card have no direction"
            events.append(Event(moment, "no vertical", text))
        else:
            events.append(Event(moment, "vertical back", "apparent gravity is back"))
    if len(weak) and bool(weak[0]):
        events.insert(0, Event(0.0, "no vertical", f"apparent gravity under {least_g:g} g from the start"))
    return events
