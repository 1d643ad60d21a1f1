"""A third round: other words, layouts and programs in seven languages, written down before
the program had read any of them."""
from kit import *
E=lambda x: x+'|?'+x
def pl(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='price',**m)
def px(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='price',**m)
def ml(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='materials',**m)
def mt(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='materials',**m)
CAB='cocoa-butter'; AVO='avocado-oil'; GRA='grape-seed-oil'; APR='apricot-kernel-oil'; ROS='rosemary-essential-oil-cineole-type'
PAN='d-panthenol-75'; NIA='niacinamide'; ALO='aloe-vera-juice'; UREA='urea'; ALL='allantoin-powder'; STA='stearic-acid'; CAND='candelilla-wax'
OWX='cetearyl-olivate-and-sorbitan-olivate'; LA80='lactic-acid-80'; HAH='sodium-hyaluronate-powder'; BTM25='behentrimonium-methosulfate-25-in-cetearyl-alcohol'
TEA='tea-tree-essential-oil'; ORA='sweet-orange-essential-oil'; PEP='peppermint-essential-oil'; ARG='argan-oil'; HAZ='hazelnut-oil'; RAP='rapeseed-oil'
NAOH='sodium-hydroxide-pellets'; ZNO='zinc-oxide-pigment'; KAO='kaolin-white-clay'; ARR='arrowroot-powder'; BIC='sodium-bicarbonate'; MAC='macadamia-oil'
PRO='propanediol'; SQU='squalane-from-olive-or-sugar-cane'; LAN='lanolin-anhydrous'; HON='honey'; CARN='carnauba-wax'; HEM='hemp-seed-oil'
BZD='benzyl-alcohol-and-dehydroacetic-acid-blend'; GCA='sodium-cocoyl-glutamate-solution-25'; SCS='sodium-coco-sulfate-granules'; P20='polysorbate-20'
VITE='?tocopherol-mixed-50-in-sunflower-oil|tocopherol-mixed-70-in-sunflower-oil|tocopheryl-acetate|new'
CETOL='cetearyl-alcohol'; ISO='isopropyl-myristate'; GEL='guar-hydroxypropyltrimonium-chloride'; DMF='dimethicone-350'
ROSEW='rose-water'; WHW='witch-hazel-water'; CALM='calendula-macerate-in-sunflower-oil'; SLSA='sodium-lauryl-sulfoacetate-powder'

# ---- recipes ---------------------------------------------------------------------------
def sheet_en(b,s):
    s['A1'].font=Font(bold=True,size=14); s.merge_cells('A1:H1'); s.freeze_panes='A8'
xlsx('third: sheets','t_master_sheet.xlsx',[
 ['Moorland day cream — master formulation sheet'],
 ['Product code','LM-014','','Version','3','','Date','2026-02-11'],
 ['Batch size','2 kg','','Prepared by','J. M.'],
 ['Market','EU/UK','','Target pH','5.2 – 5.6'],
 [],
 [],
 ['Ph','Material','INCI','Supplier','% w/w','Batch 2 kg (g)','Function','Comment'],
 ['A','Purified water','Aqua','in-house',64.25,1285,'solvent',''],
 ['A','Propanediol','Propanediol','Fell Supplies',4,80,'humectant',''],
 ['A','Allantoin','Allantoin','Fell Supplies',.25,5,'soothing','dissolve warm'],
 ['A','Xanthan','Xanthan Gum','Fell Supplies',.3,6,'thickener','pre-mix in glycol'],
 ['B','Olive emulsifying wax','Cetearyl Olivate, Sorbitan Olivate','Tarn & Co',5,100,'emulsifier',''],
 ['B','Cetyl alcohol','Cetyl Alcohol','Tarn & Co',2,40,'co-emulsifier',''],
 ['B','Apricot kernel oil','Prunus Armeniaca Kernel Oil','Tarn & Co',12,240,'emollient',''],
 ['B','Squalane','Squalane','Tarn & Co',6,120,'emollient',''],
 ['B','Shea butter, refined','Butyrospermum Parkii Butter','Tarn & Co',4,80,'butter',''],
 ['C','Panthenol 75 %','Panthenol, Aqua','Fell Supplies',1,20,'active','below 40 °C'],
 ['C','Benzyl alcohol (and) dehydroacetic acid','Benzyl Alcohol, Dehydroacetic Acid, Aqua','Fell Supplies',.9,18,'preservative',''],
 ['C','Sweet orange EO','Citrus Aurantium Dulcis Peel Oil','Moor Oils',.3,6,'fragrance',''],
 ['','','','Total',100,2000],
 [],
 ['Process'],
 ['1. Disperse the gum in the glycol, add to the water and heat to 75 °C.'],
 ['2. Heat B to 75 °C.'],
 ['3. Add B to A while homogenising for 3 min.'],
 ['4. Cool to 38 °C and add C.'],
],[('Purified water',W,64.25,'A'),('Propanediol',PRO,4,'A'),('Allantoin',ALL,.25,'A'),('Xanthan',E(XG),.3,'A'),('Olive emulsifying wax',OWX,5,'B'),('Cetyl alcohol',CEA,2,'B'),('Apricot kernel oil',APR,12,'B'),('Squalane',SQU,6,'B'),('Shea butter, refined',SH,4,'B'),('Panthenol 75 %',PAN,1,'C'),('Benzyl alcohol (and) dehydroacetic acid',E(BZD),.9,'C'),('Sweet orange EO',ORA,.3,'C')],tweak=sheet_en,batch=2000,steps=4)

ods('third: sheets','t_rezeptur.ods',[('Rezeptur',[
 ['Ringelblumensalbe – Rezeptur Nr. 7'],
 ['Stand: 03.02.2026',None,None,'Ansatz: 250 g'],
 [],
 ['Ph.','Rohstoff','Funktion','Konz. [%]','Einwaage [g]'],
 ['A','Calendulaöl (Mazerat)','Pflegeöl',58.0,145.0],
 ['A','Mandelöl','Pflegeöl',12.0,30.0],
 ['A','Bienenwachs','Konsistenz',14.0,35.0],
 ['A','Lanolin wasserfrei','Fett',10.0,25.0],
 ['A','Kakaobutter','Fett',5.0,12.5],
 ['B','Vitamin E','Antioxidans',0.6,1.5],
 ['B','Lavendelöl','Duft',0.4,1.0],
 [None,'Gesamt',None,100.0,250.0],
 [],
 ['Bemerkung: Wachs zuletzt, nicht über 70 °C.'],
]),('Notizen',[['Beim nächsten Mal weniger Wachs.']])],
 [('Calendulaöl (Mazerat)',E(CALM),58,'A'),('Mandelöl',AL,12,'A'),('Bienenwachs',BW,14,'A'),('Lanolin wasserfrei',E(LAN),10,'A'),('Kakaobutter',CB,5,'A'),('Vitamin E',VITE,.6,'B'),('Lavendelöl',LAV,.4,'B')],batch=250)

