"""What the rounds written by hand from the fifteenth on have in common: a short notation for tables, and writers for each
kind of file.

Cells stand between bars; a bare number is a number, 'words words, p:12.5 per cent, e: euros, z: zloty, u: dollars,
l: pounds, d:2027-03-01 a date, f:=A1+1;5 a formula with its value; ⏎ is a new line in a cell. Expectation: name ~ other
spelling ¦ id ¦ per cent ¦ phase; /x is "x or x asked"; phase "" is "any"; "-" an amount that must be asked; id|?|new one
of these."""
import csv, datetime, html, io, json, os, re
CASES, ENC = [], {}
HERE = os.path.dirname(os.path.abspath(__file__))
def path(f): return os.path.join(HERE, f)
def val(s):
    s = s.strip().replace('⏎', '\n')
    if not s: return None
    if s[0] == "'": return s[1:]
    if re.fullmatch(r'-?\d+(\.\d+)?', s): return float(s) if '.' in s else int(s)
    m = re.fullmatch(r'([pezuldfgk]):(.*)', s, re.S)
    if m and (re.match(r'[-\d.=]', m[2])): return (m[1], m[2])
    return s
def grid(d): return [[val(c) for c in l.split('|')] if l.strip(' |') else [] for l in d.strip('\n').split('\n')]
FMT = {'p': '0.00%', 'e': '#,##0.00 "€"', 'z': '#,##0.00" zł"', 'u': '"$"#,##0.00', 'l': '"£"#,##0.00', 'd': 'dd.mm.yyyy', 'g': '#,##0.0" g"', 'k': '0.000" kg"'}
def xl(f, sheets, merge=(), hide=(), hidecol=(), strike=(), bold=(), fill={}, notes={}, active=0, hidesheet=()):
    import openpyxl
    from openpyxl.styles import Font, PatternFill
    from openpyxl.comments import Comment
    if isinstance(sheets, str): sheets = {'Sheet1': sheets}
    wb = openpyxl.Workbook(); wb.remove(wb.active)
    for i, (n, d) in enumerate(sheets.items()):
        ws = wb.create_sheet(n)
        for r, row in enumerate(grid(d), 1):
            for c, v in enumerate(row, 1):
                if v is None: continue
                x = ws.cell(r, c)
                if isinstance(v, tuple):
                    k, t = v; x.number_format = FMT[k]
                    x.value = datetime.datetime.strptime(t, '%Y-%m-%d') if k == 'd' else round(float(t) / (100 if k == 'p' else 1), 8)
                else:
                    x.value = v
                    if isinstance(v, str): x.data_type = 's'
        if i == active:
            for m in merge: ws.merge_cells(m)
            for h in hide: ws.row_dimensions[h].hidden = True
            for h in hidecol: ws.column_dimensions[h].hidden = True
            for s in strike: 
                for x in ws[s]: x.font = Font(strike=True)
            for s in bold:
                for x in ws[s]: x.font = Font(bold=True)
            for a, col in fill.items():
                for rw in ws[a] if ':' in a else ((ws[a],),):
                    for x in rw: x.fill = PatternFill('solid', fgColor=col)
            for a, w in notes.items(): ws[a].comment = Comment(w, 'ich')
        if n in hidesheet: ws.sheet_state = 'hidden'
        for c in 'ABC': 
            if c not in hidecol: ws.column_dimensions[c].width = 27
    wb.active = active
    for i, ws in enumerate(wb.worksheets): ws.sheet_view.tabSelected = i == active
    wb.save(path(f))
def xw(f, sheets, merge=()):
    import xlsxwriter
    if isinstance(sheets, str): sheets = {'Feuil1': sheets}
    wb = xlsxwriter.Workbook(path(f)); F = {k: wb.add_format({'num_format': v}) for k, v in FMT.items()}
    B = wb.add_format({'bold': True}); P = wb.add_format({'num_format': '0.00%'}); N = wb.add_format({'num_format': '0.00'})
    for i, (n, d) in enumerate(sheets.items()):
        ws = wb.add_worksheet(n)
        for r, row in enumerate(grid(d)):
            for c, v in enumerate(row):
                if v is None: continue
                if isinstance(v, tuple):
                    k, t = v
                    if k == 'f':
                        a, b = t.rsplit(';', 1); pc = b.endswith('%')
                        ws.write_formula(r, c, a, P if pc else N, round(float(b.rstrip('%')) / (100 if pc else 1), 10))
                    elif k == 'd': ws.write_datetime(r, c, datetime.datetime.strptime(t, '%Y-%m-%d'), F[k])
                    else: ws.write_number(r, c, float(t) / (100 if k == 'p' else 1), F[k])
                elif isinstance(v, (int, float)): ws.write_number(r, c, v)
                else: ws.write_string(r, c, v)
        if i == 0:
            for m, t in merge: ws.merge_range(m, t, B)
        ws.set_column(0, 2, 26)
    wb.close()
