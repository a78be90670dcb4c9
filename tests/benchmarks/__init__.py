"""Tests of speed on long scopes."""
