"""Facts that must count: the list of what once changed nothing, or another thing than it said."""
