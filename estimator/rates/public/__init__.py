"""Public wages and employer taxes that ship, and the table of labor rates built from them."""
