#!/usr/bin/env python3
"""A fourteenth round, written down without sight of the program (class "fourteenth" in expected.json): recipes, price and
stock lists, lists of materials of invented makers in seven tongues. A third plain, a third with the usual irregularities,
a third of layouts one would not think of: phases as columns, a recipe lying on its side, a form, a label, a batch card with
tare, JSON and a UTF-16 table of a telephone, a mind map, an oil calculator, five variants, a page printed twice, footnotes.
Run with a Python that has openpyxl, xlsxwriter and odfpy; writes beside itself.

Cells stand between bars: 12.5 is a number, '12.5 text, e:12.5 euros, l:12.5 pounds, n: a date, f:=A1+1;5 a formula with
its value. Expectation: name ~ other spelling ¦ id ¦ per cent ¦ phase; /x is "x or x asked", S has short names; phase ""
is "any"; "-" an amount that must be asked. An id the shelf may or may not have stands as id|?|new."""
import csv, datetime, html, io, json, os, re
CASES = []
HERE = os.path.dirname(os.path.abspath(__file__))
def path(f): return os.path.join(HERE, f)
NUM = re.compile(r'^-?\d+(\.\d+)?$')
def cell(s):
    s = s.strip().replace('⏎', '\n')
    if s == '': return None
    if s[0] == "'": return s[1:]
    if NUM.match(s): return float(s) if '.' in s else int(s)
    return s
def rows(dsl): return [[cell(c) for c in l.split('|')] if l.strip() else [] for l in dsl.strip('\n').split('\n')]
FM = {'p': '0.0%', 'g': '0.00" g"', 'e': '#,##0.00 "€"', 'l': '"£"#,##0.00', 'z': '0.00" zł"', 'u': '"$"#,##0.00', 't': '#,##0', 'd': 'yyyy-mm-dd', 'n': 'dd.mm.yyyy'}
def split(v):
    if isinstance(v, str) and len(v) > 2 and v[1] == ':' and v[0] in 'pgelzdnfut':
        k, r = v[0], v[2:].strip()
        if k in 'dn': return k, datetime.datetime.strptime(r, '%Y-%m-%d')
        if k == 'f': a, b = r.rsplit(';', 1); return k, (a, float(b))
        return k, float(r) / (100 if k == 'p' else 1)
    return None, v
def xl(f, sheets, merge=(), hide=(), strike=(), bold=(), active=0, hidecols=(), comments={}, fill={}):
    import openpyxl
    from openpyxl.styles import Font, Alignment
    if isinstance(sheets, str): sheets = {'Sheet1': sheets}
    wb = openpyxl.Workbook(); wb.remove(wb.active)
    for i, (n, d) in enumerate(sheets.items()):
        ws = wb.create_sheet(n)
        for r, row in enumerate(rows(d), 1):
            for c, v in enumerate(row, 1):
                if v is None: continue
                k, v = split(v); x = ws.cell(r, c); x.value = v
                if k: x.number_format = FM[k]
                if isinstance(v, str): x.data_type = 's'
                if isinstance(v, str) and (len(v) > 40 or '\n' in v): x.alignment = Alignment(wrap_text=True)
        if i == active:
            for m in merge: ws.merge_cells(m)
            for c in hidecols: ws.column_dimensions[c].hidden = True
            for a, words in comments.items():
                from openpyxl.comments import Comment
                ws[a].comment = Comment(words, 'me')
            for a, colour in fill.items():
                from openpyxl.styles import PatternFill
                for rw in ws[a]:
                    for x in rw: x.fill = PatternFill('solid', fgColor=colour)
            for h in hide: ws.row_dimensions[h].hidden = True
            for s in strike:
                for x in ws[s]: x.font = Font(strike=True)
            for s in bold:
                for x in ws[s]: x.font = Font(bold=True)
        ws.column_dimensions['A'].width = 26; ws.column_dimensions['B'].width = 26
    wb.active = active
    for i, ws in enumerate(wb.worksheets): ws.sheet_view.tabSelected = i == active
    wb.save(path(f))
def xw(f, sheets, merge=()):
    import xlsxwriter
    if isinstance(sheets, str): sheets = {'Tabelle1': sheets}
    wb = xlsxwriter.Workbook(path(f)); F = {k: wb.add_format({'num_format': v}) for k, v in FM.items()}
    B = wb.add_format({'bold': True, 'align': 'center'}); num = wb.add_format({'num_format': '0.00'})
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
        ws.set_column(0, 1, 26)
    wb.close()
def od(f, sheets, merge={}):
    """merge: {(row, col): (down, across)}"""
    from odf.opendocument import OpenDocumentSpreadsheet
    from odf.table import Table, TableRow, TableCell, CoveredTableCell, TableColumn
    from odf.text import P as Para
    if isinstance(sheets, str): sheets = {'Blad1': sheets}
    doc = OpenDocumentSpreadsheet()
    for i, (n, d) in enumerate(sheets.items()):
        t = Table(name=n); t.addElement(TableColumn(numbercolumnsrepeated=12)); rr = rows(d)
        cov = {(a + x, b + y) for (a, b), (dn, ac) in merge.items() for x in range(dn) for y in range(ac) if (x, y) != (0, 0)} if i == 0 else set()
        for r, row in enumerate(rr, 1):
            tr = TableRow()
            for c, v in enumerate(row, 1):
                if (r, c) in cov: tr.addElement(CoveredTableCell()); continue
                a = {}
                if i == 0 and (r, c) in merge:
                    dn, ac = merge[(r, c)]; a['numberrowsspanned'] = dn; a['numbercolumnsspanned'] = ac
                if v is None: tr.addElement(TableCell(**a)); continue
                k, v = split(v)
                if k in ('d', 'n'): x = TableCell(valuetype='date', datevalue=v.strftime('%Y-%m-%d'), **a); s = v.strftime('%d-%m-%Y')
                elif k == 'p': x = TableCell(valuetype='percentage', value=v, **a); s = f'{v*100:g}%'
                elif k == 'e': x = TableCell(valuetype='currency', currency='EUR', value=v, **a); s = f'€ {v:.2f}'.replace('.', ',')
                elif k == 'f': x = TableCell(valuetype='float', value=v[1], formula='of:' + v[0], **a); s = f'{v[1]:g}'.replace('.', ',')
                elif isinstance(v, (int, float)): x = TableCell(valuetype='float', value=v, **a); s = f'{v:g}'.replace('.', ',')
                else: x = TableCell(valuetype='string', **a); s = str(v)
                x.addElement(Para(text=s)); tr.addElement(x)
            if not row: tr.addElement(TableCell())
            t.addElement(tr)
        doc.spreadsheet.addElement(t)
    doc.save(path(f))
def cs(f, dsl, sep=',', enc='utf-8', crlf=True, first=''):
    b = io.StringIO(); w = csv.writer(b, delimiter=sep, lineterminator='\r\n' if crlf else '\n')
    b.write(first)
    for l in dsl.strip('\n').split('\n'): w.writerow([c.strip() for c in l.split('|')])
    open(path(f), 'wb').write(b.getvalue().encode(enc))
def tx(f, s, enc='utf-8', crlf=False):
    s = s.lstrip('\n')
    if crlf: s = s.replace('\n', '\r\n')
    open(path(f), 'wb').write(s.encode(enc))
def ht(f, body, title=''):
    tx(f, f'<!DOCTYPE html>\n<html><head><meta charset="utf-8"><title>{title}</title></head>\n<body>\n{body.strip()}\n</body></html>\n')
S = {'W': 'water-demineralised', 'G': 'glycerin-99-5', 'SH': 'shea-butter', 'OL': 'olive-oil', 'SU': 'sunflower-seed-oil', 'XG': 'xanthan-gum',
     'BW': 'beeswax-white', 'CO': 'coconut-oil', 'JO': 'jojoba-oil', 'AL': 'sweet-almond-oil', 'CB': 'cocoa-butter', 'CA': 'castor-oil',
     'GSC': 'glyceryl-stearate-citrate', 'CEA': 'cetyl-alcohol', 'CAL': 'cetearyl-alcohol', 'SB': 'sodium-benzoate', 'PS': 'potassium-sorbate',
     'LAV': 'lavender-essential-oil', 'ORA': 'sweet-orange-essential-oil', 'PEP': 'peppermint-essential-oil', 'PHE': 'phenoxyethanol',
     'PEG': 'phenoxyethanol-and-ethylhexylglycerin-90-10', 'VE': 'tocopherol-mixed-70-in-sunflower-oil|?', 'LEM': 'lemon-essential-oil-expressed|?',
     'DG': 'decyl-glucoside-solution-51|?decyl-glucoside-solution-51', 'CG': 'coco-glucoside-solution-52|?coco-glucoside-solution-52',
     'CAPB30': 'cocamidopropyl-betaine-solution-30', 'CAPB38': 'cocamidopropyl-betaine-solution-38', 'CAPB': 'cocamidopropyl-betaine-solution-30|?',
     'SLES28': 'sodium-laureth-sulfate-solution-28', 'FR': '?|new', 'LA80': 'lactic-acid-80', 'CIT50': 'citric-acid-solution-50',
     'PAN': 'd-panthenol-75', 'EWNF': 'cetearyl-alcohol-and-polysorbate-60', 'OLI': 'cetearyl-olivate-and-sorbitan-olivate',
     'B25': 'behentrimonium-methosulfate-25-in-cetearyl-alcohol', 'B50': 'behentrimonium-methosulfate-50-in-cetyl-alcohol-and-butylene-glycol',
     'NAOH': 'sodium-hydroxide-pellets|?', 'LAN': 'lanolin-anhydrous|?lanolin-anhydrous', 'SA': 'stearic-acid', 'BIC': 'sodium-bicarbonate'}
def ids(s):
    s = s.strip()
    if s.startswith('/'):
        x = S.get(s[1:], s[1:]); return f'{x}|?{x}'
    if s.startswith('?') and s[1:] in S: return '?' + S[s[1:]]
    return S.get(s, s)
def lines(spec, kind):
    out = []
    for l in spec.strip().split('\n'):
        p = [x.strip() for x in l.split('¦')]; n = [x.strip() for x in p[0].split('~')]; i = ids(p[1])
        if kind == 'recipe':
            pc = None if p[2] == '-' else round(float(eval(p[2])), 6)
            if pc is not None and pc == int(pc): pc = int(pc)
            e = [n[0], i, pc, p[3] if len(p) > 3 else 'A']
        elif kind == 'price':
            o = []
            for x in p[2].split(';') if len(p) > 2 else []:
                if x.strip(): a, c, q, u = (x.split() + ['g'])[:4]; o.append(f'{float(a):.2f} {c} for {q} {u}')
            e = [n[0], i, o] + ([p[3]] if len(p) > 3 and p[3] else [])
        else: e = [n[0], i, []]
        if len(n) > 1:
            while len(e) < 4: e.append(None)
            e.append(n)
        out.append(e)
    return out
def R(cls, file, spec, all=False, sums=True, **k):
    c = {'cls': 'fourteenth: ' + cls, 'file': file, 'lines': lines(spec, 'recipe'), 'args': ['--all'] if all else [], 'kind': 'recipe', **k}
    CASES.append(c); ps = [l[2] for l in c['lines']]
    if None not in ps and sums:
        n = sum(ps); want = 100 * k.get('recipes', 1)
        assert abs(n - want) < 0.0006, (file, n)
