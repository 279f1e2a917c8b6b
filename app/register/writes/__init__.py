"""Rows a register takes, one subject a file: values in, entry names out."""
