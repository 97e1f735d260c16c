"""An invented house drawn in three styles, as text of a DXF file."""

ROOMS = {"Living room": 3.9 * 7.7, "Hall": 2.0 * 7.7, "Kitchen": 3.8 * 3.9, "Bath": 3.8 * 3.8}  # to the middle of walls, m2
INSUNITS = {"mm": 4, "m": 6}


class Dxf:
    """Collects groups; lengths are given in metres and written in the drawing's unit."""

    def __init__(self, unit=None, scale=1):
        self.unit, self.scale, self.groups, self.blocks = unit, scale, [], []

    def put(self, *pairs):
        self.groups.extend(pairs)

    def place(self, code, x, y):
        self.put((code, x * self.scale), (code + 10, y * self.scale))

    def line(self, layer, x1, y1, x2, y2):
        self.put((0, "LINE"), (8, layer))
        self.place(10, x1, y1)
        self.place(11, x2, y2)

    def ring(self, layer, points):
        self.put((0, "LWPOLYLINE"), (8, layer), (90, len(points)), (70, 1))
        for x, y in points:
            self.place(10, x, y)

    def box(self, layer, x1, y1, x2, y2):
        self.ring(layer, [(x1, y1), (x2, y1), (x2, y2), (x1, y2)])

    def swing(self, layer, x, y, radius, start, end):
        self.put((0, "ARC"), (8, layer))
        self.place(10, x, y)
        self.put((40, radius * self.scale), (50, start), (51, end))

    def text(self, layer, x, y, height, words):
        self.put((0, "TEXT"), (8, layer))
        self.place(10, x, y)
        self.put((40, height * self.scale), (1, words))

    def insert(self, layer, name, x, y, turn=0, x_scale=1, y_scale=1):
        self.put((0, "INSERT"), (8, layer), (2, name))
        self.place(10, x, y)
        self.put((41, x_scale), (42, y_scale), (50, turn))

    def names(self, layer, names):
        for words, x, y in zip(names, (2, 5, 7.5, 7.5), (4, 4.5, 2, 6)):
            self.text(layer, x, y, 0.2, words)

    def whole(self, line_end="\n"):
        lines = []

        def put(code, value):
            lines.extend((f"{code:3d}", str(value)))

        def section(name, groups):
            put(0, "SECTION")
            put(2, name)
            for code, value in groups:
                put(code, value)
            put(0, "ENDSEC")

        blocks = []
        for name, groups in self.blocks:
            blocks += [(0, "BLOCK"), (8, "0"), (2, name), (70, 0), (10, 0.0), (20, 0.0), *groups, (0, "ENDBLK"), (8, "0")]
        section("HEADER", [(9, "$INSUNITS"), (70, INSUNITS[self.unit])] if self.unit else [])
        section("BLOCKS", blocks)
        section("ENTITIES", self.groups)
        put(0, "EOF")
        return line_end.join(lines) + line_end


