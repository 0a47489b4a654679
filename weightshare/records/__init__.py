"""What is kept: the raw journal, finished sessions, traces read and written."""
