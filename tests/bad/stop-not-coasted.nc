(coast-down-short)
G21
S4000
M3
G4 P5
M5
G4 P11
M0
M2
