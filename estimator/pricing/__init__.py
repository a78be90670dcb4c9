"""What it costs: scope in, estimate out, with the working of every figure.

Here belongs what multiplies quantities by rates, adds them up and explains them.
May import: errors, money, quantity, rates, production, assemblies, ranges, scope.
"""
