"""How many requests does the server work on at once, and how much of them does it take?"""

from easelside.web.guard import READ_AWAY

THREADS = 44
FOR_EXCHANGES = 12  # of them, never held by a device that listens for changes
AT_CLOSING = "at_closing"  # in the application's extensions: what ends the requests that have no end
# The application refuses above 1 MiB with a sentence; this is for what does not even say its length.
LONGEST_BODY = 2 * READ_AWAY
