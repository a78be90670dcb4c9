"""`groundsill demo`: the whole job, on the invented sample project."""

from __future__ import annotations

from pathlib import Path

import click

from api.commands.options import force_option
from estimator.opening import SAMPLE_SCOPE

QUOTES = "harrow-lane-quotes"


@click.command()
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder to write to.",
)
@force_option
def demo(out: Path, force: bool) -> None:
    """Run the whole job of the sample: price, schedule, track, draw, credit; write its files.

    The sample is invented: Harrow Lane Carbarn, a brick streetcar barn of 1906 that becomes a
    ceramics studio. Its books are in a temporary database; 'groundsill books demo'
    keeps them.
    """
    from api.commands.demo_job import PAGES, TRACKING, WORKBOOK, whole_job
    from api.commands.demo_shown import show_job
    from api.commands.opening import priced
    from estimator.pricing.estimate_json import estimate_json
    from estimator.scheduling.job_dates import job_schedule
    from estimator.workbook.estimate_workbook import estimate_bytes
    from estimator.workbook.scope.scope_template import template_bytes
    from estimator.written_files import refuse_what_is_there, write_files

    estimate = priced(SAMPLE_SCOPE, None, None)
    contents = {
        **{out / path.relative_to(SAMPLE_SCOPE.parent): path.read_bytes() for path in _sample()},
        out / "estimate.xlsx": estimate_bytes(estimate),
        out / "estimate.json": estimate_json(estimate).encode(),
        out / "empty-scope.xlsx": template_bytes(estimate.tables),
    }
    later = [out / name for name in (TRACKING, PAGES, WORKBOOK)]
    refuse_what_is_there([*contents, *later], force=force, contents=contents)
    job = whole_job()
    contents |= {out / name: content for name, content in job.files.items()}
    (out / QUOTES).mkdir(parents=True, exist_ok=True)
    write_files(contents, force=force)
    show_job(estimate, job_schedule(estimate, there=estimate.scope.crew), job)
    scope = out / SAMPLE_SCOPE.name
    click.echo(
        f"\nWritten to {out}: {scope.name} (the scope), its loan and quotes,\n"
        f"estimate.xlsx, estimate.json, {TRACKING}, {PAGES}, {WORKBOOK} and\n"
        f"empty-scope.xlsx. Change a measure in the scope, then:\n"
        f"  groundsill price {scope}\n"
        f"  groundsill explain {scope} --item 30.020\n"
        f"  groundsill compare {scope} --item 30.020\n"
        f"  groundsill schedule {scope}\n"
        f"  groundsill books demo, then track --as-of {job.report.as_of} and draw show 2"
    )


def _sample() -> list[Path]:
    """Return the files of the sample: the scope, the terms of its loan, its quotes."""
    return [
        SAMPLE_SCOPE,
        SAMPLE_SCOPE.with_name("harrow-lane-loan.yaml"),
        *sorted((SAMPLE_SCOPE.parent / QUOTES).glob("*.csv")),
    ]
