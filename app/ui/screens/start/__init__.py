"""Start."""
