"""The finished piece as solids: for the page, where it can be turned, and as a file to keep."""
