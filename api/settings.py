"""The settings of the service: environment variables only, read once, refused if unsafe.

Every field of `Settings` tells its variable, what it means and what is right; `docs/operations.md`
shows the same as a table. A faulty setting stops the start with a sentence that names the
variable. Passwords are in no message and in no `repr`.
"""

# ruff: noqa: RUF009 -- what `_setting` returns is a field of the class

from __future__ import annotations

import dataclasses
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from ipaddress import ip_address
from pathlib import Path
from typing import TYPE_CHECKING, Any

from estimator.errors import Faults, InputFaulty, did_you_mean, quoted

if TYPE_CHECKING:
    from sqlalchemy import URL

PREFIX = "GROUNDSILL_"
# Read by the tests and by one command, so not unknown.
OTHERS = frozenset({"GROUNDSILL_FORBID_SKIPS", "GROUNDSILL_FULL_FIGURES", "GROUNDSILL_MOVE_TO"})
LOOPBACK_NAMES = frozenset({"localhost"})
SAFE_SSL = ("require", "verify-ca", "verify-full")
SHORTEST_SECRET = 32
DATABASE_FILE = "groundsill.sqlite3"

_OTHERS_MAY_WRITE = 0o022
_MEGABYTE = 1_000_000

Reader = Callable[[str, str, Faults], Any]


class SettingsFaulty(InputFaulty):
    """A setting is wrong, unsafe or unknown; the service does not start."""

    code = "settings-faulty"


def _whole(least: int, most: int) -> Reader:
    """Return a reader of whole numbers within bounds."""

    def read(name: str, text: str, faults: Faults) -> int:
        if text.isascii() and text.isdigit() and len(text) <= 18 and least <= int(text) <= most:
            return int(text)
        faults.add(
            name, f"{quoted(text)} is not right", f"give a whole number from {least:,} to {most:,}"
        )
        return least

    return read


def _text(_name: str, text: str, _faults: Faults) -> str:
    return text


def _folder(name: str, text: str, faults: Faults) -> Path:
    path = Path(text)
    if not path.is_absolute():
        faults.add(name, f"{quoted(text)} is not a full path", "give it from the root of the disk")
    elif path.exists() and not path.is_dir():
        faults.add(name, f"{quoted(text)} is not a folder", "name a folder")
    elif os.name == "posix" and path.is_dir() and path.stat().st_mode & _OTHERS_MAY_WRITE:
        faults.add(name, f"others may write to {quoted(text)}", f"run 'chmod go-w {text}'")
    return path


def _secret(name: str, text: str, faults: Faults) -> str:
    if text and len(text) < SHORTEST_SECRET:
        faults.add(name, "is too short to be safe", f"give {SHORTEST_SECRET} letters or more")
    return text


def _setting(default: str, meaning: str, read: Reader, *, is_secret: bool = False) -> Any:
    return field(
        repr=not is_secret, metadata={"default": default, "meaning": meaning, "read": read}
    )


@dataclass(frozen=True)
class Settings:
    """The service's settings from its environment; the variable is `GROUNDSILL_` and the name."""

    data_folder: Path = _setting(
        "",
        "Folder of the embedded database; if empty, groundsill in ~/.local/share or %LOCALAPPDATA%",
        _folder,
    )
    database_url: str = _setting(
        "",
        "postgresql+psycopg://user@host/database, or sqlite:////folder/file; "
        "a file in the data folder if empty",
        _text,
        is_secret=True,
    )
    database_connections: int = _setting(
        "5", "Database connections that each process keeps", _whole(1, 100)
    )
    longest_wait_s: int = _setting(
        "10", "Seconds a change waits for its turn before it gets 503", _whole(1, 300)
    )
    host: str = _setting("127.0.0.1", "Address to listen on", _text)
    port: int = _setting("8765", "Port to listen on", _whole(1, 65_535))
    proxies: int = _setting(
        "0", "Proxies in front that are trusted for the client's address", _whole(0, 5)
    )
    workers: int = _setting("1", "Processes; several need PostgreSQL, and Linux", _whole(1, 64))
    threads: int = _setting("4", "Threads of each process", _whole(1, 64))
    largest_body_bytes: int = _setting(
        str(_MEGABYTE), "Largest JSON body", _whole(10_000, 50 * _MEGABYTE)
    )
    largest_upload_bytes: int = _setting(
        str(10 * _MEGABYTE), "Largest uploaded file", _whole(10_000, 100 * _MEGABYTE)
    )
    most_document_bytes: int = _setting(
        str(5_000 * _MEGABYTE),
        "Most that pictures and PDFs of one account may take up",
        _whole(_MEGABYTE, 1_000_000 * _MEGABYTE),
    )
    deepest_json: int = _setting("32", "How deep brackets may nest in a JSON body", _whole(8, 200))
    most_rows: int = _setting(
        "5000", "Rows or items in one request, and in one project", _whole(10, 10_000)
    )
    upload_seconds: int = _setting(
        "3", "Processor seconds for reading an uploaded workbook", _whole(1, 60)
    )
    upload_memory_bytes: int = _setting(
        str(256 * _MEGABYTE),
        "Memory for reading an uploaded workbook",
        _whole(50 * _MEGABYTE, 8_000 * _MEGABYTE),
    )
    requests_per_minute: int = _setting("600", "Requests of one token", _whole(1, 100_000))
    failed_sign_ins_per_minute: int = _setting(
        "10", "Wrong tokens from one address", _whole(1, 1_000)
    )
    metrics_token: str = _setting(
        "",
        "Bearer token for reading /metrics; if empty, there are no metrics",
        _secret,
        is_secret=True,
    )

    @property
    def is_embedded(self) -> bool:
        """Whether the database is a file of the service's own."""
        return self.database_url.startswith("sqlite:")

    @property
    def shown_database(self) -> str:
        """The database's URL without its password."""
        from api.store.engine import read_url

        return read_url(self.database_url).render_as_string(hide_password=True)


