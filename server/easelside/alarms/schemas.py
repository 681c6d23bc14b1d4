"""What may be said about bell, calendar and push over REST?"""

import marshmallow as ma
from marshmallow import validate

from easelside.web.fields import Closed, Instant, Number, Text, Uuid, Whole, YesNo

HERE_ONLY = {
    "description": "Which browser on the machine itself it is; a paired device is known by its pairing"
}


class Nothing(Closed):
    pass


class BellSchema(Closed):
    there = YesNo(metadata={"description": "The workshop's server was given a command to ring with"})
    ringing = YesNo()
    works = YesNo(metadata={"description": "How the last ring went; null: it has not rung yet"})


class CalendarSchema(Closed):
    on = YesNo(metadata={"description": "There is a private address"})
    since = Instant()


class CalendarMadeSchema(Closed):
    path = ma.fields.String(
        required=True, metadata={"description": "The private address, told this once; only its hash is kept"}
    )
    address = Text(metadata={"description": "The same as other devices find it; null where none can"})
    square = Text(20_000, metadata={"description": "That address as a QR code, an SVG"})


class PushSwitchSchema(Closed):
    on = ma.fields.Boolean(required=True)
    contact = ma.fields.String(
        load_default=None,
        allow_none=True,
        validate=[validate.Length(max=200), validate.Regexp(r"^(mailto:[^@\s]+@[^@\s]+|https://[^\s]+)\Z")],
        metadata={
            "description": "mailto: or https:, by which a push service may ask (RFC 8292); may be left out"
        },
    )


class PushedDeviceSchema(Closed):
    id = Text()
    device = Text(metadata={"description": "The name under which it writes in the records"})
    service = Text(metadata={"description": "The push service's host"})
    since = Instant()
    went_well = Instant(metadata={"description": "When the service last took a message"})
    went_wrong = Text(metadata={"description": "Why it last did not; null after it did"})


class PushSchema(Closed):
    on = YesNo()
    public_key = Text(metadata={"description": "The applicationServerKey to subscribe with"})
    devices = ma.fields.List(ma.fields.Nested(PushedDeviceSchema))


class PushKeysSchema(Closed):
    p256dh = ma.fields.String(required=True, validate=validate.Length(max=100))
    auth = ma.fields.String(required=True, validate=validate.Length(max=40))


class SubscriptionSchema(Closed):
    device = Uuid(load_default=None, metadata=HERE_ONLY)
    endpoint = ma.fields.String(required=True, validate=validate.Length(max=2048))
    keys = ma.fields.Nested(PushKeysSchema, required=True)
    expirationTime = Number(0, 1e15, metadata={"description": "As the browser gives it; passed over"})


class SubscribedSchema(Closed):
    id = Text()


class TrialSchema(Closed):
    device = Uuid(load_default=None, metadata=HERE_ONLY)


class TrialSentSchema(Closed):
    messages = Whole(metadata={"description": "How many are on their way"})
