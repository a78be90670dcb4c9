"""Ranges around quantities, rates and durations, and what they do to a total.

Here belongs what turns low, likely and high into percentiles, contingency, drivers and dates.
May import: errors, money, quantity, rates, production, and of pricing only markups and readers of
located text; a scope holds ranges, so that nothing here knows a scope or an estimate.
"""
