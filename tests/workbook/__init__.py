"""Tests of spreadsheets in and out."""
