"""Blades: where each one is, and which edge was cutting at a time."""
