"""The examples in the docstrings of the HTTP packages are true."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module

import pytest

import api.access
import api.calculations
import api.contract
import api.projects

MODULES = [
    one.name
    for package in (api.access, api.calculations, api.contract, api.projects)
    for one in pkgutil.iter_modules(package.__path__, f"{package.__name__}.")
]


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_are_true(name):
    assert doctest.testmod(import_module(name)).failed == 0


def test_there_are_examples():
    found = [
        example
        for name in MODULES
        for test in doctest.DocTestFinder().find(import_module(name))
        for example in test.examples
    ]
    assert len(found) >= 10
