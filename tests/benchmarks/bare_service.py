"""A bare Flask route, the least that any service does: what ours is measured beside."""

from flask import Flask

app = Flask(__name__)


@app.get("/")
def bare() -> dict[str, str]:
    """Answer a fixed object."""
    return {"status": "live"}
