"""Measures an instructor declares in a demonstration file."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, get_args

from gyrochalk.errors import MaterialError, Problem
from gyrochalk.quantities.channels import CHANNELS, EVENTS
from gyrochalk.quantities.measure import REDUCERS, Direction, Measure, Passing, Reducer
from gyrochalk.quantities.moments import END, START, WHOLE, Moment, Window, parse_moment, parse_span
from gyrochalk.quantities.results import result_unit, same_dimension
from gyrochalk.units import UNITS, find_unit, nearest, parse, parse_angle_place, parse_heading

KeyPath = tuple[str, ...]
Located = tuple[KeyPath, Problem]

ALWAYS = ("channel", "reducer", "window", "unit", "description")
WINDOW_KEYS = ("from", "to", "span", "last")
_COUNT = re.compile(r"[1-9][0-9]{0,3}")
_PLACES = {"N": "latitude", "S": "latitude", "E": "variation", "W": "variation"}


def declare(name: str, mapping: Mapping[str, Any]) -> Measure:
    """The measure an instructor declared.

    `name` of the measure; `mapping` its keys as written, all values texts: channel, reducer, window (a mapping of
    from, to, span, last), unit, description, and what the reducer needs (time, event, bound, signed, other, passes,
    direction, number). Raises MaterialError with every problem.
    """
    measure, located = examine(name, mapping)
    if measure is None:
        raise MaterialError([problem for _, problem in located])
    return measure


def examine(name: str, mapping: Mapping[str, Any]) -> tuple[Measure | None, list[Located]]:
    """The measure declared (None if there is any problem), and every problem with the keys that lead to it."""
    reader = _Reader(mapping)
    measure = reader.measure(name)
    return (None if reader.located else measure), reader.located


class _Reader:
    """Reads one declaration key by key and gathers what is wrong."""

    def __init__(self, mapping: Mapping[str, Any]) -> None:
        self.mapping = mapping
        self.located: list[Located] = []

    def measure(self, name: str) -> Measure | None:
        reducer = self._reducer()
        if reducer is None:
            return None
        kind = REDUCERS[reducer]
        self._only((*ALWAYS, *kind.needs, *kind.takes), self.mapping, ())
        channel = "time" if reducer == "count" else self._choice("channel", tuple(CHANNELS))
        for key in kind.needs:
            self._text(key)
        window = self._window()
        if channel is None:
            return None
        self._require_sense(channel, reducer)
        return Measure(
            name=name,
            channel=channel,
            reducer=reducer,
            unit=self._unit(channel, reducer),
            description=str(self.mapping.get("description", "")) or describe(channel, reducer),
            moment=self._moment(reducer),
            bound=self._bound(channel) if "bound" in kind.needs else None,
            signed=self._signed(channel),
            passing=self._passing() if reducer == "when" else None,
            window=window,
        )

    def _problem(self, path: KeyPath, code: str, what: str, allowed: str, cure: str) -> None:
        self.located.append((path, Problem(code, what, allowed, cure)))

    def _only(self, known: tuple[str, ...], mapping: Mapping[str, Any], path: KeyPath) -> None:
        for key in mapping:
            if key not in known:
                guess = nearest(str(key), known)
                cure = f'did you mean "{guess}"?' if guess else "remove it"
                what = f'the key "{key!s}" means nothing here'
                self._problem((*path, str(key)), "key-unknown", what, f"allowed are {', '.join(known)}", cure)

    def _text(self, key: str) -> str | None:
        written = self.mapping.get(key)
        if written is None:
            self._problem((), "key-missing", f'the key "{key}" is missing', "a value for it", f"add {key}")
        elif isinstance(written, (Mapping, list)):
            self._problem((key,), "value-kind", f"a group stands at {key}", "a single value", "write one value")
        else:
            return " ".join(str(written).split())
        return None

    def _choice(self, key: str, known: tuple[str, ...]) -> str | None:
        written = self._text(key)
        if written is None or written in known:
            return written
        guess = nearest(written, known)
        cure = f'did you mean "{guess}"?' if guess else f"write for example {known[1]}"
        self._problem((key,), "choice-unknown", f'"{written}" is no {key}', f"allowed are {', '.join(known)}", cure)
        return None

    def _reducer(self) -> Reducer | None:
        written = self._choice("reducer", tuple(REDUCERS))
        return next((reducer for reducer in REDUCERS if reducer == written), None)

    def _read(self, path: KeyPath, read: Any, *arguments: Any) -> Any:
        try:
            return read(*arguments)
        except MaterialError as error:
            self.located.extend((path, problem) for problem in error.problems)
            return None

    def _require_sense(self, channel: str, reducer: Reducer) -> None:
        what = f"{reducer} of {channel} has no meaning"
        if CHANNELS[channel].north is not None and not REDUCERS[reducer].headings:
            cure = "choose another reducer, or the error of the same instrument"
            self._problem(("reducer",), "measure-senseless", what, "a heading has no size", cure)
        elif result_unit(reducer, CHANNELS[channel].unit) is None:
            allowed = f"a {reducer} is not stated for {UNITS[CHANNELS[channel].unit].dimension}"
            self._problem(("reducer",), "measure-senseless", what, allowed, "choose another reducer or channel")

    def _unit(self, channel: str, reducer: Reducer) -> str:
        usual = result_unit(reducer, CHANNELS[channel].unit) or "1"
        if "unit" not in self.mapping or (written := self._text("unit")) is None:
            return usual
        unit = find_unit(written)
        if unit is None or not same_dimension(unit.name, usual):
            allowed = f"allowed are {', '.join(UNITS[usual].siblings)}"
            what = f"{reducer} of {channel} cannot be stated in {written}"
            self._problem(("unit",), "unit-wrong", what, allowed, f"write for example {usual}")
            return usual
        return unit.name

    def _moment(self, reducer: Reducer) -> Moment | None:
        key = "time" if reducer == "at" else "event"
        if reducer not in {"at", "at event", "count"} or not isinstance(self.mapping.get(key), (str, int, float)):
            return None
        text = str(self.mapping[key])
        if reducer == "at":
            time_s = self._read(("time",), parse, text, "s")
            return None if time_s is None else Moment(later_s=time_s)
        moment: Moment | None = self._read(("event",), parse_moment, text)
        if moment is not None and reducer == "count" and moment.event in {START, END}:
            allowed = f"allowed are {', '.join(EVENTS)}"
            self._problem(("event",), "choice-unknown", f"{text} cannot be counted", allowed, "name an event")
        return moment

    def _bound(self, channel: str) -> float | None:
        written = self.mapping.get("bound")
        if written is None:
            return None
        bound: float | None = self._read(("bound",), parse, str(written), CHANNELS[channel].unit)
        if bound is not None and bound < 0.0 and not self._signed(channel):
            allowed = "the bound of a size is 0 or more"
            cure = "leave the minus sign out, or add signed: yes"
            self._problem(("bound",), "out-of-range", f"{written} is less than nothing", allowed, cure)
        return bound

    def _signed(self, channel: str) -> bool:
        written = str(self.mapping.get("signed", "")).lower()
        if written in {"yes", "true"}:
            return True
        if written not in {"", "no", "false"}:
            self._problem(("signed",), "choice-unknown", f"{written} is no answer", "yes or no", "write yes or no")
        return not CHANNELS[channel].two_sided

    def _passing(self) -> Passing | None:
        other = self._choice("other", tuple(CHANNELS)) if "other" in self.mapping else None
        passes = self.mapping.get("passes")
        direction: Direction = "either"
        if "direction" in self.mapping:
            chosen = self._choice("direction", get_args(Direction))
            direction = next((known for known in get_args(Direction) if known == chosen), "either")
        number = str(self.mapping.get("number", "1")).strip()
        if not _COUNT.fullmatch(number):
            self._problem(("number",), "number-unreadable", f"{number} is no count", "1, 2, 3 …", "write 1 or more")
            return None
        if other is None or passes is None:
            return None
        value = self._read(("passes",), _passed, str(passes), other)
        return None if value is None else Passing(other, value, direction, int(number))

    def _window(self) -> Window:
        written = self.mapping.get("window")
        if written is None:
            return WHOLE
        if not isinstance(written, Mapping):
            allowed = f"allowed are the keys {', '.join(WINDOW_KEYS)}"
            self._problem(
                ("window",), "value-kind", "a single value stands at window", allowed, "write the keys below it"
            )
            return WHOLE
        self._only(WINDOW_KEYS, written, ("window",))
        texts = {key: str(written[key]) for key in WINDOW_KEYS if key in written}
        for one, other in (("span", "from"), ("span", "to"), ("span", "last"), ("last", "from")):
            if one in texts and other in texts:
                what = f"{one} and {other} exclude each other"
                self._problem(("window", other), "key-conflict", what, f"one of {one}, {other}", f"remove {other}")
        begin, end = (
            self._read(("window", key), parse_moment, texts[key]) if key in texts else usual
            for key, usual in (("from", WHOLE.begin), ("to", WHOLE.end))
        )
        span, number = (
            (self._read(("window", "span"), parse_span, texts["span"]) or (None, 1)) if "span" in texts else (None, 1)
        )
        last_s = self._read(("window", "last"), parse, texts["last"], "s") if "last" in texts else None
        return Window(begin or WHOLE.begin, end or WHOLE.end, span, number, last_s)


def _passed(text: str, channel: str) -> float:
    """A value a channel may pass: a heading, an angle with its letter, or a quantity."""
    known = CHANNELS[channel]
    if known.north is not None:
        return parse_heading(text).degrees
    letter = text.strip()[-1:].upper()
    if known.unit == "deg" and letter in _PLACES:
        return parse_angle_place(text, "latitude" if _PLACES[letter] == "latitude" else "variation")
    return parse(text, known.unit)


def describe(channel: str, reducer: Reducer) -> str:
    """What a measure is, in words made from its parts."""
    return f"{CHANNELS[channel].meaning}: {REDUCERS[reducer].means}"
