"""Who may ask what how often: sign-in, roles, limits, and the tokens of an account.

Here belongs what stands between a request and its route. May import `api.contract`, settings and
the store; never a subject.
"""
