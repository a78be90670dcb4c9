"""Tests of scope workbooks."""
