"""Rates adjusted to another day and place: indexes, yearly change, location factors, new rows.

Here belongs what makes a new set of tables out of an old one.
May import: errors, money, quantity, and the tables of this floor.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
