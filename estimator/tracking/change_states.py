"""The states of a change of the budget."""

DRAFT, SUBMITTED, APPROVED, REJECTED = "draft", "submitted", "approved", "rejected"
CHANGE_STATES = (DRAFT, SUBMITTED, APPROVED, REJECTED)
