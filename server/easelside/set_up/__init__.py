"""Set-up: machines, their whole settings, and what is looked over before the first piece."""
