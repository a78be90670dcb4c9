"""Tests of single sheets."""
