"""Tests of assemblies and their catalogue."""
