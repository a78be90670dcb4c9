"""Rate tables as a workbook, out and in, so that what comes back is the same characters.

May import: all floors of the library below, `workbook/writing/` and `workbook/reading/`.
"""
