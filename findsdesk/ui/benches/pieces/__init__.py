"""The bench of pieces: sherds recorded on their own, measured, coloured, joined, photographed."""