def P(cls, file, spec, **k): CASES.append({'cls': 'fourteenth: ' + cls, 'file': file, 'lines': lines(spec, 'price'), 'kind': 'price', **k})
def M(cls, file, spec, **k): CASES.append({'cls': 'fourteenth: ' + cls, 'file': file, 'lines': lines(spec, 'materials'), 'kind': 'materials', **k})

def rec(dsl): return '\n'.join('\t'.join(c.strip() for c in l.split('|')) for l in dsl.strip('\n').split('\n')) + '\n'
S |= {'PEGn': 'phenoxyethanol-and-ethylhexylglycerin-90-10|?|new', 'RB': 'rice-bran-oil', 'GSE': 'glyceryl-stearate-se', 'MCT': 'caprylic-capric-triglyceride',
      'ROS': 'rosemary-essential-oil-cineole-type|?', 'ALL': 'allantoin-powder', 'ROSE': 'rose-water', 'SAL': 'sodium-chloride', 'AK': 'apricot-kernel-oil',
      'LYE': 'sodium-hydroxide-pellets', 'PANQ': 'd-panthenol-75', 'RAP': 'rapeseed-oil', 'AV': 'aloe-vera-juice', 'SLES70': 'sodium-laureth-sulfate-paste-70'}

S |= {'BERG': '?|bergamot-essential-oil-without-furocoumarins|bergamot-essential-oil-expressed', 'TEA': 'tea-tree-essential-oil', 'MAN': 'mango-butter', 'P80': 'polysorbate-80', 'GRA': 'grape-seed-oil', 'AVO': 'avocado-oil'}
ENC = {}
# ====================================================================== plain recipes
# 1
xl('Festes_Shampoo_Quellmoos.xlsx', """Festes Shampoo „Wacholder“ – Seifenstube Quellmoos|||
|||
Phase|Zutat|%|g für 200 g
A|Sodium Cocoyl Isethionate 85 % Pulver|50|100
A|Sodium Coco Sulfate Granulat|15|30
A|Maisstärke|8|16
B|Cetylalkohol|8|16
B|Kakaobutter|6|12
B|Brokkolisamenöl|3|6
B|BTMS-50|4|8
C|Weizenprotein, hydrolysiert 20 %|3|6
C|D-Panthenol 75 %|1.5|3
C|Wacholderbeeröl|1|2
C|Kaliumsorbat|0.5|1
|Summe|100|200""", merge=['A1:D1'], bold=[1, 3, 15])
R('plain: German shampoo bar with phases', 'Festes_Shampoo_Quellmoos.xlsx', '''Sodium Cocoyl Isethionate 85 % Pulver ¦ /sodium-cocoyl-isethionate-powder-85 ¦ 50 ¦ A
Sodium Coco Sulfate Granulat ¦ /sodium-coco-sulfate-granules ¦ 15 ¦ A
Maisstärke ¦ corn-starch ¦ 8 ¦ A
Cetylalkohol ¦ CEA ¦ 8 ¦ B
Kakaobutter ¦ CB ¦ 6 ¦ B
Brokkolisamenöl ¦ /broccoli-seed-oil ¦ 3 ¦ B
BTMS-50 ¦ B50 ¦ 4 ¦ B
Weizenprotein, hydrolysiert 20 % ¦ /hydrolyzed-wheat-protein-20 ¦ 3 ¦ C
D-Panthenol 75 % ¦ PAN ¦ 1.5 ¦ C
Wacholderbeeröl ¦ /juniper-berry-essential-oil ¦ 1 ¦ C
Kaliumsorbat ¦ PS ¦ 0.5 ¦ C''', batch=200)

# 2
tx('lait_demaquillant_imprime.txt', '''
Atelier du Vieux Lavoir                                 Fiche 07
LAIT DÉMAQUILLANT À LA FLEUR D'ORANGER
Lot type : 500 g                                     Page 1 / 1

Phase   Ingrédient                         %          g
------------------------------------------------------------
A       Eau de fleur d'oranger           30,0      150,0
A       Eau distillée                    47,1      235,5
A       Glycérine végétale                3,0       15,0
A       Gomme xanthane                    0,4        2,0
B       Huile de noisette                10,0       50,0
B       Huile de pépins de raisin         3,0       15,0
B       Stéarate de glycéryle SE          4,0       20,0
B       Alcool cétylique                  1,0        5,0
C       Phénoxyéthanol                    0,9        4,5
C       Vitamine E                        0,5        2,5
C       HE de petitgrain                  0,1        0,5
------------------------------------------------------------
        Total                           100,0      500,0

Chauffer A et B à 72 °C, émulsionner 3 min, ajouter C sous 40 °C.
Imprimé le 12/10/2026                             Sylvaine, atelier
''')
R('plain: printed text in columns', 'lait_demaquillant_imprime.txt', '''Eau de fleur d'oranger ¦ /orange-blossom-water ¦ 30 ¦ A
Eau distillée ¦ W ¦ 47.1 ¦ A
Glycérine végétale ¦ G ¦ 3 ¦ A
Gomme xanthane ¦ XG ¦ 0.4 ¦ A
Huile de noisette ¦ hazelnut-oil ¦ 10 ¦ B
Huile de pépins de raisin ¦ GRA ¦ 3 ¦ B
Stéarate de glycéryle SE ¦ /GSE ¦ 4 ¦ B
Alcool cétylique ¦ CEA ¦ 1 ¦ B
Phénoxyéthanol ¦ PHE ¦ 0.9 ¦ C
Vitamine E ¦ VE ¦ 0.5 ¦ C
HE de petitgrain ¦ /petitgrain-essential-oil ¦ 0.1 ¦ C''', batch=500)

# 3
cs('cucumber_toner.csv', """Ingredient|Percent
Cucumber water|40
Distilled water|48.6
Propanediol|4
Betaine (trimethylglycine)|2
Allantoin|0.4
Niacinamide|3
Sodium PCA 50 %|1
Sodium benzoate|0.5
Potassium sorbate|0.3
Gluconolactone|0.2""")
R('plain: two columns', 'cucumber_toner.csv', '''Cucumber water ¦ /cucumber-water ¦ 40
Distilled water ¦ W ¦ 48.6
Propanediol ¦ propanediol ¦ 4
Betaine (trimethylglycine) ~ Betaine ¦ /betaine-trimethylglycine-powder ¦ 2
Allantoin ¦ ALL ¦ 0.4
Niacinamide ¦ niacinamide ¦ 3
Sodium PCA 50 % ¦ /sodium-pca-solution-50 ¦ 1
Sodium benzoate ¦ SB ¦ 0.5
Potassium sorbate ¦ PS ¦ 0.3
Gluconolactone ¦ gluconolactone ¦ 0.2''')

# 4
od('balsamo_labios_encinas.ods', """Bálsamo de labios Las Encinas||
Ingrediente|Gramos|%
Cera de candelilla|16|20
Manteca de cacao|20|25
Aceite de ricino|24|30
Aceite de aguacate|12|15
Lanolina|7.2|9
Vitamina E|0.8|1
Total|80|100""", merge={(1, 1): (1, 3)})
R('plain: Spanish balm in grams and per cent', 'balsamo_labios_encinas.ods', '''Cera de candelilla ¦ candelilla-wax ¦ 20
Manteca de cacao ¦ CB ¦ 25
Aceite de ricino ¦ CA ¦ 30
Aceite de aguacate ¦ AVO ¦ 15
Lanolina ¦ LAN ¦ 9
Vitamina E ¦ VE ¦ 1''', batch=80)

# 5
xl('bottega_due_fogli.xlsx', {'Sali': """Sali da bagno – Bottega Ripalunga||
Ingrediente|%|g
Sale marino|60|300
Solfato di magnesio eptaidrato|25|125
Bicarbonato di sodio|12|60
Olio essenziale di pino silvestre|2|10
Olio di jojoba|1|5
Totale|100|500""", 'Scrub': """Scrub allo zucchero – Bottega Ripalunga||
Ingrediente|%|g
Zucchero semolato|55|165
Olio di girasole|30|90
Polisorbato 80|8|24
Alcol cetilstearilico|5|15
Olio essenziale di limone|1.5|4.5
Vitamina E|0.5|1.5
Totale|100|300"""}, bold=[1, 2])
R('plain: two Italian recipes on two sheets', 'bottega_due_fogli.xlsx', '''Sale marino ¦ sea-salt ¦ 60
Solfato di magnesio eptaidrato ¦ magnesium-sulfate-heptahydrate ¦ 25
Bicarbonato di sodio ¦ BIC ¦ 12
Olio essenziale di pino silvestre ¦ /scots-pine-essential-oil ¦ 2
Olio di jojoba ¦ JO ¦ 1
Zucchero semolato ¦ /sugar-granulated ¦ 55
Olio di girasole ¦ SU ¦ 30
Polisorbato 80 ¦ P80 ¦ 8
Alcol cetilstearilico ¦ /CAL ¦ 5
Olio essenziale di limone ¦ LEM ¦ 1.5
Vitamina E ¦ VE ¦ 0.5''', all=True, recipes=2)

# 6
xl('reinigingsgel_wilgenhof.xlsx', """Reinigingsgel Wilgenhof|||
Charge 250 g|||
Fase|Grondstof|%|gram
A|Water|58.5|146.25
A|Glycerine|4|10
A|Xanthaangom|1|2.5
B|Decylglucoside|15|37.5
B|Cocamidopropylbetaïne 30 %|18|45
C|D-panthenol 75 %|1|2.5
C|Natriumbenzoaat|0.5|1.25
C|Kaliumsorbaat|0.3|0.75
C|Citroenzuuroplossing 50 %|1.2|3
C|Etherische olie van grapefruit|0.5|1.25
|Totaal|100|250""", bold=[1, 3])
R('plain: Dutch gel with phases', 'reinigingsgel_wilgenhof.xlsx', '''Water ¦ W ¦ 58.5 ¦ A
Glycerine ¦ G ¦ 4 ¦ A
Xanthaangom ¦ XG ¦ 1 ¦ A
Decylglucoside ¦ DG ¦ 15 ¦ B
Cocamidopropylbetaïne 30 % ¦ /CAPB30 ¦ 18 ¦ B
D-panthenol 75 % ¦ PAN ¦ 1 ¦ C
Natriumbenzoaat ¦ SB ¦ 0.5 ¦ C
Kaliumsorbaat ¦ PS ¦ 0.3 ¦ C
Citroenzuuroplossing 50 % ¦ /CIT50 ¦ 1.2 ¦ C
Etherische olie van grapefruit ¦ /grapefruit-essential-oil ¦ 0.5 ¦ C''', batch=250)

# 7
cs('krem_do_rak_klonowa.csv', """Faza|Surowiec|%
A|Woda destylowana|66,6
A|Gliceryna|5
A|Mocznik|5
A|Guma ksantanowa|0,4
B|Masło mango|4
B|Olej ze słodkich migdałów|8
B|Olej z ogórecznika|3
B|Stearynian glicerolu SE|5
B|Alkohol cetylowy|2
C|Fenoksyetanol|0,9
C|Witamina E|0,1
|Razem|100""", sep=';', enc='utf-8-sig')
R('plain: Polish cream', 'krem_do_rak_klonowa.csv', '''Woda destylowana ¦ W ¦ 66.6 ¦ A
Gliceryna ¦ G ¦ 5 ¦ A
Mocznik ¦ urea ¦ 5 ¦ A
Guma ksantanowa ¦ XG ¦ 0.4 ¦ A
Masło mango ¦ MAN ¦ 4 ¦ B
Olej ze słodkich migdałów ¦ AL ¦ 8 ¦ B
Olej z ogórecznika ¦ /borage-seed-oil ¦ 3 ¦ B
Stearynian glicerolu SE ¦ /GSE ¦ 5 ¦ B
Alkohol cetylowy ¦ CEA ¦ 2 ¦ B
Fenoksyetanol ¦ PHE ¦ 0.9 ¦ C
Witamina E ¦ VE ¦ 0.1 ¦ C''')

