"""The command line: people, files, exit codes."""
