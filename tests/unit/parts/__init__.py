"""Tests of the parts package."""
