"""Tests that look at built pages in a real browser."""
