"""One file per intention. A use case takes a register and a question and answers it; it never reads a file or a clock."""
