"""What happens to each cell of ground."""
