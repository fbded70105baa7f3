(index-while-turning job: crank-bolt-hex-8)
G21
G90
S4000
M3
G4 P5
M5
G4 P7
M11
G0 A10.
M10
M2
