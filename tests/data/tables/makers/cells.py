"""Helpers of the later rounds: a little cell language, writers, and the expectations.
Cells stand between bars. 12.5 is a number, '12.5 text, p:12.5 a number shown as per cent,
g:12.5 a number shown with " g", e:12.5 with euros, l:12.5 with pounds, z:12.5 with złoty, d:2027-03-01 a date, f:=A1+1;5 a formula with its value (xlsxwriter)."""
import csv, datetime, html, io, json, os, re, shutil, subprocess, sys
CASES = []
HERE = os.path.dirname(os.path.abspath(__file__))
PREFIX = ''
def begin(prefix):
    """All files of a round begin with its prefix."""
    global PREFIX
    PREFIX = prefix
def path(f): return os.path.join(HERE, PREFIX + f)
NUM = re.compile(r'^-?\d+(\.\d+)?$')
def cell(s):
    s = s.strip()
    if s == '': return None
    if s[0] == "'": return s[1:]
    if NUM.match(s): return float(s) if '.' in s else int(s)
    return s
def rows(dsl):
    return [[cell(c) for c in l.split('|')] if l.strip() else [] for l in dsl.strip('\n').split('\n')]
FM = {'p': '0.0%', 'g': '0.00" g"', 'e': '#,##0.00 "€"', 'l': '"£"#,##0.00', 'z': '0.00" zł"', 'k': '#,##0.00', 'd': 'yyyy-mm-dd', 'n': 'dd.mm.yyyy', 'i': '0'}
def split(v):
    if isinstance(v, str) and len(v) > 2 and v[1] == ':' and v[0] in 'pgelzkdnif' :
        k, r = v[0], v[2:].strip()
        if k in 'dn': return k, datetime.datetime.strptime(r, '%Y-%m-%d')
        if k == 'f': a, b = r.rsplit(';', 1); return k, (a, float(b) if NUM.match(b.strip()) else b)
        return k, float(r) / (100 if k == 'p' else 1)
    return None, v
def xl(f, sheets, merge=(), hide=(), strike=(), hidecols=(), bold=(), notes={}, active=None, hiddensheets=(), fill={}, filt=None):
    """openpyxl"""
    import openpyxl
    from openpyxl.styles import Font, PatternFill, Alignment
    from openpyxl.comments import Comment
    if isinstance(sheets, str): sheets = {'Sheet1': sheets}
    wb = openpyxl.Workbook(); wb.remove(wb.active)
    for i, (n, d) in enumerate(sheets.items()):
        ws = wb.create_sheet(n)
        for r, row in enumerate(rows(d), 1):
            for c, v in enumerate(row, 1):
                if v is None: continue
                k, v = split(v); x = ws.cell(r, c); x.value = v[0] if k == 'f' else v
                if k and k != 'f': x.number_format = FM[k]
                if isinstance(v, str) and not k: x.data_type = 's'
                if isinstance(v, str) and len(v) > 40: x.alignment = Alignment(wrap_text=True)
        if i == 0:
            for m in merge: ws.merge_cells(m)
            for h in hide: ws.row_dimensions[h].hidden = True
            for h in hidecols: ws.column_dimensions[h].hidden = True
            for s in strike:
                for x in ws[s]: x.font = Font(strike=True)
            for s in bold:
                for x in ws[s]: x.font = Font(bold=True)
            for a, t in notes.items(): ws[a].comment = Comment(t, 'me')
            for a, t in fill.items(): ws[a].fill = PatternFill('solid', fgColor=t)
            if filt: ws.auto_filter.ref = filt
        ws.column_dimensions['A'].width = 24; ws.column_dimensions['B'].width = 28
        if n in hiddensheets: ws.sheet_state = 'hidden'
    if active is not None:
        wb.active = active
        for i, ws in enumerate(wb.worksheets): ws.sheet_view.tabSelected = i == active
    wb.save(path(f))
def xw(f, sheets, merge=(), hide=(), freeze=None):
    """XlsxWriter, formulas with values"""
    import xlsxwriter
    if isinstance(sheets, str): sheets = {'Tabelle1': sheets}
    wb = xlsxwriter.Workbook(path(f)); F = {k: wb.add_format({'num_format': v}) for k, v in FM.items()}
    B = wb.add_format({'bold': True}); num = wb.add_format({'num_format': '0.00'})
    for i, (n, d) in enumerate(sheets.items()):
        ws = wb.add_worksheet(n)
        for r, row in enumerate(rows(d)):
            for c, v in enumerate(row):
                if v is None: continue
                k, v = split(v)
                if k == 'f': ws.write_formula(r, c, v[0], num, v[1])
                elif k in ('d', 'n'): ws.write_datetime(r, c, v, F[k])
                elif k: ws.write_number(r, c, v, F[k])
                elif isinstance(v, (int, float)): ws.write_number(r, c, v)
                else: ws.write_string(r, c, v)
        if i == 0:
            for m, t in merge: ws.merge_range(m, t, B)
            for h in hide: ws.set_row(h - 1, None, None, {'hidden': True})
            if freeze: ws.freeze_panes(freeze, 0)
        ws.set_column(0, 1, 24)
    wb.close()
