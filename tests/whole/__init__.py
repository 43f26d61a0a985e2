"""Tests of the whole: the command line, the site, the browser."""
