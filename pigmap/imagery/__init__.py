"""Aerial images and outlines from files."""
