"""The language: the grammar of a line, the table of what a line may be, the reference; data for `tree`."""
