"""The cost lines of an estimate as a frame."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from estimator.pricing.priced_lines import PricedLines
from estimator.scope.scope import Scope

if TYPE_CHECKING:
    import pandas as pd


def line_frame(scope: Scope, lines: PricedLines) -> pd.DataFrame:
    """Return the frame that `Estimate.lines` describes."""
    import pandas as pd

    def words(values: Sequence[str], positions: np.ndarray) -> pd.Categorical:
        known = {word: n for n, word in enumerate(dict.fromkeys(values))}
        codes = np.array([known[word] for word in values], dtype=np.int64)[positions]
        return pd.Categorical.from_codes(codes, categories=pd.Index(list(known), dtype=object))

    rates, kind_of_line = lines.rates, lines.kind_of_line
    scale = 10.0**lines.decimals
    of_phase = [phase.code for phase in scope.phases for _ in phase.items]
    exact_rates = np.empty(len(rates), dtype=object)
    exact_rates[:] = [rate.rate for rate in rates]
    return pd.DataFrame(
        {
            "phase": words(of_phase, lines.item),
            "item": words([item.code for item in scope.items], lines.item),
            "line": lines.number,
            "assembly": words(
                [assembly.code for assembly, _ in lines.assembly_lines], kind_of_line
            ),
            "resource": words([rate.code for rate in rates], kind_of_line),
            "name": words([rate.name for rate in rates], kind_of_line),
            "kind": words([rate.kind for rate in rates], kind_of_line),
            "unit": words([rate.unit.name for rate in rates], kind_of_line),
            "net": lines.net / scale,
            "waste": lines.waste / scale,
            "ordered": lines.ordered / scale,
            "left_over": lines.left_over / scale,
            "decimals": lines.decimals,
            "rate": exact_rates[kind_of_line],
            "source": words([rate.source for rate in rates], kind_of_line),
            "rate_row": words([str(rate.origin) for rate in rates], kind_of_line),
            "paid": np.array([rate.is_paid for rate in rates])[kind_of_line],
            "cents": lines.cents,
        }
    )
