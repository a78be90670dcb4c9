"""Tests of units, measures, formulas and take-off."""
