"""What stays for good once it is loaded? Libraries; the search for garbage need not go through them again.

Such a search stops everything: with the libraries that fit forecasts it takes some tenths of a second, in
which no phone is answered.
"""

import gc
import sys


class Loaded:
    def __init__(self) -> None:
        self._modules = 0

    def keep(self) -> None:
        """Where something was loaded since the last time: one last search, then it is passed over."""
        if len(sys.modules) > self._modules:
            self._modules = len(sys.modules)
            gc.collect()
            gc.freeze()