# 8
tx('night_cream_thistledown.txt', '''
NIGHT CREAM - Thistledown Yard

Phase A
Rose water - 20 %
Water - 45.2 %
Glycerin - 4 %
Sodium lactate 60 % - 1.5 %

Phase B
Squalane - 8 %
Rosehip seed oil - 6 %
Shea butter - 5 %
Cetearyl olivate and sorbitan olivate - 5 %
Cetyl alcohol - 2.5 %

Phase C
Tetrahexyldecyl ascorbate - 1 %
Phenoxyethanol and ethylhexylglycerin 90:10 - 1 %
Frankincense essential oil - 0.5 %
Bisabolol - 0.3 %

Heat A and B to 70 C, blend, cool to 40 C, add C.
''')
R('plain: text with headings of phases', 'night_cream_thistledown.txt', '''Rose water ¦ /ROSE ¦ 20 ¦ A
Water ¦ W ¦ 45.2 ¦ A
Glycerin ¦ G ¦ 4 ¦ A
Sodium lactate 60 % ¦ sodium-lactate-solution-60 ¦ 1.5 ¦ A
Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 8 ¦ B
Rosehip seed oil ¦ rosehip-seed-oil ¦ 6 ¦ B
Shea butter ¦ SH ¦ 5 ¦ B
Cetearyl olivate and sorbitan olivate ¦ OLI ¦ 5 ¦ B
Cetyl alcohol ¦ CEA ¦ 2.5 ¦ B
Tetrahexyldecyl ascorbate ¦ tetrahexyldecyl-ascorbate ¦ 1 ¦ C
Phenoxyethanol and ethylhexylglycerin 90:10 ¦ PEG ¦ 1 ¦ C
Frankincense essential oil ¦ frankincense-essential-oil ¦ 0.5 ¦ C
Bisabolol ¦ bisabolol ¦ 0.3 ¦ C''')

# 9
tx('Badepralinen_Zettel.txt', '''
Badepralinen (20 Stück, 500 g)

200 g Natron
100 g Zitronensäure wasserfrei
90 g Kakaobutter
60 g Sheabutter
35 g Milchpulver
10 g Maisstärke
5 g Lavendelöl

Butter schmelzen, alles verkneten, in Förmchen drücken, 2 Stunden kalt stellen.
''', enc='cp1252')
R('plain: slip with grams first', 'Badepralinen_Zettel.txt', '''Natron ¦ /BIC ¦ 40
Zitronensäure wasserfrei ¦ citric-acid-anhydrous ¦ 20
Kakaobutter ¦ CB ¦ 18
Sheabutter ¦ SH ¦ 12
Milchpulver ¦ /milk-powder ¦ 7
Maisstärke ¦ corn-starch ¦ 2
Lavendelöl ¦ LAV ¦ 1''', batch=500)

# 10
xl('deodorant_creme_orties.xlsx', """Déodorant crème – Savonnerie des Orties|||
Ingrédient|%|Pour 600 g|Remarque
Beurre de karité|25|150|
Huile de coco|25|150|
Fécule d'arrow-root|22|132|tamiser
Bicarbonate de sodium|10|60|tamiser
Cire de candelilla|6|36|
Oxyde de zinc|5|30|tamiser
Citrate de triéthyle|5|30|
Vitamine E|1|6|
HE de palmarosa|1|6|sous 40 °C
Total|100|600|""", merge=['A1:D1'], bold=[1, 2])
R('plain: French deodorant', 'deodorant_creme_orties.xlsx', '''Beurre de karité ¦ SH ¦ 25
Huile de coco ¦ CO ¦ 25
Fécule d'arrow-root ¦ /arrowroot-powder ¦ 22
Bicarbonate de sodium ¦ BIC ¦ 10
Cire de candelilla ¦ candelilla-wax ¦ 6
Oxyde de zinc ¦ ?|zinc-oxide-pigment ¦ 5
Citrate de triéthyle ¦ /triethyl-citrate ¦ 5
Vitamine E ¦ VE ¦ 1
HE de palmarosa ¦ /palmarosa-essential-oil ¦ 1''', batch=600, note='three kinds of zinc oxide are on the shelf: in a deodorant the pigment or asked, never a UV filter in silence')

# 11
tx('after_sun_gel.md', '''
# After-sun gel (Lanternfield)

- Aloe vera juice — 60 %
- Water — 26.9 %
- Glycerin — 5 %
- Calendula extract in glycerin — 3 %
- DL-panthenol powder — 2 %
- Sclerotium gum — 1 %
- Phenoxyethanol — 0.9 %
- Polysorbate 20 — 0.4 %
- Allantoin — 0.3 %
- Menthyl lactate — 0.3 %
- Sodium hyaluronate powder — 0.2 %

Sprinkle the gum into the glycerin first. pH 5.5.
''')
R('plain: Markdown list', 'after_sun_gel.md', '''Aloe vera juice ¦ AV ¦ 60
Water ¦ W ¦ 26.9
Glycerin ¦ G ¦ 5
Calendula extract in glycerin ¦ calendula-extract-in-glycerin ¦ 3
DL-panthenol powder ¦ dl-panthenol-powder ¦ 2
Sclerotium gum ¦ sclerotium-gum ¦ 1
Phenoxyethanol ¦ PHE ¦ 0.9
Polysorbate 20 ¦ polysorbate-20 ¦ 0.4
Allantoin ¦ ALL ¦ 0.3
Menthyl lactate ¦ menthyl-lactate ¦ 0.3
Sodium hyaluronate powder ¦ sodium-hyaluronate-powder ¦ 0.2''')

# 12
xl('hair_mask_workbook.xlsx', {'Cover': """Hair mask HM-02
Studio|Pellwick & Daughter
Written|d:2026-08-30
Jars|12""", 'Formula': """Ingredient|% w/w|g per 1.5 kg
Water|79.55|1193.25
BTMS-25|6|90
Cetyl alcohol|3|45
Propanediol|3|45
Avocado oil|2|30
Murumuru butter|2|30
Broccoli seed oil|1.5|22.5
Hydrolyzed keratin 20 %|1|15
Phenoxyethanol|0.9|13.5
Cetrimonium chloride 29 %|0.5|7.5
Ylang ylang essential oil|0.3|4.5
Citric acid solution 50 %|0.25|3.75
Total|100|1500""", 'Costs': """Item|Each|Count|Sum
Jar 120 ml|0.74|12|8.88
Label|0.11|12|1.32
Carton|0.35|12|4.2"""}, active=1)
R('plain: cover, recipe and costs on three sheets', 'hair_mask_workbook.xlsx', '''Water ¦ W ¦ 79.55
BTMS-25 ¦ B25 ¦ 6
Cetyl alcohol ¦ CEA ¦ 3
Propanediol ¦ propanediol ¦ 3
Avocado oil ¦ AVO ¦ 2
Murumuru butter ¦ murumuru-butter ¦ 2
Broccoli seed oil ¦ broccoli-seed-oil ¦ 1.5
Hydrolyzed keratin 20 % ¦ hydrolyzed-keratin-20 ¦ 1
Phenoxyethanol ¦ PHE ¦ 0.9
Cetrimonium chloride 29 % ¦ cetrimonium-chloride-29 ¦ 0.5
Ylang ylang essential oil ¦ ylang-ylang-essential-oil ¦ 0.3
Citric acid solution 50 % ¦ CIT50 ¦ 0.25''', batch=1500, note='jars and cartons are no part of it')

# 13
tx('gel_ducha_retamar.txt', '''
Gel de ducha Retamar

57,2 % Agua desmineralizada
20 % SLES 28 %
12 % Cocamidopropil betaína 30 %
5 % Cocoglucósido
3 % Glicerina
1 % Sal
0,5 % Benzoato de sodio
0,3 % Sorbato de potasio
0,5 % Ácido láctico 80 %
0,5 % Aceite esencial de romero

Mezclar en frío, despacio, sin hacer espuma.
''', enc='cp1252', crlf=True)
R('plain: Spanish text, per cent first', 'gel_ducha_retamar.txt', '''Agua desmineralizada ¦ W ¦ 57.2
SLES 28 % ¦ SLES28 ¦ 20
Cocamidopropil betaína 30 % ¦ /CAPB30 ¦ 12
Cocoglucósido ¦ CG ¦ 5
Glicerina ¦ G ¦ 3
Sal ¦ SAL ¦ 1
Benzoato de sodio ¦ SB ¦ 0.5
Sorbato de potasio ¦ PS ¦ 0.3
Ácido láctico 80 % ¦ LA80 ¦ 0.5
Aceite esencial de romero ¦ ROS ¦ 0.5''')

# 14
ht('blog_burro_corpo.html', '''
<nav>Home · Ricette · Contatti</nav>
<h1>Burro corpo montato</h1>
<p>Pubblicato il 4 ottobre 2026 da Ginevra. Tempo: 40 minuti, spesa circa 6,50 &euro;.</p>
<table><tr><th>Ingrediente</th><th>g</th><th>%</th></tr>
<tr><td>Burro di karit&eacute;</td><td>120</td><td>48</td></tr>
<tr><td>Olio di nocciola</td><td>37,5</td><td>15</td></tr>
<tr><td>Olio di vinaccioli</td><td>30</td><td>12</td></tr>
<tr><td>Burro di cacao</td><td>25</td><td>10</td></tr>
<tr><td>Amido di riso</td><td>20</td><td>8</td></tr>
<tr><td>Cera d'api</td><td>12,5</td><td>5</td></tr>
<tr><td>Vitamina E</td><td>2,5</td><td>1</td></tr>
<tr><td>Olio essenziale di geranio</td><td>2,5</td><td>1</td></tr>
<tr><td><b>Totale</b></td><td><b>250</b></td><td><b>100</b></td></tr></table>
<h2>Commenti (2)</h2><p>Rosalba: io ci metto 2 g di mica in pi&ugrave;!</p>''', 'Burro corpo montato')
R('plain: table of an Italian blog', 'blog_burro_corpo.html', '''Burro di karité ¦ SH ¦ 48
Olio di nocciola ¦ hazelnut-oil ¦ 15
Olio di vinaccioli ¦ GRA ¦ 12
Burro di cacao ¦ CB ¦ 10
Amido di riso ¦ rice-starch ¦ 8
Cera d'api ¦ BW ¦ 5
Vitamina E ¦ VE ¦ 1
Olio essenziale di geranio ¦ geranium-essential-oil ¦ 1''', batch=250, note="a reader's mica is no line")

