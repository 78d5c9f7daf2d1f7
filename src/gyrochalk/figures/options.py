"""What a picture may be asked for: which kind, of what, when, how large. Sensible without any."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Mapping
from typing import Literal, get_args

from gyrochalk.errors import MaterialError, Problem, ProblemList
from gyrochalk.figures.theme import THEMES, Theme
from gyrochalk.figures.words import INSTRUMENTS
from gyrochalk.quantities.moments import parse_moment
from gyrochalk.units import nearest, parse

Kind = Literal["traces", "faces", "ribbon", "path", "earth", "against-heading", "polar", "compare", "strip"]
StillKind = Literal["faces", "ribbon", "path", "earth"]
Form = Literal["errors", "headings"]
Size = Literal["small", "medium", "large"]
Scale = Literal["auto", "5", "45"]
NAMED_INSTANTS = ("start", "worst", "end")
MOST_INSTANTS = 12
WIDTHS_PX: Mapping[Size, float] = {"small": 480.0, "medium": 720.0, "large": 960.0}
LEAST_WIDTH_PX = 480.0
WIDE_PX: Mapping[str, float] = {"path": 720.0, "earth": 720.0, "polar": 720.0, "strip of faces": 760.0}
"""Kinds with several views side by side keep this width when the letters grow, so that they stay wide, not tall."""

OPTIONS: dict[str, str] = {
    "show": "instruments, parted by commas (actual, card, gyro, slaved, detector), or a kind of picture",
    "kind": "the kind of picture: traces, faces, ribbon, path, earth, against-heading, polar, compare or strip",
    "as": "errors or headings, or a kind of picture",
    "channels": "channels of the run, parted by commas, for example slaved.correction",
    "from": "where the picture begins, for example 30 s",
    "to": "where the picture ends, for example 2 min",
    "at": "instants, parted by commas: times, start, worst, end, or an event such as turn ends + 10 s",
    "instants": f"how many instants of a strip, 2 to {MOST_INSTANTS}",
    "of": "what a strip is made of: faces, ribbon, path or earth",
    "stills": f"how many stills a strip has, 2 to {MOST_INSTANTS}",
    "against": "the run to compare with, for example orbit.textbook",
    "slider": "a swept value of the demonstration that the reader moves, for example loop.slow_rate",
    "size": "small, medium or large",
    "scale": "of the ribbon: auto, 5 or 45 degrees each way",
    "labels": "on or off: the words for events",
    "title": "a title of your own instead of the finding",
    "theme": "page, light, dark, grey or projector",
}
"""Every option of a picture and what it means."""


@dataclasses.dataclass(frozen=True, slots=True)
class FigureOptions:
    """What a picture shows.

    `kind` which picture; `form` errors or headings; `show` instruments by name (empty: those the run
    has); `channels` further channels of the run; `from_s`, `to_s` the stretch of the flight [s] (None: all of it);
    `at` instants as [s] or as words ("start", "worst", "end", an event); `instants` how many a strip has; `of`
    what a strip is made of; `against` the address of the run to compare with, which the caller flies (see `compare`);
    `slider` the swept value a reader may move, whose runs the caller flies.
    """

    kind: Kind = "traces"
    form: Form = "errors"
    show: tuple[str, ...] = ()
    channels: tuple[str, ...] = ()
    from_s: float | None = None
    to_s: float | None = None
    at: tuple[float | str, ...] = ()
    instants: int | None = None
    of: StillKind = "faces"
    against: str | None = None
    slider: str | None = None
    size: Size = "medium"
    scale: Scale = "auto"
    labels: bool = True
    title: str | None = None
    theme: str = "page"

    @classmethod
    def parse(cls, query: Mapping[str, str]) -> FigureOptions:
        """Read the options of a `figure:` link or of a file, `query` by option name.

        Raises MaterialError with every problem (figure-option, figure-value); the problems carry no place.
        """
        problems = ProblemList()
        fields: dict[str, object] = {}
        for name, text in query.items():
            try:
                fields |= _read(name, text.strip())
            except MaterialError as error:
                problems.extend(error)
        problems.refuse_if_any()
        if "against" in fields:
            fields.setdefault("kind", "compare")
        options = cls(**fields)  # type: ignore[arg-type]
        if options.from_s is not None and options.to_s is not None and options.from_s >= options.to_s:
            what = f"from={query['from']} is not before to={query['to']}"
            raise MaterialError(Problem("figure-value", what, "a picture begins before it ends", "exchange the two"))
        return options

    def width_px(self, theme: Theme) -> float:
        """How wide the picture is [px]; large letters need a picture of some width."""
        kind: str = self.kind
        if kind == "strip":
            kind = "strip of faces" if self.of == "faces" else self.of
        least = WIDE_PX.get(kind, LEAST_WIDTH_PX) if theme.text_scale > 1.0 else LEAST_WIDTH_PX
        return max(WIDTHS_PX[self.size], least * theme.text_scale)


def _read(name: str, text: str) -> dict[str, object]:
    reader = _READERS.get(name)
    if reader is None:
        raise _refusal("figure-option", f"{name} is not an option of a picture", OPTIONS, name)
    return reader(name, text)


def _refusal(code: str, what: str, allowed: Iterable[str], written: str) -> MaterialError:
    known = list(allowed)
    close = nearest(written, known)
    cure = f"did you mean {close}?" if close else f"write for example {known[0]}"
    return MaterialError(Problem(code, what, f"allowed are {', '.join(known)}", cure))


def _choice(field: str, *allowed: str) -> Callable[[str, str], dict[str, object]]:
    def read(name: str, text: str) -> dict[str, object]:
        if text not in allowed:
            raise _refusal("figure-value", f"{name}={text} is unknown", allowed, text)
        return {field: text}

    return read


def _listed(name: str, text: str) -> list[str]:
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if not parts:
        what = f"{name} is empty"
        raise MaterialError(Problem("figure-value", what, f"{name} is {OPTIONS[name]}", f"leave {name} out or fill it"))
    return parts


_KINDS: tuple[Kind, ...] = get_args(Kind)
_FORMS: tuple[Form, ...] = get_args(Form)


def _show(name: str, text: str) -> dict[str, object]:
    found: dict[str, object] = {}
    shown: list[str] = []
    for part in _listed(name, text):
        if part in _KINDS:
            found["kind"] = part
        elif part in INSTRUMENTS:
            shown.append(part)
        else:
            raise _refusal("figure-value", f"{name}={part} is unknown", (*INSTRUMENTS, *_KINDS), part)
    return found | ({"show": tuple(dict.fromkeys(shown))} if shown else {})


def _as(name: str, text: str) -> dict[str, object]:
    """`as` names a form or a kind, whichever it is."""
    if text not in (*_FORMS, *_KINDS):
        raise _refusal("figure-value", f"{name}={text} is unknown", (*_FORMS, *_KINDS), text)
    return {"form" if text in _FORMS else "kind": text}


def _against(name: str, text: str) -> dict[str, object]:
    runs = _listed(name, text)
    if len(runs) > 1:
        what = f"{name} names {len(runs)} runs"
        raise MaterialError(Problem("figure-value", what, "a picture compares two runs", f"write {name}={runs[0]}"))
    return {"against": runs[0]}


def _channels(name: str, text: str) -> dict[str, object]:
    return {"channels": tuple(dict.fromkeys(_listed(name, text)))}


def _time(field: str) -> Callable[[str, str], dict[str, object]]:
    def read(name: str, text: str) -> dict[str, object]:
        return {field: _seconds(name, text)}

    return read


def _seconds(name: str, text: str) -> float:
    time_s = parse(text, to="s")
    if time_s < 0.0:
        what = f"{name}={text} lies before the run begins"
        raise MaterialError(Problem("figure-value", what, "times count from the start of the run, 0 s", "write 0 s"))
    return time_s


def _at(name: str, text: str) -> dict[str, object]:
    instants = tuple(_one_instant(name, part) for part in _listed(name, text))
    if len(instants) > MOST_INSTANTS:
        what = f"{name} names {len(instants)} instants"
        allowed = f"a strip has at most {MOST_INSTANTS}"
        raise MaterialError(Problem("figure-value", what, allowed, "leave some out"))
    return {"at": instants}


def _one_instant(name: str, text: str) -> float | str:
    """A time [s], or the words for a moment once they are known to name one."""
    if text[:1].isdigit() or text[:1] in "+-−.":
        return _seconds(name, text)
    if text not in NAMED_INSTANTS:
        parse_moment(text)
    return text


def _instants(name: str, text: str) -> dict[str, object]:
    if not text.isascii() or not text.isdigit() or not 2 <= int(text[:6]) <= MOST_INSTANTS:
        what, allowed = f"{name}={text} is not possible", f"a strip has 2 to {MOST_INSTANTS} instants"
        raise MaterialError(Problem("figure-value", what, allowed, f"write {name}=6"))
    return {"instants": int(text)}


def _labels(name: str, text: str) -> dict[str, object]:
    if text not in ("on", "off"):
        raise _refusal("figure-value", f"{name}={text} is unknown", ("on", "off"), text)
    return {"labels": text == "on"}


def _title(name: str, text: str) -> dict[str, object]:
    return {"title": text or None}


_READERS: dict[str, Callable[[str, str], dict[str, object]]] = {
    "show": _show,
    "kind": _choice("kind", *_KINDS),
    "as": _as,
    "channels": _channels,
    "from": _time("from_s"),
    "to": _time("to_s"),
    "at": _at,
    "instants": _instants,
    "stills": _instants,
    "of": _choice("of", *get_args(StillKind)),
    "against": _against,
    "slider": lambda name, text: {"slider": _listed(name, text)[0]},
    "size": _choice("size", "small", "medium", "large"),
    "scale": _choice("scale", "auto", "5", "45"),
    "labels": _labels,
    "title": _title,
    "theme": _choice("theme", *THEMES),
}


def kinds() -> tuple[Kind, ...]:
    """Every kind of picture there is."""
    return _KINDS
