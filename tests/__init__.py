"""Tests: one folder a floor of the library, and the outside checks in `published`."""
