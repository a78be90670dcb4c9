"""Pages for paper as PDF: typeface, tables that run over pages, and the package of a draw.

Here belongs everything that knows a printed page, and nothing that decides a figure.
May import: funding and the floors below it, and the colors of the charts.
"""
