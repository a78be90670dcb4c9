"""The databases of the service's own tests, for the benchmarks that need one."""

from tests.api.conftest import (  # noqa: F401
    moving_postgresql,
    moving_sqlite,
    opened,
    server,
    sqlite_template,
    sqlite_url,
    store,
    url,
)
