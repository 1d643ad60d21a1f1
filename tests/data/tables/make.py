#!/usr/bin/env python3
"""Makes the spreadsheet files in this folder with programs that are not ours.

    pip install openpyxl==3.1.5 odfpy==1.4.1
    apt-get install libreoffice-calc-nogui      # made with 7.4.7
    python3 make.py

All recipes, suppliers and prices are invented. Every file named shower_gel.* holds
the same recipe, so that all of them must read alike.
"""

import csv
import pathlib
import shutil
import subprocess
import tempfile
import datetime

import openpyxl
from openpyxl.styles import Font
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableRow, TableCell
from odf.text import P, S

HERE = pathlib.Path(__file__).parent

# phase, name, INCI, percent (None is q.s.), role
SHOWER_GEL = [
    ("A", "Water", "Aqua", None, "solvent"),
    ("A", "Glycerin", "Glycerin", 3.0, "humectant"),
    ("A", "Sodium benzoate", "Sodium Benzoate", 0.45, "preservative"),
    ("B", "Coco betaine", "Cocamidopropyl Betaine", 12.5, "co-surfactant"),
    ("B", "Coco glucoside", "Coco-Glucoside", 10.0, "surfactant"),
    ("C", "Juniper oil", "Juniperus Communis Fruit Oil", 0.6, "fragrance"),
    ("C", "Citric acid", "Citric Acid", 0.25, "acid"),
]
HEADINGS = ["Phase", "Ingredient", "INCI", "% w/w", "Function"]


def openpyxl_files():
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Recipe"
    sheet["A1"] = "Oat and juniper shower gel"
    sheet["A1"].font = Font(bold=True)
    sheet["A2"] = datetime.date(2026, 3, 1)
    for column, text in enumerate(HEADINGS, 1):
        sheet.cell(4, column, text)
    for row, (phase, name, inci, percent, role) in enumerate(SHOWER_GEL, 5):
        sheet.cell(row, 1, phase)
        sheet.cell(row, 2, name)
        sheet.cell(row, 3, inci)
        sheet.cell(row, 4, "q.s. to 100" if percent is None else percent)
        sheet.cell(row, 5, role)
    sheet.cell(13, 1, "Method")
    sheet.cell(14, 1, "Dissolve A, stir in B without foam, add C below 40 °C.")
    book.create_sheet("Empty")
    book.save(HERE / "shower_gel.openpyxl.xlsx")

    # The same as cells formatted as percentages, stored as fractions of 1.
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(HEADINGS)
    left = 100 - sum(p for *_, p, _ in SHOWER_GEL if p is not None)
    for phase, name, inci, percent, role in SHOWER_GEL:
        sheet.append([phase, name, inci, (left if percent is None else percent) / 100, role])
        sheet.cell(sheet.max_row, 4).number_format = "0.00%"
    book.save(HERE / "shower_gel.percent_format.xlsx")

    # A formula that no program has computed: openpyxl computes nothing.
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["Ingredient", "%"])
    sheet.append(["Water", "=100-B3"])
    sheet.append(["Glycerin", 3])
    book.save(HERE / "uncomputed_formula.xlsx")

    # Wrong types: yes or no, a date, an error value and words among the percentages.
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["Ingredient", "%"])
    for name, value in [
        ("Water", True),
        ("Glycerin", datetime.date(2026, 5, 2)),
        ("Coco betaine", "plenty"),
        ("Citric acid", -0.3),
    ]:
        sheet.append([name, value])
    sheet.append(["Juniper oil", None])
    sheet.cell(6, 2).value = "#DIV/0!"
    sheet.cell(6, 2).data_type = "e"
    book.save(HERE / "wrong_types.xlsx")

    # A price list with amounts in mixed units.
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Prices"
    sheet.append(["Fell Supplies, price list (invented)"])
    sheet.append(["Material", "INCI", "CAS", "Pack size", "Price", "Currency", "Lot", "Best before"])
    for row in PRICES:
        sheet.append(list(row))
    book.save(HERE / "prices.openpyxl.xlsx")


PRICES = [
    ("Glycerin", "Glycerin", "56-81-5", "1 kg", 7.8, "EUR", "FS-2201", datetime.date(2027, 11, 30)),
    ("Coco betaine", "Cocamidopropyl Betaine", "61789-40-0", "5 kg", 24.5, "EUR", None, None),
    ("Juniper oil", "Juniperus Communis Fruit Oil", None, "100 g", "18,90", "EUR", "FS-2207", "03/2028"),
    ("Citric acid", "Citric Acid", "77-92-9", "500 g", 4.25, "EUR", None, None),
    ("Moss extract", "", "", "250 ml", 31.0, "EUR", None, None),
]


