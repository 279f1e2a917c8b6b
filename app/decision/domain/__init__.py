"""Values of the trade and nothing else: no clock, no file, no window. Every other room may import this one."""
