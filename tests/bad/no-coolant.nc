(coolant-missing job: bearing-cap-square-8)
G21
G90
(INDEX TO 0 DEG - FLAT 1 OF 4)
G0 X53.3 Y0.
G0 Z6.3
S3000
M3
G4 P6
G1 X40.997 F600
G1 X53.3
M5
M2
