"""The shelf: the records that are in play now, at hand without asking the logbook."""