# ====================================================================== plain prices, stock, materials
# 15
cs('brindlecombe_prices.csv', """Material|Pack|Price (GBP)
Shea butter|1 kg|9.80
Stearic acid|500 g|4.10
Allantoin|100 g|3.60
Rosehip seed oil|250 ml|7.25
Sodium bicarbonate|2 kg|3.90""")
P('plain: English packs in pounds', 'brindlecombe_prices.csv', '''Shea butter ¦ SH ¦ 9.80 GBP 1000
Stearic acid ¦ SA ¦ 4.10 GBP 500
Allantoin ¦ ALL ¦ 3.60 GBP 100
Rosehip seed oil ¦ rosehip-seed-oil ¦ 7.25 GBP 250 ml
Sodium bicarbonate ¦ BIC ¦ 3.90 GBP 2000''')
# 16
xl('Preisliste_Dachsbau.xlsx', """Preisliste Rohstoffkontor Dachsbau – gültig ab 01.10.2026||||
Art.-Nr.|Artikel|Menge|Einheit|Preis
4011|Cetylalkohol|500|g|e:6.4
4012|Cetearylalkohol|1|kg|e:9.9
4107|Jojobaöl|250|ml|e:11.5
4230|Xanthan|100|g|e:5.2
4300|Harnstoff|1|kg|e:4.8""", merge=['A1:E1'], bold=[1, 2])
P('plain: German packs, unit in its own column', 'Preisliste_Dachsbau.xlsx', '''Cetylalkohol ¦ CEA ¦ 6.40 EUR 500
Cetearylalkohol ¦ CAL ¦ 9.90 EUR 1000
Jojobaöl ¦ JO ¦ 11.50 EUR 250 ml
Xanthan ¦ XG ¦ 5.20 EUR 100
Harnstoff ¦ urea ¦ 4.80 EUR 1000''')
# 17
od('listino_valspina.ods', """Prodotto|Confezione|Prezzo IVA inclusa
Olio di ricino|1 kg|e:8.9
Burro di mango|500 g|e:10.4
Cera d'api|250 g|e:5.3
Acido citrico monoidrato|1 kg|e:4.6
Gomma guar|200 g|e:3.75""")
P('plain: Italian list', 'listino_valspina.ods', '''Olio di ricino ¦ CA ¦ 8.90 EUR 1000
Burro di mango ¦ MAN ¦ 10.40 EUR 500
Cera d'api ¦ BW ¦ 5.30 EUR 250
Acido citrico monoidrato ¦ citric-acid-monohydrate ¦ 4.60 EUR 1000
Gomma guar ¦ guar-gum ¦ 3.75 EUR 200''')
# 18
cs('stock_cupboard_2026-11.csv', """Material|Lot|In stock (g)|Best before|Supplier
Sunflower oil|SF-2207|3400|2027-08-31|Brindlecombe
Kaolin|K-118|950|2030-01-31|Brindlecombe
Xanthan gum|XG-41|210|2028-05-31|Old Weir Supply
Sodium chloride|NA-09|2600|2031-12-31|Old Weir Supply
Cocoa butter|CB-77|1180|2028-02-29|Brindlecombe
Lactic acid 80 %|LA-15|640|2027-11-30|Old Weir Supply""")
P('plain: English stock with lots', 'stock_cupboard_2026-11.csv', '''Sunflower oil ¦ SU ¦ ¦ SF-2207
Kaolin ¦ kaolin-white-clay ¦ ¦ K-118
Xanthan gum ¦ XG ¦ ¦ XG-41
Sodium chloride ¦ SAL ¦ ¦ NA-09
Cocoa butter ¦ CB ¦ ¦ CB-77
Lactic acid 80 % ¦ LA80 ¦ ¦ LA-15''', note='3400, 950, 210, 2600, 1180, 640 g')
# 19
cs('materials_moorcote.csv', """Name|INCI|Supplier|Typical use
Isoamyl laurate|Isoamyl Laurate|Old Weir Supply|1-10 %
Prickly pear seed oil|Opuntia Ficus-Indica Seed Oil|Old Weir Supply|1-100 %
Tara gum|Caesalpinia Spinosa Gum|Brindlecombe|0.2-1 %
Zinc ricinoleate|Zinc Ricinoleate|Brindlecombe|1-5 %
Babassu oil|Orbignya Oleifera Seed Oil|Old Weir Supply|1-100 %
Plantain leaf tea concentrate|Aqua, Plantago Major Leaf Extract|home|1-5 %""")
M('plain: English names with INCI', 'materials_moorcote.csv', '''Isoamyl laurate ¦ isoamyl-laurate
Prickly pear seed oil ¦ new|?|prickly-pear-seed-oil
Tara gum ¦ /tara-gum
Zinc ricinoleate ¦ zinc-ricinoleate
Babassu oil ¦ /babassu-oil
Plantain leaf tea concentrate ¦ new|?|plantain-leaf-tea-concentrate''', note='the tea is not water, nor the ribwort extract in glycerin')
# 20
xl('grondstoffen_kreekrug.xlsx', """Grondstof|INCI|CAS|Functie|Leverancier
Cetylpalmitaat|Cetyl Palmitate|540-10-3|consistentie|Kreekrug
Isopropylmyristaat|Isopropyl Myristate|110-27-0|emolliënt|Kreekrug
Cafeïne|Caffeine|58-08-2|actief|Kreekrug
Vlierbloesemextract|Aqua, Glycerin, Sambucus Nigra Flower Extract||actief|Polderhuis
Magnesiumstearaat|Magnesium Stearate|557-04-0|poeder|Polderhuis""", bold=[1])
M('plain: Dutch list with CAS', 'grondstoffen_kreekrug.xlsx', '''Cetylpalmitaat ¦ /cetyl-palmitate
Isopropylmyristaat ¦ /isopropyl-myristate
Cafeïne ¦ /caffeine-powder
Vlierbloesemextract ¦ new|?|vlierbloesemextract
Magnesiumstearaat ¦ /magnesium-stearate''', note='elderflower is not on the shelf')

# ====================================================================== usual irregularities: recipes
# 21
xl('Handcreme_Ansatzbuch.xlsx', """Handcreme Nr. 4 (Ansatzbuch S. 31)||||
Phase|Rohstoff|%|g|Anmerkung
A|Wasser|62.5|312.5|abgekocht, 5 % Verdunstung ausgleichen
|Glycerin|6|30|
|Xanthan|0.3|1.5|in Glycerin anteigen
|Allantoin|0.2|1|
B|Sheabutter|7|35|Charge 14 war körnig
|Avocadoöl|9|45|
|Glycerinstearat SE|6|30|
|Cetylalkohol|3|15|früher 2,5
|Stearinsäure|2|10|
C|D-Panthenol 75 %|2|10|unter 40 °C
|Phenoxyethanol|0.9|4.5|
|Vitamin E|0.6|3|
|Lavendelöl|0.5|2.5|
||100|500|""", merge=['A1:E1', 'A3:A6', 'A7:A11', 'A12:A15'], bold=[1, 2])
R('usual: merged phases, notes beside', 'Handcreme_Ansatzbuch.xlsx', '''Wasser ¦ W ¦ 62.5 ¦ A
Glycerin ¦ G ¦ 6 ¦ A
Xanthan ¦ XG ¦ 0.3 ¦ A
Allantoin ¦ ALL ¦ 0.2 ¦ A
Sheabutter ¦ SH ¦ 7 ¦ B
Avocadoöl ¦ AVO ¦ 9 ¦ B
Glycerinstearat SE ¦ /GSE ¦ 6 ¦ B
Cetylalkohol ¦ CEA ¦ 3 ¦ B
Stearinsäure ¦ SA ¦ 2 ¦ B
D-Panthenol 75 % ¦ PAN ¦ 2 ¦ C
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Vitamin E ¦ VE ¦ 0.6 ¦ C
Lavendelöl ¦ LAV ¦ 0.5 ¦ C''', batch=500, note='the numbers of the notes are no amounts')

# 22
cs('face_wash_subtotals.csv', """Phase|Ingredient|%
A|Water|55
A|Glycerin|5
|Phase A subtotal|60
B|Cocamidopropyl hydroxysultaine 42 %|15
B|Sodium lauroyl sarcosinate 30 %|20
|Phase B subtotal|35
C|Honey|2
C|Sodium chloride|1.2
C|Lactic acid 80 %|0.8
C|Sodium benzoate|0.5
C|Sweet orange essential oil|0.5
|Phase C subtotal|5
|GRAND TOTAL|100""")
R('usual: sub-totals of the phases', 'face_wash_subtotals.csv', '''Water ¦ W ¦ 55 ¦ A
Glycerin ¦ G ¦ 5 ¦ A
Cocamidopropyl hydroxysultaine 42 % ¦ cocamidopropyl-hydroxysultaine-solution-42 ¦ 15 ¦ B
Sodium lauroyl sarcosinate 30 % ¦ sodium-lauroyl-sarcosinate-solution-30 ¦ 20 ¦ B
Honey ¦ honey ¦ 2 ¦ C
Sodium chloride ¦ SAL ¦ 1.2 ¦ C
Lactic acid 80 % ¦ LA80 ¦ 0.8 ¦ C
Sodium benzoate ¦ SB ¦ 0.5 ¦ C
Sweet orange essential oil ¦ ORA ¦ 0.5 ¦ C''')

# 23
od('baume_du_marcheur.ods', """Baume du marcheur||
Ingrédient|Essai 100 g|Fabrication 2 kg
Huile d'olive|40|800
Macérât d'arnica|20|400
Cire d'abeille|18|360
Beurre de karité|15|300
Menthol, cristaux|3|60
Camphre|2|40
HE de gaulthérie|2|40
Total|100|2000""")
R('usual: two batch sizes side by side', 'baume_du_marcheur.ods', '''Huile d'olive ¦ OL ¦ 40
Macérât d'arnica ¦ arnica-macerate-in-olive-oil|? ¦ 20
Cire d'abeille ¦ BW ¦ 18
Beurre de karité ¦ SH ¦ 15
Menthol, cristaux ¦ /menthol-crystals ¦ 3
Camphre ¦ camphor ¦ 2
HE de gaulthérie ¦ /wintergreen-essential-oil ¦ 2''', recipes=1, note='one recipe; both columns agree, either batch is right; the arnica in olive oil or in sunflower oil may be asked')

# 24
xl('cream_conditioner_versions.xlsx', """Cream conditioner, Harrowmere|||
Ingredient|v1 (March)|v2 (June)|v3 (in use)
Water|84|82.5|80.6
BTMS-50|4|5|5
Cetearyl alcohol|4|4|5
Coconut oil|3|2|
Babassu oil||2|3
Propanediol|3|2.5|4
Hydrolyzed oat protein 20 %|0.5|0.5|1
Phenoxyethanol|0.9|0.9|0.9
Litsea cubeba essential oil|0.6|0.6|0.5
Total %|100|100|100""", merge=['A1:D1'], bold=[1, 2])
R('usual: versions in columns', 'cream_conditioner_versions.xlsx', '''Water ¦ W ¦ 80.6
BTMS-50 ¦ B50 ¦ 5
Cetearyl alcohol ¦ CAL ¦ 5
Babassu oil ¦ babassu-oil ¦ 3
Propanediol ¦ propanediol ¦ 4
Hydrolyzed oat protein 20 % ¦ hydrolyzed-oat-protein-20 ¦ 1
Phenoxyethanol ¦ PHE ¦ 0.9
Litsea cubeba essential oil ¦ litsea-cubeba-essential-oil ¦ 0.5''', note='the one in use is v3 (or the tool asks which, or brings in all three as three); the first column in silence is wrong')

