"""Files that pages go out to."""
