"""Each command of docs/api.md runs as it stands, and answers what the page shows below it."""

from __future__ import annotations

import re
import subprocess
import sys
from inspect import Parameter
from pathlib import Path

import pytest

from api.access.roles import (
    ALL_BUT_CREW,
    ALL_BUT_LENDERS,
    EVERYBODY,
    OWNERS,
    OWNERS_AND_BOOKKEEPERS,
    OWNERS_AND_LENDERS,
)
from api.calculations.known_takeoffs import REINFORCING, VOLUMES
from api.subjects import ALLOWED
from tests.api.live import served

PAGE = Path("docs/api.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```console\n(.*?)^```", PAGE, re.MULTILINE | re.DOTALL)
END = "=== end of command"


def shown_commands() -> list[tuple[str, str]]:
    """Return the commands of the page, each with what is shown below it."""
    found: list[tuple[list[str], list[str]]] = []
    is_document = False
    for line in "".join(BLOCKS).splitlines():
        if line.startswith("$ ") and not is_document:
            found.append(([line[2:]], []))
            is_document = line.endswith("<<'END'")
        elif is_document:
            found[-1][0].append(line)
            is_document = line != "END"
        else:
            found[-1][1].append(line)
    return [("\n".join(command), "\n".join(shown)) for command, shown in found]


pytestmark = pytest.mark.xdist_group("page of the service")


@pytest.fixture(scope="module")
def printed(tmp_path_factory) -> list[str]:
    """What all commands print, one after the other in one shell."""
    folder = tmp_path_factory.mktemp("page")
    script = "set -u\n" + "".join(f"{command}\necho '{END}'\n" for command, _ in shown_commands())
    with served(folder) as live:
        programs = f"{Path(sys.executable).parent}:{live.environment['PATH']}"
        environment = {"AT": live.url, "TOKEN": live.token, "PATH": programs}
        ran = subprocess.run(
            ["bash"], input=script, text=True, capture_output=True, cwd=folder,
            env=environment, check=True,
        )  # fmt: skip
    assert ran.stderr == ""
    return ran.stdout.split(f"{END}\n")


def agrees(shown: str, told: str) -> bool:
    pattern = ".*".join(re.escape(part) for part in shown.split("..."))
    return re.fullmatch(pattern, told.replace("\r", "").rstrip("\n"), re.DOTALL) is not None


@pytest.mark.parametrize("place", range(len(shown_commands())))
def test_the_page_shows_what_the_command_prints(printed, place):
    command, shown = shown_commands()[place]
    assert agrees(shown, printed[place]), f"{command}\n{printed[place]}"


def path_rows() -> list[str]:
    """Return the table of paths as the page must have it, from the table of roles."""
    by_path: dict[str, dict[str, list[str]]] = {}
    for route, roles in ALLOWED.items():
        method, path = route.split(" ")
        by_role = by_path.setdefault(re.sub("<(?:uuid:)?(.+?)>", r"{\1}", path), {})
        by_role.setdefault(WHO[roles], []).append(method)
    return [
        f"| `{path}` | "
        + "; ".join(f"{', '.join(may)}: {who}" for who, may in by_role.items())
        + " |"
        for path, by_role in sorted(by_path.items())
    ]


WHO = {
    OWNERS: "owner",
    OWNERS_AND_BOOKKEEPERS: "owner and bookkeeper",
    OWNERS_AND_LENDERS: "owner and lender",
    ALL_BUT_CREW: "all but crew",
    ALL_BUT_LENDERS: "all but lender",
    EVERYBODY: "all",
}


def test_the_page_lists_every_path_with_who_may_use_it():
    rows = [line for line in PAGE.splitlines() if line.startswith("| `/v1/")]
    assert rows == path_rows(), "\n".join(path_rows())


@pytest.mark.parametrize(("shape", "one"), (VOLUMES | REINFORCING).items())
def test_the_page_lists_the_dimensions_of_every_shape(shape, one):
    told = ", ".join(
        f"`{name}`"
        + (" (list)" if name in one.lists else " (rows)" if name in one.grids else "")
        + ("" if parameter.default is Parameter.empty else " (optional)")
        for name, parameter in one.parameters.items()
    )
    assert f"| `{shape}` | {told} | {one.unit} |\n" in PAGE
