"""Groundsill's calculation library: what restoration work takes, and what it costs.

The front door: `import estimator` gives what `__init__.pyi` lists, each loaded when it is first
used; docs/library.md shows it at work. The calculations stand by floor, with the same kind of door:
`estimator.quantity.takeoff`, `estimator.rates.labor`, `estimator.production` and others.

A module imports only from the floors below its own; nothing here knows the web or a database,
reads a clock or the environment, or draws unseeded random numbers.
"""

import lazy_loader

__version__ = "0.1.0"
__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
