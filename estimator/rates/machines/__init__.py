"""What a machine costs: rented by the day, week and month, or owned and run.

Here belongs what turns prices of machines into the rate of an equipment resource.
May import: errors, money, quantity, and the rows of this floor.
A number that cannot be (docs/library.md tells the one rule) is refused with `EquipmentFaulty`:
"Raises" lists only what a function refuses beyond that.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
