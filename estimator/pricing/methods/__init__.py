"""Which way to do it: the methods of one item priced side by side, and where the better flips.

May use the rest of pricing and the floors below; a scope holds methods, so that nothing here but
`comparison` and what stands on it may import the scope.
"""
