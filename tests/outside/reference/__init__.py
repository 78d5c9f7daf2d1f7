"""A second implementation of the models of `docs/physics.md`, written apart from the product to compare it against.

It is slow and plain on purpose: vectors in north-east-down axes and a general adaptive solver. It never imports the
product. Units inside are SI and radians.
"""