# 25
cs('bodymelk_slip.csv', """Ingrediënt|%|gram (400 g)
Water|71|284
Glycerine|4|16
Amandelolie|10|44
Sheaboter|6|24
Glycerylstearaatcitraat|5|20
Cetylalcohol|2,5|10
Fenoxyethanol|0,9|3,6
Vitamine E|0,6|2,4
Totaal|100|400""", sep=';')
R('usual: one gram slip beside sound per cents', 'bodymelk_slip.csv', '''Water ¦ W ¦ 71
Glycerine ¦ G ¦ 4
Amandelolie ¦ /AL ¦ 10
Sheaboter ¦ SH ¦ 6
Glycerylstearaatcitraat ¦ /GSC ¦ 5
Cetylalcohol ¦ CEA ¦ 2.5
Fenoxyethanol ¦ PHE ¦ 0.9
Vitamine E ¦ VE ¦ 0.6''', note='the per cents make 100 and the stated total is 400, so 44 g must be a slip for 40: it must be told or asked, not passed over in silence')

# 26
xl('balsam_sprzecznosc.xlsx', """Balsam na zimę, 500 g||
Składnik|%|g
Masło shea|50|250
Olej ze słodkich migdałów|28|140
Olej kokosowy|10|60
Wosk pszczeli|10|40
Witamina E|1|5
Olejek lawendowy|1|5
Suma|100|500""", bold=[1, 2])
R('usual: per cents and grams contradict', 'balsam_sprzecznosc.xlsx', '''Masło shea ¦ SH ¦ 50
Olej ze słodkich migdałów ¦ AL ¦ 28
Olej kokosowy ¦ ?CO ¦ -
Wosk pszczeli ¦ ?BW ¦ -
Witamina E ¦ VE ¦ 1
Olejek lawendowy ¦ LAV ¦ 1''', note='both columns add up (100 and 500), yet 10 % and 60 g, 10 % and 40 g of 500 contradict: which is meant must be asked; a tool that brings in the per cents must at least say that both rows disagree')

# 27
cs('Kuehlgel_nach_Bedarf.csv', """Rohstoff|Einsatz
Wasser|ad 100 %
Ethanol 96 %, vergällt|10 %
Glycerin|5 %
PEG-40 hydriertes Rizinusöl|1 %
Phenoxyethanol|0,8 %
Carbomer|0,4 %
Menthol|0,2 %
Natronlauge 20 %|q. s. (pH 6,0)
Parfümöl „Gletscherspalte“|n. B.""", sep=';', enc='cp1252')
R('usual: q.s. in the words of the trade', 'Kuehlgel_nach_Bedarf.csv', '''Wasser ¦ /W ¦ -
Ethanol 96 %, vergällt ¦ ethanol-96-denatured ¦ 10
Glycerin ¦ G ¦ 5
PEG-40 hydriertes Rizinusöl ¦ /peg-40-hydrogenated-castor-oil ¦ 1
Phenoxyethanol ¦ PHE ¦ 0.8
Carbomer ¦ /carbomer-powder ¦ 0.4
Menthol ¦ /menthol-crystals ¦ 0.2
Natronlauge 20 % ¦ ?sodium-hydroxide-solution-20 ¦ -
Parfümöl „Gletscherspalte“ ¦ ? ¦ -''', note='the lye and the scent must be asked, and the water is 82.6 less both; never the pellets')

# 28
tx('champu_rangos.md', '''
## Champú de romero (cuaderno de Almenara)

| Ingrediente | % |
|---|---|
| Agua | c.s.p. 100 |
| SLES 70 | 15 |
| Cocamidopropil betaína 38 % | 8–10 |
| Glicerina | 2 |
| Sal | 0,5 – 1,5 |
| Benzoato de sodio | 0,5 |
| Ácido cítrico sol. 50 % | 0,6 |
''')
R('usual: ranges', 'champu_rangos.md', '''Agua ¦ /W ¦ -
SLES 70 ¦ SLES70 ¦ 15
Cocamidopropil betaína 38 % ¦ ?CAPB38 ¦ -
Glicerina ¦ G ¦ 2
Sal ¦ ?SAL ¦ -
Benzoato de sodio ¦ SB ¦ 0.5
Ácido cítrico sol. 50 % ¦ /CIT50 ¦ 0.6''', note='two ranges must be asked; the water is what they leave')

# 29
tx('spoons_balm.txt', '''
Gardener's balm (from Hesper's card, makes 100 g)

2 tbsp (28 g) shea butter
1 tbsp (12 g) beeswax
3 tbsp (40 g) olive oil
1 tbsp (13 g) coconut oil
2 tsp (5 g) arrowroot powder
half a tsp (2 g) castor oil
''')
R('usual: spoons with grams in brackets', 'spoons_balm.txt', '''shea butter ¦ SH ¦ 28
beeswax ¦ BW ¦ 12
olive oil ¦ OL ¦ 40
coconut oil ¦ CO ¦ 13
arrowroot powder ¦ arrowroot-powder ¦ 5
castor oil ¦ CA ¦ 2''', batch=100, note='the grams in brackets settle every spoon')

# 30
tx('olio_viso_gocce.txt', '''
Olio viso della sera – flacone da 50 g

olio di jojoba 40 %
olio di rosa mosqueta 30 %
squalano 19,5 %
olio di enotera 10 %
vitamina E 0,5 %
olio essenziale di incenso 12 gocce
''')
R('usual: drops beside per cents', 'olio_viso_gocce.txt', '''olio di jojoba ¦ JO ¦ 40
olio di rosa mosqueta ¦ /rosehip-seed-oil ¦ 30
squalano ¦ /squalane-from-olive-or-sugar-cane ¦ 19.5
olio di enotera ¦ /evening-primrose-oil ¦ 10
vitamina E ¦ VE ¦ 0.5
olio essenziale di incenso ¦ ?frankincense-essential-oil|? ¦ -''', note='the per cents make 100 without the drops, which must be asked and never weighed in silence')

# 31
cs('shower_strength_column.csv', """Raw material|Strength|Dose %
Water||46.1
Sodium laureth sulfate|28 %|35
Cocamidopropyl betaine|38 %|10
Glycerin|86 %|4
Polyquaternium-7|9 %|2
Lactic acid|80 %|1
Sodium hydroxide solution|10 %|0.8
Sodium benzoate|100 %|0.5
Fragrance "Wold Track"||0.6""")
R('usual: strength in its own column', 'shower_strength_column.csv', '''Water ¦ W ¦ 46.1
Sodium laureth sulfate ¦ /SLES28 ¦ 35
Cocamidopropyl betaine ¦ /CAPB38 ¦ 10
Glycerin ¦ /glycerin-86 ¦ 4
Polyquaternium-7 ¦ /polyquaternium-7-solution-9 ¦ 2
Lactic acid ¦ /LA80 ¦ 1
Sodium hydroxide solution ¦ /sodium-hydroxide-solution-10 ¦ 0.8
Sodium benzoate ¦ SB ¦ 0.5
Fragrance "Wold Track" ¦ FR ¦ 0.6''', note='the strength is of the material, the dose of the recipe; another strength or the dose taken from the wrong column in silence is wrong')

# 32
tx('mleczko_inci_w_nawiasie.txt', '''
Mleczko do ciała „Sitowie”

Woda (Aqua) 71,3%
Gliceryna (Glycerin) 4%
Olej z pestek winogron (Vitis Vinifera Seed Oil) 12%
Masło shea (Butyrospermum Parkii Butter) 4%
Emulgator (Glyceryl Stearate Citrate) 4%
Alkohol cetearylowy (Cetearyl Alcohol) 3%
Konserwant (Phenoxyethanol, Ethylhexylglycerin) 1%
Witamina E (Tocopherol) 0,5%
Olejek pomarańczowy (Citrus Sinensis Peel Oil) 0,2%
''')
R('usual: INCI in brackets', 'mleczko_inci_w_nawiasie.txt', '''Woda (Aqua) ~ Woda ¦ W ¦ 71.3
Gliceryna (Glycerin) ~ Gliceryna ¦ G ¦ 4
Olej z pestek winogron (Vitis Vinifera Seed Oil) ~ Olej z pestek winogron ¦ /GRA ¦ 12
Masło shea (Butyrospermum Parkii Butter) ~ Masło shea ¦ SH ¦ 4
Emulgator (Glyceryl Stearate Citrate) ~ Emulgator ¦ /GSC ¦ 4
Alkohol cetearylowy (Cetearyl Alcohol) ~ Alkohol cetearylowy ¦ CAL ¦ 3
Konserwant (Phenoxyethanol, Ethylhexylglycerin) ~ Konserwant ¦ PEGn ¦ 1
Witamina E (Tocopherol) ~ Witamina E ¦ VE ¦ 0.5
Olejek pomarańczowy (Citrus Sinensis Peel Oil) ~ Olejek pomarańczowy ¦ /ORA ¦ 0.2''', note='"Emulgator" and "Konserwant" mean nothing without their brackets; the preservative is never phenoxyethanol alone')

# 33
xl('Waschcreme_gestrichen.xlsx', """Waschcreme Erlengrund|%|g/300 g
Wasser|58.7|176.1
Glycerin|5|15
Kokosöl|8|24
Mandelöl|8|24
Palmöl|4|12
Glycerinstearatcitrat|5|15
Cetearylalkohol|4|12
Coco-Glucosid|18|54
Natriumbenzoat|0.5|1.5
Kaliumsorbat|0.3|0.9
Milchsäure 80 %|0.5|1.5
Summe|100|300""", strike=[4], hide=[6], bold=[1])
R('usual: a struck and a hidden row', 'Waschcreme_gestrichen.xlsx', '''Wasser ¦ W ¦ 58.7
Glycerin ¦ G ¦ 5
Mandelöl ¦ AL ¦ 8
Glycerinstearatcitrat ¦ GSC ¦ 5
Cetearylalkohol ¦ CAL ¦ 4
Coco-Glucosid ¦ CG ¦ 18
Natriumbenzoat ¦ SB ¦ 0.5
Kaliumsorbat ¦ PS ¦ 0.3
Milchsäure 80 % ¦ LA80 ¦ 0.5''', batch=300, said=['Kokosöl', 'Palmöl'], note='without the struck and the hidden row it makes 100 and 300; both are left out and that is said')

# 34
tx('chat_mantequilla.txt', '''
[3/11/26, 19:02] Marisol: va, mantequilla corporal, 200 g:
[3/11/26, 19:03] Marisol: manteca de karité 80 g
aceite de coco 50 g
aceite de girasol 40 g
almidón de maíz 16 g
vitamina E 2 g
aceite esencial de naranja dulce 2 g
[3/11/26, 19:05] Begoña: suma 190 🤔
[3/11/26, 19:06] Marisol: perdón!! la manteca de karité son 90 g, no 80
[3/11/26, 19:07] Begoña: ahora sí, gracias 😘
''')
R('usual: chat with a correction', 'chat_mantequilla.txt', '''manteca de karité ¦ /SH ¦ 45
aceite de coco ¦ CO ¦ 25
aceite de girasol ¦ SU ¦ 20
almidón de maíz ¦ corn-starch ¦ 8
vitamina E ¦ VE ¦ 1
aceite esencial de naranja dulce ¦ ORA ¦ 1''', batch=200, note='the correction and the 200 g prove 90 g; 80 g in silence, or the karité twice, is wrong; to ask about it is fair')

