"""Fields, each declared once: how its key and value are read and written, what sheets call it, which kinds have it."""
