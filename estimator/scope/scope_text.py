"""A scope as the text of a YAML file that `read_yaml` reads as the same."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

_WIDTH = 100


def scope_text(written: Mapping[str, Any]) -> str:
    """Return a scope as YAML, its keys in their order and every text as it was written.

    Parameters
    ----------
    written : mapping
        Texts, lists and dictionaries, as `plain` gives them.

    Examples
    --------
    >>> print(scope_text({"project": "Barn", "phases": [{"code": "010", "after": []}]}))
    project: Barn
    phases:
    - code: '010'
      after: []
    <BLANKLINE>
    """
    import yaml

    # Equal parts are written out each time: the reader refuses anchors.
    class Dumper(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):  # type: ignore[misc]
        def ignore_aliases(self, _data: Any) -> bool:
            return True

    text: str = yaml.dump(
        dict(written), Dumper=Dumper, allow_unicode=True, sort_keys=False, width=_WIDTH
    )
    return text
