"""The rate tables that ship, as CSV files; installed under the name `groundsill_rates`.

Only data belongs here. `docs/rate-tables.md` describes the columns; every row names its source.
"""
