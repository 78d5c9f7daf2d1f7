"""Tests of `gyrochalk.errors`."""
