"""Counter."""
