"""Tests of the store, on real databases of both kinds."""
