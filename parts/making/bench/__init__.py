"""What the bench needs of a part: a dimensioned drawing, a hole chart, and templates for the ends of tubes."""
