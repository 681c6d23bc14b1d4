"""Web: the way in over HTTP, problem details, the built client."""