text('third: csv','t_lait_corps.csv','''Lait pour le corps à l'amande;;;
;;;
Ingrédients;Rôle;Pourcentage;Pour 300 g
PHASE AQUEUSE;;;
Eau florale de rose;hydratant;20,00;60,00
Eau déminéralisée;solvant;53,30;159,90
Glycérine;humectant;3,00;9,00
Gomme xanthane;épaississant;0,20;0,60
PHASE HUILEUSE;;;
Huile d'amande douce;émollient;12,00;36,00
Beurre de cacao;beurre;4,00;12,00
Olivem (cetearyl olivate, sorbitan olivate);émulsifiant;5,00;15,00
Alcool cétylique;consistance;1,50;4,50
AJOUTS;;;
Benzoate de sodium;conservateur;0,40;1,20
Sorbate de potassium;conservateur;0,30;0,90
Huile essentielle d'orange douce;parfum;0,30;0,90
TOTAL;;100,00;300,00
'''.replace('Olivem (cetearyl olivate, sorbitan olivate)','Émulsifiant olive (cetearyl olivate, sorbitan olivate)'),[('Eau florale de rose',E(ROSEW),20,'A'),('Eau déminéralisée',W,53.3,'A'),('Glycérine',G,3,'A'),('Gomme xanthane',XG,.2,'A'),("Huile d'amande douce",AL,12,'B'),('Beurre de cacao',CB,4,'B'),('Émulsifiant olive (cetearyl olivate, sorbitan olivate)',E(OWX),5,'B'),('Alcool cétylique',CEA,1.5,'B'),('Benzoate de sodium',SB,.4,'C'),('Sorbate de potassium',PS,.3,'C'),("Huile essentielle d'orange douce",ORA,.3,'C')],enc='cp1252')

def es(b):
    s=b.add_worksheet('Fórmula'); bold=b.add_format({'bold':True,'bg_color':'#ddeeff'}); n=b.add_format({'num_format':'0.00'})
    s.merge_range('A1:D1','Bálsamo labial de naranja',bold); s.write_row(2,0,['','INGREDIENTES','PORCENTAJE','GRAMOS (60 g)'],bold)
    r=3
    def block(title,rows,start):
        nonlocal r
        s.merge_range(r,0,r,3,title,bold); r+=1; first=r
        for name,p in rows: s.write(r,1,name); s.write(r,2,p,n); s.write_formula(r,3,f'=C{r+1}*60/100',n,round(p*.6,4)); r+=1
        s.write(r,1,'Subtotal',bold); s.write_formula(r,2,f'=SUM(C{first+1}:C{r})',n,sum(p for _,p in rows)); r+=1
    block('FASE A · Ceras y mantecas',[('Cera de candelilla',9),('Cera de abejas',12),('Manteca de cacao',20),('Manteca de karité',14)],0)
    block('FASE B · Aceites',[('Aceite de ricino',25),('Aceite de coco',19.2)],0)
    block('FASE C · Aditivos',[('Aceite esencial de naranja dulce',.8)],0)
xw('third: merged','t_balsamo.xlsx',es,[('Cera de candelilla',CAND,9,'A'),('Cera de abejas',BW,12,'A'),('Manteca de cacao',CB,20,'A'),('Manteca de karité',SH,14,'A'),('Aceite de ricino',CA,25,'B'),('Aceite de coco',CO,19.2,'B'),('Aceite esencial de naranja dulce',ORA,.8,'C')])

text('third: html','t_bagnoschiuma.html','''<html><head><title>Appunti</title></head><body><h1>Bagnoschiuma delicato</h1><p>Lotto da 1000 g, pH finale 5,3</p>
<table border=1><thead><tr><th>Fase</th><th>Materia prima</th><th>Grammi</th><th>Nota</th></tr></thead><tbody>
<tr><td rowspan=3>A</td><td>Acqua distillata</td><td>q.b. a 1000</td><td></td></tr>
<tr><td>Gomma xantana</td><td>8</td><td>idratare 20 minuti</td></tr><tr><td>Glicerina vegetale</td><td>30</td><td></td></tr>
<tr><td rowspan=2>B</td><td>Coco glucoside</td><td>150</td><td></td></tr><tr><td>Decyl glucoside</td><td>120</td><td></td></tr>
<tr><td rowspan=3>C</td><td>Sodio benzoato</td><td>4,5</td><td></td></tr><tr><td>Potassio sorbato</td><td>3</td><td></td></tr><tr><td>Olio essenziale di rosmarino</td><td>3,5</td><td>facoltativo</td></tr>
</tbody></table><p>Mescolare A, unire B senza schiuma, poi C.</p></body></html>''',
 [('Acqua distillata',W,68.1,'A'),('Gomma xantana',XG,.8,'A'),('Glicerina vegetale',G,3,'A'),('Coco glucoside',E(CG),15,'B'),('Decyl glucoside',E(DG),12,'B'),('Sodio benzoato',SB,.45,'C'),('Potassio sorbato',PS,.3,'C'),('Olio essenziale di rosmarino',E(ROS),.35,'C')],batch=1000)

