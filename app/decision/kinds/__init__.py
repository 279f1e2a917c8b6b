"""One kind of kit per file: its fields, role and checks. Each module declares KIND."""
