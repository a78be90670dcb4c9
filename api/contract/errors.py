"""What a request can get wrong, in the family of `estimator.errors`: a sentence, a stable code."""

from __future__ import annotations

from estimator.errors import Fault, InputFaulty


class BodyFaulty(InputFaulty):
    """The body is not JSON as this service reads it: damaged, ambiguous or nested too deeply."""

    code = "body-faulty"


class FieldsFaulty(InputFaulty):
    """Fields of the request are missing, unknown or not what they should be."""

    code = "fields-faulty"


class MediaTypeUnfit(InputFaulty):
    """The body is of a kind that the route does not take."""

    code = "media-type-unfit"


class LengthMissing(InputFaulty):
    """The request does not say how long its body is."""

    code = "length-missing"


class BodyTooLarge(InputFaulty):
    """The body is longer than the route takes, or holds more rows; nothing of it was used."""

    code = "body-too-large"


class PreconditionMissing(InputFaulty):
    """A change must say in `If-Match` which version it is a change of."""

    code = "precondition-missing"


class KeyFaulty(InputFaulty):
    """A request that creates something needs an `Idempotency-Key` of its own."""

    code = "key-faulty"


class CursorFaulty(InputFaulty):
    """A cursor was altered, or belongs to another list, filter or token."""

    code = "cursor-faulty"


class NotSignedIn(InputFaulty):
    """There is no token, or not one that is valid now."""

    code = "not-signed-in"


class NotAllowed(InputFaulty):
    """The role of the token does not include this."""

    code = "not-allowed"


class TooManyRequests(InputFaulty):
    """More requests than a minute may have; the same will do a little later."""

    code = "too-many-requests"

    def __init__(self, what: str, wait_s: float) -> None:
        super().__init__([Fault("", what, f"wait {max(1, -int(-wait_s // 1))} s")])
        self.wait_s = wait_s
