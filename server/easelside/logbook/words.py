"""All that a person may read about the logbook's state, beside the errors' own sentences."""

SERVER_CLOCK = (
    "All phones agree that this machine's clock is {minutes:+.0f} minutes off.",
    "Look at the clock of this machine.",
)
