"""What wants care about a fence: other energizers, overhead lines, people, wildlife, weather."""
