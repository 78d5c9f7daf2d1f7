"""The language files: every sentence and label by its key, English complete, others as far as they have come."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from types import MappingProxyType
from typing import Any

LANGUAGES: Mapping[str, str] = MappingProxyType({"en": "English", "fr": "français"})
"""The languages there is a file for, by tag, each by its own name. What one lacks is said in English."""


def language_of(tag: str) -> str:
    """The language a tag such as "fr-CA" is served by: its own if there is a file, else English."""
    base = tag.split("-", maxsplit=1)[0].casefold()
    return base if base in LANGUAGES else "en"


@functools.cache
def entries(language: str) -> Mapping[str, str]:
    """Every sentence of a language by its dotted key, for example "faces.caption"."""
    found: dict[str, str] = {}
    for section, content in _file(language).items():
        if section not in ("terms", "chosen", "numbers"):
            found.update({f"{section}.{key}": text for key, text in content.items()})
    return MappingProxyType(found)


@functools.cache
def terms(language: str) -> Mapping[str, Mapping[str, str]]:
    """The instruments' names by key, with `name`, and `the` and `of` where the language has such forms."""
    return MappingProxyType(dict(_file(language)["terms"]))


@functools.cache
def chosen_terms(language: str) -> Mapping[str, Mapping[str, Mapping[str, str]]]:
    """For a synonym a course may choose (English words), the names that follow from it."""
    return MappingProxyType(dict(_file(language).get("chosen", {})))


@functools.cache
def decimal_mark(language: str) -> str:
    """What stands between whole and decimals."""
    return str(_file(language)["numbers"]["decimal"])


def untranslated(language: str) -> tuple[str, ...]:
    """Keys a language has no sentence for, so that English is shown."""
    return tuple(key for key in entries("en") if key not in entries(language))


@functools.cache
def _file(language: str) -> dict[str, Any]:
    text = files("gyrochalk.units.words").joinpath(f"{language}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
