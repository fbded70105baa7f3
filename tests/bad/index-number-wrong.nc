(index-mismatch job: bearing-cap-square-8)
G21
G90
M5
G4 P22
(INDEX TO 90 DEG - FLAT 3 OF 4)
M0
M2
