"""Tests of `gyrochalk.units`."""
