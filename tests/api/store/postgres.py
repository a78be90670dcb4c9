"""A PostgreSQL server for the tests: Debian's own, in a temporary folder, on a socket only.

The server refuses to run as root, so root starts it as `postgres`. The schema is made once in a
template database, and each test gets a copy of that: three hundred files, which take a twentieth of
a second in memory and five times that on a disk.
"""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from tempfile import mkdtemp

import psycopg

ABSENT = (
    "PostgreSQL's server is not installed, so NOTHING WAS TESTED ON POSTGRESQL: "
    "apt-get install postgresql"
)
_SERVER_USER = "postgres"
_SUPERUSER = "groundsill"
_TEMPLATE = "groundsill_template"
_QUICK = ("-c fsync=off -c full_page_writes=off -c synchronous_commit=off "
          "-c max_connections=100 -c shared_buffers=32MB")  # fmt: skip
_MEMORY = Path("/dev/shm")  # noqa: S108 -- a file system in memory, where a Linux has one
_ROOM = 8 * 2**30  # all databases of three workers take half of it


def server_programs() -> Path | None:
    """Return the folder of the newest server's programs, None where there is no server."""
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=_major)
    if folders:
        return folders[-1].parent
    found = shutil.which("initdb")
    return Path(found).resolve().parent if found else None


def _quickest() -> str:
    """Return where files are made soonest, with a path short enough for a socket."""
    is_roomy = _MEMORY.is_dir() and shutil.disk_usage(_MEMORY).free > _ROOM
    return str(_MEMORY) if is_roomy else "/tmp"  # noqa: S108


def _major(initdb: Path) -> int:
    return int(initdb.parent.parent.name)


@dataclass
class Server:
    """A server that runs until it is stopped, with databases made on demand."""

    programs: Path
    folder: Path = field(default_factory=lambda: Path(mkdtemp(prefix="gs-pg-", dir=_quickest())))
    numbers: count = field(default_factory=count)

    def start(self) -> None:
        """Make a cluster, sorted by language so that nothing leans on byte order, and start it."""
        if os.geteuid() == 0:
            user = pwd.getpwnam(_SERVER_USER)
            os.chown(self.folder, user.pw_uid, user.pw_gid)
        self._run(
            "initdb", "--auth=trust", f"--username={_SUPERUSER}", "--encoding=UTF8",
            "--locale-provider=icu", "--icu-locale=en-US", "--locale=C.UTF-8", "--no-sync",
            f"--pgdata={self.folder}/data",
        )  # fmt: skip
        self.resume()

    def resume(self) -> None:
        """Start the server on the cluster that is there."""
        settings = f"-c listen_addresses='' -c unix_socket_directories={self.folder} {_QUICK}"
        self._run(
            "pg_ctl", "--wait", f"--pgdata={self.folder}/data", f"--log={self.folder}/log",
            f"--options={settings}", "start",
        )  # fmt: skip

    def halt(self, mode: str = "fast") -> None:
        """Stop the server, whoever is connected to it; after `immediate` it has lost changes."""
        self._run("pg_ctl", "--wait", f"--mode={mode}", f"--pgdata={self.folder}/data", "stop")

    def stop(self) -> None:
        """Stop the server and let its folder be taken away, whose many files take a while."""
        self.halt("immediate")
        subprocess.run(["sh", "-c", 'rm -rf "$1" &', "sh", self.folder], check=True)

    def url(self, database: str) -> str:
        """Return the URL of a database."""
        return f"postgresql+psycopg://{_SUPERUSER}@/{database}?host={self.folder}"

    def empty(self) -> str:
        """Return the URL of a new, empty database."""
        return self._made("template0")

    def migrated(self, template: str = _TEMPLATE) -> str:
        """Return the URL of a new database with the whole schema, or of a copy of another."""
        return self._made(template)

    def in_ascii(self) -> str:
        """Return the URL of a new, empty database that does not know its own letters."""
        return self._made("template0 ENCODING 'SQL_ASCII' LOCALE 'C' LOCALE_PROVIDER libc")

    def make_template(self) -> str:
        """Make the database that the others are copied from, and return its URL."""
        self._sql(f"CREATE DATABASE {_TEMPLATE} TEMPLATE template0")
        return self.url(_TEMPLATE)

    def _made(self, template: str) -> str:
        name = f"test_{next(self.numbers)}"
        # Copied as files: half the work of copying it through the log, as is done by default.
        self._sql(f"CREATE DATABASE {name} TEMPLATE {template} STRATEGY FILE_COPY")
        return self.url(name)

    def _sql(self, statement: str) -> None:
        where = f"host={self.folder} user={_SUPERUSER} dbname=postgres"
        with psycopg.connect(where, autocommit=True) as connection:
            connection.execute(statement)

    def _run(self, program: str, *arguments: str) -> None:
        as_user = {"user": _SERVER_USER, "group": _SERVER_USER} if os.geteuid() == 0 else {}
        subprocess.run(
            [self.programs / program, *arguments], check=True, cwd="/", stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL, stderr=subprocess.STDOUT, **as_user,
        )  # fmt: skip
