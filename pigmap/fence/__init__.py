"""Nets and electricity."""
