"""The commands of the command line, by the desk that uses them: read, call, print."""
