"""Tests of crews, cycles and methods."""
