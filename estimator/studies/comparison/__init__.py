"""The methods of one item priced side by side: cost, days, and where the better choice flips.

May import: pricing and the floors below; neither a scope nor an estimate knows of it.
"""
