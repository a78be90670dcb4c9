"""What a request can get wrong, in the family of `estimator.errors`: a sentence, a stable code."""

from __future__ import annotations

from estimator.errors import Fault, InputFaulty


class BodyFaulty(InputFaulty):
    """The body is not JSON that this service can read: damaged, ambiguous or nested too deeply."""

    code = "body-faulty"


class FieldsFaulty(InputFaulty):
    """Fields of the request are missing, unknown or not what they should be."""

    code = "fields-faulty"


class MediaTypeUnfit(InputFaulty):
    """A body of this type is not accepted on this route."""

    code = "media-type-unfit"


class LengthMissing(InputFaulty):
    """The request does not say how long its body is."""

    code = "length-missing"


class BodyTooLarge(InputFaulty):
    """The request is too long, has too many rows or asks for too much work; none of it was used."""

    code = "body-too-large"


class PreconditionMissing(InputFaulty):
    """A change must name in `If-Match` the version that it changes."""

    code = "precondition-missing"


class KeyFaulty(InputFaulty):
    """A request that creates something needs an `Idempotency-Key` of its own."""

    code = "key-faulty"


class CursorFaulty(InputFaulty):
    """The cursor was altered, or belongs to another list, filter or token."""

    code = "cursor-faulty"


class NotSignedIn(InputFaulty):
    """There is no token, or it is not valid now."""

    code = "not-signed-in"


class NotAllowed(InputFaulty):
    """The token's role does not allow this."""

    code = "not-allowed"


class TooManyRequests(InputFaulty):
    """Too many requests in this minute; wait, then send it again."""

    code = "too-many-requests"

    def __init__(self, what: str, wait_s: float) -> None:
        super().__init__([Fault("", what, f"wait {max(1, -int(-wait_s // 1))} s")])
        self.wait_s = wait_s
