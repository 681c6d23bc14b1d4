"""The logbook: what happened, in order of arrival, and what each record says because of it.

- `model`: the shapes of a change, a field and a row
- `rules`: who wins a field when two people wrote in it (pure)
- `ids`: ids that carry their time, ids that two phones make alike (pure)
- `chain`: the hash that ties every row to the one before (pure)
- `tables`, `door`, `folder`: the SQL tables, how a database is opened, who may own a folder
- `book`: `Logbook`, the one that everybody else uses; `reader`: the half of it that only asks
- `taking`: changes and offers onto the open `page`, by `direct` statements; `pieces`: columns to ask by
- `together`: what is stored by one commit
- `asking`: questions; `rebuilding`: the tables again, from the changes
- `backups`, `checking`, `health`, `erasing`, `export`: looking after it
"""
