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
SCHEDULE: dict[str, Any] = {"scope": SCOPE_TEXT, "start": "2026-04-06", "crew": {"laborer": 3}}
SCHEDULE_FILE: dict[str, Any] = {"scope": SCOPE_TEXT, "start": "2026-04-06", "form": "ics"}
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
    "tiers_from": [
        {"tier": "day", "days": 1},
        {"tier": "week", "days": 4},
        {"tier": "month", "days": 17},
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
SOIL: dict[str, Any] = {
    "weights": {"bank_lb_per_cy": "3000", "loose_lb_per_cy": "2400", "compacted_lb_per_cy": "3750"},
    "volumes": [
        {"volume_cy": "100", "state": "bank"},
        {"volume_cy": "25", "state": "loose"},
    ],
    "truck": {"body_cy": "12", "payload_ton": "13"},
}
SOIL_ANSWER: dict[str, Any] = {
    "bank_cy": "120.0",
    "loose_cy": "150.0",
    "compacted_cy": "96.0",
    "truckloads": {"by_volume": 13, "by_weight": 14, "needed": 14},
}
LOADER: dict[str, Any] = {
    "bucket": "16",
    "cycle_minutes": "0.75",
    "efficiency": "0.75",
    "truck": {"body": "78", "away_minutes": "6"},
}
LOADER_ANSWER: dict[str, Any] = {
    "output_per_hr": "960.0",
    "truck": {"passes": 4, "truck_load": "64.0", "load_minutes": "3.0", "trucks": 4},
}
ROLLER: dict[str, Any] = {
    "width_ft": "4.5",
    "speed_mph": "3",
    "lift_in": "6",
    "passes": 4,
    "flow_cy_per_hr": "700",
}
ROLLER_ANSWER: dict[str, Any] = {"output_cy_per_hr": "330.0", "rollers": 3}
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
SALARY: dict[str, Any] = {
    "salary": "1040.00",
    "periods_per_year": 12,
    "salary_hours": "40",
    "hours": "46",
}
SALARY_ANSWER: dict[str, Any] = {
    "hours": "46",
    "overtime_hours": "6",
    "regular_rate": "6.00",
    "straight_pay": "276.00",
    "overtime_premium": "18.00",
    "cash_fringe": "0",
    "total": "294.00",
}
BONUS: dict[str, Any] = {"bonus": "100.00", "week_hours": ["40", "50"]}
BONUS_ANSWER: dict[str, Any] = {"bonus": "100.00", "overtime": "5.00", "total": "105.00"}
LABOR: dict[str, Any] = {
    "wage": {"wage_per_hr": "24.00", "plan_fringe_per_hr": "1.50"},
    "straight_hours": "2000",
    "overtime_hours": "100",
    "taxes": [
        {"name": "social security", "fraction": "0.062", "wage_base": "184500.00"},
        {"name": "Medicare", "fraction": "0.0145"},
        {"name": "federal unemployment", "fraction": "0.006", "wage_base": "7000.00"},
        {"name": "state unemployment", "fraction": "0.027", "wage_base": "9500.00"},
    ],
    "insurance": [
        {"name": "workers' compensation", "per_100": "9.00", "modifier": "0.95"},
        {"name": "general liability", "per_100": "1.20"},
    ],
    "time_off": {
        "leave_hours": "120",
        "break_minutes_per_day": "30",
        "shift_hours": "8",
        "working_minutes_per_hr": "50",
    },
}
LABOR_ANSWER: dict[str, Any] = {
    "paid_hours": "2100",
    "straight_pay": "50400.00",
    "overtime_premium": "1200.00",
    "cash_fringe": "0.00",
    "plan_fringe": "3150.00",
    "taxes": [
        {"name": "social security", "base": "51600.00", "amount": "3199.20"},
        {"name": "Medicare", "base": "51600.00", "amount": "748.20"},
        {"name": "federal unemployment", "base": "7000.00", "amount": "42.00"},
        {"name": "state unemployment", "base": "9500.00", "amount": "256.50"},
    ],
    "insurance": [
        {"name": "workers' compensation", "base": "50400.00", "amount": "4309.20"},
        {"name": "general liability", "base": "50400.00", "amount": "604.80"},
    ],
    "tax_sources": [],
    "gross_pay": "51600.00",
    "burden": "12309.90",
    "cost": "63909.90",
    "paid_hour": {
        "wage": "24.0000",
        "overtime_premium": "0.5714",
        "fringe": "1.5000",
        "taxes": "2.0219",
        "insurance": "2.3400",
        "total": "30.4333",
    },
    "productive_hours": "1546.88",
    "productive_hour": "41.3154",
}
MACHINE: dict[str, Any] = {
    "machine": {
        "value": "45000.00",
        "life_hours": "5000",
        "hours_per_year": "1000",
        "salvage_fraction": "0.20",
    },
    "running": {
        "horsepower": "70",
        "power_factor": "0.50",
        "fuel": "diesel",
        "fuel_per_gal": "4.00",
        "service_fraction": "0.25",
        "repair_fraction": "0.60",
    },
    "annual_rate_fraction": "0.08",
    "rent_instead": {"rent_per_hr": "36.88", "hours": "200", "other_per_year": "900.00"},
}
MACHINE_ANSWER: dict[str, Any] = {
    "value": "45000.00",
    "depreciation": "7.20",
    "cost_of_money": "2.45",
    "fuel": "7.20",
    "fuel_gal_per_hr": "1.8000",
    "filters_oil_grease": "1.80",
    "tire_wear": "0.00",
    "tire_repair": "0.00",
    "repair": "5.40",
    "owning": "9.65",
    "running": "14.40",
    "total": "24.05",
    "standby": "6.05",
    "year": {
        "hours": "200",
        "fixed_per_year": "10550.00",
        "owned": "13430.00",
        "rented": "8816.00",
        "break_even_hours": "355.46",
    },
}
