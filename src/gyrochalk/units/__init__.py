"""What people write and read: 100 kt, 52.5 N, 045M, and how a number is shown to them."""

from gyrochalk.units.formatting import as_decimal, format_number, format_quantity, round_half_away
from gyrochalk.units.heading import NORTH_MARKS, Heading, North, format_heading, parse_heading
from gyrochalk.units.place import Axis, parse_angle_place
from gyrochalk.units.quantity import Quantity, parse, parse_quantity, read_quantity
from gyrochalk.units.spelling import nearest
from gyrochalk.units.table import UNITS, Unit, convert, find_unit, ratio
from gyrochalk.units.wrapping import wrap_180, wrap_360

__all__ = [
    "NORTH_MARKS",
    "UNITS",
    "Axis",
    "Heading",
    "North",
    "Quantity",
    "Unit",
    "as_decimal",
    "convert",
    "find_unit",
    "format_heading",
    "format_number",
    "format_quantity",
    "nearest",
    "parse",
    "parse_angle_place",
    "parse_heading",
    "parse_quantity",
    "ratio",
    "read_quantity",
    "round_half_away",
    "wrap_180",
    "wrap_360",
]
