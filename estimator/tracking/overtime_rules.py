"""The rules by which overtime is paid at two rates, by the names that the books have for them."""

AVERAGE_RATE = "weighted average"
RATE_IN_EFFECT = "rate in effect"
