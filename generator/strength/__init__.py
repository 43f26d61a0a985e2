"""The strength stage: how far loaded parts sag, and what it takes to tip the whole."""
