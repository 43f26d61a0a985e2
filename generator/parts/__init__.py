"""The parts stage: placed pieces become solids, equal solids become one line of the cut list."""
