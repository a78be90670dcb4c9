"""The colors of the house, on paper and on screen: warm grays and one brick-red accent."""

INK, GRAY, ACCENT = "2B2B2B", "6B665E", "9A4A32"
RULE, BAND, PAPER = "CFC9BE", "F1EDE6", "FBF6E3"

# Told apart by lightness too, so that they survive a gray print and most color blindness.
SERIES = (ACCENT, "2F5D62", "C9A227", "6C5B7B", "7A9E5F", "3B3B3B", "B0745A", "8FA7B3")
