"""The program's own contributions, declared like a stranger's; nobody imports them."""
