"""Take-off: quantities of work from its dimensions, each function pure, with units in its names.

Here belongs what a handbook has a formula for: volumes, concrete, masonry, timber, debris.
May import: errors, money, and the units and rounding of this floor.
A number that cannot be (docs/library.md tells the one rule) is refused with `GeometryFaulty`:
"Raises" lists only what a function refuses beyond that.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
