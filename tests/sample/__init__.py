"""Tests of the invented sample project."""
