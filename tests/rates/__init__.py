"""Tests of the tables and the set that ships."""
