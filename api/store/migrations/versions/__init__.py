"""The numbered steps of the schema, `v0001_...` first.

Here belongs one module a step, with `upgrade` and `downgrade`; may import the kinds of column
and `api.store.migrations`, never a model, which may say something else tomorrow.
"""
