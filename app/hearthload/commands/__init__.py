"""The commands of the command line, one file each; each is thin over service."""
