"""One file per intention. A use case answers a question about a register; it never reads a file or a clock."""
