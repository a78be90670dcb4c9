"""One line of JSON for each request: number, route, status, time, who; no secret, no body.

The route is logged as the map has it, and the query not at all: neither can carry what somebody
typed into the log. The line goes straight to the error output in one write: the logging of the
standard library would take longer over it than the database over the answer.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from time import perf_counter

from flask import Response, g

from api.contract.fields import moment_text
from api.contract.metrics import NO_ROUTE
from api.contract.request_ids import request_id
from api.contract.services import services, this_request

_ERROR_OUTPUT = 2
_JSON = json.JSONEncoder()


def log_request(answer: Response) -> Response:
    """Write the line of an answer."""
    here, so_far = this_request(), vars(g._get_current_object())
    rule, caller = here.url_rule, so_far.get("caller")
    line = {
        "at": moment_text(services().now),
        "request": request_id(),
        "method": here.method if rule else "-",
        "route": rule.rule if rule else NO_ROUTE,
        "status": answer.status_code,
        "ms": round((perf_counter() - so_far["began"]) * 1000, 1),
        "address": here.remote_addr,
        "account": str(caller.account_id) if caller else None,
        "actor": caller.actor if caller else None,
    }
    if "outage" in so_far:
        line["outage"] = so_far["outage"]
    with suppress(OSError):  # a log that takes no more, as on a full disk, is no reason to fail
        os.write(_ERROR_OUTPUT, f"{_JSON.encode(line)}\n".encode())
    return answer
