"""Tests of the service and of what it keeps."""
