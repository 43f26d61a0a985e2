"""Tests of the finished piece as solids."""
