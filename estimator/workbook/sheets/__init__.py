"""The sheets of our workbooks about estimates and comparisons, one module a sheet.

May import: all floors of the library below, and `workbook/writing/`.
"""
