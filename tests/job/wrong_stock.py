"""Wrong jobs: the top, ways of cutting, printing, sheets, imports."""

from __future__ import annotations

from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP


def top(line: str) -> str:
    """Return the sound job with one more line at its top."""
    return line + "\n" + SOUND


def cutting(lines: str) -> str:
    """Return the sound job with other lines under [cutting]."""
    return TOP + "[cutting]\n" + lines + "\n" + SHEET + PANEL


def sheet(lines: str, without: str = "") -> str:
    """Return the sound job with more lines in its sheet, less those that begin with a word."""
    kept = [line for line in SHEET.split("\n") if not (without and line.startswith(without))]
    return TOP + CUTTING + "\n".join(kept) + lines + "\n" + PANEL


# Each case: what the job says (#< marks the line at fault), the place, a part of the text and of the remedy.
CASES = {
    # ---- the top
    "unit missing": (SOUND.replace('unit = "in"\n', ""), "unit", "missing", '"in" or "mm"'),
    "unit wrong": (SOUND.replace('unit = "in"', 'unit = "inch" #<'), "unit", '"inch"', '"in" or "mm"'),
    "job missing": (SOUND.replace('job = "Solar boat"\n', ""), "job", "missing", "in quotes"),
    "job empty": (SOUND.replace('"Solar boat"', '"  " #<'), "job", "empty", "Write something"),
    "date with time": (top("date = 2026-03-01T10:00:00 #<"), "date", "a day without a time", "2026-03-01"),
    "date of no calendar": (top('date = "2026-02-30" #<'), "date", "calendar", "2026-03-01"),
    "date as number": (top("date = 20260301 #<"), "date", "20260301", "2026-03-01"),
    "unknown key at the top": (
        top("jop = 1 #<").replace('job = "Solar boat"\n', ""),
        "jop",
        "not a key",
        "job",
    ),
    "key of cutting at the top": (top('kerf = "1/8" #<'), "kerf", "not a key of the top", "[cutting]"),
    "key of a panel at the top": (top("quantity = 2 #<"), "quantity", "not a key", "[[panel]]"),
    "unknown table": (SOUND + "[[pannel]] #<\nname = 'x'\n", "pannel", "not a key", "panel"),
    "panel in single brackets": (
        TOP + CUTTING + "[panel] #<\nname='x'\n",
        "panel",
        "single table",
        "[[panel]]",
    ),
    "cutting in double brackets": (
        TOP + "[[cutting]] #<\nhow = 'saw'\n" + SHEET + PANEL,
        "cutting",
        "a table is wanted",
        "[cutting]",
    ),
    "cutting missing": (TOP + SHEET + PANEL, "cutting", "missing", "how and kerf"),
    "nothing to make": (TOP + CUTTING + SHEET, "job file", "nothing to make", "[[panel]]"),
    # ---- cutting
    "how missing": (cutting("kerf = 1"), "cutting, how", "missing", "router"),
    "how unknown": (cutting('how = "plasma" #<\nkerf = 1'), "cutting, how", '"plasma"', "jigsaw"),
    "kerf missing": (cutting('how = "saw"'), "cutting, kerf", "missing", "length"),
    "kerf negative": (cutting('how = "saw"\nkerf = -1 #<'), "cutting, kerf", "negative", "0 or a length"),
    "kerf too wide": (cutting('how = "saw"\nkerf = 12 #<'), "cutting, kerf", "wider", "measured"),
    "gap below kerf": (
        cutting('how = "saw"\nkerf = 1\ngap = "1/2" #<'),
        "cutting, gap",
        "below the kerf",
        "gap",
    ),
    "inherited gap below kerf": (
        cutting('how = "saw"\nkerf = "1/8"\ngap = "1/8"\n[cutting.wide]\nkerf = "1/4" #<'),
        "cutting.wide, kerf",
        "below the kerf",
        "gap",
    ),
    "kerf of another machine": (
        cutting('how = "saw"\nkerf = "1/8"\n[cutting.sponsor] #<\nhow = "router"'),
        "cutting.sponsor, kerf",
        "missing",
        "length",
    ),
    "stages negative": (
        cutting('how = "saw"\nkerf = 0\nstages = -1 #<'),
        "cutting, stages",
        "out of range",
        "0 to",
    ),
    "stages a fraction": (
        cutting('how = "saw"\nkerf = 0\nstages = 2.5 #<'),
        "cutting, stages",
        "whole",
        "whole",
    ),
    "first unknown": (cutting('how = "saw"\nkerf = 0\nfirst = "z" #<'), "cutting, first", '"z"', '"any"'),
    "prefer unknown": (
        cutting('how = "saw"\nkerf = 0\nprefer = "few" #<'),
        "cutting, prefer",
        '"few"',
        "few cuts",
    ),
    "margin key unknown": (
        cutting('how = "saw"\nkerf = 0\nmargin = { lefft = 1 } #<'),
        "cutting, margin, lefft",
        "not a key",
        "left",
    ),
    "margin negative": (
        cutting('how = "saw"\nkerf = 0\nmargin = { left = -1 } #<'),
        "cutting, margin, left",
        "negative",
        "0 or",
    ),
    "margin a list": (
        cutting('how = "saw"\nkerf = 0\nmargin = [1] #<'),
        "cutting, margin",
        "a length",
        "length",
    ),
    "margin uses the sheet up": (
        TOP
        + "[cutting]\nhow = 'saw'\nkerf = 0\nmargin = 12\n"
        + SHEET.replace("[24, 48]", "[24, 48] #<")
        + PANEL,
        'sheet "PC 1/8 2x4", size[0]',
        "nothing of 24 in",
        "margin of cutting",
    ),
    "key of a panel in cutting": (
        cutting('how = "saw"\nkerf = 0\nspare = 1 #<'),
        "cutting, spare",
        "key",
        "[[panel]]",
    ),
    # ---- printing, marking, dxf
    "paper unknown": (
        TOP + '[printing]\npaper = "A44" #<\n' + CUTTING + SHEET + PANEL,
        "printing, paper",
        "A44",
        "A4",
    ),
    "paper too small": (
        TOP + "[printing]\npaper = [1, 2] #<\n" + CUTTING + SHEET + PANEL,
        "printing, paper",
        "none",
        "5 m",
    ),
    "scale off": (
        TOP + "[printing]\nscale_x = 96 #<\n" + CUTTING + SHEET + PANEL,
        "printing, scale_x",
        "96",
        "0.9",
    ),
    "scale a text": (
        TOP + '[printing]\nscale_y = "0.99" #<\n' + CUTTING + SHEET + PANEL,
        "printing, scale_y",
        "plain number",
        "0.9",
    ),
    "marking too coarse": (
        TOP + "[marking]\nto = 2 #<\n" + CUTTING + SHEET + PANEL,
        "marking, to",
        "range",
        "1 in",
    ),
    "version unknown": (
        TOP + "[dxf]\nversion = 'R14' #<\n" + CUTTING + SHEET + PANEL,
        "dxf, version",
        "R14",
        "R2010",
    ),
    "flag as text": (
        TOP + "[dxf]\nsingle_layer = 'true' #<\n" + CUTTING + SHEET + PANEL,
        "dxf, single_layer",
        "true or false",
        "true",
    ),
    # ---- sheets
    "sheet without size": (sheet("", "size"), 'sheet "PC 1/8 2x4", size', "missing", "[24, 48]"),
    "sheet without name": (sheet("", "name"), "sheet 1, name", "missing", "quotes"),
    # ---- goods off a roll
    "roll before its width": (
        sheet("size = ['roll', 24] #<", "size"),
        'sheet "PC 1/8 2x4", size[0]',
        "the roll stands before its width",
        'size = [24, "roll"]',
    ),
    "roll twice": (
        sheet("size = ['roll', 'roll'] #<", "size"),
        'sheet "PC 1/8 2x4", size[0]',
        "two rolls",
        'size = [24, "roll"]',
    ),
    "roll misspelt": (
        sheet("size = [24, 'rol'] #<", "size"),
        'sheet "PC 1/8 2x4", size[1]',
        '"rol" is neither',
        'size = [24, "roll"]',
    ),
    "roll in one text": (
        sheet("size = 'roll 24 in' #<", "size"),
        'sheet "PC 1/8 2x4", size',
        "the width of the roll",
        'size = [24, "roll"]',
    ),
    "roll with a length": (
        sheet("size = [24, 48, 'roll'] #<", "size"),
        'sheet "PC 1/8 2x4", size',
        "the width of the roll",
        'size = [24, "roll"]',
    ),
    "roll of no width": (
        sheet("size = [0, 'roll'] #<", "size"),
        'sheet "PC 1/8 2x4", size[0]',
        "nothing",
        "above 0",
    ),
    "roll on hand": (
        sheet("size = [24, 'roll']\non_hand = 1 #<", "size"),
        'sheet "PC 1/8 2x4", on_hand',
        "bought by length",
        "a sheet in a job of its own",
    ),
    "roll not to be bought": (
        sheet("size = [24, 'roll']\nbuy = false #<", "size"),
        'sheet "PC 1/8 2x4", buy',
        "not to be bought",
        "a sheet in a job of its own",
    ),
    "roll with a price in words": (
        sheet("size = [24, 'roll']", "size").replace("price = 38.50", "price = '4 a foot' #<"),
        'sheet "PC 1/8 2x4", price',
        "plain number",
        "what a foot of it costs",
    ),
    "roll beside a sheet": (
        TOP + CUTTING + SHEET + SHEET.replace("2x4", "roll").replace("[24, 48]", "[24, 'roll'] #<") + PANEL,
        'sheet "PC 1/8 roll", size',
        '"PC 1/8 roll" comes off a roll and "PC 1/8 2x4" in sheets',
        "a job of its own",
    ),
    "sheet beside a roll": (
        TOP
        + CUTTING
        + SHEET.replace("2x4", "roll").replace("[24, 48]", "[24, 'roll']")
        + SHEET.replace("[24, 48]", "[24, 48] #<")
        + PANEL,
        'sheet "PC 1/8 2x4", size',
        '"PC 1/8 roll" comes off a roll',
        "a job of its own",
    ),
    "margin uses the roll up": (
        TOP
        + "[cutting]\nhow = 'saw'\nkerf = 0\nmargin = { left = 20, right = 4, top = 99 }\n"
        + SHEET.replace("[24, 48]", "[24, 'roll'] #<")
        + PANEL,
        'sheet "PC 1/8 2x4", size[0]',
        "nothing of 24 in",
        "margin of cutting",
    ),
    "margin longer than a roll": (
        TOP
        + "[cutting]\nhow = 'saw'\nkerf = 0\nmargin = { bottom = '50 m', top = '50 m' }\n"
        + SHEET.replace("[24, 48]", "[24, 'roll'] #<")
        + PANEL,
        'sheet "PC 1/8 2x4", size[1]',
        "nothing of any roll",
        "margin of cutting",
    ),
    "price with a currency": (
        sheet('price = "38.50 $" #<', "price"),
        'sheet "PC 1/8 2x4", price',
        "plain",
        "currency",
    ),
    "price negative": (sheet("price = -1 #<", "price"), 'sheet "PC 1/8 2x4", price', "out of range", "plain"),
    "price nan": (sheet("price = nan #<", "price"), 'sheet "PC 1/8 2x4", price', "out of range", "plain"),
    "way unknown": (sheet("cut = 'sponsor' #<"), 'sheet "PC 1/8 2x4", cut', "no way", "[cutting.NAME]"),
    "key of a panel in a sheet": (
        sheet("quantity = 2 #<"),
        'sheet "PC 1/8 2x4", quantity',
        "key",
        "[[panel]]",
    ),
    "stock named twice": (
        SOUND + SHEET.replace('"PC 1/8 2x4"', '"PC 1/8 2x4" #<'),
        'sheet "PC 1/8 2x4", name',
        "two kinds",
        "its own name",
    ),
    "stock cut in two ways": (
        TOP
        + CUTTING
        + "[cutting.b]\nkerf = 0\n"
        + SHEET
        + SHEET.replace("2x4", "4x4")
        + "cut = 'b' #<\n"
        + PANEL,
        'sheet "PC 1/8 4x4", cut',
        "cut one way",
        "same way",
    ),
    "stock priced in part": (
        TOP + CUTTING + SHEET + SHEET.replace("2x4", "4x4").replace("price = 38.50\n", "") + PANEL,
        'sheet "PC 1/8 4x4", price',
        "no price",
        "or to none",
    ),
    # ---- imports
    "import without file": (SOUND + "[[import]] #<\n", "import 1, file", "missing", "quotes"),
    "import of nothing": (
        SOUND + "[[import]]\nfile = 'x.csv' #<\n",
        "import 1, file",
        "is not there",
        "mend its name",
    ),
    "import from outside": (
        SOUND + "[[import]]\nfile = '../x.csv' #<\n",
        "import 1, file",
        "outside",
        "beside",
    ),
    "import from the root": (
        SOUND + "[[import]]\nfile = '/etc/x.csv' #<\n",
        "import 1, file",
        "outside",
        "beside",
    ),
    "import of an old workbook": (
        SOUND + "[[import]]\nfile = 'x.xls' #<\n",
        "import 1, file",
        "neither",
        ".xlsx",
    ),
}
