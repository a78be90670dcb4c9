"""Made of what: assemblies and their catalogue, order rounding, cautions, all tables, markups.

Here belongs what turns an item's inputs into quantities of resources, and the tables that hold it.
May import: errors, money, quantity, rates, production.
"""
