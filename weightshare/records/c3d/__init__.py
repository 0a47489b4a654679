"""C3D recordings with two force platforms, as traces.

The file is read in a process of its own, which may crash without harm (`process`, `child`); what it holds is checked
(`raw`), and made into forces under two feet (`plate`, `side`, `conversion`) that a person confirms.
C3D: the user guide of c3d.org, whose groups and parameters keep their names here (FORCE_PLATFORM:TYPE).
"""
