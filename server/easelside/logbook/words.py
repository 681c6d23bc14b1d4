"""All that a person may read about the logbook's state, beside the errors' own sentences."""

SERVER_CLOCK = (
    "All phones agree that this machine's clock is {minutes:+.0f} minutes off.",
    "Look at the clock of this machine.",
)

RESTORE = (
    'Run `easelside restore "{backup}" --data "{folder}"`: it is read through before it is put in place.'
)
RESTORE_ANY = "Run `easelside restore` with your newest backup: it is read through before it is put in place."
