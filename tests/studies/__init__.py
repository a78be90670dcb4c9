"""Tests of what is worked out from priced work."""
