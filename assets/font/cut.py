"""Cuts the print font from a whole one: python3 cut.py WHOLE.ttf CUT.ttf "Own Name" (needs the package fonttools).

The cut keeps the characters below and nothing else: no hints, no kerning, no composite outlines, a name of its own.
Composites are flattened so that a page's subset is a plain selection of outlines.
"""

import sys

from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._c_m_a_p import CmapSubtable

KEPT = [
    (0x0020, 0x007E), (0x00A0, 0x017F), (0x0192, 0x0192), (0x0218, 0x021B), (0x02C6, 0x02C7), (0x02D8, 0x02DD),
    (0x0300, 0x0304), (0x0306, 0x030C), (0x0323, 0x0323), (0x0326, 0x0328), (0x0384, 0x03CE), (0x0400, 0x045F),
    (0x0490, 0x0491), (0x1E80, 0x1E85), (0x1E9E, 0x1E9E), (0x1EA0, 0x1EF9), (0x2010, 0x2027), (0x2030, 0x2033),
    (0x2039, 0x203A), (0x2044, 0x2044), (0x2070, 0x208E), (0x20A0, 0x20BF), (0x2116, 0x2116), (0x2122, 0x2122),
    (0x2150, 0x215F), (0x2190, 0x2195), (0x21BA, 0x21BB), (0x2212, 0x2212), (0x2215, 0x2215), (0x2248, 0x2248),
    (0x2260, 0x2265), (0x25A0, 0x25A1), (0x25B2, 0x25C7), (0x25CB, 0x25CF), (0x2605, 0x2606), (0x2610, 0x2612),
    (0x2665, 0x2665), (0x2702, 0x2702), (0x2713, 0x2714), (0x2717, 0x2717),
]


def cut(whole, target, name):
    font = TTFont(whole)
    glyphs, cmap, metrics = font.getGlyphSet(), font.getBestCmap(), font["hmtx"]
    wanted = [c for low, high in KEPT for c in range(low, high + 1) if c in cmap]
    order, shapes, widths, mapping = [".notdef"], {}, {}, {}
    for code in wanted:
        if cmap[code] not in order:
            order.append(cmap[code])
        mapping[code] = cmap[code]
    for glyph in order:
        recorded = DecomposingRecordingPen(glyphs)
        glyphs[glyph].draw(recorded)
        pen = TTGlyphPen(None)
        recorded.replay(pen)
        shapes[glyph] = pen.glyph()
        widths[glyph] = metrics[glyph][0]
    for table in [t for t in font.keys() if t not in ("GlyphOrder", "head", "hhea", "maxp", "hmtx", "loca", "glyf", "cmap", "OS/2")]:
        del font[table]
    del font["OS/2"]
    font.setGlyphOrder(order)
    font["glyf"].glyphs, font["glyf"].glyphOrder = shapes, order
    for glyph in order:
        shapes[glyph].recalcBounds(font["glyf"])
        metrics.metrics[glyph] = (widths[glyph], getattr(shapes[glyph], "xMin", 0))
    metrics.metrics = {g: metrics.metrics[g] for g in order}
    table = CmapSubtable.newSubtable(4)
    table.platformID, table.platEncID, table.language, table.cmap = 3, 1, 0, mapping
    font["cmap"].tables = [table]
    font["head"].created = font["head"].modified = 0
    font.recalcTimestamp = False
    font["name"] = newTable("name")
    font["name"].names = []
    font["name"].setName(name, 1, 3, 1, 0x409)
    font["name"].setName(name, 4, 3, 1, 0x409)
    font.save(target)
    print(f"{target}: {len(order)} outlines, capitals {shapes['H'].yMax}, small letters {shapes['x'].yMax}")


cut(*sys.argv[1:4])
