"""Recipes by class: languages, programs, pages, text."""
from kit import *
# ---- 1 lotion in xlsx with phase column merged
def t(b,s):
    s.merge_cells('A5:A7'); s.merge_cells('A8:A10'); s['A1'].font=Font(bold=True)
xlsx('merged phases','lotion_merged.xlsx',[
 ['Calendula hand lotion'],['Version 4, March 2026'],[],['Phase','Ingredient','INCI','% w/w','Function'],
 ['A','Distilled water','Aqua',72.3,'solvent'],[None,'Glycerin','Glycerin',4,'humectant'],[None,'Xanthan gum','Xanthan Gum',0.3,'thickener'],
 ['B','Sunflower oil','Helianthus Annuus Seed Oil',14,'emollient'],[None,'Shea butter','Butyrospermum Parkii Butter',4,'butter'],[None,'Glyceryl stearate citrate','Glyceryl Stearate Citrate',4,'emulsifier'],
 ['C','Phenoxyethanol & ethylhexylglycerin','Phenoxyethanol, Ethylhexylglycerin',1,'preservative'],['C','Lavender EO','Lavandula Angustifolia Oil',0.4,'scent'],
 [None,'Total',None,100,None]],
 [('Distilled water',W,72.3,'A'),('Glycerin',G,4,'A'),('Xanthan gum',XG,.3,'A'),('Sunflower oil',SU,14,'B'),('Shea butter',SH,4,'B'),('Glyceryl stearate citrate',GSC,4,'B'),('Phenoxyethanol & ethylhexylglycerin',PHE,1,'C'),('Lavender EO',LAV,.4,'C')],tweak=t)
# ---- 2 German csv
text('languages','creme_de.csv','''Phase;Rohstoff;Gew.-%;Funktion
A;Wasser, dest.;66,6;Lösungsmittel
A;Glycerin;3,0;Feuchthaltemittel
A;Xanthan;0,2;Verdicker
B;Sonnenblumenöl;15,0;Emollient
B;Sheabutter;5,0;Butter
B;Cetylalkohol;3,0;Konsistenzgeber
B;Glycerinstearatcitrat;5,0;Emulgator
C;Natriumbenzoat;0,4;Konservierung
C;Kaliumsorbat;0,3;Konservierung
C;Milchsäure 80 %;0,5;pH
C;Lavendelöl;1,0;Duft
;Summe;100,0;
''',[('Wasser, dest.',W,66.6,'A'),('Glycerin',G,3,'A'),('Xanthan',XG,.2,'A'),('Sonnenblumenöl',SU,15,'B'),('Sheabutter',SH,5,'B'),('Cetylalkohol',CEA,3,'B'),('Glycerinstearatcitrat',GSC,5,'B'),('Natriumbenzoat',SB,.4,'C'),('Kaliumsorbat',PS,.3,'C'),('Milchsäure 80 %','lactic-acid-80',.5,'C'),('Lavendelöl',LAV,1,'C')],enc='cp1252')
text('languages','baume_fr.csv','''Baume à lèvres à la cire d'abeille;;
;;
Phase;Matière première;%
A;Cire d'abeille;20
A;Huile d'olive;35
A;Beurre de karité;20
A;Huile de coco;15
A;Huile de ricin;9,5
B;Huile essentielle de menthe poivrée;0,5
;Total;100
''',[("Cire d'abeille",BW,20,'A'),("Huile d'olive",OL,35,'A'),('Beurre de karité',SH,20,'A'),('Huile de coco',CO,15,'A'),('Huile de ricin',CA,9.5,'A'),('Huile essentielle de menthe poivrée','peppermint-essential-oil',.5,'B')],enc='utf-8-sig')
xlsx('languages','crema_es.xlsx',[['Fase','Ingrediente','Porcentaje','Función'],['A','Agua destilada',70,''],['A','Glicerina vegetal',5,'humectante'],['B','Aceite de almendras dulces',15,'emoliente'],['B','Manteca de karité',4,''],['B','Cera de abejas',2,''],['B','Alcohol cetílico',3,''],['C','Aceite esencial de lavanda',1,''],['','Suma',100,'']],
 [('Agua destilada',W,70,'A'),('Glicerina vegetal',G,5,'A'),('Aceite de almendras dulces',AL,15,'B'),('Manteca de karité',SH,4,'B'),('Cera de abejas',BW,2,'B'),('Alcohol cetílico',CEA,3,'B'),('Aceite esencial de lavanda',LAV,1,'C')])
