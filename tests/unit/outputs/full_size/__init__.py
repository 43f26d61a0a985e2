"""Tests of templates at full size."""