text('third: markdown','t_handcreme_nl.md','''# Handcrème met shea

Voor 150 g. Laatste versie van februari.

## Fase A (water)
| Grondstof | % |
|:--|--:|
| Gedemineraliseerd water | tot 100 |
| Glycerine | 4,0 |
| Allantoïne | 0,2 |

## Fase B (vet)
| Grondstof | % |
|:--|--:|
| Sheaboter | 8,0 |
| Zonnebloemolie | 10,0 |
| Cetylalcohol | 2,5 |
| Glycerylstearaatcitraat | 4,5 |

## Fase C
| Grondstof | % |
|:--|--:|
| Natriumbenzoaat | 0,4 |
| Kaliumsorbaat | 0,2 |

Werkwijze: A en B apart tot 75 °C verwarmen, mengen, koud roeren, C erbij.
''',[('Gedemineraliseerd water',W,70.2,'A'),('Glycerine',G,4,'A'),('Allantoïne',E(ALL),.2,'A'),('Sheaboter',SH,8,'B'),('Zonnebloemolie',SU,10,'B'),('Cetylalcohol',CEA,2.5,'B'),('Glycerylstearaatcitraat',E(GSC),4.5,'B'),('Natriumbenzoaat',SB,.4,'C'),('Kaliumsorbaat',PS,.2,'C')])

text('third: utf-16','t_tonik_pl.txt','Tonik do twarzy\n\nFaza\tSurowiec\tINCI\tZawartość %\tRola\nA\tWoda różana\tRosa Damascena Flower Water\t50\twoda\nA\tWoda destylowana\tAqua\tdo 100\twoda\nA\tSok z aloesu\tAloe Barbadensis Leaf Juice\t10\t\nA\tGliceryna roślinna\tGlycerin\t2,5\thumektant\nB\tNiacynamid\tNiacinamide\t3\t\nB\tKwas mlekowy 80%\tLactic Acid\t0,1\t\nB\tBenzoesan sodu\tSodium Benzoate\t0,4\tkonserwant\nB\tSorbinian potasu\tPotassium Sorbate\t0,2\tkonserwant\n',
 [('Woda różana',E(ROSEW),50,'A'),('Woda destylowana',W,33.8,'A'),('Sok z aloesu',E(ALO),10,'A'),('Gliceryna roślinna',G,2.5,'A'),('Niacynamid',NIA,3,'B'),('Kwas mlekowy 80%',LA80,.1,'B'),('Benzoesan sodu',SB,.4,'B'),('Sorbinian potasu',PS,.2,'B')],enc='utf-16')

xlsx('third: beside','t_two_soaps.xlsx',[
 ['Lemon scrub','','','Lavender scrub',''],
 ['Item','g','','Item','g'],
 ['Sugar',300,'','Sea salt',350],
 ['Sweet almond oil',150,'','Grapeseed oil',120],
 ['Coconut oil',45,'','Shea butter',25],
 ['Vitamin E',5,'','Lavender EO',5],
 ['Total',500,'','Total',500]],
 [('Sugar',E('sugar-granulated'),60,'A'),('Sweet almond oil',AL,30,'A'),('Coconut oil',CO,9,'A'),('Vitamin E',VITE,1,'A'),('Sea salt','sea-salt',70,'A'),('Grapeseed oil',GRA,24,'A'),('Shea butter',SH,5,'A'),('Lavender EO',LAV,1,'A')],args=['--all'])

text('third: text','t_blog.txt','''Whipped body butter – my favourite winter recipe!

You will need
- 150g shea butter (raw, unrefined)
- 60g mango butter
- 60g coconut oil
- 27 g jojoba oil
- 3g lavender essential oil
- 1 tbsp arrowroot powder

How to make it
1. Melt the butters gently.
2. Cool in the fridge until opaque.
3. Whip for ten minutes.
''',[('shea butter (raw, unrefined)',E(SH),None,'A'),('mango butter','mango-butter',None,'A'),('coconut oil',CO,None,'A'),('jojoba oil',JO,None,'A'),('lavender essential oil',LAV,None,'A'),('arrowroot powder','?'+ARR,None,'A')],steps=3)

text('third: text','t_dusche.txt','''Duschgel "Moorbirke"
Ansatzgröße: 500 g

Phase A (Wasserphase)
  321,0 g  Wasser, demineralisiert
   15,0 g  Glycerin
    4,0 g  Xanthan
Phase B (Tenside)
   90,0 g  Cocoglucosid
   60,0 g  Cocamidopropylbetain 38 %
Phase C (Zusätze)
    5,0 g  Parfümöl
    2,5 g  Natriumbenzoat
    2,5 g  Zitronensäure 50 %ig

Herstellung: Phase A quellen lassen, B unterrühren, C zugeben und pH 5,0 einstellen.
''',[('Wasser, demineralisiert',W,64.2,'A'),('Glycerin',G,3,'A'),('Xanthan',E(XG),.8,'A'),('Cocoglucosid',E(CG),18,'B'),('Cocamidopropylbetain 38 %',E('cocamidopropyl-betaine-solution-38'),12,'B'),('Parfümöl','new|?new|?',1,'C'),('Natriumbenzoat',SB,.5,'C'),('Zitronensäure 50 %ig',E('citric-acid-solution-50'),.5,'C')],batch=500)

def hid(b,s):
    s.row_dimensions[5].hidden=True; s.column_dimensions['C'].hidden=True
    for c in s[7]: c.font=Font(strike=True)
xlsx('third: hidden','t_cleaner.xlsx',[['Cleansing balm'],['Ingredient','Use %','Old %','Notes'],['Sunflower oil',50,60,''],['Castor oil',20,15,''],['Olive oil',10,10,'do not use'],['Cera bellina',8,5,''],['Lanolin',5,5,'dropped, allergens'],['Polysorbate 80',21.5,10,''],['Vitamin E acetate',.5,.5,'']],
 [('Sunflower oil',SU,50,'A'),('Castor oil',CA,20,'A'),('Cera bellina',E('cera-bellina-polyglyceryl-3-beeswax'),8,'A'),('Polysorbate 80','polysorbate-80',21.5,'A'),('Vitamin E acetate',E('tocopheryl-acetate'),.5,'A')],tweak=hid)

xlsx('third: ounces','t_lb_oz.xlsx',[['Ingredient','lb','oz'],['Olive oil',1,4],['Coconut oil','',10],['Shea butter','',6],['Beeswax','',4]],
 [('Olive oil',E(OL),50,'A'),('Coconut oil',E(CO),25,'A'),('Shea butter',E(SH),15,'A'),('Beeswax',E(BW),10,'A')],tol=.1)