def od(f, sheets, hide=(), merge={}):
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.table import Table, TableRow, TableCell, CoveredTableCell, TableColumn
    from odf.text import P as Para
    if isinstance(sheets, str): sheets = {'Blad1': sheets}
    doc = OpenDocumentSpreadsheet()
    for i, (n, d) in enumerate(sheets.items()):
        t = Table(name=n); t.addElement(TableColumn(numbercolumnsrepeated=10))
        for r, row in enumerate(grid(d), 1):
            tr = TableRow(visibility='collapse') if i == 0 and r in hide else TableRow(); skip = 0
            for c, v in enumerate(row, 1):
                if skip: skip -= 1; tr.addElement(CoveredTableCell()); continue
                a = {}
                if i == 0 and (r, c) in merge: a['numbercolumnsspanned'] = merge[r, c]; skip = merge[r, c] - 1
                if v is None: x = TableCell(**a); s = ''
                elif isinstance(v, tuple):
                    k, w = v
                    if k == 'p': x = TableCell(valuetype='percentage', value=float(w) / 100, **a); s = w.replace('.', ',') + '%'
                    elif k == 'd': x = TableCell(valuetype='date', datevalue=w, **a); s = '-'.join(reversed(w.split('-')))
                    elif k == 'f': g, b = w.rsplit(';', 1); x = TableCell(valuetype='float', value=b, formula='of:' + g, **a); s = b.replace('.', ',')
                    else: x = TableCell(valuetype='currency', currency={'e': 'EUR', 'z': 'PLN', 'u': 'USD', 'l': 'GBP'}[k], value=w, **a); s = f'{float(w):.2f}'.replace('.', ',') + {'e': ' €', 'z': ' zł'}.get(k, '')
                elif isinstance(v, (int, float)): x = TableCell(valuetype='float', value=v, **a); s = f'{v:g}'.replace('.', ',')
                else: x = TableCell(valuetype='string', **a); s = v
                if s: x.addElement(Para(text=s))
                tr.addElement(x)
            if not row: tr.addElement(TableCell())
            t.addElement(tr)
        doc.spreadsheet.addElement(t)
    doc.save(path(f))
def tx(f, s, enc='utf-8', crlf=False):
    s = s.strip('\n') + '\n'
    if crlf: s = s.replace('\n', '\r\n')
    if enc not in ('utf-8', 'utf-8-sig'): ENC[f] = enc
    open(path(f), 'wb').write(s.encode(enc))
def cs(f, d, sep=',', enc='utf-8', crlf=True, quote=csv.QUOTE_MINIMAL):
    b = io.StringIO(); w = csv.writer(b, delimiter=sep, lineterminator='\n', quoting=quote)
    for l in d.strip('\n').split('\n'): w.writerow([c.strip() for c in l.split('¦')])
    tx(f, b.getvalue(), enc, crlf)
