"""Makes the faces of the pages from those of the house.

    pip install fonttools==4.68.0
    python3 subset.py

Of each face in host/picture/fonts it keeps the Latin letters of Europe and the
signs that pages use. The name is another, as the licence asks of what has been
changed: 'Source' is reserved.
"""

from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

HERE = Path(__file__).resolve().parent
HOUSE = HERE.parents[2] / "picture" / "fonts"
# Basic Latin, Latin-1, Latin Extended-A, then dashes, quotation marks, dots,
# arrows, signs of arithmetic, a tick.
RANGES = [(0x20, 0x7E), (0xA0, 0x17E), (0x2012, 0x2015), (0x2018, 0x201E), (0x2190, 0x2193)]
SIGNS = "†‡•…‰′″‹›⁄€™−≈≠≤≥✓"

for style in ["Regular", "Semibold"]:
    font = TTFont(HOUSE / f"SourceSansPro-{style}.otf", recalcTimestamp=False)
    options = Options(
        flavor="woff",
        hinting=False,
        desubroutinize=True,
        layout_features=["ccmp", "kern", "liga", "locl", "mark", "mkmk"],
        name_IDs=["*"],
    )
    subsetter = Subsetter(options)
    kept = [code for first, last in RANGES for code in range(first, last + 1)]
    subsetter.populate(unicodes=kept + [ord(sign) for sign in SIGNS])
    subsetter.subset(font)
    names = font["name"]
    for record in list(names.names):
        # What names the face; copyright and licence stay.
        if record.nameID in (1, 4, 16):
            names.setName(
                "Pairwise Sans" + (f" {style}" if record.nameID == 4 else ""),
                record.nameID, record.platformID, record.platEncID, record.langID,
            )
        elif record.nameID in (3, 6):
            names.setName(
                f"PairwiseSans-{style}", record.nameID, record.platformID, record.platEncID, record.langID
            )
        elif record.nameID == 7:
            names.names.remove(record)
    cff = font["CFF "].cff
    cff.fontNames[0] = f"PairwiseSans-{style}"
    top = cff.topDictIndex[0]
    top.FullName, top.FamilyName = f"Pairwise Sans {style}", "Pairwise Sans"
    font.flavor = "woff"
    font.save(HERE / f"pairwise-sans-{style.lower()}.woff")
