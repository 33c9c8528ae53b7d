"""Make the faces for paper from the faces for the screen.

A PDF writer sees no font features, so tabular figures (tnum) and the tailed l (cv05) are put into
the character map itself, and the layout tables the writer does not read are left out. Needs
fontTools; the faces it writes are kept under resources/fonts/paper, so only who changes the
faces runs it: python packaging/make_paper_faces.py
"""

from __future__ import annotations

from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parent.parent / "resources" / "fonts"
FACES = ("Regular", "Medium", "SemiBold", "Bold")
FEATURES = ("tnum", "cv05")


def substitutions(font: TTFont) -> dict[str, str]:
    """Which glyph stands for which under the features we always use."""
    table = font["GSUB"].table
    found: dict[str, str] = {}
    for feature in table.FeatureList.FeatureRecord:
        if feature.FeatureTag not in FEATURES:
            continue
        for index in feature.Feature.LookupListIndex:
            for subtable in table.LookupList.Lookup[index].SubTable:
                inner = getattr(subtable, "ExtSubTable", subtable)
                found.update(getattr(inner, "mapping", {}))
    return found


def make(face: str) -> None:
    """Write one face."""
    font = TTFont(FONTS / f"Inter-{face}.ttf", recalcTimestamp=False)
    swap = substitutions(font)
    for table in font["cmap"].tables:
        table.cmap = {code: swap.get(name, name) for code, name in table.cmap.items()}
    for tag in ("GSUB", "GPOS", "GDEF"):
        if tag in font:
            del font[tag]
    (FONTS / "paper").mkdir(exist_ok=True)
    font.save(FONTS / "paper" / f"Inter-{face}.ttf")


if __name__ == "__main__":
    for each in FACES:
        make(each)
