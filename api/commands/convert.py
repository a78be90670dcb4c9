"""`groundsill convert`: a scope from YAML to a workbook, or back."""

from __future__ import annotations

from pathlib import Path

import click

from api.commands.options import force_option, rates_option, scope_argument


@click.command()
@scope_argument
@click.argument("file", type=click.Path(path_type=Path))
@rates_option
@force_option
def convert(scope: Path, file: Path, rates: Path | None, force: bool) -> None:
    """Write SCOPE to FILE in the other format: .yaml as a workbook, .xlsx as YAML.

    Every value is kept as it was written; comments are not.
    """
    from estimator.opening import converted_scope
    from estimator.written_files import refuse_what_is_there, write_files

    forms = {".yaml": ".xlsx", ".yml": ".xlsx", ".xlsx": ".yaml"}
    ending = forms.get(scope.suffix.lower())
    if ending and file.suffix.lower() != ending:
        raise click.UsageError(f"FILE must end in {ending}, as SCOPE ends in {scope.suffix}.")
    refuse_what_is_there([file], [scope], force=force)
    write_files({file: converted_scope(scope, rates)}, [scope], force=force)
    click.echo(f"The scope is in {file}.", err=True)
