"""Care: what wants oil, a look or a change, after how many pieces, sessions or days."""
