"""A client that a stock generator makes from the specification is whole, and does the main job."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from types import SimpleNamespace

import pytest

from api.subjects import ALLOWED
from tests.api.projects.made import QUOTES, SAMPLE

CONFIGURED = re.search(
    r"^```yaml\n(content_type_overrides:.*?)^```",
    Path("docs/api.md").read_text(encoding="utf-8"),
    re.MULTILINE | re.DOTALL,
)
PACKAGE = "generated_client"


@pytest.fixture(scope="module")
def generated(live, tmp_path_factory):
    """What the generator wrote and said, by the configuration that docs/api.md shows."""
    folder = tmp_path_factory.mktemp("generated")
    assert CONFIGURED is not None
    (folder / "config.yaml").write_text(f"post_hooks: []\n{CONFIGURED[1]}")
    (folder / "openapi.json").write_text(live.send("GET", "/v1/openapi.json").text)
    ran = subprocess.run(
        [sys.executable, "-m", "openapi_python_client", "generate", "--path", "openapi.json",
         "--config", "config.yaml", "--meta", "none", "--output-path", PACKAGE],
        cwd=folder, capture_output=True, text=True, check=False,
        env=os.environ | {"COLUMNS": "200"},
    )  # fmt: skip
    sys.path.insert(0, str(folder))
    yield SimpleNamespace(ran=ran, folder=folder / PACKAGE)
    sys.path.remove(str(folder))


def test_it_has_every_operation_and_the_generator_warns_of_nothing(generated):
    assert generated.ran.returncode == 0, generated.ran.stderr
    assert re.search("warning|unable", generated.ran.stdout + generated.ran.stderr, re.I) is None
    operations = [one for one in generated.folder.glob("api/*/*.py") if one.stem != "__init__"]
    assert len(operations) == len(ALLOWED)
    for one in operations:
        import_module(f"{PACKAGE}.api.{one.parent.name}.{one.stem}")


def test_it_opens_a_project_sends_its_scope_prices_it_and_reads_what_it_costs(generated, live):
    def part(path):
        return import_module(f"{PACKAGE}.{path}")

    models = part("models")
    client = part("client").AuthenticatedClient(base_url=live.url, token=live.token)

    def ask(operation, *ids, **named):
        answer = part(f"api.{operation}").sync_detailed(*ids, client=client, **named)
        assert answer.status_code in (200, 201), answer.content
        return answer

    with client:
        project = ask(
            "projects.open_project", body=models.NewProject(name="Made"), idempotency_key="made-1"
        ).parsed
        tag = ask("scopes.show_scope", project.id).headers["ETag"]
        upload = models.NewScope.from_dict(
            {"scope": SAMPLE.read_text(encoding="utf-8"), "quotes": QUOTES}
        )
        kept = ask("scopes.send_scope", project.id, body=upload, if_match=tag).parsed
        assert kept.name == "Harrow Lane Carbarn"
        made = ask(
            "estimates.price_a_project", project.id, body=models.Pricing(), idempotency_key="made-2"
        ).parsed
        summary = ask("estimates.show_estimate", project.id, made.id).parsed
        assert summary.totals.cash_cost == "404836.92"
        page = ask("estimate_lines.list_lines", project.id, made.id, limit=200).parsed
        assert len(page.lines) == min(200, summary.line_count)
        assert page.selected.count == summary.line_count
