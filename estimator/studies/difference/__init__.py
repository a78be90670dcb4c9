"""What changed between two estimates, or between two sets of rates and the work they price.

May import: pricing and the floors below.
"""
