(comment-nested)
G21
G90 (a (b) c)
M2
