"""At what price, over HTTP: sets of rate tables, versions, rows, quotes of a project, assemblies.

Here belong routes, shapes and use cases of rates, and the tables a project is priced with. May
import the calculations and everything below; never projects or estimates.
"""
