"""How fast: crews and the hours they take.

Here belongs who works together and how much they do in an hour.
May import: errors, money, quantity, rates.
A number that cannot be (docs/library.md tells the one rule) is refused with `ProductionFaulty` or
`LaborFaulty`:
"Raises" lists only what a function refuses beyond that.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
