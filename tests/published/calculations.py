"""Which public calculations there are, and which of them a check against the outside calls."""

from __future__ import annotations

import ast
from pathlib import Path

HOUSE = Path(__file__).parents[2] / "estimator"
# Floors that work out figures, and what on them only reads, checks, writes or looks up.
FLOORS = (
    "money",
    "cents",
    "quantity",
    "rates",
    "production",
    "assemblies",
    "ranges",
    "pricing",
    "studies",
)
NO_CALCULATION = (
    "_json",
    "_check",
    "csv_file",
    "folder",
    "reader",
    "catalogue",
    "cautions",
    "tables",
)


def calculations() -> set[str]:
    """Return the names of all public functions that work out a figure."""
    return {
        node.name
        for floor in FLOORS
        for path in [*HOUSE.glob(f"{floor}.py"), *HOUSE.glob(f"{floor}/**/*.py")]
        if not any(word in path.stem for word in NO_CALCULATION)
        for node in _tree(path).body
        if isinstance(node, ast.FunctionDef) and _is_calculation(node)
    }


def called_by_checks() -> set[str]:
    """Return the names that checks in this folder take from the library."""
    return {
        alias.name
        for path in Path(__file__).parent.glob("test_*.py")
        for node in ast.walk(_tree(path))
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("estimator")
        for alias in node.names
    }


def _is_calculation(function: ast.FunctionDef) -> bool:
    """Whether a function has a public name and gives back more than a word or nothing."""
    returns = ast.unparse(function.returns) if function.returns else "None"
    gives_a_figure = returns not in {"None", "str", "bytes", "bool"}
    return gives_a_figure and not function.name.startswith(("_", "read_"))


def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))
