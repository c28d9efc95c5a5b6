"""What a build file says, and how a part takes values from it."""
