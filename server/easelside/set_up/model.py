"""What is known of a machine and of one whole setting of it?

A setting is never edited: a change is a new one, and the newest `at` is current.
"""

DOES = ("profile", "gouge", "shape", "tip", "other")
INSTRUMENTS = ("bassoon", "contrabassoon", "oboe", "cor_anglais", "other")
TURN_HABITS = ("passes", "halves")
TURN_SENSES = ("clockwise", "anticlockwise")
WAYS = ("turns", "mm", "words")
