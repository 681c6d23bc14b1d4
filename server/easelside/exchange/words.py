"""All that a person may read about an exchange."""

PROBLEMS = {
    "too_large": "This change is larger than the 64 KiB that one change may have.",
    "not_a_change": "This change cannot be read: {detail}.",
    "bad_id": "The id of this change is not a lower-case UUID.",
    "bad_record": "This change names a record whose id is not a lower-case UUID.",
    "bad_kind": "This change names a kind that is not a plain lower-case word.",
    "bad_device": "This change names a device in a way that cannot be kept.",
    "bad_time": "This change has a time that is not one, like 2026-11-25T14:06:00.000Z.",
    "bad_version": "This change has a version below 1.",
    "bad_field": "This change names a field that is empty, too long or holds control characters.",
    "bad_saw": "This change says that it saw something that is not the id of a change.",
    "too_deep": "A value in this change is nested deeper than 20 levels.",
    "too_many": "This change sets more than 500 fields.",
}
