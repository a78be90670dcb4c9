"""Tests of a scope and its readers."""
