"""How sure an estimate is: its lines with their ranges, contingency, drivers and dates together.

May import: pricing and the floors below.
"""
