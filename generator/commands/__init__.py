"""What a person can type: one command a file, each with its arguments and what it prints."""
