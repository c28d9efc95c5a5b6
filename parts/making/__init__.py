"""What leaves for a machine or for the bench: STEP, STL, 3MF, DXF, drawings, sheets, pictures."""
