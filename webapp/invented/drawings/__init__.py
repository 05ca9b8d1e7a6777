"""Pictures of the invented shop, drawn by code: wood in perspective with pencil lines, always the same for one seed."""
