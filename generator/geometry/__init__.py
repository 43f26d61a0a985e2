"""Vectors, frames, planes, outlines, slabs and hidden lines; no word of the trade in here."""
