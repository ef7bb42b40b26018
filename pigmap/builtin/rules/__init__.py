"""What records and plans must keep."""
