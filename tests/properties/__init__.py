"""Laws that hold for every design, one file each."""