text('languages','bagno_it.html','''<html><body><h1>Bagnoschiuma al ginepro</h1><table border=1><tr><th>Fase</th><th>Ingrediente</th><th>Quantità (g)</th></tr>
<tr><td>A</td><td>Acqua demineralizzata</td><td>q.b. a 500</td></tr><tr><td>A</td><td>Glicerina</td><td>15</td></tr><tr><td>A</td><td>Sale</td><td>5</td></tr>
<tr><td>B</td><td>Decyl glucoside</td><td>75,5</td></tr><tr><td>B</td><td>Acido citrico</td><td>1,5</td></tr><tr><td>C</td><td>Olio essenziale di ginepro</td><td>3</td></tr></table></body></html>''',
 [('Acqua demineralizzata',W,80,'A'),('Glicerina',G,3,'A'),('Sale',NACL,1,'A'),('Decyl glucoside',DG+'|?'+DG,15.1,'B'),('Acido citrico',CIT2,.3,'B'),('Olio essenziale di ginepro','juniper-berry-essential-oil',.6,'C')])
text('languages','zalf_nl.tsv','''Fase\tGrondstof\tHoeveelheid (g)
A\tZonnebloemolie\t50
A\tKokosolie\t25
A\tBijenwas\t15
A\tSheaboter\t9
B\tLavendelolie\t1
\tTotaal\t100
''',[('Zonnebloemolie',SU,50,'A'),('Kokosolie',CO,25,'A'),('Bijenwas',BW,15,'A'),('Sheaboter',SH,9,'A'),('Lavendelolie',LAV,1,'B')])
text('languages','krem_pl.tsv','''Faza\tSkładnik\tUdział %
A\tWoda destylowana\t70,0
A\tGliceryna\t5,0
B\tOlej słonecznikowy\t15,0
B\tMasło shea\t5,0
B\tAlkohol cetylowy\t4,0
C\tOlejek lawendowy\t1,0
\tRazem\t100,0
''',[('Woda destylowana',W,70,'A'),('Gliceryna',G,5,'A'),('Olej słonecznikowy',SU,15,'B'),('Masło shea',SH,5,'B'),('Alkohol cetylowy',CEA,4,'B'),('Olejek lawendowy',LAV,1,'C')],enc='utf-16')
# ---- pandas
df=pd.DataFrame({'Ingredient':['Water','Glycerin','Jojoba oil','Beeswax'],'Percent':[60.0,10.0,25.5,4.5],'Phase':['A','A','B','B']})
PL=[('Water',W,60,'A'),('Glycerin',G,10,'A'),('Jojoba oil',JO,25.5,'B'),('Beeswax',BW,4.5,'B')]
p=case('pandas','pandas_index.xlsx',PL); df.to_excel(p)
p=case('pandas','pandas_index.csv',PL); df.to_csv(p)
p=case('pandas','pandas.html',PL); df.to_html(p)
p=case('pandas','pandas_spaces.txt',PL); p.write_text(df.to_string())
p=case('pandas','pandas_md.md',PL); p.write_text('| | Ingredient | Percent | Phase |\n|---:|:---|---:|:---|\n'+''.join(f'| {i} | {r.Ingredient} | {r.Percent} | {r.Phase} |\n' for i,r in enumerate(df.itertuples())))
# ---- xlsxwriter with formulas and batch
def b1(b):
    s=b.add_worksheet('Batch'); pc=b.add_format({'num_format':'0.00%'}); g=b.add_format({'num_format':'0.0" g"'})
    s.write('A1','Rosemary shampoo'); s.write('A2','Batch size'); s.write('B2',750,g)
    s.write_row('A4',['Phase','Raw material','%','Grams'])
    rows=[('A','Deionised water',.655),('A','Glycerin',.03),('B','Coco glucoside',.2),('B','Cocamidopropyl betaine 30 %',.1),('C','Rosemary essential oil',.005),('C','Sodium benzoate',.005),('C','Citric acid, anhydrous',.005)]
    for i,(ph,n,f) in enumerate(rows,4):
        s.write(i,0,ph); s.write(i,1,n); s.write(i,2,f,pc); s.write_formula(i,3,f'=C{i+1}*$B$2',g,f*750)
    s.write(11,1,'Total'); s.write_formula(11,2,'=SUM(C5:C11)',pc,1.0); s.write_formula(11,3,'=SUM(D5:D11)',g,750)
