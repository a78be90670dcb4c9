"""How anybody's workbook is read safely: guard, a process of its own, rows of text cells.

May import: errors and located text; knows no estimate.
"""
