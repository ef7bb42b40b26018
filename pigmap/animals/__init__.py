"""What pigs weigh, need and leave."""
