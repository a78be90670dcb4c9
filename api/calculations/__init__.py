"""`/v1/calculations`: the library for other programs; nothing is stored.

Reading requests and returning the library's results belong here; no arithmetic. May import
`estimator`, inside the functions that need it, `api.contract` and `api.access`; never the store.
"""
