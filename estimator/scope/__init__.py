"""The work to be priced: a scope and its readers, the methods and ranges that it states.

Here belongs what turns YAML or a workbook's text into a checked scope, and back into text.
May import: errors, money, quantity, rates, production, assemblies, ranges.
"""
