"""Sheets of others read into plain rows and named faults."""
