"""Between the command line and the library: what a command reads, says and leaves in the folder."""
