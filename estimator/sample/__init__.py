"""The data files of the sample project; everything in them is invented.

Here belong the scope of "Harrow Lane Carbarn", its folder of quotes, and the example that a new
project starts from; no code.
May import: nothing.
"""
