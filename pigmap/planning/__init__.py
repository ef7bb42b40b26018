"""Who moves where and when."""
