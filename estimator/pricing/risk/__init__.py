"""How sure an estimate is: its lines with their ranges, contingency, drivers and dates together.

May use the estimate, `ranges` and all below; `ranges` knows no estimate and no scope.
"""
