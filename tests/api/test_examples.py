"""The examples in the docstrings of the store and the settings are true."""

from __future__ import annotations

import doctest
import pkgutil
from importlib import import_module

import pytest

import api.store

MODULES = ["api.settings"] + [
    one.name for one in pkgutil.iter_modules(api.store.__path__, "api.store.") if not one.ispkg
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings_run(name):
    assert doctest.testmod(import_module(name)).failed == 0


def test_there_are_examples():
    modules = [import_module(name) for name in MODULES]
    assert sum(doctest.testmod(module).attempted for module in modules) >= 5
