"""Small drawings the style sheet names by file."""
