"""`groundsill demo`: the main job, whole, on the invented sample project."""

from __future__ import annotations

from pathlib import Path

import click

from estimator.errors import ScopeFaulty, fault, quoted
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
def demo(out: Path) -> None:
    """Price the sample project and write its files.

    The sample is invented: Harrow Lane Carbarn, a brick streetcar barn of 1906 that becomes a
    ceramics studio.
    """
    from api.commands.estimate_shown import show_estimate
    from api.commands.opening import priced
    from estimator.pricing.estimate_json import estimate_json
    from estimator.workbook.estimate_workbook import write_estimate
    from estimator.workbook.scope.scope_template import write_template
    from estimator.workbook.writing.whole_file import write_whole

    scope = _copied_sample(out)
    estimate = priced(scope, None, None)
    write_estimate(estimate, out / "estimate.xlsx")
    write_whole(out / "estimate.json", estimate_json(estimate).encode())
    write_template(estimate.tables, out / "empty-scope.xlsx")
    show_estimate(estimate)
    click.echo(
        f"\nWritten to {out}: {scope.name} (the scope), its quotes, estimate.xlsx, estimate.json\n"
        f"and empty-scope.xlsx. Change a measure in the scope, then:\n"
        f"  groundsill price {scope}\n"
        f"  groundsill explain {scope} --item 30.020\n"
        f"  groundsill compare {scope} --item 30.020\n"
        f"  groundsill price {scope} --risk"
    )


def _copied_sample(out: Path) -> Path:
    """Copy the sample's files to a folder, never over a file that somebody has changed."""
    sample = SAMPLE_SCOPE.parent
    names = [
        SAMPLE_SCOPE.name,
        *(f"{QUOTES}/{path.name}" for path in sorted((sample / QUOTES).glob("*.csv"))),
    ]
    for name in names:
        target = out / name
        if target.exists() and target.read_bytes() != (sample / name).read_bytes():
            raise fault(
                ScopeFaulty, f"{quoted(target)} has been changed", "move it, or give another --out"
            )
    for name in names:
        target = out / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes((sample / name).read_bytes())
    return out / SAMPLE_SCOPE.name
