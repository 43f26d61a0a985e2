"""Tests of the buying package."""
