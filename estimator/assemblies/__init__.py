"""Made of what: assemblies and their catalogue, order rounding, cautions, all tables, markups.

Here belongs what turns an item's inputs into quantities of resources, and the tables that hold it.
May import: errors, money, quantity, rates, production.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
