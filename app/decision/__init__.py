"""What decides: values, kinds, tasks, rules, rule sets, judging. Pure; imports nothing of the program above it."""
