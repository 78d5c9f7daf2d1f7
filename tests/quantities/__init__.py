"""Tests of `gyrochalk.quantities`."""
