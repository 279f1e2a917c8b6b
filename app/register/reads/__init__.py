"""Questions a register answers, one subject a file; frozen values come out, never a row of the library."""
