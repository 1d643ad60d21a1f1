"""Writes tables with programs that are not ours, and notes what a person reads in them."""
import datetime, json, pathlib, shutil, subprocess, tempfile
import openpyxl, xlsxwriter, pandas as pd
from openpyxl.styles import Font
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableRow, TableCell
from odf.text import P
from odf.style import Style, TextProperties, TableRowProperties
OUT = pathlib.Path(__file__).parent
CASES = []
def case(cls, name, lines, args=(), kind='recipe', name_=None, **more):
    CASES.append(dict(cls=cls, file=name, lines=[list(l) for l in lines], args=list(args), kind=kind, **more))
    return OUT / name
def text(cls, name, body, lines, enc='utf-8', **m):
    p = case(cls, name, lines, **m)
    p.write_bytes(body.encode(enc))
def xlsx(cls, name, rows, lines, tweak=None, title=None, sheet='Sheet1', **m):
    p = case(cls, name, lines, **m)
    b = openpyxl.Workbook(); s = b.active; s.title = sheet
    for r in rows: s.append(list(r))
    if tweak: tweak(b, s)
    b.save(p)
def xw(cls, name, build, lines, **m):
    p = case(cls, name, lines, **m)
    b = xlsxwriter.Workbook(str(p)); build(b); b.close()
def ods(cls, name, sheets, lines, **m):
    """cells: None, str, float, ('%', frac), ('d', date)"""
    p = case(cls, name, lines, **m)
    d = OpenDocumentSpreadsheet()
    for sname, rows in sheets:
        t = Table(name=sname)
        for r in rows:
            tr = TableRow()
            for c in r:
                if c is None: tr.addElement(TableCell())
                elif isinstance(c, tuple) and c[0] == '%':
                    x = TableCell(valuetype='percentage', value=repr(c[1])); x.addElement(P(text=f'{c[1]*100:.2f}%')); tr.addElement(x)
                elif isinstance(c, tuple) and c[0] == 'd':
                    x = TableCell(valuetype='date', datevalue=c[1]); x.addElement(P(text=c[1])); tr.addElement(x)
                elif isinstance(c, (int, float)):
                    x = TableCell(valuetype='float', value=repr(c)); x.addElement(P(text=str(c).replace('.', ','))); tr.addElement(x)
                else:
                    x = TableCell(valuetype='string'); x.addElement(P(text=c)); tr.addElement(x)
            t.addElement(tr)
        d.spreadsheet.addElement(t)
    d.save(str(p))
def lo(cls, name, src, fmt, lines, **m):
    """src: path in OUT (made already), converted with LibreOffice"""
    p = case(cls, name, lines, **m)
    with tempfile.TemporaryDirectory() as tmp:
        subprocess.run(['soffice','--headless',f'-env:UserInstallation=file://{tmp}/profile','--convert-to',fmt,'--outdir',tmp,str(OUT/src)],check=True,stdout=subprocess.DEVNULL,stderr=subprocess.DEVNULL)
        made = pathlib.Path(tmp) / (pathlib.Path(src).stem + '.' + fmt.split(':')[0])
        shutil.copy(made, p)
def done():
    """Puts the expectations of files that have none yet into expected.json; those that stand there, of this round and of
    others, were corrected by hand where they were wrong, and stay."""
    file = OUT / 'expected.json'
    known = json.loads(file.read_text()) if file.exists() else []
    names = {c['file'] for c in known}
    new = [c for c in CASES if c['file'] not in names]
    rows = ',\n'.join(json.dumps(c, ensure_ascii=False) for c in known + new)
    file.write_text('[\n' + rows + '\n]\n')
    print(len(CASES), 'files made,', len(new), 'new cases,', sum(len(c['lines']) for c in new), 'lines')
W='water-demineralised'; G='glycerin-99-5'; SH='shea-butter'; OL='olive-oil'; SU='sunflower-seed-oil'; XG='xanthan-gum'
BW='beeswax-white'; CO='coconut-oil'; JO='jojoba-oil'; AL='sweet-almond-oil'; CB='cocoa-butter'; CA='castor-oil'
GSC='glyceryl-stearate-citrate'; GS='glyceryl-stearate'; CAL='cetearyl-alcohol'; CEA='cetyl-alcohol'
SB='sodium-benzoate'; PS='potassium-sorbate'; LAV='lavender-essential-oil'; CCT='caprylic-capric-triglyceride'
CIT='citric-acid-monohydrate'; CIA='citric-acid-anhydrous'; PHE='phenoxyethanol-and-ethylhexylglycerin-90-10'; NACL='sodium-chloride'
TOC='?tocopherol-mixed-50-in-sunflower-oil|tocopherol-mixed-70-in-sunflower-oil|new'
CAPB='?cocamidopropyl-betaine-solution-30|cocamidopropyl-betaine-solution-38|new'
DG='decyl-glucoside-solution-51'; CG='coco-glucoside-solution-52'; SCI='sodium-cocoyl-isethionate-powder-85'
SLES28='sodium-laureth-sulfate-solution-28'; SLES70='sodium-laureth-sulfate-paste-70'
CIT2='?'+CIT+'|'+CIA
