"""Tests of differences of estimates and rates."""
