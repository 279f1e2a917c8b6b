"""The command line: one file per command. Exit status: 0 may be issued or done, 3 refused, 2 wrong input, 1 fault."""
