(number-negative)
G21
G4 P-1
M2