# ====================================================================== usual irregularities: prices, stock, materials
# 35
xl('Staffelpreise_Torfkamp.xlsx', """Torfkamp Naturrohstoffe, Preise netto in EUR|||||
Rohstoff|250 g|1 kg|5 kg|25 kg|Mindesthaltbarkeit
Sheabutter|4.9|13.9|61|265|24 Monate
Kakaobutter|6.2|19.8|92|auf Anfrage|24 Monate
Bienenwachs|5.8|18.4|84|–|36 Monate
Rizinusöl||9.4|39.5|170|18 Monate""", merge=['A1:F1'], bold=[1, 2])
P('usual: packs as columns', 'Staffelpreise_Torfkamp.xlsx', '''Sheabutter ¦ SH ¦ 4.90 EUR 250; 13.90 EUR 1000; 61.00 EUR 5000; 265.00 EUR 25000
Kakaobutter ¦ CB ¦ 6.20 EUR 250; 19.80 EUR 1000; 92.00 EUR 5000
Bienenwachs ¦ BW ¦ 5.80 EUR 250; 18.40 EUR 1000; 84.00 EUR 5000
Rizinusöl ¦ CA ¦ 9.40 EUR 1000; 39.50 EUR 5000; 170.00 EUR 25000''', note='on request and a dash are no prices; the months are no price either')

# 36
cs('tarif_paliers.csv', """Désignation|Conditionnement|de 1 à 5|de 6 à 11|12 et plus
Huile d'avocat|500 ml|8,90 €|8,40 €|7,90 €
Beurre de cacao|250 g|5,60 €|5,20 €|4,80 €
Alcool cétylique|250 g|3,40 €|3,10 €|2,90 €
Argile rouge|1 kg|4,20 €|3,90 €|3,60 €""", sep=';', enc='cp1252')
P('usual: price of a pack with tiers of counts', 'tarif_paliers.csv', '''Huile d'avocat ¦ AVO ¦ 8.90 EUR 500 ml
Beurre de cacao ¦ CB ¦ 5.60 EUR 250
Alcool cétylique ¦ CEA ¦ 3.40 EUR 250
Argile rouge ¦ /red-clay ¦ 4.20 EUR 1000''', note='one pack at the first tier; the others may be kept as 6 and 12 packs, or told; 7.90 for one pack in silence is wrong')

# 37
cs('mixed_currency_quotes.csv', """Quote from|Material|Pack|Price|Currency|Date
Hollin & Sons|Mango butter|5 kg|74.00|GBP|2026-10-02
Zuidkade|Mango butter|10 kg|148.00|EUR|2026-10-05
Prairie Lantern|Jojoba oil|1 gal|96.50|USD|2026-10-09
Zuidkade|Niacinamide|1 kg|31.20|EUR|2026-10-05
Hollin & Sons|Squalane|1 litre|28.75|GBP|2026-10-02""")
P('usual: three currencies', 'mixed_currency_quotes.csv', '''Mango butter ¦ MAN ¦ 74.00 GBP 5000
Mango butter ¦ MAN ¦ 148.00 EUR 10000
Jojoba oil ¦ JO ¦ 96.50 USD 3785.411784 ml
Niacinamide ¦ niacinamide ¦ 31.20 EUR 1000
Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 28.75 GBP 1000 ml''', note='the gallon is of the United States, as the dollar tells; to ask which gallon is fair')

# 38
xl('magazyn_daty.xlsx', """Magazyn, spis 21.11.2026||||
Surowiec|Partia|Ilość|Przyjęto|Ważne do
Masło kakaowe|MK-5|2,2 kg|'03/04/2026|'05/06/2028
Olej jojoba|OJ-12|800 ml|'07/08/2026|'09/10/2027
Kwas stearynowy|KS-3|1,4 kg|'02/03/2026|'04/05/2029
Gliceryna|GL-8|5 kg|'25/08/2026|'31/07/2029""", merge=['A1:E1'], bold=[1, 2])
P('usual: dates that one other row settles', 'magazyn_daty.xlsx', '''Masło kakaowe ¦ CB ¦ ¦ MK-5
Olej jojoba ¦ JO ¦ ¦ OJ-12
Kwas stearynowy ¦ SA ¦ ¦ KS-3
Gliceryna ¦ G ¦ ¦ GL-8''', note='2200 g, 800 ml, 1400 g, 5000 g; 25/08 and 31/07 prove day first for the sheet (so 5 June 2028); to ask is fair, month first is wrong')

# 39
tx('matieres_avec_dosage.md', '''
# Étagère de l'atelier Brumeval

| Matière | INCI | Actif | Dosage |
|---|---|---|---|
| Bétaïne de coco 30 % | Cocamidopropyl Betaine | 30 % | 5–20 % |
| Protéines de riz | Hydrolyzed Rice Protein, Aqua | 20 % | 1–3 % |
| Acide phytique | Phytic Acid, Aqua | 50 % | 0,1–0,5 % |
| Gomme de caroube | Ceratonia Siliqua Gum | 100 % | 0,2–1 % |
| Vinaigre de framboise maison | Aqua, Acetic Acid, Rubus Idaeus Fruit Extract | 6 % | 1–5 % |
''')
M('usual: strength and dose beside', 'matieres_avec_dosage.md', '''Bétaïne de coco 30 % ¦ /CAPB30
Protéines de riz ¦ /hydrolyzed-rice-protein-20
Acide phytique ¦ /phytic-acid-solution-50
Gomme de caroube ¦ /locust-bean-gum
Vinaigre de framboise maison ¦ new|?|vinaigre-de-framboise-maison''', note='the vinegar is neither acetic acid 80 % nor the raspberry extract in glycerin')

# ====================================================================== odd recipes
# 40 phases as columns: a pivot
xl('lotion_pivot.xlsx', """Sum of %|Phase|||
Ingredient|Water|Oil|Cool-down|Grand Total
Water|70.6|||70.6
Glycerin|4|||4
Xanthan gum|0.4|||0.4
Rapeseed oil||12||12
Cetearyl olivate and sorbitan olivate||5||5
Cetyl alcohol||2.5||2.5
Shea butter||4||4
Phenoxyethanol|||0.9|0.9
Bergamot essential oil|||0.4|0.4
Propanediol|||0.2|0.2
Grand Total|75|23.5|1.5|100""", merge=['B1:D1'], bold=[1, 2, 13])
R('odd: pivot with the phases as columns', 'lotion_pivot.xlsx', '''Water ¦ W ¦ 70.6 ¦
Glycerin ¦ G ¦ 4 ¦
Xanthan gum ¦ XG ¦ 0.4 ¦
Rapeseed oil ¦ RAP ¦ 12 ¦
Cetearyl olivate and sorbitan olivate ¦ OLI ¦ 5 ¦
Cetyl alcohol ¦ CEA ¦ 2.5 ¦
Shea butter ¦ SH ¦ 4 ¦
Phenoxyethanol ¦ PHE ¦ 0.9 ¦
Bergamot essential oil ¦ BERG ¦ 0.4 ¦
Propanediol ¦ propanediol ¦ 0.2 ¦''', recipes=1, note='one recipe in three phases (Water, Oil, Cool-down), not three recipes; the heading "Water" of a phase is no line')

# 41 lying on its side
cs('baume_levres_couche.csv', """Recette|Cire d'abeille|Beurre de cacao|Huile de ricin|Huile de coco|Huile de jojoba|Vitamine E|Total
Pourcentage|22|18|30|20|9|1|100
Grammes (lot 150 g)|33|27|45|30|13,5|1,5|150""", sep=';')
R('odd: a recipe lying on its side', 'baume_levres_couche.csv', '''Cire d'abeille ¦ BW ¦ 22
Beurre de cacao ¦ CB ¦ 18
Huile de ricin ¦ CA ¦ 30
Huile de coco ¦ CO ¦ 20
Huile de jojoba ¦ JO ¦ 9
Vitamine E ¦ VE ¦ 1''', batch=150)

# 42 a form with fields
tx('Formblatt_Gesichtswasser.txt', '''
FORMBLATT REZEPTUR            Nr.: 118
Bezeichnung: Gesichtswasser „Kiesgrube“
Ansatzgröße: 400 g
Bearbeiterin: Gesine

Rohstoff 1: Rosenwasser
Menge 1: 50 %
Rohstoff 2: Wasser
Menge 2: 41,5 %
Rohstoff 3: Glycerin
Menge 3: 3 %
Rohstoff 4: Niacinamid
Menge 4: 3 %
Rohstoff 5: D-Panthenol 75 %
Menge 5: 1,5 %
Rohstoff 6: Natriumbenzoat
Menge 6: 0,5 %
Rohstoff 7: Kaliumsorbat
Menge 7: 0,3 %
Rohstoff 8: Milchsäure 80 %
Menge 8: 0,2 %

pH soll: 5,0    pH ist: ______
Freigabe: ja / nein
''', crlf=True)
R('odd: a form with fields', 'Formblatt_Gesichtswasser.txt', '''Rosenwasser ¦ /ROSE ¦ 50
Wasser ¦ W ¦ 41.5
Glycerin ¦ G ¦ 3
Niacinamid ¦ niacinamide ¦ 3
D-Panthenol 75 % ¦ PAN ¦ 1.5
Natriumbenzoat ¦ SB ¦ 0.5
Kaliumsorbat ¦ PS ¦ 0.3
Milchsäure 80 % ¦ LA80 ¦ 0.2''', batch=400, note='the strength of a name is not its amount')

# 43 a label with percentages
tx('label_hand_lotion.txt', '''
SALTERN LANE HAND LOTION 100 ml
Ingredients: Aqua (69.2%), Helianthus Annuus Seed Oil (12%), Glycerin (5%), Glyceryl Stearate Citrate (5%), Butyrospermum Parkii Butter (4%), Cetearyl Alcohol (3%), Phenoxyethanol (0.9%), Tocopherol (0.5%), Xanthan Gum (0.3%), Lavandula Angustifolia Oil (0.1%), Linalool*.
*from the essential oil
Best before end: 06/2027   Batch: 26-118
''')
R('odd: INCI list of a label with percentages', 'label_hand_lotion.txt', '''Aqua ¦ W ¦ 69.2
Helianthus Annuus Seed Oil ¦ /SU ¦ 12
Glycerin ¦ G ¦ 5
Glyceryl Stearate Citrate ¦ /GSC ¦ 5
Butyrospermum Parkii Butter ¦ SH ¦ 4
Cetearyl Alcohol ¦ CAL ¦ 3
Phenoxyethanol ¦ PHE ¦ 0.9
Tocopherol ¦ VE ¦ 0.5
Xanthan Gum ¦ XG ¦ 0.3
Lavandula Angustifolia Oil ¦ /LAV ¦ 0.1''', note='the linalool is part of the oil, no line of its own; 100 ml, 06/2027 and the batch are no amounts')

