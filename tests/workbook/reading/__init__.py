"""Tests of workbooks that are read."""
