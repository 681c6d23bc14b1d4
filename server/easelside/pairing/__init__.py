"""Who may come in, by which code, and who is at which machine."""
