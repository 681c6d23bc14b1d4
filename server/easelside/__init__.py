"""Easelside: a bench companion for people who make double reeds."""
