"""A farm made from nothing in the real window, by mouse and keys of another process."""