text('third: drops','t_serum_fr.txt','''Sérum visage nuit (30 ml)
15 ml d'huile d'argan
8 ml d'huile de noisette
7 ml de macérât de calendula
5 gouttes de vitamine E
3 gouttes d'huile essentielle de lavande vraie
''',[("huile d'argan",E(ARG),None,'A'),("huile de noisette",E(HAZ),None,'A'),("macérât de calendula",E(CALM),None,'A'),('vitamine E','?',None,'A'),("huile essentielle de lavande vraie",'?'+LAV,None,'A')])

text('third: parts','t_teile.txt','Lippenbalsam\n3 Teile Kokosöl\n2 Teile Sheabutter\n1 Teil Bienenwachs\n',[('Kokosöl',E(CO),50,'A'),('Sheabutter',E(SH),33.3333,'A'),('Bienenwachs',E(BW),16.6667,'A')],tol=.01)

def pct(b):
    s=b.add_worksheet('calc'); pf=b.add_format({'num_format':'0.00%'}); gf=b.add_format({'num_format':'0.0 "g"'}); h=b.add_format({'bold':True})
    s.write('A1','Batch weight:',h); s.write('B1',750,gf)
    s.write_row('A3',['Raw material','Percentage','Weight'],h)
    rows=[('Deionised water',.612),('Sodium coco sulfate',.12),('Coco betaine 30%',.18),('Vegetable glycerin',.03),('Guar hydroxypropyltrimonium chloride',.003),('Salt',.02),('D-panthenol 75%',.015),('Preservative blend (phenoxyethanol, ethylhexylglycerin)',.01),('Essential oil of rosemary',.01)]
    for n,(a,p) in enumerate(rows,3): s.write(n,0,a); s.write(n,1,p,pf); s.write_formula(n,2,f'=B{n+1}*$B$1',gf,p*750)
    s.write(12,0,'TOTAL',h); s.write_formula(12,1,'=SUM(B4:B12)',pf,1.0); s.write_formula(12,2,'=SUM(C4:C12)',gf,750)
xw('third: formats','t_percent_cells.xlsx',pct,[('Deionised water',W,61.2,'A'),('Sodium coco sulfate',E(SCS),12,'A'),('Coco betaine 30%','?coco-betaine-solution-31|cocamidopropyl-betaine-solution-30|coco-betaine-solution-31',18,'A'),('Vegetable glycerin',G,3,'A'),('Guar hydroxypropyltrimonium chloride',GEL,.3,'A'),('Salt',E(NACL),2,'A'),('D-panthenol 75%',PAN,1.5,'A'),('Preservative blend (phenoxyethanol, ethylhexylglycerin)',E(PHE),1,'A'),('Essential oil of rosemary',E(ROS),1,'A')],batch=750)

xlsx('third: versions','t_trials_cols.xlsx',[['Beard balm trials'],['','12 Jan','19 Jan'],['Beeswax %','20','25'],['Shea butter %','30','25'],['Jojoba oil %','30','30'],['Argan oil %','19','19'],['Cedarwood EO %','1','1']],
 [('Beeswax',E(BW),20,'A'),('Shea butter',E(SH),30,'A'),('Jojoba oil',E(JO),30,'A'),('Argan oil',E(ARG),19,'A'),('Cedarwood EO','?',1,'A'),('Beeswax',E(BW),25,'A'),('Shea butter',E(SH),25,'A'),('Jojoba oil',E(JO),30,'A'),('Argan oil',E(ARG),19,'A'),('Cedarwood EO','?',1,'A')],args=['--all'])

def many(b,s):
    s2=b.create_sheet('Conditioner')
    for r in [['Ingredient','%'],['Water',86],['BTMS 25',6],['Cetyl alcohol',3],['Argan oil',3],['Preservative (sodium benzoate)',.5],['Citric acid',.5],['Panthenol powder',1]]: s2.append(r)
    s3=b.create_sheet('Suppliers')
    for r in [['Supplier','Phone'],['Fell Supplies','555 0100'],['Tarn & Co','555 0117']]: s3.append(r)
xlsx('third: several sheets','t_hair.xlsx',[['Ingredient','%'],['Water',70],['SCI powder',15],['Cocamidopropyl betaine 30%',14],['Potassium sorbate',.3],['Lactic acid 80 %',.7]],
 [('Water',W,70,'A'),('SCI powder',E(SCI),15,'A'),('Cocamidopropyl betaine 30%',E('cocamidopropyl-betaine-solution-30'),14,'A'),('Potassium sorbate',PS,.3,'A'),('Lactic acid 80 %',LA80,.7,'A'),
  ('Water',W,86,'A'),('BTMS 25',E(BTM25),6,'A'),('Cetyl alcohol',CEA,3,'A'),('Argan oil',ARG,3,'A'),('Preservative (sodium benzoate)',E(SB),.5,'A'),('Citric acid',CIT2,.5,'A'),('Panthenol powder','dl-panthenol-powder',1,'A')],tweak=many,sheet='Shampoo',args=['--all'])

xlsx('third: strengths','t_active.xlsx',[['Phase','Raw material','INCI','% as supplied','Active matter %','% active in formula'],
 ['A','Water','Aqua',49.5,'',''],['A','SLES','Sodium Laureth Sulfate',20,28,5.6],['A','Betaine','Cocamidopropyl Betaine',15,30,4.5],['A','APG','Decyl Glucoside',12,51,6.12],['B','NaCl','Sodium Chloride',2,100,''],['B','Lye','Sodium Hydroxide',.5,10,''],['B','Phenoxyethanol','Phenoxyethanol',1,100,'']],
 [('Water',W,49.5,'A'),('SLES',SLES28,20,'A'),('Betaine','cocamidopropyl-betaine-solution-30',15,'A'),('APG',E(DG),12,'A'),('NaCl',NACL,2,'B'),('Lye','sodium-hydroxide-solution-10',.5,'B'),('Phenoxyethanol','phenoxyethanol',1,'B')])

xlsx('third: trade names','t_trade_only.xlsx',[['Trade name','INCI name','CAS','wt%'],['Tarnsoft G','Coco-Glucoside','110615-47-9',30],['Fellbet 30','Cocamidopropyl Betaine','61789-40-0',20],['Dewglyc','Glycerin','56-81-5',5],['Moorguard','Phenoxyethanol (and) Ethylhexylglycerin','122-99-6, 70445-33-9',1],['Fellex CMC','Cellulose Gum','9004-32-4',1],['Aqua dem.','Aqua','7732-18-5',43]],
 [('Tarnsoft G',E(CG)+'|?',30,'A'),('Fellbet 30','?',20,'A'),('Dewglyc',E(G)+'|?',5,'A'),('Moorguard',E(PHE),1,'A'),('Fellex CMC',E('cellulose-gum'),1,'A'),('Aqua dem.',W,43,'A')])

