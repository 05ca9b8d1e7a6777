"""Room: moisture of boards and parts as it was read, the house a piece goes to, how its parts move."""
