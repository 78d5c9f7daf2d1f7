"""The channels, events and spans a run may hold, so that a measure can be judged before anything is flown."""

from __future__ import annotations

import dataclasses

from gyrochalk.units import North


@dataclasses.dataclass(frozen=True, slots=True)
class Channel:
    """One channel: `unit`, the `north` a heading is from (None: no heading), its `meaning` in words.

    `two_sided` channels go either way about zero (errors, differences, tilts), so that their size counts where a
    bound is named.
    """

    unit: str
    meaning: str
    north: North | None = None
    two_sided: bool = False


TIME = "time"
"""The channel every run has: seconds from the beginning of the measure's window."""

CHANNELS: dict[str, Channel] = {
    TIME: Channel("s", "time from the beginning of the window"),
    "actual.heading": Channel("deg", "the heading flown", "magnetic"),
    "actual.heading_true": Channel("deg", "the heading flown", "true"),
    "actual.bank": Channel("deg", "bank, right wing down positive", two_sided=True),
    "actual.pitch": Channel("deg", "pitch, nose up positive", two_sided=True),
    "actual.turn_rate": Channel("deg/s", "rate of turn, right positive", two_sided=True),
    "actual.tas": Channel("kt", "true airspeed"),
    "actual.ground_speed": Channel("kt", "ground speed"),
    "actual.track": Channel("deg", "track over the ground", "true"),
    "actual.latitude": Channel("deg", "latitude, north positive", two_sided=True),
    "actual.longitude": Channel("deg", "longitude, east positive", two_sided=True),
    "actual.height": Channel("ft", "height"),
    "actual.load": Channel("g", "apparent gravity"),
    "actual.load_bank": Channel("deg", "bank of a plane square to apparent gravity, right down", two_sided=True),
    "actual.load_pitch": Channel("deg", "pitch of a plane square to apparent gravity, front up", two_sided=True),
    "field.horizontal": Channel("uT", "the Earth's horizontal field"),
    "field.dip": Channel("deg", "dip, north end down positive", two_sided=True),
    "field.variation": Channel("deg", "variation, east positive", two_sided=True),
    "card.heading": Channel("deg", "the direct compass's reading", "compass"),
    "card.error": Channel("deg", "the direct compass's reading minus the actual heading", two_sided=True),
    "card.tilt": Channel("deg", "tilt of the direct compass's card", two_sided=True),
    "card.fluid_rate": Channel("deg/s", "spin of the compass fluid, clockwise positive", two_sided=True),
    "card.tilt_bank": Channel("deg", "tilt of the card seen from behind, right side down", two_sided=True),
    "card.tilt_pitch": Channel("deg", "tilt of the card seen from the side, front up", two_sided=True),
    "gyro.heading": Channel("deg", "the unslaved gyro's reading", "gyro"),
    "gyro.error": Channel("deg", "the unslaved gyro's reading minus the actual heading", two_sided=True),
    "gyro.tilt": Channel("deg", "tilt of the unslaved gyro's spin axis", two_sided=True),
    "detector.heading": Channel("deg", "the detector's heading", "magnetic"),
    "detector.error": Channel("deg", "the detector's heading minus the actual heading", two_sided=True),
    "detector.field": Channel("uT", "the field in the detector's plane"),
    "detector.tilt": Channel("deg", "tilt of the detector from the true vertical", two_sided=True),
    "detector.tilt_bank": Channel("deg", "tilt of the detector seen from behind, right down", two_sided=True),
    "detector.tilt_pitch": Channel("deg", "tilt of the detector seen from the side, front up", two_sided=True),
    "slaved.heading": Channel("deg", "the slaved card's reading", "magnetic"),
    "slaved.error": Channel("deg", "the slaved card's reading minus the actual heading", two_sided=True),
    "slaved.difference": Channel("deg", "the detector's heading minus the slaved card's reading", two_sided=True),
    "slaved.correction": Channel("deg/min", "correction rate, positive when the reading increases", two_sided=True),
    "slaved.demanded": Channel("deg/min", "correction rate the amplifier asks for", two_sided=True),
    "slaved.indicator": Channel("1", "the synchronisation indicator, from -1 to 1", two_sided=True),
    "slaved.tilt": Channel("deg", "tilt of the slaved gyro's spin axis", two_sided=True),
    "slaved.mode": Channel("1", "0 free, 1 slow, 2 fast, 3 hold"),
}
"""Every channel of a run by name."""

EVENTS: tuple[str, ...] = (
    "leg",
    "turn starts",
    "turn ends",
    "aligned",
    "fast starts",
    "fast ends",
    "hold pressed",
    "hold released",
    "clutch",
    "toppled",
    "no vertical",
    "vertical back",
    "fault starts",
    "fault ends",
    "slaved",
    "free",
    "cut-off starts",
    "cut-off ends",
    "gyro set",
    "nut set",
    "rotor on",
    "rotor off",
    "load on",
    "load off",
)
"""The kinds of event a run may hold."""

SPANS: tuple[str, ...] = (
    "turn",
    "climb",
    "acceleration",
    "fast alignment",
    "hold",
    "fault",
    "free",
    "cut-off",
)
"""The kinds of span a run may hold."""
