"""At what price: the resource rates, their dates and the order in which tables are stacked.

Here belongs what finds and reads the price of one unit of a resource.
May import: errors, money, quantity.
"""
