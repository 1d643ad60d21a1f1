"""A fourth round, again written down before the program had read any of it."""
from kit import *
E=lambda x: x+'|?'+x
def pl(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='price',**m)
def px(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='price',**m)
def ml(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='materials',**m)
def mt(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='materials',**m)
PHX='phenoxyethanol'; SQ='squalane-from-olive-or-sugar-cane'; AVO='avocado-oil'; CAB='cocoa-butter'; PEP='peppermint-essential-oil'
ROS='rosemary-essential-oil-cineole-type'; LAC='lactic-acid-80'; PAN='d-panthenol-75'; ALO='aloe-vera-juice'; UREA='urea'; ARG='argan-oil'
HEM='hemp-seed-oil'; MAC='macadamia-oil'; TEA='tea-tree-essential-oil'; ORA='sweet-orange-essential-oil'; EUC='eucalyptus-globulus-essential-oil'
VITE='?'
# 1 XLSX: German, headings two rows deep, totals with words, percent as text with comma
xlsx('fourth: sheets','u_haarkur.xlsx',[['Haarkur „Moosgrün“'],[],['Nr.','Phase','Rohstoff','','Menge',''],['','','Handelsname','INCI','%','g'],
 [1,'A','Wasser','Aqua','78,5','157'],[2,'A','Glycerin','Glycerin','3','6'],[3,'A','Hydroxyethylcellulose','Hydroxyethylcellulose','0,8','1,6'],
 [4,'B','BTMS 25','Behentrimonium Methosulfate, Cetearyl Alcohol','6','12'],[5,'B','Cetylalkohol','Cetyl Alcohol','3,2','6,4'],[6,'B','Brokkolisamenöl','Brassica Oleracea Italica Seed Oil','4','8'],
 [7,'C','Panthenol 75 %','Panthenol','2','4'],[8,'C','Milchsäure 80 %','Lactic Acid','0,5','1'],[9,'C','Natriumbenzoat','Sodium Benzoate','0,5','1'],[10,'C','Parfum','Parfum','1,5','3'],['','','','Summe','100','200']],
 [('Wasser',W,78.5,'A'),('Glycerin',G,3,'A'),('Hydroxyethylcellulose','hydroxyethylcellulose',.8,'A'),('BTMS 25',E('behentrimonium-methosulfate-25-in-cetearyl-alcohol'),6,'B'),('Cetylalkohol',CEA,3.2,'B'),('Brokkolisamenöl',E('broccoli-seed-oil'),4,'B'),('Panthenol 75 %',E(PAN),2,'C'),('Milchsäure 80 %',E(LAC),.5,'C'),('Natriumbenzoat',SB,.5,'C'),('Parfum','?|new',1.5,'C')],batch=200)
# 2 CSV French, amounts with g inside, comma decimals, quoted
text('fourth: csv','u_savon.csv','"Phase";"Matière";"Dose"\n"1";"Huile d\'olive";"350 g"\n"1";"Huile de coco";"150,5 g"\n"1";"Beurre de karité";"49,5 g"\n"2";"Eau";"180 g"\n"2";"Soude caustique";"74 g"\n"3";"Huile essentielle de pamplemousse";"10 g"\n',
 [("Huile d'olive",E(OL),42.9975,'1'),('Huile de coco',E(CO),18.4889,'1'),('Beurre de karité',E(SH),6.0811,'1'),('Eau',E(W),22.113,'2'),('Soude caustique',E('sodium-hydroxide-pellets'),9.0909,'2'),('Huile essentielle de pamplemousse',E('grapefruit-essential-oil'),1.2285,'3')],tol=.01)
