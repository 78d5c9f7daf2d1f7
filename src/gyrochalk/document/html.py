"""A page as one self-contained HTML file: no network, no script, readable by eye, by ear and on paper."""

from __future__ import annotations

import base64
import hashlib
import re
import unicodedata
from html import escape

from gyrochalk import CAUTION
from gyrochalk.document.blocks import Heading, Origin, Page
from gyrochalk.document.html_blocks import BlockWriter
from gyrochalk.document.html_inline import Numbers
from gyrochalk.document.inline import plain_text
from gyrochalk.document.page_style import page_stylesheet
from gyrochalk.document.walking import has_code, has_slider
from gyrochalk.figures.theme import THEMES
from gyrochalk.units.words import Speech, language_of

LEAST_CONTENTS = 3
_LANGUAGE = re.compile(r"[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*")


def render_html(page: Page, *, theme: str | None = None, print_theme: str = "grey", script: str = "") -> str:
    """The page as HTML.

    `theme` fixes light, dark, grey or projector (None: the reader's own preference); `print_theme` is the theme of a
    print; `script` is code the server adds to reload a page being written (a build has none).
    """
    anchors = Anchors()
    speech = Speech(language_of(page.language))
    numbers = Numbers(speech=speech)
    body = BlockWriter(numbers, anchors.give).write(page.blocks)
    line_scale = THEMES[theme].line_scale if theme else 1.0
    style = page_stylesheet(
        code=has_code(page.blocks), slider=has_slider(page.blocks), print_theme=print_theme, line_scale=line_scale
    )
    language = page.language if _LANGUAGE.fullmatch(page.language) else "en"
    fixed = f' data-theme="{escape(theme)}"' if theme else ""
    added = f"<script>{script}</script>" if script else ""
    return f"""<!doctype html>
<html lang="{language}"{fixed}>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy(style, script)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="gyrochalk {escape(page.origin.version)}">
<title>{escape(page.title, quote=False)}</title>
<style>{style}</style>
</head>
<body>
<a class="skip" href="#text">{speech.say("page.skip")}</a>
<div class="sheet">
{_header(page, numbers, anchors)}
<main id="text" tabindex="-1">
{body}
</main>
{_footer(page.origin, speech)}
</div>{added}
</body>
</html>
"""


def policy(style: str, script: str = "") -> str:
    """The content security policy: exactly this style sheet, exactly this script or none, data only from the page."""
    scripts = f"script-src {_hash(script)}; connect-src 'self'; " if script else ""
    rest = "img-src data:; font-src data:; base-uri 'none'; form-action 'none'"
    return f"default-src 'none'; {scripts}style-src {_hash(style)}; {rest}"


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode('ascii')}'"


class Anchors:
    """Gives each heading an anchor made of its words, none twice."""

    def __init__(self) -> None:
        self.given: list[tuple[Heading, str]] = []
        self._used: set[str] = {"text", "contents"}

    def give(self, heading: Heading) -> str:
        """The anchor of the next heading."""
        plain = unicodedata.normalize("NFKD", plain_text(heading.runs)).encode("ascii", "ignore").decode()
        base = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60] or "section"
        if re.match(r"(note|number|figure|ask)-\d", base):
            base = f"section-{base}"
        anchor, n = base, 2
        while anchor in self._used:
            anchor, n = f"{base}-{n}", n + 1
        self._used.add(anchor)
        self.given.append((heading, anchor))
        return anchor


def _header(page: Page, numbers: Numbers, anchors: Anchors) -> str:
    over = f'<p class="over">{escape(page.over_title, quote=False)}</p>' if page.over_title else ""
    under = f'<p class="under">{escape(page.under_title, quote=False)}</p>' if page.under_title else ""
    caution = f'<p class="caution-line" role="note">{escape(CAUTION, quote=False)}</p>'
    title = f"<h1>{escape(page.title, quote=False)}</h1>"
    return f"<header>{over}{title}{under}{_tally(numbers)}{caution}</header>{_contents(anchors, numbers.speech)}"


def _tally(numbers: Numbers) -> str:
    """How many stated numbers there are, and which do not hold."""
    bad = [i for i, mark in enumerate(numbers.marks, start=1) if not mark.good]
    count = len(numbers.marks)
    if not count:
        return ""
    if not bad:
        said = numbers.speech.say("page.agrees" if count == 1 else "page.agree", count=count)
        return f'<p class="tally">{said}</p>'
    links = ", ".join(f'<a href="#number-{i}">{escape(numbers.marks[i - 1].stated, quote=False)}</a>' for i in bad)
    key = "page.disagrees" if len(bad) == 1 else "page.disagree"
    said = numbers.speech.say(key, count=len(bad), total=count, links=links)
    return f'<p class="tally bad" role="note">{said}</p>'


def _contents(anchors: Anchors, speech: Speech) -> str:
    sections = [(heading, anchor) for heading, anchor in anchors.given if heading.level == 2]
    if len(sections) < LEAST_CONTENTS:
        return ""
    items = "".join(
        f'<li><a href="#{anchor}">{escape(plain_text(heading.runs), quote=False)}</a></li>'
        for heading, anchor in sections
    )
    name = speech.say("page.contents")
    return f'\n<nav aria-label="{name}"><p>{name}</p><ol>{items}</ol></nav>'


def _footer(origin: Origin, speech: Speech) -> str:
    parts = []
    say = speech.say
    if origin.demonstrations:
        parts.append(say("page.flights", names=escape(", ".join(origin.demonstrations), quote=False)))
    if origin.field_models:
        parts.append(say("page.field", models=escape("; ".join(origin.field_models), quote=False)))
    if origin.version:
        parts.append(say("page.made", version=escape(origin.version, quote=False)))
    warnings = "".join(f"<p>{escape(warning, quote=False)}</p>" for warning in origin.warnings)
    return f"<footer><p>{' '.join(parts)}</p>{warnings}</footer>" if parts or warnings else ""
