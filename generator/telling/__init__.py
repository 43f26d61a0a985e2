"""A plan in words: tables and sentences in the reader's units, for pages and booklets alike."""
