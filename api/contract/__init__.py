"""What every route keeps to: reading bodies, fields, problems, versions, keys, cursors, answers.

Here belongs what HTTP asks of all subjects alike. May import settings, `api.store` and
`estimator.errors`; never a subject, and never the arithmetic of `estimator`.
"""
