(dwell-missing)
G21
G4
M2