text('third: contradiction','t_wrong_cas.csv','Name;CAS;%\nGlycerin;57-55-6;5\nBetain;107-43-7;3\nUrea;57-13-6;5\nVitamin E;7695-91-2;0,5\nWasser;7732-18-5;86,5\n',[('Glycerin','?',5,'A'),('Betain',E('betaine-trimethylglycine-powder'),3,'A'),('Urea',UREA,5,'A'),('Vitamin E',E('tocopheryl-acetate')+'|?',.5,'A'),('Wasser',W,86.5,'A')])

text('third: soap','t_seife.csv','''Olivenseife;;;
;;;
Fette;Anteil der Fette;Menge in g;
Olivenöl;60 %;300;
Kokosöl;25 %;125;
Rapsöl;10 %;50;
Sheabutter;5 %;25;
;;;
Lauge;;;
NaOH;;68,5;
Wasser;;160;
Überfettung;7 %;;
Gesamtgewicht;;728,5;
''',[('Olivenöl',E(OL),41.1805,'A'),('Kokosöl',E(CO),17.1585,'A'),('Rapsöl',E(RAP),6.8634,'A'),('Sheabutter',E(SH),3.4317,'A'),('NaOH',E(NAOH),9.4029,''),('Wasser',E(W),21.963,'')],tol=.02)

text('third: to the whole','t_ad200.txt','Gesichtswasser, 200 g\n\nHamameliswasser 60 g\nAloe-Vera-Saft 20 g\nGlycerin 6 g\nKonservierer: Natriumbenzoat 0,8 g\nWasser ad 200 g\n',[('Hamameliswasser',E(WHW),30,'A'),('Aloe-Vera-Saft',E(ALO),10,'A'),('Glycerin',G,3,'A'),('Natriumbenzoat',E(SB),.4,'A'),('Wasser',W,56.6,'A')],batch=200)

text('third: fractions','t_fractions.csv','Inhaltsstoff;Anteil\nWasser;0,715\nGlycerin;0,05\nHaferöl;0,1\nCetylstearylalkohol;0,03\nGlycerinstearatcitrat;0,05\nSheabutter;0,05\nKaliumsorbat;0,005\nSumme;1,000\n',[('Wasser',W,71.5,'A'),('Glycerin',G,5,'A'),('Haferöl',E('oat-oil'),10,'A'),('Cetylstearylalkohol',CETOL,3,'A'),('Glycerinstearatcitrat',GSC,5,'A'),('Sheabutter',SH,5,'A'),('Kaliumsorbat',PS,.5,'A')])

xlsx('third: ranges','t_ranges.xlsx',[['Ingredient','Level'],['Water','to 100 %'],['Glycerin','3–5 %'],['Xanthan gum','0.2 to 0.4 %'],['Shea butter','~4 %'],['Olive oil','ca. 10 %'],['Glyceryl stearate citrate','max. 5 %'],['Sodium benzoate','0.4%']],
 [('Water',W,None,'A'),('Glycerin','?'+G,None,'A'),('Xanthan gum','?'+XG,None,'A'),('Shea butter','?'+SH,4,'A'),('Olive oil','?'+OL,10,'A'),('Glyceryl stearate citrate','?'+GSC,5,'A'),('Sodium benzoate',SB,.4,'A')])

xlsx('third: disagree','t_slip.xlsx',[['Ingredient','%','300 g batch'],['Water',70,210],['Glycerin',5,15],['Olive oil',20,80],['Cetearyl alcohol',5,15]],
 [('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil','?'+OL,20,'A'),('Cetearyl alcohol',CETOL,5,'A')])

text('third: text','t_numbered_it.txt','''CREMA MANI ALLA CALENDULA

FASE A
1) Acqua 62,5%
2) Glicerina 4%
3) Gomma xantana 0,3%
FASE B
4) Oleolito di calendula 15%
5) Burro di karité 8%
6) Alcol cetilico 3%
7) Gliceril stearato citrato 5%
FASE C
8) Pantenolo 75% 1%
9) Alcol benzilico e acido deidroacetico 0,8%
10) Olio essenziale di lavanda 0,4%
''',[('Acqua',W,62.5,'A'),('Glicerina',G,4,'A'),('Gomma xantana',XG,.3,'A'),('Oleolito di calendula',E(CALM),15,'B'),('Burro di karité',SH,8,'B'),('Alcol cetilico',CEA,3,'B'),('Gliceril stearato citrato',E(GSC),5,'B'),('Pantenolo 75%',PAN,1,'C'),('Alcol benzilico e acido deidroacetico',E(BZD)+'|?',.8,'C'),('Olio essenziale di lavanda',LAV,.4,'C')])

text('third: mail','t_quoted_mail.txt','''> Hi Jo,
> here is the lotion as promised:
>
> Phase A
> Water 74.2 %
> Glycerine 3 %
> Phase B
> Emulsifying wax (cetearyl alcohol, polysorbate 60) 6 %
> Grapeseed oil 15 %
> Phase C
> Phenoxyethanol 0.8 %
> Lactic acid 80 % 1 %
>
> Best, M.
''',[('Water',W,74.2,'A'),('Glycerine',G,3,'A'),('Emulsifying wax (cetearyl alcohol, polysorbate 60)',E('cetearyl-alcohol-and-polysorbate-60'),6,'B'),('Grapeseed oil',GRA,15,'B'),('Phenoxyethanol','phenoxyethanol',.8,'C'),('Lactic acid 80 %',LA80,1,'C')])

text('third: footnotes','t_organic_marks.csv','Ingredient,INCI,%\nRose water*,Rosa Damascena Flower Water*,60.0\nWater,Aqua,30.1\nGlycerine**,Glycerin,5.0\nAloe vera juice*,Aloe Barbadensis Leaf Juice,4.0\nHyaluronic acid,Sodium Hyaluronate,0.1\nPreservative eco,"Benzyl Alcohol, Dehydroacetic Acid",0.8\n* from organic farming,,\n** of plant origin,,\n',
 [('Rose water',E(ROSEW),60,'A'),('Water',W,30.1,'A'),('Glycerine',G,5,'A'),('Aloe vera juice',E(ALO),4,'A'),('Hyaluronic acid',E(HAH),.1,'A'),('Preservative eco',E(BZD),.8,'A')])

