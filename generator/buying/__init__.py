"""Buying: what the finished plan needs from the shop."""
