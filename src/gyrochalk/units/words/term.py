"""A term with the forms a sentence needs of it."""

from __future__ import annotations


class Term(str):
    """A term as it stands alone; `the` is it with its article, `of` with its article after "of".

    English needs neither form, since its sentences carry the article themselves.
    """

    __slots__ = ("of", "the")
    the: str
    of: str

    def __new__(cls, name: str, the: str = "", of: str = "") -> Term:
        """A term; forms that are not given are the name itself."""
        term = super().__new__(cls, name)
        term.the, term.of = the or name, of or name
        return term
