"""The command line: arguments, findings shown to people and machines, exit codes."""
