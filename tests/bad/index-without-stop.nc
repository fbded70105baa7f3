(index-without-stop job: bearing-cap-square-8)
G21
G90
G0 X53.3 Y0.
G0 Z6.31
M8
S3000
M3
G4 P6
(INDEX TO 90 DEG - FLAT 2 OF 4)
G1 X40.997 F600
G1 X53.3
M5
M2
