"""What a sentence about the cheapest method claims, read back from its text."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.studies.comparison.varied import Varied

Prices = Mapping[str, Decimal]

_HOURS = re.compile(r"(?:(\d+) hr)?(?: ?([\d.]+) min)?")


@dataclass(frozen=True)
class Claim:
    """A sentence, the values that it covers in the unit of what is varied, and whom it names."""

    sentence: str
    first: Decimal
    last: Decimal
    names: tuple[str, ...]
    under: Decimal | None

    def is_contradicted(self, prices: Prices) -> bool:
        """Whether prices at a value that the sentence covers say otherwise."""
        best = min(prices.values())
        named = [prices[name] for name in self.names]
        if self.under is not None:
            return min(named) > best or max(named) - best >= self.under
        others = [price for name, price in prices.items() if name not in self.names]
        return set(named) != {best} or min(others, default=best + 1) <= best


def claim_of(sentence: str, varied: Varied, methods: Sequence[str]) -> Claim:
    """Return what a sentence claims."""
    lead = f"while {varied.subject} {varied.verb} "
    assert sentence.startswith(lead), sentence
    span, _, answer = sentence.removeprefix(lead).partition(", ")
    first, last = _span(span, varied)
    answer, _, bound = answer.partition("; the difference stays under $")
    names = tuple(name for name in methods if name in answer)
    under = Decimal(bound.replace(",", "")) if bound else None
    assert answer == _answer(names, varied, is_by_turns=under is not None), sentence
    return Claim(sentence, first, last, names, under)


def _answer(names: Sequence[str], varied: Varied, *, is_by_turns: bool) -> str:
    if len(names) == 1:
        return f"{names[0]} is cheapest"
    if not is_by_turns:
        return f"{_listed(names, 'and')} cost the same, and least"
    if varied.is_money:
        return f"{_listed(names, 'or')} is cheapest"
    return f"whole loads and hours decide between {_listed(names, 'and')}"


def _listed(names: Sequence[str], joint: str) -> str:
    return f" {joint} ".join([", ".join(names[:-1]), names[-1]])


def _span(span: str, varied: Varied) -> tuple[Decimal, Decimal]:
    if not span.startswith("between "):
        return _value(span, varied), _value(span, varied)
    low, _, high = span.removeprefix("between ").partition(" and ")
    if not low.endswith((" hr", " min")):
        low = " ".join([low, *high.split(" ")[1:]])
    return _value(low, varied), _value(high, varied)


def _value(text: str, varied: Varied) -> Decimal:
    """Return a value that a sentence prints, in the unit of what is varied."""
    if varied.unit.name == "min":
        match = _HOURS.fullmatch(text)
        assert match, text
        return Decimal(match[1] or 0) * 60 + Decimal(match[2] or 0)
    number, _, unit = text.partition(" ")
    exact = Decimal(number.replace(",", "").removeprefix("$"))
    if varied.unit.name == "fraction":
        assert unit == "%", text
        return exact / 100
    return exact
