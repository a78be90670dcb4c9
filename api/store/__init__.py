"""The database: models, sessions of one account, migrations, the audit trail, backup, moving.

Here belongs everything that knows the database. May import all of `estimator`, never Flask;
imports nothing heavy but SQLAlchemy, so that an idle worker stays small.
"""
