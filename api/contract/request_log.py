"""One line of JSON for each request: number, route, status, time, who; no secret, no body.

The route is told as the map has it, and the query not at all: neither can carry what somebody
typed into the log.
"""

from __future__ import annotations

import json
import logging
from time import perf_counter

from flask import Response, g, request

from api.contract.fields import moment_text
from api.contract.metrics import route_of_request
from api.contract.request_ids import request_id
from api.contract.services import services

_LOG = logging.getLogger("groundsill.requests")


def log_request(answer: Response) -> Response:
    """Log an answer."""
    caller = g.get("caller")
    line = {
        "at": moment_text(services().now),
        "request": request_id(),
        "method": request.method if request.url_rule else "-",
        "route": route_of_request(),
        "status": answer.status_code,
        "ms": round((perf_counter() - g.began) * 1000, 1),
        "address": request.remote_addr,
        "account": str(caller.account_id) if caller else None,
        "actor": caller.actor if caller else None,
    }
    _LOG.info("%s", json.dumps(line))
    return answer
