"""What do the printed sheets say to a program that is not ours?

Poppler (pdfinfo, pdffonts, pdftotext) reads every document the tests wrote down. Standard library
only. ISO 32000-1 14.8 (tagged PDF), ISO 14289-1 (PDF/UA-1).

    documents.py FOLDER            every document of the folder is sound, and says what it should
    documents.py FOLDER --rewrite  keep what they say now
    documents.py FOLDER --self-test  the checks find faults that are put in
"""

import concurrent.futures
import os
import pathlib
import re
import subprocess
import sys

KEPT = pathlib.Path(__file__).parent / "documents"
# Points, from ISO 216 (millimetres) and ANSI/ASME Y14.1 (inches).
PAPERS = {
    "a4": (210 / 25.4 * 72, 297 / 25.4 * 72),
    "a5": (148 / 25.4 * 72, 210 / 25.4 * 72),
    "letter": (8.5 * 72, 11 * 72),
}
COLUMNS = ["Done", "Row", "Side", "Date", "Day", "Colour", "Yarn", "Next to it"]


def run(*command):
    ended = subprocess.run(command, capture_output=True, text=True, check=False)
    # Poppler 22 calls the boolean that ISO 32000-1 table 321 asks for a wrong type.
    told = [line for line in ended.stderr.splitlines() if "Suspects object" not in line]
    if ended.returncode or told:
        raise AssertionError(f"{command[0]}: {ended.returncode} {told[:3]}")
    return ended.stdout


def info_of(path):
    lines = (line.split(":", 1) for line in run("pdfinfo", path).splitlines() if ":" in line)
    return {name.strip(): value.strip() for name, value in lines}


def fonts_are_inside(path):
    lines = run("pdffonts", path).splitlines()
    head = lines[0]
    assert len(lines) > 2, "no font"
    for line in lines[2:]:
        flags = line[head.index("emb") :].split()[:3]
        assert flags == ["yes"] * 3, f"embedded, subset, to Unicode: {line}"


def rows_of(path):
    """The table as a reader by ear has it: a list of cells for each row."""
    rows, cell = [], None
    tree = run("pdfinfo", "-struct-text", path)
    assert re.search(r"^  H1 ", tree, re.M), "no heading"
    for line in tree.splitlines():
        name = line.strip().split()[0].rstrip(":") if line.strip() else ""
        if name == "TR":
            rows.append([])
        elif name in ("TD", "TH") and rows:
            cell = []
            rows[-1].append(cell)
        elif name.startswith('"') and cell is not None:
            text = line.strip().strip('"').strip()
            if text:
                cell.append(text)
    return [[" ".join(cell) for cell in row] for row in rows]


def text_of(path):
    """As laid out, where the number of spaces between columns may differ."""
    lines = run("pdftotext", "-layout", path, "-").splitlines()
    lines = [re.sub(r" {2,}", "  ", line).rstrip() for line in lines]
    return "\n".join(line for line in lines if line.strip("\f ")) + "\n"


def check(path, rewrite=False):
    _, paper, order = path.stem.split("-")
    info = info_of(path)
    assert info["Tagged"] == "yes", "not tagged"
    assert (info["JavaScript"], info["Encrypted"]) == ("no", "no")
    width, height = map(float, re.findall(r"[\d.]+", info["Page size"])[:2])
    wanted = PAPERS[paper]
    assert abs(width - wanted[0]) < 0.5 and abs(height - wanted[1]) < 0.5, info["Page size"]
    meta = run("pdfinfo", "-meta", path)
    assert re.search(r"pdfuaid:part>\s*1<|pdfuaid:part=\"1\"", meta), "no mark of PDF/UA-1"
    fonts_are_inside(path)
    rows = rows_of(path)
    heads = [row for row in rows if row == COLUMNS]
    body = [row for row in rows if row != COLUMNS]
    assert heads, "no head of the table"
    assert all(len(row) == len(COLUMNS) for row in body), "a row lacks cells"
    numbers = [int(row[1]) for row in body]
    # Pages follow in working order; within a page, row 1 is where it was asked for.
    step = 1 if order == "top" else -1
    assert all(b - a == step for a, b in zip(numbers, numbers[1:])), numbers
    assert sorted(numbers) == list(range(1, len(numbers) + 1)), numbers
    text = text_of(path)
    kept = KEPT / f"{path.stem}.txt"
    if rewrite:
        kept.write_text(text)
    elif kept.exists():
        assert text == kept.read_text(), f"it does not say what {kept.name} says"
    return len(numbers)


def self_test(folder):
    sound = folder / "part-a4-bottom.pdf"
    check(sound)
    bytes_ = sound.read_bytes()
    other = folder / "wrong"
    other.mkdir(exist_ok=True)
    faults = {
        "part-a4-bottom.pdf": [
            (b"/Marked true", b"/Marked fals"),
            (b"pdfuaid:part", b"pdfuaid:parX"),
            (b"/FontFile2", b"/FontFileX"),
            (b"/ToUnicode", b"/ToUnicodX"),
            (b"/StructTreeRoot", b"/StructTreeRooX"),
            (b"/S/TH", b"/S/TX"),
        ],
        "part-a5-bottom.pdf": [(b"%PDF", b"%PDF")],
        "part-a4-top.pdf": [(b"%PDF", b"%PDF")],
    }
    found = 0
    for name, changes in faults.items():
        for before, after in changes:
            if before not in bytes_:
                raise SystemExit(f"{before} is not in the document")
            wrong = other / name
            wrong.write_bytes(bytes_.replace(before, after))
            try:
                check(wrong)
            except (AssertionError, KeyError, ValueError):
                found += 1
            else:
                raise SystemExit(f"{name} with {after} was not found out")
            wrong.unlink()
    other.rmdir()
    print(f"{found} of {found} faults that were put in are found")


def main():
    folder = pathlib.Path(sys.argv[1])
    if "--self-test" in sys.argv:
        return self_test(folder)
    documents = sorted(folder.glob("*.pdf"))
    assert documents, "there is no document"
    if "--rewrite" in sys.argv:
        KEPT.mkdir(exist_ok=True)
    rewrite = "--rewrite" in sys.argv

    def rows_read(path):
        try:
            return check(path, rewrite and path.stem.startswith(("part", "greek-a4")))
        except AssertionError as fault:
            raise SystemExit(f"{path.name}: {fault}") from fault

    # Poppler draws a page anew for every cell it reads aloud, which takes seconds: the longest
    # document first, as many at once as there are processors.
    by_size = sorted(documents, key=lambda path: -path.stat().st_size)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as threads:
        rows = sum(threads.map(rows_read, by_size))
    kept = len(list(KEPT.glob("*.txt")))
    print(f"{len(documents)} documents, {rows} rows, {kept} of them word for word")


main()
