"""Instances of the project scheduling library PSPLIB, set J30, as published."""

import json
from pathlib import Path

from estimator.scheduling.activities import Activity, Link

INSTANCES = json.loads((Path(__file__).parent / "psplib_j30.json").read_text(encoding="utf-8"))


def of_instance(instance):
    """Return the activities and the crews of an instance of the library."""
    codes = [str(i) for i in range(len(instance["durations"]))]
    links = {code: [] for code in codes}
    for code, after in zip(codes, instance["successors"], strict=True):
        for other in after:
            links[str(other)].append(Link(code))
    activities = [
        Activity(
            code, code, length, tuple(links[code]),
            {f"crew {k}": n for k, n in enumerate(needs) if n},
        )
        for code, length, needs in zip(
            codes, instance["durations"], instance["requests"], strict=True
        )
    ]  # fmt: skip
    return activities, {f"crew {k}": n for k, n in enumerate(instance["capacities"])}


def check_order(activities, there, order):
    """Check links and crews at every start, where needs can only rise."""
    for one in activities:
        for link in one.links:
            assert order.starts[one.code] >= order.finishes[link.after] + link.wait
    for moment in order.starts.values():
        for crew, number in there.items():
            busy = sum(
                one.needs.get(crew, 0)
                for one in activities
                if order.starts[one.code] <= moment < order.finishes[one.code]
            )
            assert busy <= number