def pdx(f, dsl, sheet='Sheet1', ods=False):
    """pandas"""
    import pandas as pd
    r = rows(dsl); w = max(map(len, r)); r = [x + [None] * (w - len(x)) for x in r]
    df = pd.DataFrame([[split(v)[1] for v in x] for x in r[1:]], columns=r[0])
    df.to_excel(path(f), index=False, sheet_name=sheet, engine='odf' if ods else 'openpyxl')
def od(f, sheets, hide=(), strike=(), merge={}):
    """odfpy; merge: {(row, col): (down, across)}"""
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.table import Table, TableRow, TableCell, CoveredTableCell, TableColumn
    from odf.text import P
    from odf.style import Style, TextProperties
    if isinstance(sheets, str): sheets = {'Blatt1': sheets}
    doc = OpenDocumentSpreadsheet(); st = Style(name='st', family='table-cell')
    st.addElement(TextProperties(textlinethroughstyle='solid', textlinethroughtype='single')); doc.automaticstyles.addElement(st)
    for i, (n, d) in enumerate(sheets.items()):
        t = Table(name=n); t.addElement(TableColumn(numbercolumnsrepeated=12)); rr = rows(d)
        cov = {(a + x, b + y) for (a, b), (dn, ac) in merge.items() for x in range(dn) for y in range(ac) if (x, y) != (0, 0)} if i == 0 else set()
        for r, row in enumerate(rr, 1):
            tr = TableRow(visibility='collapse') if i == 0 and r in hide else TableRow()
            for c, v in enumerate(row, 1):
                if (r, c) in cov: tr.addElement(CoveredTableCell()); continue
                a = {}
                if i == 0 and r in strike: a['stylename'] = st
                if i == 0 and (r, c) in merge:
                    dn, ac = merge[(r, c)]; a['numberrowsspanned'] = dn; a['numbercolumnsspanned'] = ac
                if v is None: tr.addElement(TableCell(**a)); continue
                k, v = split(v)
                if k in ('d', 'n'): x = TableCell(valuetype='date', datevalue=v.strftime('%Y-%m-%d'), **a); s = v.strftime('%d.%m.%Y')
                elif k == 'p': x = TableCell(valuetype='percentage', value=v, **a); s = f'{v*100:g}%'
                elif k == 'e': x = TableCell(valuetype='currency', currency='EUR', value=v, **a); s = f'{v:.2f} €'
                elif isinstance(v, (int, float)): x = TableCell(valuetype='float', value=v, **a); s = f'{v:g}' + (' g' if k == 'g' else '')
                else: x = TableCell(valuetype='string', **a); s = str(v)
                x.addElement(P(text=s)); tr.addElement(x)
            if not row: tr.addElement(TableCell())
            t.addElement(tr)
        doc.spreadsheet.addElement(t)
    doc.save(path(f))
def cs(f, dsl, sep=',', enc='utf-8', crlf=True):
    b = io.StringIO(); w = csv.writer(b, delimiter=sep, lineterminator='\r\n' if crlf else '\n')
    for l in dsl.strip('\n').split('\n'):
        w.writerow([c.strip().lstrip("'") for c in l.split('|')])
    open(path(f), 'wb').write(b.getvalue().encode(enc))
def tx(f, s, enc='utf-8'):
    open(path(f), 'wb').write(s.lstrip('\n').encode(enc))
def ht(f, body, title=''):
    tx(f, f'<!DOCTYPE html>\n<html><head><meta charset="utf-8"><title>{title}</title></head>\n<body>\n{body.strip()}\n</body></html>\n')
def tab(dsl, head=True):
    o = ['<table>']
    for i, l in enumerate(dsl.strip('\n').split('\n')):
        t = 'th' if head and i == 0 else 'td'
        o.append('<tr>' + ''.join(f'<{t}>{html.escape(c.strip())}</{t}>' for c in l.split('|')) + '</tr>')
    return '\n'.join(o + ['</table>'])
