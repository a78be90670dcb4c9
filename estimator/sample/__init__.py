"""The data files of the sample project; everything in them is invented.

Here belong the scope of "Harrow Lane Carbarn" and its folder of quotes, and no code.
May import: nothing.
"""
