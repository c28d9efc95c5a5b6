"""What the bench needs of a part: a dimensioned drawing, inspection and process sheets, and templates for the ends of tubes."""
