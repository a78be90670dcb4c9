"""How sure is it: ranges around quantities, rates and durations, and what they do to the total.

Here belongs what turns low, likely and high into percentiles, contingency, drivers and dates.
May import: errors, money, quantity, rates, production, assemblies, the rest of pricing.
"""
