"""Examples of the specification, all invented; a test sends each and compares what comes back."""

from __future__ import annotations

from typing import Any

SCOPE_TEXT = """\
project: Harrow Lane Carbarn
on: 2026-03-02
markups: []
phases:
  - code: "30"
    name: Pits filled
    items:
      - code: "020"
        name: Stone fill, west pit
        assembly: stone-fill-skid-steer
        inputs:
          length: 62 ft 6 in
          width: 22'-4"
          depth: [2 ft, 6 ft 3 in]
        methods:
          - name: wheeling it in by skid steer
          - name: throwing it in by conveyor truck
            assembly: stone-fill-conveyor-hired
"""
ESTIMATE: dict[str, Any] = {"scope": SCOPE_TEXT, "on": "2026-03-02"}
RISK: dict[str, Any] = {"scope": SCOPE_TEXT, "on": "2026-03-02", "confidence": "0.8", "seed": 1906}
COMPARISON: dict[str, Any] = {"scope": SCOPE_TEXT, "item": "30.020", "day_worth": "310.00"}
VOLUMES: dict[str, Any] = {
    "parts": [
        {
            "name": "west pit",
            "shape": "two-depths",
            "dimensions": {"area_sf": "260", "near_depth_ft": "1", "far_depth_ft": "7.25"},
        }
    ]
}
VOLUMES_ANSWER: dict[str, Any] = {
    "parts": [{"name": "west pit", "shape": "two-depths", "value": "1072.5", "unit": "cf"}]
}
REINFORCING: dict[str, Any] = {
    "parts": [
        {
            "name": "mat of the slab",
            "shape": "bar-mat",
            "dimensions": {
                "length_ft": "62.5", "width_ft": "20", "spacing_in": "18", "cover_in": "3",
            },
        }
    ]
}  # fmt: skip
REINFORCING_ANSWER: dict[str, Any] = {
    "parts": [{"name": "mat of the slab", "shape": "bar-mat", "value": "1706.5", "unit": "lf"}]
}
RENTAL: dict[str, Any] = {
    "days": 4,
    "meter_hours": "20",
    "rates": {"day": "295.00", "week": "1040.00", "month": "2950.00"},
    "terms": {
        "delivery": "125.00",
        "pick_up": "125.00",
        "damage_waiver_fraction": "0.15",
        "environmental_fee_fraction": "0.02",
    },
}
RENTAL_ANSWER: dict[str, Any] = {
    "span_days": 4,
    "months": 0,
    "weeks": 1,
    "days": 0,
    "over_hours": "0.00",
    "rent": "1040.00",
    "over_hour_charge": "0.00",
    "cost": "1040.00",
    "bill": {
        "rent": "1040.00",
        "over_hours": "0.00",
        "damage_waiver": "156.00",
        "environmental_fee": "20.80",
        "delivery": "125.00",
        "pick_up": "125.00",
        "fuel": "0.00",
        "total": "1466.80",
    },
    "break_even": [
        {"shorter": "day", "longer": "week", "count": 4},
        {"shorter": "week", "longer": "month", "count": 3},
        {"shorter": "day", "longer": "month", "count": 10},
    ],
}
PRODUCTION: dict[str, Any] = {
    "name": "trucks",
    "carriers": 3,
    "load": {"size": "12", "unit": "cy"},
    "cycle": [
        {"step": "load", "minutes": "6", "station": "loader"},
        {"step": "haul, dump, return", "minutes": "18"},
    ],
    "stations": [{"name": "loader"}],
}
PRODUCTION_ANSWER: dict[str, Any] = {
    "name": "trucks", "unit": "cy", "cycle_minutes": "24.0", "at_best_per_hr": "90.0",
    "bottlenecks": ["carriers"],
}  # fmt: skip
OVERTIME: dict[str, Any] = {
    "worked": [{"hours": "46", "rate_per_hr": "12"}],
    "bonus": "46.00",
}
OVERTIME_ANSWER: dict[str, Any] = {
    "hours": "46",
    "overtime_hours": "6",
    "regular_rate": "13.00",
    "straight_pay": "598.00",
    "overtime_premium": "39.00",
    "cash_fringe": "0.00",
    "total": "637.00",
}
