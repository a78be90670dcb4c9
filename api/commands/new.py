"""`groundsill new`: the folder of a project of one's own, as an invented example to write over."""

from __future__ import annotations

from pathlib import Path

import click


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """Start a project in FOLDER, which must be new or empty.

    It gets a scope, a quote and an assembly of your own: an invented example that prices as it
    stands, to be written over.
    """
    from estimator.opening import NEW_PROJECT
    from estimator.rates.written_folder import refuse_occupied
    from estimator.written_files import write_files

    refuse_occupied(folder)
    files = sorted(path for path in NEW_PROJECT.rglob("*") if path.suffix in (".yaml", ".csv"))
    contents = {folder / path.relative_to(NEW_PROJECT): path.read_bytes() for path in files}
    for path in contents:
        path.parent.mkdir(parents=True, exist_ok=True)
    write_files(contents)
    scope = folder / "scope.yaml"
    click.echo(
        f"Started in {folder}: scope.yaml, own-rates (an assembly of your own), quotes.\n"
        f"Everything in it is invented. Write over it, then:\n"
        f"  groundsill price {scope}\n"
        f"  groundsill search WORD\n"
        f"  groundsill rates check {folder / 'own-rates'}"
    )
