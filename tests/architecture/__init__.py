"""Tests of the shape of the project rather than of what it computes."""
