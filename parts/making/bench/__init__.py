"""What the bench needs of a part: a drawing, inspection and process sheets, and templates for the ends of tubes."""
