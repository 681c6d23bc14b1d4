"""Housekeeping: what the server does by itself at night."""
