"""An invented workshop: a year in totals, the last month piece by piece, ending on the day it is loaded."""
