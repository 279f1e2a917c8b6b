"""One law or standard per file. Each module declares SET."""
