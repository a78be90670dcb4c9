"""Charts of what the library finds, drawn to SVG and PNG; the same findings give the same bytes.

May use pricing and all below; no figures are worked out here, and no workbook is written.
"""
