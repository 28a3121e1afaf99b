"""The language: the grammar of a line, the table of what a line may be, and the reference.  Data only, read by `tree`."""
