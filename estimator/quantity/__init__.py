"""How much: units, measures as a builder writes them, formulas, and take-off of quantities.

Here belongs what turns dimensions into quantities, without any price.
May import: errors, money.
"""
