"""How sure: ranges around quantities, rates and durations, and what they do to a total.

Here belongs what turns low, likely and high into percentiles, contingency, drivers and dates.
May import: errors, money, quantity, rates, production, assemblies; it knows no scope.
"""
