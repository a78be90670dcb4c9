"""The ids that stand in examples, one for each kind of thing; invented, like all of the examples.

A test puts the ids of its own things in their place and sends every example.
"""

from __future__ import annotations

TOKEN = "3f1c0a52-6f0e-4b1d-9a66-1906a0000001"  # noqa: S105 -- an id, not the text
PROJECT = "3f1c0a52-6f0e-4b1d-9a66-1906a0000002"
PHASE = "3f1c0a52-6f0e-4b1d-9a66-1906a0000003"
ITEM = "3f1c0a52-6f0e-4b1d-9a66-1906a0000004"
QUOTE = "3f1c0a52-6f0e-4b1d-9a66-1906a0000005"
SHARE = "3f1c0a52-6f0e-4b1d-9a66-1906a0000006"
RATE_SET = "3f1c0a52-6f0e-4b1d-9a66-1906a0000007"
DRAFT = "3f1c0a52-6f0e-4b1d-9a66-1906a0000008"
PUBLISHED = "3f1c0a52-6f0e-4b1d-9a66-1906a0000009"
ROW = "3f1c0a52-6f0e-4b1d-9a66-1906a0000010"
ESTIMATE = "3f1c0a52-6f0e-4b1d-9a66-1906a0000011"
EARLIER_ESTIMATE = "3f1c0a52-6f0e-4b1d-9a66-1906a0000012"
SECOND_PHASE = "3f1c0a52-6f0e-4b1d-9a66-1906a0000013"
SECOND_ITEM = "3f1c0a52-6f0e-4b1d-9a66-1906a0000014"