xlsx('third: steps','t_stappen.xlsx',[['Lotion licht'],[],['Fase','Ingrediënt','%','g voor 200 g'],['A','Water',73.5,147],['A','Glycerine',5,10],['','→ verwarmen tot 70 °C','',''],['B','Abrikozenpitolie',12,24],['B','Emulsan','',''],['B','Cetearylalcohol',4,8],['','→ B bij A, 3 minuten mixen','',''],['C','Panthenol 75 %',2,4],['C','Kaliumsorbaat',.3,.6],['C','Sinaasappelolie',.2,.4],['','Totaal',97,194]],
 [('Water',W,73.5,'A'),('Glycerine',G,5,'A'),('Abrikozenpitolie',E(APR),12,'B'),('Emulsan','?',0,'B'),('Cetearylalcohol',CETOL,4,'B'),('Panthenol 75 %',PAN,2,'C'),('Kaliumsorbaat',PS,.3,'C'),('Sinaasappelolie',E(ORA),.2,'C')])

xlsx('third: languages','t_mydlo_pl.xlsx',[['Krem do rąk'],['Masa szarży:','200 g'],[],['Składnik','Ilość [g]','Faza'],['Woda demineralizowana',140,'A'],['Gliceryna',10,'A'],['Olej ze słodkich migdałów',24,'B'],['Masło shea',12,'B'],['Alkohol cetylowy',5,'B'],['Cytrynian stearynianu glicerolu',8,'B'],['Benzoesan sodu',.8,'C'],['Olejek lawendowy',.2,'C'],['Razem',200,'']],
 [('Woda demineralizowana',W,70,'A'),('Gliceryna',G,5,'A'),('Olej ze słodkich migdałów',AL,12,'B'),('Masło shea',SH,6,'B'),('Alkohol cetylowy',CEA,2.5,'B'),('Cytrynian stearynianu glicerolu',E(GSC)+'|?',4,'B'),('Benzoesan sodu',SB,.4,'C'),('Olejek lawendowy',LAV,.1,'C')],batch=200)

text('third: prose','t_prose.txt','''Simple foot balm. Melt 20 g beeswax with 60 g olive oil and 15 g shea butter over a water bath. Take off the heat, stir in 4 g lanolin and 20 drops of peppermint essential oil, then pour into tins.
''',[('beeswax','?'+BW,None,'A'),('olive oil','?'+OL,None,'A'),('shea butter','?'+SH,None,'A'),('lanolin','?'+LAN,None,'A'),('peppermint essential oil','?'+PEP,None,'A')])

text('third: prose','t_prose_de.txt','''Zuerst 70 g destilliertes Wasser mit 5 g Glycerin auf 75 °C erwärmen, dann 0,4 g Xanthan einstreuen. 20 g Mandelöl und 4,6 g Glycerinstearatcitrat schmelzen und einrühren.
''',[('destilliertes Wasser','?'+W,70,'A'),('Glycerin','?'+G,5,'A'),('Xanthan','?'+XG,.4,'A'),('Mandelöl','?'+AL,20,'A'),('Glycerinstearatcitrat','?'+GSC,4.6,'A')])

ods('third: several sheets','t_two_tabs.ods',[('Duschöl',[['Zutat','%'],['Sonnenblumenöl',70.0],['Rizinusöl',9.0],['Polysorbat 80',20.0],['Orangenöl süß',1.0]]),('Badesalz',[['Zutat','%'],['Totes-Meer-Salz',80.0],['Natron',19.0],['Lavendelöl',1.0]])],
 [('Sonnenblumenöl',SU,70,'A'),('Rizinusöl',CA,9,'A'),('Polysorbat 80','polysorbate-80',20,'A'),('Orangenöl süß',E(ORA),1,'A'),('Totes-Meer-Salz',E('dead-sea-salt'),80,'A'),('Natron',E(BIC),19,'A'),('Lavendelöl',LAV,1,'A')],args=['--all'])

xlsx('third: codes','t_rm_codes.xlsx',[['#','RM code','Description','Theo. qty (kg)','% w/w'],[1,'RM0007','Water, demineralised',42,84],[2,'RM0113','Glycerin 99.5 %',2.5,5],[3,'RM0209','Carbomer',.2,.4],[4,'RM0311','Sodium hydroxide 10 %',.8,1.6],[5,'RM0077','Ethanol 96 %',4.5,9]],
 [('Water, demineralised',W,84,'A'),('Glycerin 99.5 %',G,5,'A'),('Carbomer','carbomer-powder',.4,'A'),('Sodium hydroxide 10 %',E('sodium-hydroxide-solution-10'),1.6,'A'),('Ethanol 96 %',E('ethanol-96-denatured'),9,'A')],batch=50000)

text('third: aligned','t_aligned.txt','''BATH MELT                          batch 400 g
Ingredient              %        g
----------------------------------
Cocoa butter          45.00   180.0
Shea butter           20.00    80.0
Sodium bicarbonate    20.00    80.0
Citric acid           10.00    40.0
Sweet almond oil       4.00    16.0
Rose geranium EO       1.00     4.0
----------------------------------
                     100.00   400.0
''',[('Cocoa butter',CB,45,'A'),('Shea butter',SH,20,'A'),('Sodium bicarbonate',BIC,20,'A'),('Citric acid',CIT2,10,'A'),('Sweet almond oil',AL,4,'A'),('Rose geranium EO',E('geranium-essential-oil'),1,'A')],batch=400)

