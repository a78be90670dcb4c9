"""Tests of rate workbooks."""
