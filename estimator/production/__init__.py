"""How fast: crews and the hours they take.

Here belongs who works together and how much they do in an hour.
May import: errors, money, quantity, rates.
"""
