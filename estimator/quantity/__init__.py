"""How much: units, measures as a builder writes them, formulas, and take-off of quantities.

Here belongs what turns dimensions into quantities, without any price.
May import: errors, money.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
