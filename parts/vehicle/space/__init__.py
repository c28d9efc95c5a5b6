"""Parts and hardware of a build in space: places, clearance, access for tools."""
