"""The words of screens and pages: one catalogue a language, and the course's choice among the trade's synonyms."""

from gyrochalk.units.words.catalogue import LANGUAGES, entries, language_of, untranslated
from gyrochalk.units.words.speech import ENGLISH, Speech, speech_of
from gyrochalk.units.words.term import Term
from gyrochalk.units.words.vocabulary import VOCABULARY, reword

__all__ = [
    "ENGLISH",
    "LANGUAGES",
    "VOCABULARY",
    "Speech",
    "Term",
    "entries",
    "language_of",
    "reword",
    "speech_of",
    "untranslated",
]
