"""The shape library: outlines of frames, and the curves drawn at a distance from them.

`outline` says what every outline can do and makes one by its kind; `round`, `oval` and
`polygon` hold one kind each; `elliptic` measures along ellipses; `curves` has what they share.
Everything here is pure plane geometry of plain floats: it knows of no drum.
"""
