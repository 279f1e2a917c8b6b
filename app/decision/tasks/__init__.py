"""One task per file: roles, scope, second person. Each module declares TASK; all of it is house policy."""
