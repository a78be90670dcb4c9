"""The draw, from the terms of the loan to the release of retainage: stored, frozen, decided."""
