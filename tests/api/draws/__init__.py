"""Tests of the draws over HTTP."""
