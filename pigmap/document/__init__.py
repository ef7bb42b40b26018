"""Every change a person can make, as an edit."""
