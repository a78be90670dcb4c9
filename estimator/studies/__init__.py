"""What if: methods side by side, how sure an estimate is, what differs between two estimates.

Here belongs what prices the same work more than once and says what follows.
May import: everything from errors to pricing.
"""
