"""Tests of the commands that belong to the service."""