def double_lines():
    """Walls by both faces with caps at the openings, doors as blocks of a leaf and a swing, millimetres."""
    drawing = Dxf("mm", 1000)
    faces = [
        # round the house, the front door from 4.55 to 5.45, a window from 1.5 to 3 at the back
        (0, 0, 4.55, 0), (5.45, 0, 10, 0), (10, 0, 10, 8), (10, 8, 3, 8), (1.5, 8, 0, 8), (0, 8, 0, 0),
        # living room
        (.3, .3, 4, .3), (4, .3, 4, 2), (4, 2.9, 4, 7.7), (4, 7.7, 3, 7.7), (1.5, 7.7, .3, 7.7), (.3, 7.7, .3, .3),
        # hall
        (4.1, .3, 4.55, .3), (5.45, .3, 6, .3), (6, .3, 6, 1), (6, 1.9, 6, 5), (6, 5.8, 6, 7.7), (6, 7.7, 4.1, 7.7),
        (4.1, 7.7, 4.1, 2.9), (4.1, 2, 4.1, .3),
        # kitchen and bath
        (6.1, .3, 9.7, .3), (9.7, .3, 9.7, 4), (9.7, 4, 6.1, 4), (6.1, 4, 6.1, 1.9), (6.1, 1, 6.1, .3),
        (6.1, 4.1, 9.7, 4.1), (9.7, 4.1, 9.7, 7.7), (9.7, 7.7, 6.1, 7.7), (6.1, 7.7, 6.1, 5.8), (6.1, 5, 6.1, 4.1),
        # caps
        (4.55, 0, 4.55, .3), (5.45, 0, 5.45, .3), (1.5, 7.7, 1.5, 8), (3, 7.7, 3, 8), (4, 2, 4.1, 2), (4, 2.9, 4.1, 2.9),
        (6, 1, 6.1, 1), (6, 1.9, 6.1, 1.9), (6, 5, 6.1, 5), (6, 5.8, 6.1, 5.8),
    ]
    for face in faces:
        drawing.line("A-WALL", *face)
    for name, width in (("door 90", .9), ("door 80", .8)):
        block = Dxf("mm", 1000)
        block.line("0", 0, 0, 0, width)
        block.swing("0", 0, 0, width, 0, 90)
        drawing.blocks.append((name, block.groups))
    drawing.insert("A-DOOR", "door 90", 4.55, .3)
    drawing.insert("A-DOOR", "door 90", 4.05, 2, 90)
    drawing.insert("A-DOOR", "door 90", 6.05, 1.9, -90)
    drawing.insert("A-DOOR", "door 80", 6.05, 5, 90, 1, -1)
    for y in (7.75, 7.85, 7.95):
        drawing.line("A-WINDOW", 1.5, y, 3, y)
    drawing.names("A-ROOM-NAME", ROOMS)
    for x, y in ((2, 3.7), (5, 4.2), (7.5, 1.7), (7.5, 5.7)):
        drawing.text("A-ROOM-NAME", x, y, .25, "12.3 m2")
    return drawing


def closed_walls():
    """Every wall a closed line of its own, German names of layers, metres; a swing and a window on walls that go on."""
    drawing = Dxf("m")
    for wall in ((0, 0, 4.55, .3), (5.45, 0, 10, .3), (0, .3, .3, 7.7), (9.7, .3, 10, 7.7), (0, 7.7, 10, 8), (4, .3, 4.1, 2),
                 (4, 2.9, 4.1, 7.7), (6, .3, 6.1, 1), (6, 1.9, 6.1, 5), (6, 5.8, 6.1, 7.7), (6.1, 4, 9.7, 4.1)):
        drawing.box("WAND", *wall)
    drawing.swing("TUER", 4.55, .3, .9, 0, 90)
    drawing.line("TUER", 4.55, .3, 4.55, 1.2)
    for y in (7.8, 7.9):
        drawing.line("FENSTER", 1.5, y, 3, y)
    drawing.names("BESCHRIFTUNG", ("Wohnzimmer", "Flur", "K\\U+00FCche", "Bad"))
    return drawing


def many_layers():
    """Middle lines in millimetres on many layers, with dimensions, hatches and furniture; no unit is said."""
    drawing = Dxf(None, 1000)
    for wall in ((.15, .15, 4.5, .15), (5.4, .15, 9.85, .15), (9.85, .15, 9.85, 7.85), (9.85, 7.85, .15, 7.85), (.15, 7.85, .15, .15)):
        drawing.line("WALL_EXT", *wall)
    for wall in ((4.05, .15, 4.05, 2), (4.05, 2.9, 4.05, 7.85), (6.05, .15, 6.05, 1), (6.05, 1.9, 6.05, 5), (6.05, 5.8, 6.05, 7.88),
                 (6.05, 4.05, 9.85, 4.05)):
        drawing.line("WALL_INT", *wall)
    drawing.swing("DOORS", 4.5, .15, .9, 0, 90)
    for _ in range(12):
        drawing.put((0, "DIMENSION"), (8, "DIM"), (10, 0), (20, 0))
    for _ in range(5):
        drawing.put((0, "HATCH"), (8, "FILL"), (10, 0), (20, 0))
    drawing.put((0, "SPLINE"), (8, "FURNITURE"), (10, 1), (20, 1))
    for i in range(40):
        drawing.line("FURNITURE", 1 + i * .02, 1, 1.5 + i * .02, 1.5)
    drawing.names("TEXT", ROOMS)
    return drawing
