"""Made of what: recipes of work, the catalogue they stand in, order rounding and cautions.

Here belongs what turns an item's inputs into quantities of resources, still without money.
May import: errors, money, quantity, rates, production.
"""
