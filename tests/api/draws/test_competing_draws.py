"""Promise 3: clients that draw at once never take more of a line or an entry than there is."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from random import Random

import pytest
from sqlalchemy import func, select

from api.draws.rows import DrawBackup, DrawLineRow
from api.ledger.rows import BookEntry
from api.store.models import table_of
from api.store.verify import verify
from tests.api.draws.made import lent, sent
from tests.api.figures import figure
from tests.api.ledger.made import cost, posted

RUNS, CLIENTS, DRAWS = figure(1, 50), 8, figure(2, 100)


@pytest.mark.parametrize("run", range(RUNS), ids=lambda run: f"run {run + 1} of {RUNS}")
def test_eight_clients_never_draw_an_entry_or_a_line_beyond_its_amount(service, measured, run):
    """Each run has a database of its own, so that the runs go side by side."""
    project, submitted = lent(service), []
    chances = [Random(f"{run} {client}") for client in range(CLIENTS)]  # noqa: S311 -- invented
    with ThreadPoolExecutor(CLIENTS) as pool:
        clients = [
            pool.submit(list, draw_on(service, project, chance, submitted)) for chance in chances
        ]
    statuses = {status for one in clients for status in one.result()}
    assert statuses <= {201, 404, 409, 422}
    measured(f"{CLIENTS * DRAWS} tries, {len(submitted)} draws submitted")
    assert submitted
    check_amounts(service)
    verify(service.store)


def draw_on(service, project, chance, submitted):
    """Bill, open, submit; cut, return and fund the last, whoever submitted it; yield statuses."""
    for _ in range(DRAWS):
        amount = f"{chance.randint(1, 9_00) / 100:.2f}"
        bill = cost(document=f"Q-{chance.random()}", net=amount, tax="0.00")
        yield posted(service, f"{project}/books", "costs", **bill).status_code
        yield sent(service, f"{project}/draw-draft", {"through": "2026-02-28"}).status_code
        answer = sent(service, f"{project}/draws")
        yield answer.status_code
        if answer.status_code == 201:
            submitted.append(answer.json["id"])
        if submitted:
            at = f"{project}/draws/{submitted[-1]}"
            decision = {"returned": True, "reason": "no"} if chance.random() < 0.3 else cuts(chance)
            yield sent(service, f"{at}/decision", decision).status_code
            yield sent(service, f"{at}/funding", {"day": "2026-03-02"}).status_code


def cuts(chance):
    cut = {"line": "2", "amount": f"{chance.randint(1, 3_00) / 100:.2f}", "reason": "not seen"}
    return {"cuts": [cut]} if chance.random() < 0.5 else {}


def check_amounts(service):
    backup, entries, lines = table_of(DrawBackup), table_of(BookEntry), table_of(DrawLineRow)
    drawn = (
        select(entries.c.cents, func.sum(backup.c.cents))
        .join(backup, backup.c.entry_id == entries.c.id)
        .group_by(entries.c.id, entries.c.cents)
    )
    with service.store.across_accounts() as connection:
        sums = [(bears, int(taken)) for bears, taken in connection.execute(drawn)]
        assert sums
        assert [one for one in sums if not 0 <= one[1] <= one[0]] == []
        over = lines.c.done_cents + lines.c.stored_cents > lines.c.value_cents
        assert connection.scalar(select(func.count()).select_from(lines).where(over)) == 0
