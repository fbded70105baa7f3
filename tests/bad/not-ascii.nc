(character-unreadable)
G21
G90 G0 Z40.°
M2
