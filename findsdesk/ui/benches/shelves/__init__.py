"""The bench of shelves: places, boxes, what moves, is taken out, is looked for, is on loan."""
