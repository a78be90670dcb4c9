"""The sample project; everything in it is invented.

Here belong the scope of "Harrow Lane Carbarn", its folder of quotes, ten weeks of entries of its
books with the script that makes them, and the example that a new project starts from.
May import: money, rates, pricing, tracking.
"""
