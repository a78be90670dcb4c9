"""Groundsill's calculation library: what restoration work takes, and what it costs.

Floors, lowest first: errors, money, quantity, rates, production, assemblies, pricing, workbook.
A module imports only from the floors below its own; nothing here knows the web or a database,
reads a clock or the environment, or draws unseeded random numbers.
"""

__version__ = "0.1.0"
