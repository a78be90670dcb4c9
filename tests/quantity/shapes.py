"""Ranges of dimensions that a building has, for property tests."""

import math

from hypothesis import strategies as st

feet = st.floats(0.01, 5_000)
inches = st.floats(0.05, 200)
depths_ft = st.floats(0, 60)
areas_sf = st.floats(0.1, 1e6)
fractions = st.floats(0, 1)
no_dimensions = [-1.0, math.nan, math.inf, -math.inf, 1e10]
