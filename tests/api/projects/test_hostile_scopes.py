"""Files that are built to do harm are refused where a scope is sent, and change nothing."""

from __future__ import annotations

from tempfile import gettempdir

import pytest

from api.calculations.scopes import WORKBOOK_TYPE, YAML_TYPE
from api.projects.scope_shapes import EXAMPLE_FROM_SCOPE
from tests.api.projects.made import AT, as_read, created
from tests.api.projects.test_scope_uploads import ENDINGS
from tests.api.service import new_key
from tests.workbook.hostile import HOSTILE

WORKBOOKS = (
    "a CSV file that was renamed", "a workbook locked with a password", "a bomb",
    "a bomb with a forged size", "packing that can take all memory", "thousands of parts",
)  # fmt: skip
TEXTS = {
    "anchors": "a: &a [x, x]\nb: *a\n",
    "a tag": "project: !!python/object/apply:os.system ['true']\n",
    "depth": "a: " + "[" * 5_000,
    "a key twice": "project: a\nproject: b\n",
    "many documents": "a: 1\n---\nb: 2\n",
    "control characters": "project: \x07\n",
    "no text at all": b"\xff\xfe\x00",
}


@pytest.fixture
def project(embedded):
    return created(embedded.post(f"{AT}/from-scope", EXAMPLE_FROM_SCOPE, headers=new_key()))


def refused(service, project, content, kind):
    """Send a file as the scope of a project that must stay as it is; return the problem."""
    path = f"{AT}/{project['id']}"
    before = service.get(f"{path}/scope").json
    headers = as_read(service, project) | {"Content-Type": kind}
    answer = service.send("PUT", f"{path}/scope{ENDINGS[kind]}", content, headers=headers)
    assert 400 <= answer.status_code < 500
    assert answer.content_type == "application/problem+json"
    assert service.get(f"{path}/scope").json == before
    assert service.get(path).json == project
    return answer.json


@pytest.mark.parametrize("kind", WORKBOOKS)
def test_a_hostile_workbook_is_refused_in_one_sentence(embedded, project, kind):
    build, words = HOSTILE[kind]
    problem = refused(embedded, project, build(), WORKBOOK_TYPE)
    assert problem["code"] == "workbook-refused"
    assert words in problem["detail"]
    assert gettempdir() not in str(problem)


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_a_hostile_text_is_refused(embedded, project, text):
    content = text if isinstance(text, bytes) else text.encode()
    assert refused(embedded, project, content, YAML_TYPE)["code"] == "scope-faulty"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "body-faulty"),
        (b'{"scope": {"project": NaN}}', "body-faulty"),
        (b'{"scope": ' + b"[" * 100_000, "body-faulty"),
        (b'{"scope": {"project": "a", "project": "b"}}', "body-faulty"),
        (b'{"scope": {"project": "\\ud800"}}', "body-faulty"),
        (b'{"scope": {"project": null}}', "scope-faulty"),
    ],
)
def test_json_that_could_mean_two_things_is_refused(embedded, project, content, code):
    assert refused(embedded, project, content, "application/json")["code"] == code


def test_a_file_beyond_the_limit_is_refused_before_it_is_read(embedded, project):
    content = b"#" * (embedded.settings.largest_upload_bytes + 1)
    assert refused(embedded, project, content, YAML_TYPE)["code"] == "body-too-large"
