"""What cuts metal and how fast: end mills on sale, cutting speeds and feeds of high-speed steel."""
