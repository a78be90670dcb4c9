"""What it costs, over HTTP: stored estimates with lines, differences, comparisons and ranges.

Here belong routes, shapes and use cases of what is priced and kept. May import projects, rates and
everything below.
"""
