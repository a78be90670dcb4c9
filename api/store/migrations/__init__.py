"""The schema in numbered steps, up and down, the same on SQLite and PostgreSQL.

Here belong the steps (`versions/`), the triggers that guard what is final, and the way to apply
them. A step names its columns by the kinds in `api.store.columns` and never imports a model.

To add a step: change the model, write `versions/vNNNN_what.py` with `revision` and
`down_revision`, `upgrade` and `downgrade`; change a table that exists through `schema.rebuilt`,
with the guards it has; add new guards to `final.py`. The tests compare schema and models.
"""
