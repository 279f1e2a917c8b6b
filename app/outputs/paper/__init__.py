"""What leaves the program: documents and scenes as files. Export libraries are imported inside what needs them."""
