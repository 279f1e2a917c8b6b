"""One file per report: what a use case answered, as a Document of ready words or as plain values for JSON. Pure."""
