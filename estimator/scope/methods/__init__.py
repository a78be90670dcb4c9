"""The ways to do one item that a scope names: what each needs, and how its work goes round.

A scope holds methods, so nothing here may import the scope itself.
"""
