"""What went wrong in somebody's material: where, what, what is allowed, what to try.

Every refusal in gyrochalk is a `Problem` with a code that has a section in `docs/errors.md`. Problems are gathered,
not thrown one by one: a reader of a file reports all of them in one `MaterialError`.
"""

from gyrochalk.errors.codes import CODES
from gyrochalk.errors.problem import MaterialError, Problem, ProblemList

__all__ = ["CODES", "MaterialError", "Problem", "ProblemList"]
