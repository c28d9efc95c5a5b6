"""What the bench needs of a part: a drawing, inspection and process sheets, and templates of plates and tube ends."""
