"""What is in place on the terminal, and the hours it took, without a dollar."""

from __future__ import annotations

from typing import Any

from api.commands.printing import page, show_table, table


def show_quantities(name: str, fields: dict[str, Any]) -> None:
    """Print what is in place of each item.

    Parameters
    ----------
    name : str
        Of the project.
    fields : dict
        See `quantities_fields`.
    """
    shown = table(
        ("Code", "code"), ("Work", "text"), ("In place", "number"), ("Expected", "number"),
        ("Unit", "text"), ("Hours", "number"),
    )  # fmt: skip
    for one in fields["items"]:
        in_place = one["in_place"] if one["is_measured"] else "-"
        shown.add_row(
            one["code"], one["name"], in_place, one["expected"], one["unit"], one["hours"]
        )
    with page() as out:
        out.print(f"{name}, in place as of {fields['as_of']}\n")
        show_table(out, shown)
        lost = ", ".join(f"{hours} hr {reason}" for reason, hours in fields["lost_hours"].items())
        if lost:
            out.print(f"\nHours lost: {lost}")
