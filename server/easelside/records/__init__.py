"""The records as files that a maker can take away: CSV for a spreadsheet, JSON for another Easelside."""
