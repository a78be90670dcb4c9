"""Checks against what this project did not make: standards, handbooks, open data, libraries."""
