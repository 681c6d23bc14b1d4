"""Alarms: what calls the maker back to the bench: its bell, the phone's calendar, a message by push."""
