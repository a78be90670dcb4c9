"""`/v1/calculations`: the library for other programs, without anything being kept.

Here belongs reading what is asked and telling what the library found; no arithmetic. May import
`estimator`, inside the functions that need it, `api.contract` and `api.access`; never the store.
"""
