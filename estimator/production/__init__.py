"""How fast: crews and the hours they take.

Here belongs who works together and how much they do in an hour.
May import: errors, money, quantity, rates.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
