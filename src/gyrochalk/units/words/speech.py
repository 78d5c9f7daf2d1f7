"""One way of speaking: a language, and within it the course's own words."""

from __future__ import annotations

import contextlib
import dataclasses
import functools
from collections.abc import Mapping

from gyrochalk.units.formatting import written_with
from gyrochalk.units.words import catalogue
from gyrochalk.units.words.term import Term
from gyrochalk.units.words.vocabulary import VOCABULARY, reword


@dataclasses.dataclass(frozen=True, slots=True)
class Speech:
    """A `language` (a key of `LANGUAGES`) and the synonyms `chosen`, as pairs of a key of `VOCABULARY` and a choice.

    Without choices the usual words are used.
    """

    language: str = "en"
    chosen: tuple[tuple[str, str], ...] = ()

    def say(self, key: str, names: Mapping[str, str] | None = None, /, **values: object) -> str:
        """The sentence or label `key` in this language, in the course's words.

        `names` replace terms, `values` fill the rest. Where the language lacks the sentence it is said in English,
        with English terms.
        """
        said = catalogue.entries(self.language).get(key)
        if said is None and self.language != "en":
            return Speech("en", self.chosen).say(key, **values)
        template = catalogue.entries("en")[key] if said is None else said
        return template.format_map({**_terms(self), **(names or {}), **values})

    def has(self, key: str) -> bool:
        """Whether this language has a sentence of its own for `key`."""
        return key in catalogue.entries(self.language)

    def term(self, key: str) -> Term:
        """The name of an instrument, for example "detector"."""
        return _terms(self)[key]

    def reword(self, text: str) -> str:
        """A sentence written in the usual English words, for example of a run, in the course's words."""
        return reword(text, dict(self.chosen)) if self.chosen else text

    def happening(self, kind: str, text: str) -> str:
        """What a run says of an event or span: `text` in the course's words, its `kind` in another language."""
        key = f"event.{kind.replace(' ', '_').replace('-', '_')}"
        return self.say(key) if self.language != "en" and self.has(key) else self.reword(text)

    def quantity(self, channel: str, text: str) -> str:
        """What a run says of a channel: `text` in the course's words, or the language's own name of the channel."""
        key = f"channel.{channel.replace('.', '_')}"
        return self.say(key) if self.language != "en" and self.has(key) else self.reword(text)

    def numbers(self) -> contextlib.AbstractContextManager[None]:
        """While this is open, numbers are written as the language writes them."""
        return written_with(catalogue.decimal_mark(self.language))


@functools.lru_cache(maxsize=256)
def _terms(speech: Speech) -> Mapping[str, Term]:
    found = dict(catalogue.terms(speech.language))
    for _, word in speech.chosen:
        found.update(catalogue.chosen_terms(speech.language).get(word, {}))
    return {key: Term(forms["name"], forms.get("the", ""), forms.get("of", "")) for key, forms in found.items()}


ENGLISH = Speech()
"""English in the usual words."""


def speech_of(language: str, vocabulary: Mapping[str, str]) -> Speech:
    """The way a course speaks: `language` is its tag ("en-GB"), `vocabulary` its choice for keys of `VOCABULARY`.

    Raises KeyError for a word that is no choice: a course file is checked before.
    """
    for key, word in vocabulary.items():
        if word not in VOCABULARY[key]:
            raise KeyError(word)
    chosen = tuple((key, vocabulary[key]) for key in VOCABULARY if key in vocabulary)
    return Speech(catalogue.language_of(language), chosen)