# 44 batch card with tare and gross
xl('chargekaart_tarra.xlsx', """CHARGEKAART|Shampoo Rietzoom||Charge:|2026-117|
Ketel 3, tarra 1.250 kg|||Doel:|5 kg|
Grondstof|Doel netto (g)|Tarra beker (g)|Doel bruto (g)|Gewogen|Paraaf
Water|3055|410|3465||
Natriumlaurylethersulfaat 28 %|1250|388|1638||
Cocamidopropylbetaïne 38 %|400|212|612||
Glycerine|150|96|246||
Keukenzout|75|54|129||
Natriumbenzoaat|25|12|37||
Melkzuur 80 %|20|12|32||
Parfum „Lisdodde”|25|18|43||
Som netto|5000||||""", bold=[1, 3])
R('odd: batch card with tare and gross', 'chargekaart_tarra.xlsx', '''Water ¦ W ¦ 61.1
Natriumlaurylethersulfaat 28 % ¦ /SLES28 ¦ 25
Cocamidopropylbetaïne 38 % ¦ /CAPB38 ¦ 8
Glycerine ¦ G ¦ 3
Keukenzout ¦ SAL ¦ 1.5
Natriumbenzoaat ¦ SB ¦ 0.5
Melkzuur 80 % ¦ LA80 ¦ 0.4
Parfum „Lisdodde” ¦ FR ¦ 0.5''', batch=5000, note='the net weight counts, tare and gross do not')

# 45 JSON of a telephone
tx('recipe_export_phone.json', json.dumps({'app': 'KettleNotes', 'exported': '2026-11-18T07:44:10Z', 'recipes': [{'id': 41, 'title': 'Cuticle oil', 'servings': 20, 'unit': 'g', 'total': 200, 'items': [
    {'pos': 1, 'name': 'Jojoba oil', 'amount': 90, 'unit': 'g', 'checked': False}, {'pos': 2, 'name': 'Apricot kernel oil', 'amount': 60, 'unit': 'g', 'checked': False},
    {'pos': 3, 'name': 'Castor oil', 'amount': 30, 'unit': 'g', 'checked': True}, {'pos': 4, 'name': 'Argan oil', 'amount': 16, 'unit': 'g', 'checked': False},
    {'pos': 5, 'name': 'Vitamin E', 'amount': 2, 'unit': 'g', 'checked': False}, {'pos': 6, 'name': 'Lemon essential oil', 'amount': 2, 'unit': 'g', 'checked': False}],
    'notes': '20 bottles of 10 ml'}]}, ensure_ascii=False, indent=1) + '\n')
R('odd: JSON exported from a telephone', 'recipe_export_phone.json', '''Jojoba oil ¦ JO ¦ 45
Apricot kernel oil ¦ AK ¦ 30
Castor oil ¦ CA ¦ 15
Argan oil ¦ argan-oil ¦ 8
Vitamin E ¦ VE ¦ 1
Lemon essential oil ¦ LEM ¦ 1''', batch=200, note='to refuse such a file with plain words is fair, a line made of its keys is not')

# 46 UTF-16 table exported from a telephone
ENC['exportacion_movil.tsv'] = 'utf-16'
tx('exportacion_movil.tsv', rec("""_id|nombre|porcentaje|fase|favorito|modificado
a91f|Agua destilada|72,3|A|0|2026-11-02 08:15
a920|Glicerina|4|A|0|2026-11-02 08:15
a921|Aceite de onagra|6|B|1|2026-11-02 08:16
a922|Aceite de almendras dulces|8|B|0|2026-11-02 08:17
a923|Estearato de glicerilo SE|5|B|0|2026-11-02 08:17
a924|Alcohol cetílico|3|B|0|2026-11-03 21:40
a925|Fenoxietanol|0,9|C|0|2026-11-03 21:41
a926|Vitamina E|0,5|C|0|2026-11-03 21:41
a927|Aceite esencial de mandarina|0,3|C|1|2026-11-03 21:42"""), enc='utf-16', crlf=True)
R('odd: UTF-16 table with keys and times', 'exportacion_movil.tsv', '''Agua destilada ¦ W ¦ 72.3 ¦ A
Glicerina ¦ G ¦ 4 ¦ A
Aceite de onagra ¦ /evening-primrose-oil ¦ 6 ¦ B
Aceite de almendras dulces ¦ AL ¦ 8 ¦ B
Estearato de glicerilo SE ¦ /GSE ¦ 5 ¦ B
Alcohol cetílico ¦ CEA ¦ 3 ¦ B
Fenoxietanol ¦ PHE ¦ 0.9 ¦ C
Vitamina E ¦ VE ¦ 0.5 ¦ C
Aceite esencial de mandarina ¦ mandarin-essential-oil ¦ 0.3 ¦ C''')

# 47 outline of a mind map
tx('Gedankenkarte_Pflegestift.txt', '''
Pflegestift
\tIdee
\t\tfür den Wintermarkt
\t\t30 Stifte zu 5 g
\tFettphase
\t\tWachse
\t\t\tBienenwachs: 20 %
\t\t\tCarnaubawachs: 4 %
\t\tButtern
\t\t\tSheabutter: 25 %
\t\tÖle
\t\t\tRizinusöl: 30 %
\t\t\tJojobaöl: 20 %
\tZum Schluss
\t\tVitamin E: 0,6 %
\t\tPfefferminzöl: 0,4 %
\tFragen
\t\tHülsen aus Pappe?
''')
R('odd: outline of a mind map', 'Gedankenkarte_Pflegestift.txt', '''Bienenwachs ¦ BW ¦ 20 ¦
Carnaubawachs ¦ carnauba-wax ¦ 4 ¦
Sheabutter ¦ SH ¦ 25 ¦
Rizinusöl ¦ CA ¦ 30 ¦
Jojobaöl ¦ JO ¦ 20 ¦
Vitamin E ¦ VE ¦ 0.6 ¦
Pfefferminzöl ¦ PEP ¦ 0.4 ¦''', note='branches (Wachse, Öle) are no ingredients; the 30 sticks of 5 g no line')

# 48 print of an oil calculator
tx('oil_calculator_print.txt', '''
== Suddsheet lye print ==                       "Fenlight bar"
Total oil weight    800 g        Superfat / discount   5 %
Water as % of oils   33 %        Lye concentration  29.72 %

 #  Oil / Fat            %      pounds    ounces    grams
 1  Olive oil            45.0    0.794    12.699   360.00
 2  Coconut oil          25.0    0.441     7.055   200.00
 3  Rapeseed oil         20.0    0.353     5.644   160.00
 4  Castor oil           10.0    0.176     2.822    80.00
    Totals              100.0    1.764    28.219   800.00

 Water                           0.582     9.312   264.00
 Lye - NaOH                      0.246     3.938   111.65
 Fragrance                       0.053     0.847    24.00
 Soap weight before cure                          1199.65

 INS 148   Iodine 68   Hardness 35   Cleansing 17   Bubbly 26
''')
R('odd: print of an oil calculator', 'oil_calculator_print.txt', '''Olive oil ¦ OL ¦ 360/11.9965 ¦
Coconut oil ¦ CO ¦ 200/11.9965 ¦
Rapeseed oil ¦ RAP ¦ 160/11.9965 ¦
Castor oil ¦ CA ¦ 80/11.9965 ¦
Water ¦ W ¦ 264/11.9965 ¦
Lye - NaOH ¦ /LYE ¦ 111.65/11.9965 ¦
Fragrance ¦ FR ¦ 24/11.9965 ¦''', batch=1199.65, tol=0.01, note='the per cents are of the oils only; the grams give the whole; INS, iodine and the other figures are no lines')

# 49 five variants
xl('cinque_varianti_burro.xlsx', """Burro mani – cinque prove (percentuali)|||||
Ingrediente|Prova 1|Prova 2|Prova 3|Prova 4|Prova 5
Burro di karité|60|55|50|50|40
Olio di jojoba|20|20|25|20|25
Cera d'api|10|12|10|15|15
Burro di mango|9|12|14|14|19
Vitamina E|1|1|1|1|1
Totale|100|100|100|100|100""", merge=['A1:F1'], bold=[1, 2])
R('odd: table of five variants', 'cinque_varianti_burro.xlsx', '\n'.join(f'''Burro di karité ¦ SH ¦ {a}
Olio di jojoba ¦ JO ¦ {b}
Cera d'api ¦ BW ¦ {c}
Burro di mango ¦ MAN ¦ {d}
Vitamina E ¦ VE ¦ 1''' for a, b, c, d in ((60, 20, 10, 9), (55, 20, 12, 12), (50, 25, 10, 14), (50, 20, 15, 14), (40, 25, 15, 19))), all=True, recipes=5,
  note='five recipes, or the tool asks which of the five; the first in silence is wrong')

# 50 a page printed twice
PAGE = '''HUILE DÉMAQUILLANTE « BRUME »             Atelier Courtebois
Copie {} / 2                                  Lot : 300 g

Huile de tournesol               135 g       45 %
Huile de pépins de raisin         60 g       20 %
Caprate de polyglycéryle-4        60 g       20 %
Huile de ricin                    42 g       14 %
Vitamine E                         3 g        1 %
                                 -----     ------
Total                            300 g      100 %
'''
tx('huile_page_double.txt', PAGE.format(1) + '\f' + PAGE.format(2))
R('odd: the same page printed twice', 'huile_page_double.txt', '''Huile de tournesol ¦ SU ¦ 45
Huile de pépins de raisin ¦ GRA ¦ 20
Caprate de polyglycéryle-4 ¦ /polyglyceryl-4-caprate ¦ 20
Huile de ricin ¦ CA ¦ 14
Vitamine E ¦ VE ¦ 1''', batch=300, recipes=1, note='copy 2 is the same recipe: ten lines in one recipe are wrong; to offer the second page and say that it is the same is fair')

# 51 comments at the right that hold numbers
od('peeling_z_uwagami.ods', """Peeling kawowy||
Składnik|%|Uwagi
Kawa mielona|35|było 40 do maja; sito 0,5 mm
Olej kokosowy|30|2 słoiki po 500 g, 23,90 zł
Cukier|20|max 25
Masło shea|10|dać 12 zimą
Polisorbat 80|4|6 też działa
Witamina E|1|20 kropli
Suma|100|partia 900 g = 6 x 150""", merge={(1, 1): (1, 3)})
R('odd: comments at the right hold numbers', 'peeling_z_uwagami.ods', '''Kawa mielona ¦ /coffee-powder ¦ 35
Olej kokosowy ¦ CO ¦ 30
Cukier ¦ /sugar-granulated ¦ 20
Masło shea ¦ SH ¦ 10
Polisorbat 80 ¦ P80 ¦ 4
Witamina E ¦ VE ¦ 1''', note='the column of per cents makes 100; 20 drops, 500 g and the highest doses beside it are remarks; the 900 g may be taken as the batch')

# 52 a footnote that changes amounts
ht('kladde_voetnoot.html', '''
<h2>Dagcrème Zandbank (kladblok)</h2>
<table><tr><th>Grondstof</th><th>%</th></tr>
<tr><td>Water</td><td>74</td></tr><tr><td>Glycerine</td><td>4</td></tr><tr><td>Sheaboter*</td><td>6</td></tr><tr><td>Arganolie*</td><td>8</td></tr>
<tr><td>Glycerylstearaatcitraat</td><td>4</td></tr><tr><td>Cetylalcohol</td><td>2,6</td></tr><tr><td>Fenoxyethanol</td><td>0,9</td></tr><tr><td>Vitamine E</td><td>0,5</td></tr></table>
<p>* vanaf charge 12: sheaboter 4 %, arganolie 10 %</p>''', 'Kladblok')
R('odd: a footnote changes two amounts', 'kladde_voetnoot.html', '''Water ¦ W ¦ 74
Glycerine ¦ G ¦ 4
Sheaboter* ~ Sheaboter ¦ ?SH ¦ -
Arganolie* ~ Arganolie ¦ ?argan-oil ¦ -
Glycerylstearaatcitraat ¦ /GSC ¦ 4
Cetylalcohol ¦ CEA ¦ 2.6
Fenoxyethanol ¦ PHE ¦ 0.9
Vitamine E ¦ VE ¦ 0.5''', note='6 and 8, or 4 and 10: both make 100, so that only the maker knows which holds; to bring in 6 and 8 and tell the footnote plainly is the least')

