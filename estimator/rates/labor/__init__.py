"""What an hour of labor costs: taxes, overtime, burden, and the owner's own hours.

Here belongs what turns a wage into the rate of a labor resource.
May import: errors, money, quantity, and the rows of this floor.
A number that cannot be (docs/library.md tells the one rule) is refused with `LaborFaulty`:
"Raises" lists only what a function refuses beyond that.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
