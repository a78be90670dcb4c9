"""The books of a project: what was billed, paid, delivered, worked and measured; only added to."""
