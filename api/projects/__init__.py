"""What is to be done, over HTTP: projects, shares, phases, items, and whole scopes in and out.

Here belong routes, shapes and use cases of a project's scope. May import the rates and everything
below; never estimates.
"""