xw('formulas','shampoo_formulas.xlsx',b1,[('Deionised water',W,65.5,'A'),('Glycerin',G,3,'A'),('Coco glucoside',CG+'|?'+CG,20,'B'),('Cocamidopropyl betaine 30 %','cocamidopropyl-betaine-solution-30',10,'B'),('Rosemary essential oil','rosemary-essential-oil-cineole-type|?rosemary-essential-oil-cineole-type',.5,'C'),('Sodium benzoate',SB,.5,'C'),('Citric acid, anhydrous',CIA,.5,'C')],batch=750)
# grams only with number format and batch
def b2(b):
    s=b.add_worksheet('Balm'); g=b.add_format({'num_format':'0.0" g"'}); s.write_row(0,0,['Material','Weigh'])
    for i,(n,v) in enumerate([('Shea butter',60),('Olive oil',90),('Beeswax',40),('Lavender essential oil',10)],1): s.write(i,0,n); s.write(i,1,v,g)
xw('number formats','balm_fmt_g.xlsx',b2,[('Shea butter',SH,30,'A'),('Olive oil',OL,45,'A'),('Beeswax',BW,20,'A'),('Lavender essential oil',LAV,5,'A')],batch=200)
def b3(b):
    s=b.add_worksheet('Balm'); k=b.add_format({'num_format':'0.000" kg"'}); g=b.add_format({'num_format':'0" g"'}); s.write_row(0,0,['Material','Weigh'])
    for i,(n,v,f) in enumerate([('Shea butter',0.6,k),('Olive oil',0.9,k),('Beeswax',400,g),('Lavender essential oil',100,g)],1): s.write(i,0,n); s.write(i,1,v,f)
xw('number formats','balm_fmt_mixed.xlsx',b3,[('Shea butter',SH,30,'A'),('Olive oil',OL,45,'A'),('Beeswax',BW,20,'A'),('Lavender essential oil',LAV,5,'A')],batch=2000)
def b4(b):
    s=b.add_worksheet('Balm'); k=b.add_format({'num_format':'0.0" %"'}); s.write_row(0,0,['Material','Recipe'])
    for i,(n,v) in enumerate([('Shea butter',30),('Olive oil',45),('Beeswax',20),('Lavender essential oil',5)],1): s.write(i,0,n); s.write(i,1,v,k)