# 53 "double the glycerin"
tx('double_the_glycerin.md', '''
## Rosie's lotion, winter edition

Same as summer:

- 78 % water
- 4 % glycerin
- 9 % sunflower oil
- 5 % emulsifying wax NF
- 3 % stearic acid
- 1 % phenoxyethanol and ethylhexylglycerin 90:10

but double the glycerin!! and take it out of the water
''')
R('odd: "double the glycerin"', 'double_the_glycerin.md', '''water ¦ /W ¦ 74
glycerin ¦ /G ¦ 8
sunflower oil ¦ SU ¦ 9
emulsifying wax NF ¦ EWNF ¦ 5
stearic acid ¦ SA ¦ 3
phenoxyethanol and ethylhexylglycerin 90:10 ¦ PEG ¦ 1''', note='twice 4 is 8, and 78 less 4 is 74: these, or asking about both lines, are right; 78 and 4 without a word are not')

# 54 phases by colours
xl('colour_phases_serum.xlsx', """Brightening serum, Copperbeck||
blue = water, yellow = oil, pink = below 40 C||
Ingredient|%|g per 60 g
Water|76.8|46.08
Propanediol|5|3
3-O-ethyl ascorbic acid|3|1.8
Sodium hyaluronate powder|0.2|0.12
Squalane|6|3.6
Polyglyceryl-10 stearate|4|2.4
Cetearyl alcohol|2|1.2
Phenoxyethanol|1|0.6
D-panthenol 75 %|2|1.2
Total|100|60""", merge=['A1:C1', 'A2:C2'], bold=[1, 3], fill={'A4:C7': 'BDD7EE', 'A8:C10': 'FFF2CC', 'A11:C12': 'F8CBAD'})
R('odd: phases told by colours', 'colour_phases_serum.xlsx', '''Water ¦ W ¦ 76.8 ¦
Propanediol ¦ propanediol ¦ 5 ¦
3-O-ethyl ascorbic acid ¦ 3-o-ethyl-ascorbic-acid ¦ 3 ¦
Sodium hyaluronate powder ¦ sodium-hyaluronate-powder ¦ 0.2 ¦
Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 6 ¦
Polyglyceryl-10 stearate ¦ polyglyceryl-10-stearate ¦ 4 ¦
Cetearyl alcohol ¦ CAL ¦ 2 ¦
Phenoxyethanol ¦ PHE ¦ 1 ¦
D-panthenol 75 % ¦ PAN ¦ 2 ¦''', batch=60, note='rows 4-7 blue, 8-10 yellow, 11-12 pink: any phases that do not mix these are right; one phase is fair if it is told')

# ====================================================================== odd prices, stock, materials
# 55 thin spaces, the unit in the header only
cs('tarif_gros_sacs.csv', """Matière|Prix HT (€ / sac de 25 kg)|Code
Bicarbonate de sodium|41,50|G-01
Kaolin|38,00|G-02
Acide stéarique|96,25|G-05
Beurre de cacao|1\u202f012,50|G-09
Cire d'abeille|1\u2009287,00|G-11""", sep=';')
P('odd: thin spaces, pack in the header only', 'tarif_gros_sacs.csv', '''Bicarbonate de sodium ¦ BIC ¦ 41.50 EUR 25000
Kaolin ¦ kaolin-white-clay ¦ 38.00 EUR 25000
Acide stéarique ¦ SA ¦ 96.25 EUR 25000
Beurre de cacao ¦ CB ¦ 1012.50 EUR 25000
Cire d'abeille ¦ BW ¦ 1287.00 EUR 25000''', note='1 012,50 are a thousand and twelve and a half, whichever thin space stands between')
# 56 prices told in an e-mail
tx('Mail_neue_Preise.txt', '''
Von: Bestellannahme Torfkamp
Betreff: Preise ab Dezember

Guten Tag Frau Quendel,

ab 1. Dezember gilt:
Sheabutter 13,90 € je kg
Bienenwachs 7,20 € je 500 g
Olivenöl 38,50 € je 5 l
Zinkoxid leider nicht lieferbar
Rizinusöl unverändert 9,40 € je kg

Versand 6,90 €, ab 120 € frei.
''')
P('odd: prices told in an e-mail', 'Mail_neue_Preise.txt', '''Sheabutter ¦ SH ¦ 13.90 EUR 1000
Bienenwachs ¦ BW ¦ 7.20 EUR 500
Olivenöl ¦ OL ¦ 38.50 EUR 5000 ml
Rizinusöl ¦ CA ¦ 9.40 EUR 1000''', note='the postage is no material; zinc oxide has no price (to tell it is fair)')
# 57 an invoice
xl('invoice_2231.xlsx', """Old Weir Supply|||||
Invoice 2231|Date|d:2026-11-06|||
Line|Description|Pack size|Qty|Unit price|Line total
1|Coconut oil|5 kg|3|l:21.4|l:64.2
2|Xanthan gum|500 g|2|l:9.75|l:19.5
3|Stearic acid|1 kg|4|l:5.1|l:20.4
4|Potassium sorbate|250 g|1|l:6.3|l:6.3
|Carriage|||l:8.5|l:8.5
||||Net|l:118.9
||||VAT 20 %|l:23.78
||||To pay|l:142.68""", bold=[1, 3])
P('odd: an invoice', 'invoice_2231.xlsx', '''Coconut oil ¦ CO ¦ 21.40 GBP 5000
Xanthan gum ¦ XG ¦ 9.75 GBP 500
Stearic acid ¦ SA ¦ 5.10 GBP 1000
Potassium sorbate ¦ PS ¦ 6.30 GBP 250''', note='the unit price is for one pack, the line total for all of them; carriage, net and tax are no materials')
# 58 stock in an old encoding, columns by spaces
ENC['LAGER.TXT'] = 'cp850'
tx('LAGER.TXT', '''
LAGERLISTE KELLER            STAND 15.11.2026
ROHSTOFF              CHARGE    MENGE    HALTBAR BIS
Traubenkernöl         TK-204    3,2 kg   31.07.2027
Milchsäure 80 %       MS-031    450 g    30.09.2028
Weizenkeimöl          WK-118    900 g    28.02.2027
Zitronensäure         ZS-077    2,5 kg   31.12.2029
Kakaobutter           KB-300    1,1 kg   30.04.2028
''', enc='cp850', crlf=True)
P('odd: stock of an old machine (code page 850)', 'LAGER.TXT', '''Traubenkernöl ¦ GRA ¦ ¦ TK-204
Milchsäure 80 % ¦ LA80 ¦ ¦ MS-031
Weizenkeimöl ¦ wheat-germ-oil ¦ ¦ WK-118
Zitronensäure ¦ ?|citric-acid-monohydrate|citric-acid-anhydrous ¦ ¦ ZS-077
Kakaobutter ¦ CB ¦ ¦ KB-300''', note='the letters ö and ä are bytes 94 and 84: readable only as code page 850 or 437; to ask or refuse for the encoding is fair, garbled names in silence are not; the citric acid may be either')
# 59 cards under each other
tx('schede_materie_prime.txt', '''
Nome: Estere di jojoba granuli
INCI: Jojoba Esters
Fornitore: Casa Bianconespolo
Uso: 1-5 %

Nome: Olio di canapa
INCI: Cannabis Sativa Seed Oil
Fornitore: Casa Bianconespolo
Uso: fino al 100 %

Nome: Proteine della seta 10 %
INCI: Aqua, Hydrolyzed Silk
Fornitore: Rivafosca
Uso: 1-3 %

Nome: Polvere di noccioli d'oliva
INCI: Olea Europaea Seed Powder
Fornitore: Rivafosca
Uso: 2-8 %

Nome: Cera di rosa
INCI: Rosa Damascena Flower Wax
Fornitore: Rivafosca
Uso: 1-3 %
''')
M('odd: cards under each other', 'schede_materie_prime.txt', '''Estere di jojoba granuli ¦ ?|jojoba-wax-beads|new|estere-di-jojoba-granuli
Olio di canapa ¦ /hemp-seed-oil
Proteine della seta 10 % ¦ /hydrolyzed-silk-10
Polvere di noccioli d'oliva ¦ /olive-stone-powder
Cera di rosa ¦ new|?|cera-di-rosa''', note='five materials, not twenty; the rose wax is none of the rose oils or waters')
# 60 Latin-2
ENC['surowce_latin2.csv'] = 'iso8859-2'
cs('surowce_latin2.csv', """Surowiec|INCI|Dostawca|Zastosowanie
Masło awokado|Hydrogenated Avocado Oil|Źródlana 4|masła
Wosk ryżowy|Oryza Sativa Bran Wax|Źródlana 4|sztyfty
Ług sodowy 30%|Aqua, Sodium Hydroxide|Pod Wiśnią|mydła
Węgiel aktywny|Charcoal Powder|Pod Wiśnią|mydła
Sok z brzozy|Betula Alba Juice|Źródlana 4|toniki
Śliwka suszona, proszek|Prunus Domestica Fruit Powder|Pod Wiśnią|maseczki""", sep=';', enc='iso8859-2')
M('odd: Polish list in Latin-2', 'surowce_latin2.csv', '''Masło awokado ¦ avocado-butter|?
Wosk ryżowy ¦ /rice-bran-wax
Ług sodowy 30% ¦ /sodium-hydroxide-solution-30
Węgiel aktywny ¦ /activated-charcoal
Sok z brzozy ¦ birch-sap|?
Śliwka suszona, proszek ¦ new|?|sliwka-suszona-proszek''', note='the letters ą, ś, ź, Ś stand at other bytes than in Windows-1250; garbled names in silence are wrong, to ask for the encoding is fair; the lye never the pellets')

# ====================================================================== proof of the expectations
def plain(f):
    import zipfile
    b = open(path(f), 'rb').read()
    if f.endswith(('xlsx', 'ods')):
        z = zipfile.ZipFile(io.BytesIO(b)); t = ' '.join(z.read(n).decode() for n in z.namelist() if n.endswith('.xml'))
    else:
        for enc in (ENC.get(f, 'utf-8'), 'cp1252'):
            try: t = b.decode(enc); break
            except UnicodeError: continue
    return re.sub(r'\s+', ' ', html.unescape(t))
for c in CASES:
    assert os.path.exists(path(c['file'])), c['file']
    t = plain(c['file']).lower().replace('""', '"')
    for l in c['lines']:
        for n in [l[0]] + (l[4] if len(l) > 4 else []):
            assert n.lower() in t, ('NAME NOT IN FILE', c['file'], n)
        if c['kind'] == 'price' and len(l) > 3 and l[3]: assert l[3].lower() in t, (c['file'], l[3])
    for s in c.get('said', []) + c.get('spare', []): assert s.lower() in t, s
assert len({c['file'] for c in CASES}) == len(CASES)
# The expectations stand in expected.json, with those of the other rounds, corrected where they were wrong.
for k in ('recipe', 'price', 'materials'): print(k, sum(c['kind'] == k for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['kind'] == k), 'lines')
print('plain', sum('plain:' in c['cls'] for c in CASES))
