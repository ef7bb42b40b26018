"""Two copies of one farm that were edited apart become one again."""
