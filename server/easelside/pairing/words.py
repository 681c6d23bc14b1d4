"""All that a person may read about pairing, on the server's side."""

NAMES = (
    ("ipad", "Tablet"),
    ("tablet", "Tablet"),
    ("iphone", "Phone"),
    ("mobile", "Phone"),
    ("android", "Tablet"),
)
OTHER_NAME = "Computer"


def name_for(user_agent: str) -> str:
    """A first name for a device that told none; the maker gives it a better one."""
    said = user_agent.lower()
    return next((name for mark, name in NAMES if mark in said), OTHER_NAME)
