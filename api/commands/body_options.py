"""Options that become a body of the service, read by the same rules."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from _typeshed import DataclassInstance
    from marshmallow import Schema

    from estimator.errors import InputFaulty


def read_body(
    shape: type[DataclassInstance],
    body: dict[str, Any],
    error: type[InputFaulty],
    paths: Mapping[str, str] = MappingProxyType({}),
) -> Any:
    """Return a body as the command that the service makes of it.

    Parameters
    ----------
    shape : type
        The dataclass of the body.
    body : dict
        What the options state.
    error : type of InputFaulty
        What is raised, with the names of options in place of pointers.
    paths : mapping of str to str
        See `body_at`; of options that are called as their fields, none.
    """
    from marshmallow import ValidationError

    from api.contract.commands import schema_of
    from api.contract.schemas import faults_of

    schema = schema_of(shape)()
    try:
        return schema.load(body)
    except ValidationError as refused:
        faults = faults_of(refused.messages, schema, "json")
        raise error(option_places(faults, paths)) from None


def calculated(
    calculation: Callable[[Any], dict[str, Any]],
    shape: type[DataclassInstance],
    body: dict[str, Any],
    error: type[InputFaulty],
    paths: Mapping[str, str],
) -> dict[str, Any]:
    """Return what a calculation of the service makes of a body; its faults name the options.

    Parameters
    ----------
    calculation : callable
        Takes the body.
    shape, body, error, paths
        As of `read_body`.
    """
    read = read_body(shape, body, error, paths)
    try:
        return calculation(read)
    except error as refused:
        raise error(option_places(refused.faults, paths), refused.more) from None


def body_at(paths: Mapping[str, str], options: Mapping[str, Any]) -> dict[str, Any]:
    """Return the body that options state.

    Parameters
    ----------
    paths : mapping of str to str
        Where in the body each option stands, by name.
    options : mapping of str to object
        None where an option is not stated.

    Examples
    --------
    >>> body_at({"wage": "wage/wage_per_hr", "year": "tax_year"}, {"wage": "24.00", "year": None})
    {'wage': {'wage_per_hr': '24.00'}}
    """
    body: dict[str, Any] = {}
    for option, path in paths.items():
        if options[option] is not None:
            *parts, field = path.split("/")
            inner = body
            for part in parts:
                inner = inner.setdefault(part, {})
            inner[field] = options[option]
    return body


def print_result(
    result: dict[str, Any],
    answer: Schema,
    show: Callable[[dict[str, Any]], None],
    *,
    as_json: bool,
) -> None:
    """Print a result for a person, or as JSON as the service answers it.

    Parameters
    ----------
    result : dict
        What a calculation came to.
    answer : Schema
        Of the service's answer.
    show : callable
        Prints the result.
    as_json : bool
        Whether JSON is wanted.
    """
    if as_json:
        click.echo(json.dumps(answer.dump(result), ensure_ascii=False))
    else:
        show(result)


def stated_options(**options: Any) -> dict[str, Any]:
    """Return the options that are stated, by name."""
    return {name: value for name, value in options.items() if value is not None}


def option_places(faults: Any, paths: Mapping[str, str] = MappingProxyType({})) -> list[Any]:
    """Return faults of a body with the names of options in place of pointers."""
    from dataclasses import replace

    return [replace(one, where=_option_place(one.where, paths)) for one in faults]


def _option_place(where: str, paths: Mapping[str, str]) -> str:
    """Return the place of a fault as the command says it.

    Examples
    --------
    >>> _option_place("#/taxes/0/wage_base", {"tax": "taxes"}), _option_place("#/rates", {})
    ('--tax 1, wage-base', 'rates')
    """
    place, _, more = where.partition(", ")
    path, words = place.removeprefix("#").strip("/"), ""
    for option, start in paths.items():
        if f"{path}/".startswith(f"{start}/"):
            path, words = path.removeprefix(start).strip("/"), f", --{option.replace('_', '-')}"
            break
    for step in filter(None, path.split("/")):
        words += f" {int(step) + 1}" if step.isdigit() else f", {step.replace('_', '-')}"
    return ", ".join(filter(None, [words.removeprefix(", "), more]))


def colon_words(text: str, help_text: str, forms: Sequence[Sequence[str]]) -> dict[str, str]:
    """Return one of several as the body has it, from its words between colons.

    Parameters
    ----------
    text : str
        Such as `Medicare:0.0145`.
    help_text : str
        How it is written, for the refusal.
    forms : sequence of sequences of str
        Names of the words, for each number of words that is taken.
    """
    words = text.split(":")
    names = next((form for form in forms if len(form) == len(words)), None)
    if names is None:
        raise click.BadParameter(f"{text!r} cannot be read; write {help_text}")
    return dict(zip(names, words, strict=True))