def odfpy_file():
    document = OpenDocumentSpreadsheet()
    table = Table(name="Recipe")

    def row(cells, **repeat):
        line = TableRow(**repeat)
        for cell in cells:
            if cell is None:
                line.addElement(TableCell())
            elif isinstance(cell, float):
                made = TableCell(valuetype="float", value=repr(cell))
                made.addElement(P(text=str(cell).replace(".", ",")))
                line.addElement(made)
            else:
                made = TableCell(valuetype="string")
                made.addElement(P(text=cell))
                line.addElement(made)
        table.addElement(line)

    row(HEADINGS)
    for phase, name, inci, percent, role in SHOWER_GEL:
        row([phase, name, inci, "q.s." if percent is None else percent, role])
    row([None], numberrowsrepeated=1000000)
    document.spreadsheet.addElement(table)
    document.save(str(HERE / "shower_gel.odfpy.ods"))


def csv_files():
    # English: comma, point, UTF-8 with a mark, as spreadsheet programs write it.
    with open(HERE / "shower_gel.comma_utf8.csv", "w", encoding="utf-8-sig", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(HEADINGS)
        for phase, name, inci, percent, role in SHOWER_GEL:
            writer.writerow([phase, name, inci, "q.s." if percent is None else percent, role])
    # German: semicolon, decimal comma, Windows-1252.
    german = ["Phase", "Rohstoff", "INCI-Bezeichnung", "Menge in %", "Funktion (für …)"]
    with open(HERE / "shower_gel.semicolon_cp1252.csv", "w", encoding="cp1252", newline="") as file:
        writer = csv.writer(file, delimiter=";", quoting=csv.QUOTE_NONNUMERIC)
        writer.writerow(german)
        for phase, name, inci, percent, role in SHOWER_GEL:
            shown = "ad 100" if percent is None else f"{percent:.2f}".replace(".", ",")
            writer.writerow([phase, name, inci, shown, role])
    # Tabs in UTF-16, in grams of a 2 kg batch with thousands marks.
    left = 100 - sum(p for *_, p, _ in SHOWER_GEL if p is not None)
    with open(HERE / "shower_gel.tab_utf16.tsv", "w", encoding="utf-16", newline="") as file:
        writer = csv.writer(file, delimiter="\t")
        writer.writerow(["Phase", "Ingrédient", "INCI", "Quantité (g)", "Fonction"])
        for phase, name, inci, percent, role in SHOWER_GEL:
            grams = (left if percent is None else percent) * 20
            shown = f"{grams:,.1f}".replace(",", "\u202f").replace(".", ",")
            writer.writerow([phase, name, inci, shown, role])
        writer.writerow(["", "Total", "", "2\u202f000,0", ""])


def libreoffice_files():
    """LibreOffice computes the formulas of a flat sheet and saves it in its own ways."""
    with tempfile.TemporaryDirectory() as folder:
        folder = pathlib.Path(folder)
        book = openpyxl.Workbook()
        sheet = book.active
        sheet.title = "Rezeptur"
        sheet.append(["Wacholder-Duschgel"])
        sheet.append([])
        sheet.append(HEADINGS)
        first = 4
        last = first + len(SHOWER_GEL) - 1
        for phase, name, inci, percent, role in SHOWER_GEL:
            sheet.append([phase, name, inci, percent, role])
        # Water is 100 less the others, as a formula for LibreOffice to compute.
        sheet.cell(first, 4).value = f"=100-SUM(D{first + 1}:D{last})"
        sheet.append(["", "Total", "", f"=SUM(D{first}:D{last})", ""])
        source = folder / "shower_gel.xlsx"
        book.save(source)
        for kind, name in [
            ("ods", "shower_gel.libreoffice.ods"),
            ("xlsx:Calc MS Excel 2007 XML", "shower_gel.libreoffice.xlsx"),
            ("html", "shower_gel.pasted.html"),
        ]:
            out = folder / "out"
            out.mkdir(exist_ok=True)
            subprocess.run(
                ["soffice", "--headless", f"-env:UserInstallation=file://{folder}/profile",
                 "--convert-to", kind, "--outdir", str(out), str(source)],
                check=True, stdout=subprocess.DEVNULL,
            )
            suffix = kind.split(":")[0]
            shutil.copy(out / f"shower_gel.{suffix}", HERE / name)


if __name__ == "__main__":
    openpyxl_files()
    odfpy_file()
    csv_files()
    libreoffice_files()
