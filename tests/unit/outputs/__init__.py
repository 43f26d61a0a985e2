"""Tests of what is drawn and written."""
