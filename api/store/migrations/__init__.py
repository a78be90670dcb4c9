"""The schema in numbered steps, up and down, the same on SQLite and PostgreSQL.

Here belong the steps (`versions/`), the triggers that guard what is final, and the way to apply
them. A step names its columns by the kinds in `api.store.columns` and never imports a model.
"""
