"""Tests of the joinery package."""
