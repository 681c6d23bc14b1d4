"""All that a person may read about a refused request: (code, what happened, what to do), by HTTP status."""

SENTENCES = {
    400: ("malformed", "What was sent cannot be read.", "Send it again as /api/docs describes it."),
    403: (
        "foreign_origin",
        "This request comes from another site's page, so nothing was done.",
        "Open Easelside at its own address and do it there.",
    ),
    404: (
        "no_such_place",
        "There is nothing at this address.",
        "Look at /api/docs for the addresses that there are.",
    ),
    405: (
        "not_done_here",
        "This cannot be done at this address.",
        "The header Allow names what can be done here.",
    ),
    412: (
        "changed_since",
        "The record was changed since it was read, so nothing was stored.",
        "Read it again and send the change with its new ETag.",
    ),
    413: ("too_large", "What was sent is larger than the 1 MiB that are taken.", "Send it in smaller parts."),
    414: ("too_large", "The address is too long.", "Send less in it."),
    415: (
        "not_json",
        "Only JSON in UTF-8, uncompressed, is taken here.",
        "Send it with the header Content-Type: application/json.",
    ),
    421: (
        "foreign_host",
        "This server is not known by the host name that was asked for.",
        "Open it at the address that it printed when it started.",
    ),
    422: (
        "not_taken",
        "Some of what was sent cannot be taken.",
        "The list of errors says which parts and why.",
    ),
    500: (
        "went_wrong",
        "Something went wrong in Easelside, so this was not done.",
        "Try again; if it stays, run `easelside check` and read what it names.",
    ),
}
