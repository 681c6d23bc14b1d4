"""Batches: lots as bought, batches through the stages, tallies of what was not tapped."""
