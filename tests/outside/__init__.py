"""Checks against published values and independent implementations."""