S = {'CA': '?citric-acid-monohydrate|citric-acid-anhydrous', 'W': 'water-demineralised', 'G': 'glycerin-99-5',
     'PE': 'phenoxyethanol-and-ethylhexylglycerin-90-10', 'BADHA': 'benzyl-alcohol-and-dehydroacetic-acid-blend',
     'CAPB30': 'cocamidopropyl-betaine-solution-30', 'CAPB38': 'cocamidopropyl-betaine-solution-38',
     'CB': 'cocamidopropyl-betaine-solution-30|?', 'DG': 'decyl-glucoside-solution-51|?decyl-glucoside-solution-51',
     'CG': 'coco-glucoside-solution-52|?coco-glucoside-solution-52', 'LG': 'lauryl-glucoside-paste-51|?lauryl-glucoside-paste-51',
     'SLES70': 'sodium-laureth-sulfate-paste-70', 'SLES28': 'sodium-laureth-sulfate-solution-28', 'FR': '?|new',
     'VE': 'tocopherol-mixed-70-in-sunflower-oil|?', 'T?': '?', 'CETE': 'cetearyl-alcohol-and-ceteareth-20',
     'EWNF': 'cetearyl-alcohol-and-polysorbate-60', 'NAOH': 'sodium-hydroxide-pellets|?', 'LAV': 'lavender-essential-oil'}
def ids(s):
    s = s.strip(); s = S.get(s, s)
    # /x short for x|?x
    s = re.sub(r'/([a-z0-9-]+)', r'\1|?\1', s)
    for one in s.split('+'):
        pass
    s = s.replace(' or ', '|')
    return s.replace('own-', '')
def nm(s):
    a = [x.strip() for x in s.split('~')]
    return a
def lines(spec, kind):
    out = []
    for l in spec.strip().split('\n'):
        p = [x.strip() for x in l.split('¦')]
        n = nm(p[0]); i = ids(p[1])
        if kind == 'recipe':
            pc = None if p[2] == '-' else round(float(eval(p[2])), 6)
            if pc is not None and pc == int(pc): pc = int(pc)
            e = [n[0], i, pc, p[3] if len(p) > 3 else 'A']
        elif kind == 'price':
            offers = [offer(x) for x in p[2].split(';') if x.strip()] if len(p) > 2 else []
            e = [n[0], i, offers] + ([p[3]] if len(p) > 3 and p[3] else [])
        else: e = [n[0], i, []]
        if len(n) > 1:
            while len(e) < 4: e.append(None)
            e.append(n)
        out.append(e)
    return out
def offer(s):
    p, c, g = s.split(); return f'{float(p):.2f} {c} for {g} g' if len(p.split('.')[-1]) <= 2 or '.' not in p else f'{p} {c} for {g} g'
def R(cls, file, spec, all=False, sums=True, **k):
    c = {'cls': cls, 'file': file, 'lines': lines(spec, 'recipe'), 'args': ['--all'] if all else [], 'kind': 'recipe', **k}
    CASES.append(c)
    ps = [l[2] for l in c['lines']]
    if None not in ps and sums:
        n = sum(ps)
        assert abs(n / 100 - round(n / 100)) < 0.0006 and n > 50, (file, n)
def P(cls, file, spec, **k): CASES.append({'cls': cls, 'file': file, 'lines': lines(spec, 'price'), 'kind': 'price', **k})
def M(cls, file, spec, **k): CASES.append({'cls': cls, 'file': file, 'lines': lines(spec, 'materials'), 'kind': 'materials', **k})
def plain(f):
    import zipfile
    b = open(path(f), 'rb').read()
    if f.endswith(('xlsx', 'ods')):
        z = zipfile.ZipFile(io.BytesIO(b)); t = ' '.join(z.read(n).decode('utf-8') for n in z.namelist() if n.endswith('.xml'))
    else:
        for enc in ('utf-16', 'utf-8', 'cp1252') if b[:2] in (b'\xff\xfe', b'\xfe\xff') else ('utf-8', 'cp1252'):
            try: t = b.decode(enc); break
            except UnicodeError: continue
    return re.sub(r'\s+', ' ', html.unescape(re.sub(r'<text:s/>', ' ', t)))
def end(word):
    """Says what was made; the expectations stand in expected.json, corrected where they were wrong."""
    for c in CASES:
        assert os.path.exists(path(c['file'])), c['file']
        t = plain(c['file'])
        for l in c['lines']:
            for x in (l[4] if len(l) > 4 else [l[0]])[:1]:
                if x.lower() not in t.lower(): print('NAME NOT IN FILE', c['file'], x)
    print(word, len(CASES), 'files', sum(len(c['lines']) for c in CASES), 'rows')
