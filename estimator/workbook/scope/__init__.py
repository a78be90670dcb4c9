"""A scope as a workbook: the template to fill in, and reading it back.

May import: all floors of the library below, `workbook/writing/` and `workbook/reading/`.
"""
