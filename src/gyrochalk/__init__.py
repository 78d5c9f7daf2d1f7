"""gyrochalk: lessons on aircraft heading instruments whose every number is computed or checked."""

__version__ = "0.1.0"