# 3 text: Italian recipe in grams, "q.b." and notes after the amount
text('fourth: text','u_latte_it.txt','''Latte detergente
(ricetta di prova n. 4)

Fase A:
- acqua: 140 g
- glicerina: 8 g
- gomma xantana: 0,6 g (prima nella glicerina)

Fase B:
- olio di girasole: 30 g
- gliceril stearato: 8 g
- alcol cetilico: 4 g

Fase C:
- conservante (sodio benzoato): 1 g
- acido lattico all'80%: q.b. a pH 5
- olio essenziale di mandarino: 10 gocce
''',[('acqua',W,None,'A'),('glicerina',G,None,'A'),('gomma xantana',XG,None,'A'),('olio di girasole',SU,None,'B'),('gliceril stearato',E(GS),None,'B'),('alcol cetilico',CEA,None,'B'),('conservante (sodio benzoato)',E(SB)+'|?|new',None,'C'),("acido lattico all'80%",'?',0,'C'),('olio essenziale di mandarino','?mandarin-essential-oil',None,'C')])
# 4 Markdown Spanish with bold totals, percent signs
text('fourth: markdown','u_champu.md','''## Champú sólido

| **Fase** | **Ingrediente** | **Cantidad** |
| --- | --- | ---: |
| A | SCI en polvo | 55 % |
| A | Coco betaína 30 % | 15 % |
| B | Manteca de cacao | 8 % |
| B | Alcohol cetílico | 10 % |
| B | Aceite de argán | 5 % |
| C | Proteína de trigo hidrolizada | 2 % |
| C | Arcilla verde | 4 % |
| C | Aceite esencial de romero | 1 % |
| | **Total** | **100 %** |
''',[('SCI en polvo',E(SCI),55,'A'),('Coco betaína 30 %','?',15,'A'),('Manteca de cacao',CAB,8,'B'),('Alcohol cetílico',CEA,10,'B'),('Aceite de argán',ARG,5,'B'),('Proteína de trigo hidrolizada',E('hydrolyzed-wheat-protein-20'),2,'C'),('Arcilla verde',E('french-green-clay'),4,'C'),('Aceite esencial de romero',E(ROS),1,'C')])
# 5 Dutch TSV pasted, grams only, heading "Hoeveel"
text('fourth: pasted','u_scrub_nl.tsv','Wat\tHoeveel (g)\tWaarom\nZeezout\t300\tscrub\nAmandelolie\t120\tverzorgend\nKokosolie\t60\t\nSinaasappelolie\t5\tgeur\nVitamine E\t3\thoudbaarheid\nTotaal\t488\t\n',
 [('Zeezout',E('sea-salt'),61.4754,'A'),('Amandelolie',AL,24.5902,'A'),('Kokosolie',CO,12.2951,'A'),('Sinaasappelolie',E(ORA),1.0246,'A'),('Vitamine E',VITE,.6148,'A')],tol=.01)
# 6 Polish HTML page
text('fourth: html','u_balsam_pl.html','<html><body><h3>Balsam do ust</h3><table><tr><td><b>Składniki</b></td><td><b>Gramy</b></td></tr><tr><td>Wosk pszczeli</td><td>10</td></tr><tr><td>Masło kakaowe</td><td>12</td></tr><tr><td>Olej rycynowy</td><td>15</td></tr><tr><td>Olej kokosowy</td><td>12,5</td></tr><tr><td>Olejek miętowy</td><td>0,5</td></tr></table><p>Wykonanie: stopić, wlać do foremek.</p></body></html>',
 [('Wosk pszczeli',BW,20,'A'),('Masło kakaowe',CB,24,'A'),('Olej rycynowy',CA,30,'A'),('Olej kokosowy',CO,25,'A'),('Olejek miętowy',E(PEP),1,'A')])
# 7 XLSX: three blocks below each other with a title each, total each (variants)
xlsx('fourth: several on a sheet','u_three.xlsx',[['Lip balm, plain'],['Ingredient','%'],['Beeswax',25],['Castor oil',45],['Cocoa butter',30],[],['Lip balm, mint'],['Ingredient','%'],['Beeswax',25],['Castor oil',44],['Cocoa butter',30],['Peppermint oil',1],[],['Lip balm, vegan'],['Ingredient','%'],['Candelilla wax',18],['Castor oil',50],['Cocoa butter',32]],
 [('Beeswax',BW,25,'A'),('Castor oil',CA,45,'A'),('Cocoa butter',CB,30,'A'),('Beeswax',BW,25,'A'),('Castor oil',CA,44,'A'),('Cocoa butter',CB,30,'A'),('Peppermint oil',E(PEP),1,'A'),('Candelilla wax','candelilla-wax',18,'A'),('Castor oil',CA,50,'A'),('Cocoa butter',CB,32,'A')],args=['--all'])
# 8 ODS: grams and percent, q.s. marked in words, hidden second sheet irrelevant
ods('fourth: ods','u_aftersun.ods',[('After sun',[['After-sun lotion',None,None],['for 500 g',None,None],[],['Phase','What','g','Remarks'],['A','Aloe vera juice',200.0,''],['A','Water','up to 500 g','add last'],['A','Glycerine',15.0,''],['A','Xanthan gum',1.5,''],['B','Grape seed oil',60.0,''],['B','Cetearyl alcohol',10.0,''],['B','Glyceryl stearate citrate',20.0,''],['C','Panthenol (75 %)',10.0,''],['C','Phenoxyethanol + ethylhexylglycerin',5.0,'']])],
 [('Aloe vera juice',E(ALO),40,'A'),('Water',W,35.7,'A'),('Glycerine',G,3,'A'),('Xanthan gum',XG,.3,'A'),('Grape seed oil','grape-seed-oil',12,'B'),('Cetearyl alcohol',CAL,2,'B'),('Glyceryl stearate citrate',GSC,4,'B'),('Panthenol (75 %)',E(PAN),2,'C'),('Phenoxyethanol + ethylhexylglycerin',E(PHE),1,'C')],batch=500)