def variable(name: str) -> str:
    """Return the environment variable of a field.

    Examples
    --------
    >>> variable("data_folder")
    'GROUNDSILL_DATA_FOLDER'
    """
    return f"{PREFIX}{name.upper()}"


def read_settings(environment: Mapping[str, str]) -> Settings:
    """Return the settings that an environment gives.

    Parameters
    ----------
    environment : mapping of str to str
        Such as `os.environ`; an empty value stands for the default.

    Raises
    ------
    SettingsFaulty
        With every wrong, unsafe or unknown variable at once.
    """
    faults = Faults()
    values: dict[str, Any] = {}
    for one in dataclasses.fields(Settings):
        name = variable(one.name)
        text = environment.get(name, "").strip() or one.metadata["default"]
        if one.name == "data_folder":
            text = text or _usual_folder(environment)
        values[one.name] = one.metadata["read"](name, text, faults)
    _refuse_unknown(environment, faults)
    _check_host(values, faults)
    values["database_url"] = _database_url(values, faults)
    _check_workers(values, faults)
    faults.raise_if_any(SettingsFaulty)
    return Settings(**values)


def settings_table() -> list[tuple[str, str, str]]:
    """Return variable, default and meaning of every setting, in the order of the fields."""
    return [
        (variable(one.name), one.metadata["default"], one.metadata["meaning"])
        for one in dataclasses.fields(Settings)
    ]


def _usual_folder(environment: Mapping[str, str]) -> str:
    """Return the folder for data of programs, as Windows or as other systems have it."""
    shared = environment.get("LOCALAPPDATA") or environment.get("XDG_DATA_HOME")
    shared = shared or f"{environment.get('HOME') or Path.home()}/.local/share"
    return str(Path(shared) / "groundsill")


def _refuse_unknown(environment: Mapping[str, str], faults: Faults) -> None:
    known = {variable(one.name) for one in dataclasses.fields(Settings)}
    for name in sorted(environment):
        if name.startswith(PREFIX) and name not in known | OTHERS:
            faults.add(name, "is not a setting", did_you_mean(name, known))


def _check_host(values: Mapping[str, Any], faults: Faults) -> None:
    """Refuse to face a network without a proxy that reads slow requests and speaks TLS."""
    host = values["host"]
    try:
        is_loopback = host in LOOPBACK_NAMES or ip_address(host).is_loopback
    except ValueError:
        faults.add(variable("host"), f"{quoted(host)} is not an address", "give 127.0.0.1")
        return
    if not is_loopback and not values["proxies"]:
        faults.add(
            variable("host"),
            f"{quoted(host)} can be reached from outside, in clear text",
            f"listen on 127.0.0.1, or set {variable('proxies')} to 1 behind nginx with TLS",
        )


def _check_workers(values: Mapping[str, Any], faults: Faults) -> None:
    is_embedded = values["database_url"].startswith("sqlite:")
    if values["workers"] > 1 and (is_embedded or sys.platform != "linux"):
        faults.add(
            variable("workers"),
            "several processes are for PostgreSQL on Linux",
            f"set {variable('threads')} instead",
        )


def _database_url(values: Mapping[str, Any], faults: Faults) -> str:
    text: str = values["database_url"]
    if not text:
        return f"sqlite:///{values['data_folder'] / DATABASE_FILE}"
    from api.store.engine import read_url

    name = variable("database_url")
    try:
        url = read_url(text)
    except InputFaulty as error:
        faults.take(name, error)
        return text
    if url.get_backend_name() == "sqlite":
        if not Path(url.database or "").is_absolute():
            faults.add(name, "its file has no full path", "write sqlite:////folder/file")
    elif _is_far(url) and url.query.get("sslmode") not in SAFE_SSL:
        faults.add(
            name,
            f"the database on {quoted(url.host)} would be reached in clear text",
            "add ?sslmode=verify-full",
        )
    return text


def _is_far(url: URL) -> bool:
    hosts = [url.host] if url.host else []
    named = url.query.get("host", ())
    hosts += [named] if isinstance(named, str) else list(named)
    for host in hosts:
        if host.startswith("/") or host in LOOPBACK_NAMES:
            continue
        try:
            if not ip_address(host).is_loopback:
                return True
        except ValueError:
            return True
    return False