text('third: thousands','t_grosse_charge.csv','Rohstoff;Menge (g)\nWasser;35.000,0\nGlycerin;2.500,0\nSonnenblumenöl;10.000,0\nCetylalkohol;1.500,0\nGlycerinstearatcitrat;1.000,0\n',[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Sonnenblumenöl',SU,20,'A'),('Cetylalkohol',CEA,3,'A'),('Glycerinstearatcitrat',GSC,2,'A')],batch=50000)

lo('third: libreoffice','t_lo_balsamo.ods','t_balsamo.xlsx','ods',[('Cera de candelilla',CAND,9,'A'),('Cera de abejas',BW,12,'A'),('Manteca de cacao',CB,20,'A'),('Manteca de karité',SH,14,'A'),('Aceite de ricino',CA,25,'B'),('Aceite de coco',CO,19.2,'B'),('Aceite esencial de naranja dulce',ORA,.8,'C')])
lo('third: libreoffice','t_lo_percent.csv','t_percent_cells.xlsx','csv:Text - txt - csv (StarCalc):59,34,76,1,,1031,false,true',[('Deionised water',W,61.2,'A'),('Sodium coco sulfate',E(SCS),12,'A'),('Coco betaine 30%','?coco-betaine-solution-31|cocamidopropyl-betaine-solution-30|coco-betaine-solution-31',18,'A'),('Vegetable glycerin',G,3,'A'),('Guar hydroxypropyltrimonium chloride',GEL,.3,'A'),('Salt',E(NACL),2,'A'),('D-panthenol 75%',PAN,1.5,'A'),('Preservative blend (phenoxyethanol, ethylhexylglycerin)',E(PHE),1,'A'),('Essential oil of rosemary',E(ROS),1,'A')],batch=750)
lo('third: libreoffice','t_lo_master.html','t_master_sheet.xlsx','html',[('Purified water',W,64.25,'A'),('Propanediol',PRO,4,'A'),('Allantoin',ALL,.25,'A'),('Xanthan',E(XG),.3,'A'),('Olive emulsifying wax',OWX,5,'B'),('Cetyl alcohol',CEA,2,'B'),('Apricot kernel oil',APR,12,'B'),('Squalane',SQU,6,'B'),('Shea butter, refined',SH,4,'B'),('Panthenol 75 %',PAN,1,'C'),('Benzyl alcohol (and) dehydroacetic acid',E(BZD),.9,'C'),('Sweet orange EO',ORA,.3,'C')])

# ---- prices ----------------------------------------------------------------------------
pl('third: prices','tp_de.csv','''Torf & Tau Rohstoffe;;;;
Preisliste gültig ab 01.03.2026, alle Preise netto zzgl. MwSt.;;;;
;;;;
Art.-Nr.;Bezeichnung;VPE;Preis/VPE;Lieferzeit
10-001;Sheabutter raffiniert;1 kg;11,90;2 Tage
10-014;Mandelöl süß;1 l;14,50;2 Tage
10-020;Bienenwachs weiß, Pastillen;500 g;9,80;1 Woche
20-003;Glycerin 99,5 %;5 kg;23,75;2 Tage
20-011;Xanthan;100 g;4,60;2 Tage
''',[('Sheabutter raffiniert',E(SH),['11.90 EUR for 1000 g']),('Mandelöl süß',E(AL),['14.50 EUR for 1000 ml']),('Bienenwachs weiß, Pastillen',E(BW),['9.80 EUR for 500 g']),('Glycerin 99,5 %',E(G),['23.75 EUR for 5000 g']),('Xanthan',E(XG),['4.60 EUR for 100 g'])],enc='cp1252')
px('third: prices','tp_tiers.xlsx',[['Tarn & Co trade prices, GBP ex VAT'],[],['Code','Product','1 kg','5 kg','25 kg'],['T1','Olive oil',8.9,39.5,175],['T2','Coconut oil',7.2,33,150],['T3','Cocoa butter',16.4,76,'POA']],
 [('Olive oil',OL,['8.90 GBP for 1000 g','39.50 GBP for 5000 g','175.00 GBP for 25000 g']),('Coconut oil',CO,['7.20 GBP for 1000 g','33.00 GBP for 5000 g','150.00 GBP for 25000 g']),('Cocoa butter',E(CB),['16.40 GBP for 1000 g','76.00 GBP for 5000 g','no price for 25000 g'])])
pl('third: prices','tp_fr_ttc.csv','Désignation;Contenance;Prix TTC (TVA 20 %)\nHuile de jojoba;250 ml;9,60 €\nBeurre de cacao;1 kg;21,60 €\nCire d\'abeille;200 g;6,00 €\n',[('Huile de jojoba',JO,['8.00 EUR for 250 ml']),('Beurre de cacao',CB,['18.00 EUR for 1000 g']),("Cire d'abeille",BW,['5.00 EUR for 200 g'])],assumed=True)
px('third: invoice','tp_factura.xlsx',[['FACTURA 2026/0231'],['Proveedor:','Aceites del Páramo'],['Fecha:',datetime.date(2026,2,3)],[],['Ref.','Descripción','Cant.','Precio unit. (€)','Importe (€)'],['AP-1','Aceite de oliva 5 l',2,32.5,65],['AP-7','Manteca de karité 1 kg',4,12.9,51.6],['AP-9','Cera de abejas 500 g',1,8.4,8.4],['','Portes',1,6.5,6.5],['','','','Base imponible',131.5],['','','','IVA 21 %',27.62],['','','','TOTAL',159.12]],
 [('Aceite de oliva',OL,['32.50 EUR for 5000 ml']),('Manteca de karité',SH,['12.90 EUR for 1000 g']),('Cera de abejas',BW,['8.40 EUR for 500 g'])])
pl('third: prices','tp_nl_100g.csv','Grondstof;Prijs per 100 gram;Leverancier\nKokosolie;€ 0,95;De Veenhoeve\nSheaboter;€ 1,60;De Veenhoeve\nLavendelolie;€ 14,50;De Veenhoeve\n',[('Kokosolie',CO,['0.95 EUR for 100 g']),('Sheaboter',SH,['1.60 EUR for 100 g']),('Lavendelolie',LAV,['14.50 EUR for 100 g'])])
pl('third: prices','tp_pl.csv','Surowiec;Cena za kg;Opakowanie;Dostawca\nMasło shea;58,00 zł;5 kg;Torfowisko\nOlej kokosowy;39,90 zł;20 kg;Torfowisko\nWosk pszczeli;72,50 zł;1 kg;Torfowisko\n',[('Masło shea',SH,['290.00 PLN for 5000 g']),('Olej kokosowy',CO,['798.00 PLN for 20000 g']),('Wosk pszczeli',BW,['72.50 PLN for 1000 g'])])
px('third: lots','tp_lotti.xlsx',[['Magazzino al 1 marzo 2026'],['Materia prima','Lotto','Quantità','Scadenza'],['Glicerina','GL-2207','3,2 kg',datetime.date(2027,9,30)],['Burro di karité','BK-118','850 g',datetime.date(2026,12,31)],['Olio di mandorle dolci','OM-54','1,5 l','31/10/2026']],
 [('Glicerina',G,[],'GL-2207'),('Burro di karité',SH,[],'BK-118'),('Olio di mandorle dolci',AL,[],'OM-54')])
pl('third: lots','tp_us.csv','Item,Qty on hand,Lot #,Best by,Cost\nShea Butter,2.5 lb,SB-77,04/05/2027,$24.00\nJojoba Oil,32 fl oz,JO-3,11/12/2026,$38.50\nBeeswax,1 lb,BX-9,01/02/2028,$13.00\n',[('Shea Butter','?'+SH,[],'SB-77'),('Jojoba Oil','?'+JO,[],'JO-3'),('Beeswax','?'+BW,[],'BX-9')],dates=True,assumed=True)
pl('third: prices','tp_shop.html','<html><body><h2>Butters &amp; waxes</h2><table><tr><th>Name</th><th>Weight</th><th>Our price</th><th></th></tr><tr><td>Mango Butter</td><td>250g</td><td>£6.95</td><td>Add to basket</td></tr><tr><td>Mango Butter</td><td>1kg</td><td>£21.50</td><td>Add to basket</td></tr><tr><td>Candelilla Wax</td><td>100g</td><td>£3.20</td><td>Sold out</td></tr></table></body></html>',[('Mango Butter','mango-butter',['6.95 GBP for 250 g']),('Mango Butter','mango-butter',['21.50 GBP for 1000 g']),('Candelilla Wax',CAND,['3.20 GBP for 100 g'])])
px('third: prices','tp_sections.xlsx',[['Fell Supplies','','',''],['SKU','Trade name / INCI','Unit','Net €'],['OILS','','',''],['F-11','Avocado oil (Persea Gratissima Oil)','kg',13.4],['F-12','Castor oil (Ricinus Communis Seed Oil)','kg',6.9],['SURFACTANTS','','',''],['F-40','Decyl glucoside 51 % (Decyl Glucoside, Aqua)','kg',5.2],['F-41','Sodium coco sulfate','kg',7.75]],
 [('Avocado oil (Persea Gratissima Oil)',E(AVO),['13.40 EUR for 1000 g']),('Castor oil (Ricinus Communis Seed Oil)',E(CA),['6.90 EUR for 1000 g']),('Decyl glucoside 51 % (Decyl Glucoside, Aqua)',E(DG),['5.20 EUR for 1000 g']),('Sodium coco sulfate',E(SCS),['7.75 EUR for 1000 g'])])

# ---- materials -------------------------------------------------------------------------
ml('third: materials','tm_mine.xlsx',[['My raw materials, February 2026 (all names invented)'],[],['No.','Trade name','INCI name','CAS no.','Supplier','What for','Use rate'],[1,'Tarnsoft G','Coco-Glucoside, Aqua','110615-47-9','Tarn & Co','surfactant','5–30 %'],[2,'Olimulse','Cetearyl Olivate, Sorbitan Olivate','','Tarn & Co','emulsifier','2–8 %'],[3,'Fellglyc','Glycerin','56-81-5','Fell Supplies','humectant','2–10 %'],[4,'Moor peat extract','Glycerin, Aqua, Peat Extract','','Moor Oils','extract','1–5 %']],
 [('Tarnsoft G',E(CG)+'|?|new',[]),('Olimulse',E(OWX)+'|new',[]),('Fellglyc',E(G)+'|new',[]),('Moor peat extract','new|?new|?',[])])
mt('third: materials','tm_de.csv','Handelsname;INCI;CAS-Nr.;Lieferant;Funktion\nMoorglanz;Glycol Distearate;627-83-8;Torf & Tau;Perlglanz\nTauseide;Hydrolyzed Silk, Aqua;96690-41-4;Torf & Tau;Pflege\nNatriumlactat 60 %;Sodium Lactate, Aqua;72-17-3;Torf & Tau;Feuchthaltemittel\n',[('Moorglanz',E('glycol-distearate-flakes')+'|new',[]),('Tauseide',E('hydrolyzed-silk-10')+'|new|?',[]),('Natriumlactat 60 %',E('sodium-lactate-solution-60'),[])],enc='cp1252')
mt('third: materials','tm_comp.csv','Nom commercial;Composition;Fournisseur\nBase lavante Lande;Aqua 62 %, Cocamidopropyl Betaine 30 %, Sodium Chloride 6 %, Sodium Benzoate 0.5 %;Lande & Fils\nExtrait de bruyère;Glycerin 70 %, Aqua 25 %, Calluna Vulgaris Flower Extract 5 %;Lande & Fils\n',[('Base lavante Lande','new|?new|?',[]),('Extrait de bruyère','new|?new|?',[])])
mt('third: materials','tm_list.md','| Material | INCI | CAS | Notes |\n|---|---|---|---|\n| Niacinamide | Niacinamide | 98-92-0 | vitamin B3 |\n| Allantoin | Allantoin | 97-59-6 | |\n| Zinc oxide | Zinc Oxide | 1314-13-2 | pigment grade |\n| Lactic acid 80 % | Lactic Acid, Aqua | 50-21-5 | |\n',[('Niacinamide',E(NIA),[]),('Allantoin',E(ALL),[]),('Zinc oxide',E(ZNO)+'|zinc-oxide-non-nano-uv-filter|?',[]),('Lactic acid 80 %',LA80,[])])
ml('third: materials','tm_es.xlsx',[['Nombre','Nombre INCI','Nº CAS','Proveedor','Origen'],['Aceite de argán','Argania Spinosa Kernel Oil','223747-87-3','Aceites del Páramo','Marruecos'],['Manteca de mango','Mangifera Indica Seed Butter','90063-86-8','Aceites del Páramo','India'],['Cera carnaúba','Copernicia Cerifera Cera','8015-86-9','Aceites del Páramo','Brasil']],[('Aceite de argán',ARG,[]),('Manteca de mango',E('mango-butter'),[]),('Cera carnaúba',E(CARN),[])])