# 9 xlsxwriter: phases as merged cells on the left with a colour, comment column, subtotal per phase in a side column
def ph(b):
    s=b.add_worksheet('Deo'); m=b.add_format({'valign':'vcenter','border':1}); n=b.add_format({'num_format':'0.0'})
    s.write_row(0,0,['Phase','Material','% (m/m)','Phase total'])
    rows=[('A',[('Coconut oil',30.0),('Shea butter',20.0),('Candelilla wax',6.0)]),('B',[('Arrowroot powder',18.0),('Zinc ricinoleate',3.0),('Sodium bicarbonate',15.0),('Kaolin',7.0)]),('C',[('Tea tree EO',1.0)])]
    r=1
    for l,ls in rows:
        if len(ls)>1: s.merge_range(r,0,r+len(ls)-1,0,l,m); s.merge_range(r,3,r+len(ls)-1,3,sum(x for _,x in ls),n)
        else: s.write(r,0,l,m); s.write(r,3,ls[0][1],n)
        for a,p in ls: s.write(r,1,a); s.write(r,2,p,n); r+=1
xw('fourth: merged','u_deo.xlsx',ph,[('Coconut oil',CO,30,'A'),('Shea butter',SH,20,'A'),('Candelilla wax','candelilla-wax',6,'A'),('Arrowroot powder','arrowroot-powder',18,'B'),('Zinc ricinoleate','zinc-ricinoleate',3,'B'),('Sodium bicarbonate','sodium-bicarbonate',15,'B'),('Kaolin',E('kaolin-white-clay'),7,'B'),('Tea tree EO',TEA,1,'C')])
# 10 weights in ounces as text and a pound
text('fourth: ounces','u_oz.txt','Body butter bar\n\nBeeswax ........ 6 oz\nShea butter .... 1/2 lb\nCoconut oil .... 4 oz\nJojoba oil ..... 2 oz\n',[('Beeswax',E(BW),30,'A'),('Shea butter',E(SH),40,'A'),('Coconut oil',E(CO),20,'A'),('Jojoba oil',E(JO),10,'A')],tol=.01)
# 11 semicolon text in one line per phase, German
text('fourth: text','u_inline.txt','Wasserphase: Wasser 70 %; Glycerin 4 %; Xanthan 0,3 %\nFettphase: Rapsöl 15 %; Sheabutter 5 %; Glycerinstearatcitrat 4,5 %\nWirkstoffphase: Kaliumsorbat 0,2 %; Natriumbenzoat 0,3 %; Grapefruitöl 0,7 %\n',[('Wasser',W,70,'A'),('Glycerin',G,4,'A'),('Xanthan',E(XG),.3,'A'),('Rapsöl',E('rapeseed-oil'),15,'B'),('Sheabutter',SH,5,'B'),('Glycerinstearatcitrat',GSC,4.5,'B'),('Kaliumsorbat',PS,.2,'C'),('Natriumbenzoat',SB,.3,'C'),('Grapefruitöl',E('grapefruit-essential-oil'),.7,'C')])
# 12 INCI only list with percents and CAS, misspelt INCI
text('fourth: inci','u_inci.csv','INCI;CAS;% w/w\nAqua;7732-18-5;72,3\nGlycerin;56-81-5;5\nCetearyl Alcohol;67762-27-0;3\nGlyceryl Stearat Citrate;;4\nPrunus Amygdalus Dulcis Oil;8007-69-0;14\nPhenoxyethanol;122-99-6;0,9\nEthylhexylglycerin;70445-33-9;0,1\nLactic Acid;50-21-5;0,7\n',[('Aqua',W,72.3,'A'),('Glycerin',E(G),5,'A'),('Cetearyl Alcohol',CAL,3,'A'),('Glyceryl Stearat Citrate',E(GSC),4,'A'),('Prunus Amygdalus Dulcis Oil',AL,14,'A'),('Phenoxyethanol',PHX,.9,'A'),('Ethylhexylglycerin','ethylhexylglycerin',.1,'A'),('Lactic Acid','?',.7,'A')])
# 13 prices: US, per lb and per oz
pl('fourth: prices','up_us.csv','Ingredient,Price per lb,Supplier\nShea Butter,$9.80,Fell Supplies\nBeeswax,$12.40,Fell Supplies\n',[('Shea Butter',SH,['9.80 USD for 453.59237 g']),('Beeswax',BW,['12.40 USD for 453.59237 g'])])
# 14 prices: German shop export with Grundpreis, EAN
pl('fourth: prices','up_de.csv','EAN;Produkt;Inhalt;Preis inkl. 19 % MwSt.;Grundpreis\n4000000000017;Sheabutter;200 g;5,95 €;29,75 €/kg\n4000000000024;Jojobaöl;100 ml;8,33 €;83,30 €/l\n4000000000031;Bienenwachs;250 g;7,14 €;28,56 €/kg\n',[('Sheabutter',E(SH),['5.00 EUR for 200 g']),('Jojobaöl',E(JO),['7.00 EUR for 100 ml']),('Bienenwachs',E(BW),['6.00 EUR for 250 g'])],assumed=True)
# 15 invoice in French
px('fourth: invoice','up_facture.xlsx',[['Facture n° 2026-044'],['Fournisseur : Lande & Fils'],[],['Réf','Désignation','Qté','Unité','PU HT','Montant HT'],['L1','Huile de tournesol',10,'kg',3.9,39],['L2','Beurre de cacao',2,'kg',14.5,29],['L3','Frais de port',1,'',8,8],['','','','','Total HT',76],['','','','','TVA 20 %',15.2]],[('Huile de tournesol',SU,['3.90 EUR for 1000 g']),('Beurre de cacao',CB,['14.50 EUR for 1000 g'])])
# 16 stock list with min. stock and place
px('fourth: lots','up_voorraad.xlsx',[['Grondstof','Batch','Voorraad (g)','THT','Locatie'],['Glycerine','G-12',1250,datetime.date(2027,3,1),'kast 1'],['Sheaboter','S-7',640,datetime.date(2026,12,15),'koelkast']],[('Glycerine',G,[],'G-12'),('Sheaboter',SH,[],'S-7')])
# 17 materials: German with Zusammensetzung in rows
ml('fourth: materials','um_liste.xlsx',[['Rohstoff','INCI','CAS','Lieferant','Haltbar bis'],['Sheabutter bio','Butyrospermum Parkii Butter','91080-23-8','Torf & Tau',''],['Arganöl','Argania Spinosa Kernel Oil','223747-87-3','Torf & Tau',''],['Tauglanz','Glycol Distearate','627-83-8','Torf & Tau','']],[('Sheabutter bio','?',[]),('Arganöl',E(ARG),[]),('Tauglanz',E('glycol-distearate-flakes')+'|new|?',[])])
# 18 contradiction: same name, INCI of another
xlsx('fourth: contradiction','u_contra.xlsx',[['Name','INCI','%'],['Water','Aqua',90],['Shea butter','Theobroma Cacao Seed Butter',5],['Lavender oil','Lavandula Hybrida Oil',1],['Betaine','Cocamidopropyl Betaine',4]],[('Water',W,90,'A'),('Shea butter','?',5,'A'),('Lavender oil','?',1,'A'),('Betaine','cocamidopropyl-betaine-solution-30|?',4,'A')])
# 19 grams with an odd total, spec below
xlsx('fourth: sheets','u_gel.xlsx',[['Hair gel','','batch 1 kg'],['Raw material','grams','supplier'],['Water, distilled',912,''],['Carbomer',6,'Fell'],['Triethanolamine',6,'Fell'],['PVP',20,'Fell'],['Glycerine',40,'Fell'],['Perfume',4,'Moor'],['Preservative (phenoxyethanol)',12,''],[],['pH',6.8],['Viscosity','18000 mPas'],['Appearance','clear gel']],[('Water, distilled',W,91.2,'A'),('Carbomer','carbomer-powder',.6,'A'),('Triethanolamine',E('triethanolamine-99'),.6,'A'),('PVP',E('pvp-powder-k30'),2,'A'),('Glycerine',G,4,'A'),('Perfume','?|new',.4,'A'),('Preservative (phenoxyethanol)',E(PHX),1.2,'A')],batch=1000)
# 20 versions with a blank between and a chosen one marked
xlsx('fourth: versions','u_versions.xlsx',[['Ingredient','V1','V2','V3'],['Water',70,68,'66'],['Glycerin',5,7,9],['Olive oil',25,25,25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A'),('Water',W,68,'A'),('Glycerin',G,7,'A'),('Olive oil',OL,25,'A'),('Water',W,66,'A'),('Glycerin',G,9,'A'),('Olive oil',OL,25,'A')],args=['--all'])
