"""The page that follows a recipe."""
