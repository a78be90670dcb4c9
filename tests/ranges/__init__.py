"""Tests of ranges, simulation and contingency."""
