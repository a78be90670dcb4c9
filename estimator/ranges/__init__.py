"""How sure: ranges around quantities, rates and durations, and what they do to a total.

Here belongs what turns low, likely and high into percentiles, contingency, drivers and dates.
May import: errors, money, quantity, rates, production, assemblies; it knows no scope.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
