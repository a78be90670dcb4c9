"""Entries of the books on sheets: written with drop-down lists to be filled in, and read back.

May import: workbook writing and reading, tracking and below.
"""
