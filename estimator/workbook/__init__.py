"""Spreadsheets out and in: the printed estimate, the empty scope, and reading a filled one.

Here belongs everything that knows cells and sheets, and nothing that decides a figure.
May import: all floors of the library below.
"""
