(text-unreadable)
$H
G21
M2
