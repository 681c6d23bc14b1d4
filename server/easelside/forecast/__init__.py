"""Forecast: joins the rooms over weeks: how worn an edge is, what is due, where a batch stands."""
