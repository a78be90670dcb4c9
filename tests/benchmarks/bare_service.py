"""Bare Flask routes, the least that any service does: what ours is measured beside."""

from flask import Flask, request

app = Flask(__name__)


@app.get("/")
def bare() -> dict[str, str]:
    """Answer a fixed object."""
    return {"status": "live"}


@app.post("/")
def posted() -> dict[str, int]:
    """Read the JSON that was sent, and answer how many keys it has."""
    return {"keys": len(request.get_json())}
