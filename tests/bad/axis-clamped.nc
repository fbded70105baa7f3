(index-clamped job: crank-bolt-hex-8)
G21
G90
M5
G4 P9
M10
G0 A10.
M2