def ht(f, body, title): tx(f, f'<!DOCTYPE html>\n<html><head><meta charset="utf-8"><title>{title}</title></head><body>\n{body.strip()}\n</body></html>')
S = {'W': 'water-demineralised', 'G': 'glycerin-99-5', 'SH': 'shea-butter', 'OL': 'olive-oil', 'SU': 'sunflower-seed-oil', 'XG': 'xanthan-gum',
     'BW': 'beeswax-white', 'CO': 'coconut-oil', 'JO': 'jojoba-oil', 'AL': 'sweet-almond-oil', 'CB': 'cocoa-butter', 'CA': 'castor-oil',
     'GSC': 'glyceryl-stearate-citrate', 'CEA': 'cetyl-alcohol', 'CAL': 'cetearyl-alcohol', 'SB': 'sodium-benzoate', 'PS': 'potassium-sorbate',
     'LAV': 'lavender-essential-oil', 'PHE': 'phenoxyethanol', 'PEG': 'phenoxyethanol-and-ethylhexylglycerin-90-10', 'MAN': 'mango-butter',
     'VE': 'tocopherol-mixed-70-in-sunflower-oil|?', 'LEM': 'lemon-essential-oil-expressed|?', 'PAN': 'd-panthenol-75', 'ALL': 'allantoin-powder',
     'ROS': 'rosemary-essential-oil-cineole-type|?', 'B25': 'behentrimonium-methosulfate-25-in-cetearyl-alcohol', 'GRA': 'grape-seed-oil',
     'B50': 'behentrimonium-methosulfate-50-in-cetyl-alcohol-and-butylene-glycol', 'SA': 'stearic-acid', 'BIC': 'sodium-bicarbonate',
     'SQ': 'squalane-from-olive-or-sugar-cane', 'FR': '?|new', 'CAPB30': 'cocamidopropyl-betaine-solution-30', 'AVO': 'avocado-oil', 'P80': 'polysorbate-80',
     'SLES28': 'sodium-laureth-sulfate-solution-28', 'SLES70': 'sodium-laureth-sulfate-paste-70', 'CIT50': 'citric-acid-solution-50', 'MCT': 'caprylic-capric-triglyceride',
     'LA80': 'lactic-acid-80', 'OLI': 'cetearyl-olivate-and-sorbitan-olivate', 'GSE': 'glyceryl-stearate-se', 'SAL': 'sodium-chloride', 'ORA': 'sweet-orange-essential-oil'}
def ids(s):
    s = s.strip()
    if s[0] == '/': x = S.get(s[1:], s[1:]); return f'{x}|?{x}'
    if s[0] == '?' and s[1:].split('|')[0] in S: a, *b = s[1:].split('|'); return '|'.join(['?' + S[a]] + b)
    return S.get(s, s)
def slug(n): return re.sub(r'[^a-z0-9]+', '-', n.lower().replace('ł', 'l').translate(str.maketrans('áàâäéèêëíìîïóòôöúùûüñçąćęńśźż', 'aaaaeeeeiiiioooouuuuncacenszz')).replace('ß', 'ss')).strip('-')
def lines(spec, kind):
    out = []
    for l in spec.strip().split('\n'):
        p = [x.strip() for x in l.split('¦')]; n = [x.strip().replace('⏎', '\n') for x in p[0].split('~')]; i = ids(p[1])
        if i == 'NEW': i = 'new|?|' + slug(n[0])
        if kind == 'recipe':
            v = None if p[2] == '-' else round(float(eval(p[2])), 6)
            if v is not None and v == int(v): v = int(v)
            e = [n[0], i, v, p[3] if len(p) > 3 else 'A']
        elif kind == 'price':
            o = []
            for x in p[2].split(';') if len(p) > 2 else []:
                if x.strip(): a, c, q, u = (x.split() + ['g'])[:4]; o.append(f'no price for {q} {u}' if a == '-' else f'{float(a):.2f} {c} for {q} {u}')
            e = [n[0], i, o] + ([p[3]] if len(p) > 3 and p[3] else [])
        else: e = [n[0], i, []]
        if len(n) > 1:
            while len(e) < 4: e.append(None)
            e.append(n)
        out.append(e)
    return out
def round_of(name):
    """The functions that note what a person reads in a recipe, a price list and a list of materials of this round."""
    def R(cls, file, spec, all=False, **k):
        c = {'cls': f'{name}: {cls}', 'file': file, 'lines': lines(spec, 'recipe'), 'args': ['--all'] if all else [], 'kind': 'recipe', **k}
        CASES.append(c); ps = [l[2] for l in c['lines']]
        if None not in ps: assert abs(sum(ps) - 100 * k.get('recipes', 1)) < max(k.get('tol', 0) * 2, 0.0006), (file, sum(ps))
    def P(cls, file, spec, **k): CASES.append({'cls': f'{name}: {cls}', 'file': file, 'lines': lines(spec, 'price'), 'kind': 'price', **k})
    def M(cls, file, spec, **k): CASES.append({'cls': f'{name}: {cls}', 'file': file, 'lines': lines(spec, 'materials'), 'kind': 'materials', **k})
    return R, P, M
