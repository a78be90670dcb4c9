"""Promise 3: clients that draw at once never take more of a line or an entry than there is."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from random import Random

from sqlalchemy import func, select

from api.draws.rows import DrawBackup, DrawLineRow
from api.ledger.rows import BookEntry
from api.store.models import table_of
from api.store.verify import verify
from tests.api.draws.made import lent, sent
from tests.api.figures import figure, tries
from tests.api.ledger.made import cost, posted

CLIENTS = 8
DRAWS = figure(2, 100)


@tries("runs", 1, 50)
def test_eight_clients_never_draw_an_entry_or_a_line_beyond_its_amount(service, runs):
    for run in range(runs):
        project = lent(service)
        with ThreadPoolExecutor(CLIENTS) as pool:
            clients = [pool.submit(draw_on, service, project, run, n) for n in range(CLIENTS)]
        statuses = {status for one in clients for status in one.result()}
        assert statuses <= {200, 201, 404, 409, 422}
        assert 201 in statuses
    check_amounts(service)
    verify(service.store)


def draw_on(service, project, run, client):
    """Bill, open, submit, cut, return and fund, whatever the others do; return the statuses."""
    chance, statuses = Random(f"{run} {client}"), []  # noqa: S311 -- invented bills

    def note(answer):
        statuses.append(answer.status_code)
        return answer

    for number in range(DRAWS):
        amount = f"{chance.randint(1, 9_00) / 100:.2f}"
        bill = cost(document=f"{run}-{client}-{number}", net=amount, tax="0.00")
        note(posted(service, f"{project}/books", "costs", **bill))
        note(sent(service, f"{project}/draw-draft", {"through": "2026-02-28"}))
        note(sent(service, f"{project}/draws"))
        for draw in service.get(f"{project}/draws?limit=200").json["draws"][-1:]:
            at = f"{project}/draws/{draw['id']}"
            said = {"returned": True, "reason": "no"} if chance.random() < 0.3 else cuts(chance)
            note(sent(service, f"{at}/decision", said))
            note(sent(service, f"{at}/funding", {"day": "2026-03-02"}))
    return statuses


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
