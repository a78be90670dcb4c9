"""The owner of an account reads who changed what when, the latest first."""

from __future__ import annotations

AT = "/v1/audit-trail"


def test_a_change_is_shown_with_the_row_before_and_after_it(service):
    issued = service.issue()
    path = issued.headers["Location"]
    service.clock.turn(hours=1)
    service.send("PATCH", path, {"holder": "bank, new name"}, headers={"If-Match": '"1"'})
    latest, made, *_ = service.get(AT).json["changes"]
    owner = service.get("/v1/account").json["token_id"]
    assert (latest["number"], latest["at"]) == (made["number"] + 1, "2026-03-02T13:00:00.000000Z")
    assert (latest["actor"], latest["action"]) == (f"token {owner}", "changed")
    assert (latest["subject"], latest["subject_id"]) == ("tokens", issued.json["id"])
    assert latest["before"]["holder"] == "bank"
    assert latest["after"]["holder"] == "bank, new name"
    assert (made["action"], made["before"], made["after"]) == ("created", None, latest["before"])


def test_no_text_of_a_token_and_no_digest_that_would_open_the_account_stands_in_it(service):
    issued = service.issue().json
    shown = service.get(AT)
    assert issued["token"] not in shown.text
    assert shown.json["changes"][0]["after"]["digest"].startswith("sha256 ")


def test_pages_go_back_to_the_opening_of_the_account_without_a_gap(service):
    numbers, cursor = [], ""
    while cursor is not None:
        page = service.get(f"{AT}?limit=3{cursor and f'&cursor={cursor}'}").json
        numbers += [one["number"] for one in page["changes"]]
        cursor = page["next"]
    assert numbers == [5, 4, 3, 2, 1]  # the account and its four tokens


def test_changes_of_one_kind_of_row_and_of_one_row_are_listed(service):
    issued = service.issue().json
    of_accounts = service.get(f"{AT}?subject=accounts").json["changes"]
    assert [one["subject_id"] for one in of_accounts] == [str(service.account_id)]
    of_one = service.get(f"{AT}?subject_id={issued['id']}").json["changes"]
    assert [one["action"] for one in of_one] == ["created"]
    assert service.get(f"{AT}?subject=planets").json == {"changes": [], "next": None}


def test_nobody_reads_of_another_account_and_only_the_owner_of_their_own(service):
    _, strangers = service.account("Stranger")
    theirs = service.get(AT, token=strangers["owner"]).json["changes"]
    own = service.get(AT).json["changes"]
    assert not {one["digest"] for one in own} & {one["digest"] for one in theirs}
    assert [service.get(AT, role=role).status_code for role in ("bookkeeper", "lender")] == [
        403, 403,
    ]  # fmt: skip
