"""Tests of recipes and their catalogue."""
