"""What a browser shows of a part: one file that stands alone, with nothing to fetch."""
