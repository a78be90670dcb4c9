"""Tests of scope, engine and estimate."""
