"""DejaVu Sans 2.37, Book and Bold, unchanged; its licence stands beside it in LICENSE.txt."""
