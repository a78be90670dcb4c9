"""What it costs, over HTTP: stored estimates with lines, differences, comparisons and ranges.

Routes, schemas and use cases of stored estimates belong here. May import projects, rates and
everything below.
"""
