(character-unreadable)
G21
G90 (Bö)
M2