xw('number formats','balm_fmt_pc.xlsx',b4,[('Shea butter',SH,30,'A'),('Olive oil',OL,45,'A'),('Beeswax',BW,20,'A'),('Lavender essential oil',LAV,5,'A')])
# ---- odf percent cells
ods('odfpy','odf_percent.ods',[('Rezept',[['Rohstoff','Anteil'],['Wasser',('%',.7)],['Glycerin',('%',.05)],['Olivenöl',('%',.25)]])],[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Olivenöl',OL,25,'A')])
ods('odfpy','odf_two_sheets.ods',[('Notes',[['Bought in May'],['Shop closes at 5']]),('Recipe',[['Ingredient','Grams'],['Olive oil',50],['Beeswax',50]])],[('Olive oil',OL,50,'A'),('Beeswax',BW,50,'A')])
# ---- markdown
text('markdown','md_phases.md','''# Moss conditioner

## Phase A (75 °C)

| Ingredient | % |
|------------|--:|
| Water | 88.5 |
| Glycerin | 2 |

## Phase B (75 °C)

| Ingredient | % |
|---|---|
| Cetearyl alcohol | 5 |
| Behentrimonium methosulfate 25 % in cetearyl alcohol | 3.5 |

## Phase C

| Ingredient | % |
|---|---|
| Phenoxyethanol and ethylhexylglycerin | 1 |

## Method
1. Heat A and B to 75 °C.
''',[('Water',W,88.5,'A'),('Glycerin',G,2,'A'),('Cetearyl alcohol',CAL,5,'B'),('Behentrimonium methosulfate 25 % in cetearyl alcohol','behentrimonium-methosulfate-25-in-cetearyl-alcohol',3.5,'B'),('Phenoxyethanol and ethylhexylglycerin',PHE,1,'C')])
text('markdown','md_list.md','''# Heather foot balm

**Phase A**

- Shea butter — 40%
- Beeswax — 15%
- Sunflower oil — 43.5%

**Phase B**

- Lavender essential oil — 1%
- Vitamin E — 0.5%

Makes 2 tins.
''',[('Shea butter',SH,40,'A'),('Beeswax',BW,15,'A'),('Sunflower oil',SU,43.5,'A'),('Lavender essential oil',LAV,1,'B'),('Vitamin E',TOC,.5,'B')])
text('markdown','md_bold.md','''| **Phase** | **Ingredient** | **%** |
|:---:|---|---:|
| **A** | Water | *to 100* |
| | Glycerin | 5.0 |
| **B** | `Olive oil` | 20.0 |
| | **Total** | **100** |
''',[('Water',W,75,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B')])
# ---- html with several tables
text('html','html_phases.html','''<!doctype html><html><head><title>Blog</title><style>td{color:red}</style></head><body><nav><ul><li>Home</li><li>Shop</li></ul></nav>
<h2>Lotion recipe</h2><h3>Phase A</h3><table><tr><td>Ingredient</td><td>%</td></tr><tr><td>Water</td><td>70</td></tr><tr><td>Glycerin</td><td>4</td></tr></table>
<h3>Phase B</h3><table><tr><td>Ingredient</td><td>%</td></tr><tr><td>Sunflower oil</td><td>20</td></tr><tr><td>Cetearyl alcohol</td><td>5</td></tr></table>
<h3>Phase C</h3><table><tr><td>Ingredient</td><td>%</td></tr><tr><td>Lavender oil</td><td>1</td></tr></table><p>Comments (3)</p></body></html>''',
 [('Water',W,70,'A'),('Glycerin',G,4,'A'),('Sunflower oil',SU,20,'B'),('Cetearyl alcohol',CAL,5,'B'),('Lavender oil',LAV,1,'C')])
text('html','html_list.html','''<html><body><h1>Whipped body butter</h1><p>You will need:</p><ul><li>60% shea butter</li><li>20% coconut oil</li><li>19% sweet almond oil</li><li>1% lavender essential oil</li></ul><ol><li>Melt at 45 °C.</li><li>Whip for 10 minutes.</li></ol></body></html>''',
 [('shea butter',SH,60,'A'),('coconut oil',CO,20,'A'),('sweet almond oil',AL,19,'A'),('lavender essential oil',LAV,1,'A')])
text('html','html_rowspan.html','''<table><thead><tr><th rowspan=2>Phase</th><th rowspan=2>Ingredient</th><th colspan=2>Amount</th></tr><tr><th>%</th><th>g</th></tr></thead>
<tbody><tr><td rowspan=2>A</td><td>Water</td><td>80</td><td>160</td></tr><tr><td>Glycerin</td><td>5</td><td>10</td></tr><tr><td rowspan=1>B</td><td>Jojoba oil</td><td>15</td><td>30</td></tr></tbody></table>''',
 [('Water',W,80,'A'),('Glycerin',G,5,'A'),('Jojoba oil',JO,15,'B')])
# ---- text
text('space-aligned','aligned.txt','''Shower gel, juniper

Phase  Ingredient                 %
A      Water                   60.0
A      Glycerin                 3.0
B      Decyl glucoside         25.0
B      Coco glucoside          11.0
C      Juniper essential oil    1.0
''',[('Water',W,60,'A'),('Glycerin',G,3,'A'),('Decyl glucoside',DG+'|?'+DG,25,'B'),('Coco glucoside',CG+'|?'+CG,11,'B'),('Juniper essential oil','juniper-berry-essential-oil|?juniper-berry-essential-oil',1,'C')])
text('space-aligned','leaders.txt','''Water ................... 70.0 %
Glycerin ................  5.0 %
Olive oil ............... 20.0 %
Cetearyl alcohol ........  5.0 %
''',[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'A'),('Cetearyl alcohol',CAL,5,'A')])
text('free text','inline.txt','''Phase A: 70 % water, 5 % glycerin. Phase B: 20 % olive oil, 4 % cetearyl alcohol. Phase C: 1 % lavender oil.
Heat A and B to 75 °C, then combine.
''',[('water',W,70,'A'),('glycerin',G,5,'A'),('olive oil',OL,20,'B'),('cetearyl alcohol',CAL,4,'B'),('lavender oil',LAV,1,'C')])
text('free text','inline_de.txt','''Phase A: 70,5 % Wasser, 4,5 % Glycerin
Phase B: 20 % Olivenöl, 4 % Cetylstearylalkohol
Phase C: 1 % Lavendelöl
''',[('Wasser',W,70.5,'A'),('Glycerin',G,4.5,'A'),('Olivenöl',OL,20,'B'),('Cetylstearylalkohol',CAL,4,'B'),('Lavendelöl',LAV,1,'C')])
text('free text','inline_name_first.txt','''A: water 70%, glycerin 5%
B: olive oil 20%, cetearyl alcohol 4%
C: lavender oil 1%
''',[('water',W,70,'A'),('glycerin',G,5,'A'),('olive oil',OL,20,'B'),('cetearyl alcohol',CAL,4,'B'),('lavender oil',LAV,1,'C')])
text('free text','mail.txt','''Hi Jo,

here is the balm we talked about:

Shea butter 40%
Beeswax 15%
Sunflower oil 44%
Lavender essential oil 1%

Melt at 70 and pour. Best, Mia
''',[('Shea butter',SH,40,'A'),('Beeswax',BW,15,'A'),('Sunflower oil',SU,44,'A'),('Lavender essential oil',LAV,1,'A')])
text('free text','bullets_g.txt','''Body butter (makes 500 g)

• 300 g shea butter
• 100 g coconut oil
• 95 g sweet almond oil
• 5 g lavender essential oil
''',[('shea butter',SH,60,'A'),('coconut oil',CO,20,'A'),('sweet almond oil',AL,19,'A'),('lavender essential oil',LAV,1,'A')],batch=500)
text('free text','bullets_minus.txt','''- 70,5 % Wasser
- 4,5 % Glycerin
- 25 % Olivenöl
''',[('Wasser',W,70.5,'A'),('Glycerin',G,4.5,'A'),('Olivenöl',OL,25,'A')])
text('free text','numbered.txt','''1. Water: 70%
2. Glycerin: 5%
3. Olive oil: 25%
''',[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
text('free text','phase_heads.txt','''OIL PHASE
Olive oil 20%
Cetearyl alcohol 5%
WATER PHASE
Water 70%
Glycerin 4%
COOL DOWN
Lavender EO 1%
''',[('Olive oil',OL,20,'A'),('Cetearyl alcohol',CAL,5,'A'),('Water',W,70,'B'),('Glycerin',G,4,'B'),('Lavender EO',LAV,1,'C')])
text('free text','qs_text.txt','''Water – q.s. to 100 %
Glycerin – 5 %
Sodium benzoate – 0.5 %
Citric acid, monohydrate – q.s. to pH 5.2
''',[('Water',W,94.5,'A'),('Glycerin',G,5,'A'),('Sodium benzoate',SB,.5,'A'),('Citric acid, monohydrate','?'+CIT,0,'A')])
