#!/usr/bin/env python3
"""A nineteenth round, written down without sight of the program (class "nineteenth" in expected.json): 24 recipes, 9 price
lists or lists of stock, 7 lists of materials of invented makers and suppliers, in en, de, fr, es, it, nl, pl only.
Run with a Python that has openpyxl, xlsxwriter and odfpy; writes its files beside itself. The notation is told in by_hand.py."""
import csv, datetime, html, io, json, os, re
from by_hand import *
R, P, M = round_of('nineteenth')
S.update({'NIA': 'niacinamide', 'PD': 'propanediol', 'STA': 'corn-starch', 'KAO': 'kaolin-white-clay', 'TTO': 'tea-tree-essential-oil', 'CAN': 'candelilla-wax', 'ARG': 'argan-oil',
          'LG': 'lauryl-glucoside-paste-51', 'CG': 'coco-glucoside-solution-52', 'DG': 'decyl-glucoside-solution-51', 'SCI': 'sodium-cocoyl-isethionate-powder-85', 'SCS': 'sodium-coco-sulfate-granules',
          'ROW': 'rose-water', 'CAA': 'citric-acid-anhydrous', 'EPS': 'magnesium-sulfate-heptahydrate', 'P20': 'polysorbate-20', 'RAP': 'rapeseed-oil', 'ALO': 'aloe-vera-juice', 'NAOH': 'sodium-hydroxide-pellets', 'TOC': 'tocopherol-mixed-70-in-sunflower-oil'})
# ====================================================================== plain: recipes
# 1 solid conditioner, the grams before the names, the phase after
xl('conditioner_bar_Tansy_Row.xlsx', """Solid conditioner bar 'Tansy Row', one tray = 6 bars||||
Grams|Share|Ingredient|Phase|Why it is there
216|60|BTMS-25|A|slip
54|15|Cetyl alcohol|A|hardness
36|10|Cocoa butter|A|
18|5|Cetearyl alcohol|A|
14.4|4|Babassu oil|A|light oil
10.8|3|Hydrolysed rice protein 20%|B|add under 50 C
5.4|1.5|D-Panthenol 75%|B|
3.6|1|Phenoxyethanol & ethylhexylglycerin 90:10|B|
1.8|0.5|Peppermint essential oil|B|
360|100|TOTAL||""", bold=[1, 2, 12])
R('plain: solid conditioner, the grams first', 'conditioner_bar_Tansy_Row.xlsx', '''BTMS-25 ¦ /B25 ¦ 60
Cetyl alcohol ¦ CEA ¦ 15
Cocoa butter ¦ CB ¦ 10
Cetearyl alcohol ¦ CAL ¦ 5
Babassu oil ¦ babassu-oil ¦ 4
Hydrolysed rice protein 20% ~ Hydrolysed rice protein ¦ /hydrolyzed-rice-protein-20 ¦ 3 ¦ B
D-Panthenol 75% ~ D-Panthenol ¦ /PAN ¦ 1.5 ¦ B
Phenoxyethanol & ethylhexylglycerin 90:10 ¦ /PEG ¦ 1 ¦ B
Peppermint essential oil ¦ peppermint-essential-oil ¦ 0.5 ¦ B''', recipes=1, batch=360, note='"under 50 C" is no amount; 6 bars are no amount')
# 2 German after-sun gel
cs('Apres_Gel_Seeufer.csv', """Phase¦Wirkung¦Rohstoff¦Einsatz in %¦Einwaage (g) auf 150 g
A¦Basis¦Aloe-vera-Saft¦60,0¦90,0
A¦Basis¦Hamameliswasser¦27,3¦40,95
A¦Feuchte¦Glycerin¦5,0¦7,5
A¦Verdicker¦Hydroxyethylcellulose¦1,2¦1,8
B¦Feuchte¦Pentylenglykol¦4,0¦6,0
B¦beruhigt¦Panthenol 75 %¦1,3¦1,95
B¦beruhigt¦Allantoin¦0,2¦0,3
B¦kühlt¦Menthyllactat¦0,3¦0,45
C¦konserviert¦Natriumbenzoat¦0,4¦0,6
C¦pH¦Milchsäure 80 %¦0,3¦0,45
¦¦Summe¦100,0¦150,0""", sep=';', enc='utf-8-sig')
R('plain: German after-sun gel, what it does before the name', 'Apres_Gel_Seeufer.csv', '''Aloe-vera-Saft ¦ /ALO ¦ 60
Hamameliswasser ¦ /witch-hazel-water ¦ 27.3
Glycerin ¦ G ¦ 5
Hydroxyethylcellulose ¦ hydroxyethylcellulose ¦ 1.2
Pentylenglykol ¦ /pentylene-glycol ¦ 4 ¦ B
Panthenol 75 % ~ Panthenol ¦ /PAN ¦ 1.3 ¦ B
Allantoin ¦ /ALL ¦ 0.2 ¦ B
Menthyllactat ¦ /menthyl-lactate ¦ 0.3 ¦ B
Natriumbenzoat ¦ SB ¦ 0.4 ¦ C
Milchsäure 80 % ~ Milchsäure ¦ /LA80 ¦ 0.3 ¦ C''', recipes=1, batch=150)
# 3 Spanish cold process soap, grams only
cs('jabon_lavadero.csv', """Jabón en frío «Lavadero»¦
Ingrediente¦Peso (g)
Aceite de oliva¦750
Aceite de coco¦225
Aceite de ricino¦75
Agua destilada¦300
Hidróxido sódico¦142
Aceite esencial de lavanda¦8
Total¦1500""", sep=';')
R('plain: Spanish cold process soap, grams only', 'jabon_lavadero.csv', '''Aceite de oliva ¦ OL ¦ 50
Aceite de coco ¦ CO ¦ 15
Aceite de ricino ¦ CA ¦ 5
Agua destilada ¦ W ¦ 20
Hidróxido sódico ¦ /NAOH ¦ 142/15
Aceite esencial de lavanda ¦ /LAV ¦ 8/15''', recipes=1, batch=1500)
# 4 French lip tint
xl('teinte_levres_Groseille.xlsx', """N°|INCI|Nom courant|g (12 tubes)|%
1|Ricinus Communis Seed Oil|Huile de ricin|24|40
2|Simmondsia Chinensis Seed Oil|Huile de jojoba|12|20
3|Butyrospermum Parkii Butter|Beurre de karité|9|15
4|Cera Alba|Cire d'abeille blanche|7.2|12
5|Euphorbia Cerifera Cera|Cire de candelilla|3|5
6|CI 77491|Oxyde de fer rouge|3|5
7|Mica|Mica|1.2|2
8|Tocopherol|Vitamine E|0.6|1
||Total|60|100""", bold=[1])
R('plain: French lip tint, numbered, INCI before the name', 'teinte_levres_Groseille.xlsx', '''Huile de ricin ~ Ricinus Communis Seed Oil ¦ CA ¦ 40
Huile de jojoba ~ Simmondsia Chinensis Seed Oil ¦ JO ¦ 20
Beurre de karité ~ Butyrospermum Parkii Butter ¦ SH ¦ 15
Cire d'abeille blanche ~ Cera Alba ¦ /BW ¦ 12
Cire de candelilla ~ Euphorbia Cerifera Cera ¦ CAN ¦ 5
Oxyde de fer rouge ~ CI 77491 ¦ /iron-oxide-red ¦ 5
Mica ¦ mica ¦ 2
Vitamine E ~ Tocopherol ¦ VE ¦ 1''', recipes=1, note='12 tubes are no amount; the numbers of rows are none')
# 5 Dutch dry shampoo
od('droogshampoo_Klaproos.ods', """Droogshampoo Klaproos (donker haar)||
Bestanddeel|gram|procent
Arrowrootpoeder|60|50
Rijstzetmeel|30|25
Cacaopoeder|18|15
Witte klei|9.6|8
Magnesiumstearaat|1.8|1.5
Etherische cederolie (Atlas)|0.6|0.5
Samen|120|100""")
R('plain: Dutch dry shampoo', 'droogshampoo_Klaproos.ods', '''Arrowrootpoeder ¦ /arrowroot-powder ¦ 50
Rijstzetmeel ¦ /rice-starch ¦ 25
Cacaopoeder ¦ /cocoa-powder ¦ 15
Witte klei ¦ /KAO ¦ 8
Magnesiumstearaat ¦ /magnesium-stearate ¦ 1.5
Etherische cederolie (Atlas) ~ Etherische cederolie ¦ /cedarwood-atlas-essential-oil ¦ 0.5''', recipes=1, batch=120, note='"Samen" is the total')
# 6 Italian hand cream, phases as headings
xl('crema_mani_Bucaneve.xlsx', """Crema mani Bucaneve|
Ingrediente|%
FASE A|
Acqua demineralizzata|71
Glicerina|4
Gomma xantana|0.4
FASE B|
Olio di mandorle dolci|9
Cetearil olivato e sorbitan olivato|5
Burro di karité|4
Alcol cetilico|2
FASE C|
Glicerina|2
Fenossietanolo|0.9
Bisabololo|0.5
Tocoferolo|0.5
Allantoina|0.3
Olio essenziale di lavanda|0.4
TOTALE|100""", bold=[1, 2, 3, 7, 12])
R('plain: Italian hand cream, phases as headings', 'crema_mani_Bucaneve.xlsx', '''Acqua demineralizzata ¦ W ¦ 71
Glicerina ¦ G ¦ 4
Gomma xantana ¦ XG ¦ 0.4
Olio di mandorle dolci ¦ AL ¦ 9 ¦ B
Cetearil olivato e sorbitan olivato ¦ /OLI ¦ 5 ¦ B
Burro di karité ¦ SH ¦ 4 ¦ B
Alcol cetilico ¦ CEA ¦ 2 ¦ B
Glicerina ¦ G ¦ 2 ¦ C
Fenossietanolo ¦ PHE ¦ 0.9 ¦ C
Bisabololo ¦ /bisabolol ¦ 0.5 ¦ C
Tocoferolo ¦ VE ¦ 0.5 ¦ C
Allantoina ¦ /ALL ¦ 0.3 ¦ C
Olio essenziale di lavanda ¦ /LAV ¦ 0.4 ¦ C''', recipes=1, note='glycerin stands in A and in C: two lines')
# 7 Polish shower gel, INCI after the share
cs('zel_pod_prysznic_Mokradlo.csv', """Lp.¦Nazwa handlowa / zwyczajowa¦Zawartość %¦INCI¦Faza
1¦Woda destylowana¦54,5¦Aqua¦A
2¦Betaina kokamidopropylowa 30 %¦22¦Cocamidopropyl Betaine¦A
3¦Glukozyd laurylowy¦14¦Lauryl Glucoside¦A
4¦Gliceryna roślinna¦4¦Glycerin¦A
5¦Guma ksantanowa¦1¦Xanthan Gum¦B
6¦Hydrolizat keratyny 20 %¦2¦Hydrolyzed Keratin¦B
7¦Ekstrakt z pokrzywy w propanodiolu¦1¦Urtica Dioica Extract¦C
8¦Kwas mlekowy 80 %¦0,5¦Lactic Acid¦C
9¦Fenoksyetanol¦0,9¦Phenoxyethanol¦C
10¦Olejek z trawy cytrynowej¦0,1¦Cymbopogon Schoenanthus Oil¦C
¦Suma¦100¦¦""", sep=';', enc='cp1250')
R('plain: Polish shower gel, Windows-1250', 'zel_pod_prysznic_Mokradlo.csv', '''Woda destylowana ¦ W ¦ 54.5
Betaina kokamidopropylowa 30 % ~ Betaina kokamidopropylowa ¦ /CAPB30 ¦ 22
Glukozyd laurylowy ¦ /LG ¦ 14
Gliceryna roślinna ¦ /G ¦ 4
Guma ksantanowa ¦ XG ¦ 1 ¦ B
Hydrolizat keratyny 20 % ~ Hydrolizat keratyny ¦ /hydrolyzed-keratin-20 ¦ 2 ¦ B
Ekstrakt z pokrzywy w propanodiolu ¦ /nettle-extract-in-propanediol ¦ 1 ¦ C
Kwas mlekowy 80 % ~ Kwas mlekowy ¦ /LA80 ¦ 0.5 ¦ C
Fenoksyetanol ¦ PHE ¦ 0.9 ¦ C
Olejek z trawy cytrynowej ¦ lemongrass-essential-oil|? ¦ 0.1 ¦ C''', recipes=1, note='the number of the row is no amount')
# 8 English body mist, water made up at the bottom
cs('body_mist_Alder_Carr.csv', """Material¦Percent¦Notes
Orange blossom water¦30¦
Witch hazel water¦15¦check it holds no alcohol
Propanediol¦3¦
PEG-40 hydrogenated castor oil¦1.5¦mix with the oil first
Sweet orange essential oil¦0.3¦
Sodium benzoate¦0.4¦
Potassium sorbate¦0.2¦
Citric acid 50% solution¦0.1¦to pH 4.8
Distilled water¦to 100¦""")
R('plain: English body mist, water up to 100 last', 'body_mist_Alder_Carr.csv', '''Orange blossom water ¦ /orange-blossom-water ¦ 30
Witch hazel water ¦ witch-hazel-water ¦ 15
Propanediol ¦ PD ¦ 3
PEG-40 hydrogenated castor oil ¦ peg-40-hydrogenated-castor-oil ¦ 1.5
Sweet orange essential oil ¦ ORA ¦ 0.3
Sodium benzoate ¦ SB ¦ 0.4
Potassium sorbate ¦ PS ¦ 0.2
Citric acid 50% solution ¦ /CIT50 ¦ 0.1
Distilled water ¦ W ¦ 49.5''', recipes=1, note='49.5 % of water make up 100; pH 4.8 is no amount')
# 9 German coffee scrub, grams only
od('Kaffeepeeling_Brachvogel.ods', """Peeling mit Kaffee, 4 Gläser zu 125 g|
Was|Gramm
Brauner Zucker|225
Kokosöl|125
Kaffeepulver|75
Rapsöl|50
Bienenwachs|15
Vitamin E|5
Zimtblätteröl|5
Zusammen|500""")
R('plain: German coffee scrub, grams only', 'Kaffeepeeling_Brachvogel.ods', '''Brauner Zucker ¦ /brown-sugar ¦ 45
Kokosöl ¦ CO ¦ 25
Kaffeepulver ¦ /coffee-powder ¦ 15
Rapsöl ¦ RAP ¦ 10
Bienenwachs ¦ BW ¦ 3
Vitamin E ¦ VE ¦ 1
Zimtblätteröl ¦ cinnamon-leaf-essential-oil|? ¦ 1''', recipes=1, batch=500)
# 10 French cleansing milk, phase last, lot in a line above
xl('lait_demaquillant_Courlis.xlsx', """Lait démaquillant Courlis|||
Fabriqué le|d:2026-09-17||
|||
Ingrédient|Dosage|Pesée|Phase
Eau de bleuet|p:40|160|1
Eau distillée|p:37.6|150.4|1
Glycérine|p:3|12|1
Huile de noyau d'abricot|p:10|40|2
Stéarate de glycéryle citrate|p:5|20|2
Alcool cétéarylique|p:2|8|2
Coco-caprylate|p:1|4|2
Alcool benzylique et acide déhydroacétique|p:0.9|3.6|3
Vitamine E|p:0.5|2|3
Total|p:100|400|""", bold=[1, 4])
R('plain: French cleansing milk, phases in numbers last', 'lait_demaquillant_Courlis.xlsx', '''Eau de bleuet ¦ /cornflower-water ¦ 40 ¦
Eau distillée ¦ W ¦ 37.6 ¦
Glycérine ¦ G ¦ 3 ¦
Huile de noyau d'abricot ¦ /apricot-kernel-oil ¦ 10 ¦
Stéarate de glycéryle citrate ¦ /GSC ¦ 5 ¦
Alcool cétéarylique ¦ CAL ¦ 2 ¦
Coco-caprylate ¦ coco-caprylate ¦ 1 ¦
Alcool benzylique et acide déhydroacétique ¦ /benzyl-alcohol-and-dehydroacetic-acid-blend ¦ 0.9 ¦
Vitamine E ¦ VE ¦ 0.5 ¦''', recipes=1, note='the day is no amount; coco-caprylate is not coco-caprylate/caprate')
# 11 Spanish shampoo, INCI only
xl('champu_Zarapito.xlsx', """Fase|INCI|% p/p
A|Aqua|58.6
A|Sodium Cocoyl Isethionate|6
A|Cocamidopropyl Betaine|20
A|Decyl Glucoside|10
A|Glycerin|2
B|Guar Hydroxypropyltrimonium Chloride|0.3
B|Sodium Chloride|1
C|Panthenol|1
C|Sodium Benzoate|0.5
C|Potassium Sorbate|0.3
C|Citric Acid|0.2–0.4
|Total|100""", bold=[1])
R('plain: Spanish shampoo, INCI only', 'champu_Zarapito.xlsx', '''Aqua ¦ W ¦ 58.6
Sodium Cocoyl Isethionate ¦ sodium-cocoyl-isethionate-powder-85|? ¦ 6
Cocamidopropyl Betaine ¦ cocamidopropyl-betaine-solution-30|? ¦ 20
Decyl Glucoside ¦ /DG ¦ 10
Glycerin ¦ /G ¦ 2
Guar Hydroxypropyltrimonium Chloride ¦ guar-hydroxypropyltrimonium-chloride ¦ 0.3 ¦ B
Sodium Chloride ¦ sodium-chloride|? ¦ 1 ¦ B
Panthenol ¦ d-panthenol-75|? ¦ 1 ¦ C
Sodium Benzoate ¦ SB ¦ 0.5 ¦ C
Potassium Sorbate ¦ PS ¦ 0.3 ¦ C
Citric Acid ¦ citric-acid-anhydrous|? ¦ 0.3 ¦ C''', tol=0.11, recipes=1, note='INCI alone leaves strength and form open; of 0.2 to 0.4 the mean makes 100')
# 12 Dutch cleansing balm as a text with tabs
tx('reinigingsbalsem_Grutto.txt', """
Reinigingsbalsem Grutto
Naam\tINCI\t%\tgram
Zonnebloemolie\tHelianthus Annuus Seed Oil\t52\t104
Caprylic/capric-triglyceride\tCaprylic/Capric Triglyceride\t20\t40
Polyglyceryl-4-oleaat\tPolyglyceryl-4 Oleate\t12\t24
Bijenwas\tCera Alba\t9\t18
Mangoboter\tMangifera Indica Seed Butter\t6\t12
Vitamine E\tTocopherol\t0,6\t1,2
Mandarijnolie\tCitrus Reticulata Peel Oil\t0,4\t0,8
Totaal\t\t100\t200
""")
R('plain: Dutch cleansing balm, a text with tabs', 'reinigingsbalsem_Grutto.txt', '''Zonnebloemolie ¦ SU ¦ 52
Caprylic/capric-triglyceride ¦ /MCT ¦ 20
Polyglyceryl-4-oleaat ¦ /polyglyceryl-4-oleate ¦ 12
Bijenwas ¦ BW ¦ 9
Mangoboter ¦ MAN ¦ 6
Vitamine E ¦ VE ¦ 0.6
Mandarijnolie ¦ mandarin-essential-oil|? ¦ 0.4''', recipes=1, batch=200)
# 13 Polish foot balm, the batch in the heading of the grams
xl('balsam_do_stop_Rzekotka.xlsx', """Składnik|%|g / 80 g|Uwagi
Lanolina|25|20|
Wazelina biała|30|24|można dać mniej
Olej rycynwoy|20|16|
Wosk pszczleli|12|9.6|
Tlenek cynku|8|6.4|przesiać 2 razy
Masło kakaowe|4|3.2|
Olejek eukaliptusowy|0.6|0.48|
Kamfora|0.4|0.32|
Razem|100|80|""", bold=[1])
R('plain: Polish foot balm', 'balsam_do_stop_Rzekotka.xlsx', '''Lanolina ¦ /lanolin-anhydrous ¦ 25
Wazelina biała ¦ /petrolatum ¦ 30
Olej rycynwoy ¦ /CA ¦ 20
Wosk pszczleli ¦ /BW ¦ 12
Tlenek cynku ¦ zinc-oxide-pigment|? ¦ 8
Masło kakaowe ¦ CB ¦ 4
Olejek eukaliptusowy ¦ eucalyptus-globulus-essential-oil|? ¦ 0.6
Kamfora ¦ camphor|?camphor ¦ 0.4''', recipes=1, note='two typing mistakes; "2 razy" is no amount')
# ---- plain: prices and stock
# 14
cs('Hobley_Wharf_trade_prices.csv', """SKU¦Item¦Pack size¦Ex VAT (GBP)¦Available
HW-11¦Cetyl alcohol¦500 g¦5.20¦yes
HW-14¦Coconut oil¦2 kg¦13.60¦yes
HW-19¦Glycerin¦1 kg¦6.75¦from January
HW-23¦Sodium bicarbonate¦5 kg¦9.90¦yes
HW-27¦Urea¦500 g¦3.85¦yes
HW-31¦Jojoba oil¦250 g¦11.40¦no""")
P('plain: English trade prices', 'Hobley_Wharf_trade_prices.csv', '''Cetyl alcohol ¦ CEA ¦ 5.20 GBP 500
Coconut oil ¦ CO ¦ 13.60 GBP 2000
Glycerin ¦ G ¦ 6.75 GBP 1000
Sodium bicarbonate ¦ BIC ¦ 9.90 GBP 5000
Urea ¦ urea ¦ 3.85 GBP 500
Jojoba oil ¦ JO ¦ 11.40 GBP 250''', note='the number of the article is no price')
# 15
xl('Lagerbuch_Dachkammer.xlsx', """Fach|Stoff|Chargennr.|Vorhanden|haltbar bis
1a|Olivenöl|OL2604|2,75 kg|d:2027-10-31
1b|Stearinsäure|ST2511|480 g|d:2029-05-31
2a|Cetylalkohol|CE2603|1 kg|d:2028-12-31
2b|Kaolin|KA2509|3,2 kg|d:2031-01-31
3c|Kaliumsorbat|KS2602|95 g|d:2028-02-29""", bold=[1])
P('plain: German stock by shelf', 'Lagerbuch_Dachkammer.xlsx', '''Olivenöl ¦ OL ¦ ¦ OL2604
Stearinsäure ¦ SA ¦ ¦ ST2511
Cetylalkohol ¦ CEA ¦ ¦ CE2603
Kaolin ¦ KAO ¦ ¦ KA2509
Kaliumsorbat ¦ PS ¦ ¦ KS2602''', note='2750, 480, 1000, 3200, 95 g')
# 16
cs('tarif_Moulin_des_Joncs.csv', """Réf.¦Désignation¦Contenance¦Prix HT
MJ010¦Huile d'olive¦5 L¦34,50 €
MJ022¦Beurre de cacao¦1 kg¦16,80 €
MJ025¦Cire d'abeille¦500 g¦9,40 €
MJ031¦Acide citrique anhydre¦2 kg¦8,10 €
MJ044¦Bicarbonate de sodium¦10 kg¦19,00 €
MJ052¦Huile de ricin¦1 L¦7,20 €""", sep=';', enc='cp1252')
P('plain: French prices, Windows-1252', 'tarif_Moulin_des_Joncs.csv', '''Huile d'olive ¦ OL ¦ 34.50 EUR 5000 ml
Beurre de cacao ¦ CB ¦ 16.80 EUR 1000
Cire d'abeille ¦ BW ¦ 9.40 EUR 500
Acide citrique anhydre ¦ /CAA ¦ 8.10 EUR 2000
Bicarbonate de sodium ¦ BIC ¦ 19 EUR 10000
Huile de ricin ¦ CA ¦ 7.20 EUR 1000 ml''')
# 17
cs('stan_szafy.csv', """Surowiec¦Ilość (g)¦Nr partii¦Ważne do¦Data zakupu
Masło shea¦1800¦MS/41¦2028-03-31¦2026-06-02
Olej kokosowy¦2600¦OK/17¦2028-08-31¦2026-07-15
Gliceryna¦750¦GL/08¦2029-01-31¦2026-02-20
Mocznik¦420¦MO/05¦2030-06-30¦2026-02-20
Benzoesan sodu¦160¦BS/12¦2029-09-30¦2026-09-01""", sep=';')
P('plain: Polish stock', 'stan_szafy.csv', '''Masło shea ¦ SH ¦ ¦ MS/41
Olej kokosowy ¦ CO ¦ ¦ OK/17
Gliceryna ¦ G ¦ ¦ GL/08
Mocznik ¦ urea ¦ ¦ MO/05
Benzoesan sodu ¦ SB ¦ ¦ BS/12''', note='the second day is when it was bought')
# 18
od('prijzen_De_Wilgentak.ods', """Product|Inhoud|Prijs incl. btw
Sheaboter|1 kg|e:13.25
Rijstzetmeel|500 g|e:4.6
Zeezout|5 kg|e:8.75
Ricinusolie|500 ml|e:5.9
Cetylalcohol|250 g|e:3.45
Candelillawas|100 g|e:4.8""")
P('plain: Dutch prices', 'prijzen_De_Wilgentak.ods', '''Sheaboter ¦ SH ¦ 13.25 EUR 1000
Rijstzetmeel ¦ /rice-starch ¦ 4.60 EUR 500
Zeezout ¦ /sea-salt ¦ 8.75 EUR 5000
Ricinusolie ¦ CA ¦ 5.90 EUR 500 ml
Cetylalcohol ¦ CEA ¦ 3.45 EUR 250
Candelillawas ¦ CAN ¦ 4.80 EUR 100''')
# ---- plain: materials
# 19
xl('elenco_materie_scaffale.xlsx', """Nome italiano|Nome INCI|N. CAS|Ripiano
Olio di semi di zucca|Cucurbita Pepo Seed Oil|8016-49-7|1
Acido stearico|Stearic Acid|57-11-4|2
Trietil citrato|Triethyl Citrate|77-93-0|2
Niacinamide|Niacinamide|98-92-0|3
Gomma di guar|Cyamopsis Tetragonoloba Gum|9000-30-0|3
Estratto di ortensia|Hydrangea Macrophylla Leaf Extract||4""", bold=[1])
M('plain: Italian list with INCI and CAS', 'elenco_materie_scaffale.xlsx', '''Olio di semi di zucca ¦ /pumpkin-seed-oil
Acido stearico ¦ SA
Trietil citrato ¦ /triethyl-citrate
Niacinamide ¦ NIA
Gomma di guar ¦ /guar-gum
Estratto di ortensia ¦ NEW''', note='guar gum is not its quat')
# 20
cs('materias_primas_INCI.csv', """INCI¦Nombre¦Origen
Persea Gratissima Oil¦Aceite de aguacate¦vegetal
Behenyl Alcohol¦Alcohol behenílico¦vegetal
Zinc Ricinoleate¦Ricinoleato de zinc¦vegetal
Sorbitan Oleate¦Oleato de sorbitán¦vegetal
Inulin¦Inulina de achicoria¦vegetal
Calcium Carbonate¦Carbonato cálcico¦mineral""", sep=';')
M('plain: Spanish list, INCI first', 'materias_primas_INCI.csv', '''Aceite de aguacate ~ Persea Gratissima Oil ¦ AVO
Alcohol behenílico ~ Behenyl Alcohol ¦ /behenyl-alcohol
Ricinoleato de zinc ~ Zinc Ricinoleate ¦ /zinc-ricinoleate
Oleato de sorbitán ~ Sorbitan Oleate ¦ /sorbitan-oleate
Inulina de achicoria ~ Inulin ¦ new|?|inulina-de-achicoria|inulin
Carbonato cálcico ~ Calcium Carbonate ¦ /calcium-carbonate''', note='plain inulin is neither its quat nor its carbamate')
# 21
xl('class_cupboard_strengths.xlsx', """Material|INCI name|Active matter|Hazard
Lauryl betaine|Lauryl Betaine|30%|eyes
Glycolic acid|Glycolic Acid|70%|burns
Sodium lauroyl sarcosinate|Sodium Lauroyl Sarcosinate|30%|eyes
Potassium hydroxide solution|Potassium Hydroxide|20%|burns
Sodium lactate|Sodium Lactate|60%|
Hydrolysed silk|Hydrolyzed Silk|10%|
Meadowsweet extract|Spiraea Ulmaria Extract||""", bold=[1])
M("plain: a teacher's cupboard with strengths", 'class_cupboard_strengths.xlsx', '''Lauryl betaine ¦ /lauryl-betaine-solution-30
Glycolic acid ¦ /glycolic-acid-70
Sodium lauroyl sarcosinate ¦ /sodium-lauroyl-sarcosinate-solution-30
Potassium hydroxide solution ¦ /potassium-hydroxide-solution-20
Sodium lactate ¦ /sodium-lactate-solution-60
Hydrolysed silk ¦ /hydrolyzed-silk-10
Meadowsweet extract ¦ NEW''', note='the sarcosinate at 30 % is the solution, not the powder')
# 22
od('Rohstoffe_Werkbank.ods', """Rohstoff|INCI|Funktion
Pfirsichkernöl|Prunus Persica Kernel Oil|Öl
Cetylpalmitat|Cetyl Palmitate|Konsistenz
Zinkoxid|Zinc Oxide|Pulver
Weinsäure|Tartaric Acid|Säure
Magnesiumstearat|Magnesium Stearate|Pulver
Quittenkernschleim|Pyrus Cydonia Seed Extract|Gelbildner""")
M('plain: German list with what it is for', 'Rohstoffe_Werkbank.ods', '''Pfirsichkernöl ¦ /peach-kernel-oil
Cetylpalmitat ¦ /cetyl-palmitate
Zinkoxid ¦ zinc-oxide-pigment|?
Weinsäure ¦ /tartaric-acid
Magnesiumstearat ¦ /magnesium-stearate
Quittenkernschleim ¦ NEW''', note='zinc oxide stands on the shelf as pigment and as filters')
# ====================================================================== usual: recipes
# 23 a German workbook with a list of contents
xl('Rezeptordner_Student.xlsx', {'Inhalt': """Nr.|Rezept|Stand
1|Duschgel Weißdorn|März 2026
2|Haarspülung Eberesche|Oktober 2026""", 'Duschgel': """Duschgel Weißdorn||
Phase|Zutat|%
A|Wasser, destilliert|56.2
A|Natriumlaurethsulfat 28 %|25
A|Cocamidopropylbetain 30 %|12
A|Glycerin|3
B|Kochsalz|2
B|Natriumbenzoat|0.5
B|Zitronensäure, Lösung 50 %|0.8
B|Grapefruitöl|0.5
|Summe|100""", 'Haarspülung': """Haarspülung Eberesche||
Phase|Zutat|%
A|Wasser, destilliert|86
A|Glycerin|3
B|Cetearylalkohol|4
B|BTMS-50|3
B|Brokkolisamenöl|2
C|Phenoxyethanol|0.9
C|Panthenol 75 %|1
C|Milchsäure 80 %|0.1
|Summe|100"""}, active=1)
R('usual: a German workbook with a list of contents', 'Rezeptordner_Student.xlsx', '''Wasser, destilliert ¦ W ¦ 56.2
Natriumlaurethsulfat 28 % ~ Natriumlaurethsulfat ¦ /SLES28 ¦ 25
Cocamidopropylbetain 30 % ~ Cocamidopropylbetain ¦ /CAPB30 ¦ 12
Glycerin ¦ G ¦ 3
Kochsalz ¦ /SAL ¦ 2 ¦ B
Natriumbenzoat ¦ SB ¦ 0.5 ¦ B
Zitronensäure, Lösung 50 % ~ Zitronensäure, Lösung ~ Zitronensäure ¦ /CIT50 ¦ 0.8 ¦ B
Grapefruitöl ¦ grapefruit-essential-oil|? ¦ 0.5 ¦ B
Wasser, destilliert ¦ W ¦ 86
Glycerin ¦ G ¦ 3
Cetearylalkohol ¦ CAL ¦ 4 ¦ B
BTMS-50 ¦ /B50 ¦ 3 ¦ B
Brokkolisamenöl ¦ /broccoli-seed-oil ¦ 2 ¦ B
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Panthenol 75 % ~ Panthenol ¦ /PAN ¦ 1 ¦ C
Milchsäure 80 % ~ Milchsäure ¦ /LA80 ¦ 0.1 ¦ C''', all=True, recipes=2, note='the list of contents is no recipe')
# 24 three versions side by side, remarks between
xl('face_oil_versions.xlsx', """Night face oil, Skein Lane||||
Ingredient|v1 (March)|v2 (June)|v3 (final)|What we thought
Grape seed oil|50|40|35|v1 too thin
Rosehip seed oil|20|20|25|
Jojoba oil|29|28|28.5|
Squalane||10|10|nicer slip
Vitamin E|0.5|1|1|
Geranium essential oil|0.5|1|0.5|v2 too strong
Total|100|100|100|""", bold=[1, 2])
R('usual: three versions side by side', 'face_oil_versions.xlsx', '''Grape seed oil ¦ GRA ¦ 50
Rosehip seed oil ¦ rosehip-seed-oil ¦ 20
Jojoba oil ¦ JO ¦ 29
Vitamin E ¦ VE ¦ 0.5
Geranium essential oil ¦ geranium-essential-oil ¦ 0.5
Grape seed oil ¦ GRA ¦ 40
Rosehip seed oil ¦ rosehip-seed-oil ¦ 20
Jojoba oil ¦ JO ¦ 28
Squalane ¦ /SQ ¦ 10
Vitamin E ¦ VE ¦ 1
Geranium essential oil ¦ geranium-essential-oil ¦ 1
Grape seed oil ¦ GRA ¦ 35
Rosehip seed oil ¦ rosehip-seed-oil ¦ 25
Jojoba oil ¦ JO ¦ 28.5
Squalane ¦ /SQ ¦ 10
Vitamin E ¦ VE ¦ 1
Geranium essential oil ¦ geranium-essential-oil ¦ 0.5''', all=True, recipes=3, note='v1 has no squalane')
# 25 Spanish, two sizes of batch beside the share, decimal commas as words, merged title
xl('crema_corporal_Alcaudon.xlsx', """Crema corporal Alcaudón||||
Fase|Materia prima|%|Lote 250 g|Lote 2 kg
A|Agua desmineralizada|'68,6|'171,5|1372
A|Glicerina|5|'12,5|100
A|Goma xantana|'0,4|1|8
B|Aceite de almendras dulces|12|30|240
B|Manteca de karité|5|'12,5|100
B|Estearato de glicerilo SE|5|'12,5|100
B|Alcohol cetílico|2|5|40
C|Fenoxietanol|'0,9|'2,25|18
C|Vitamina E|'0,6|'1,5|12
C|Aceite esencial de naranja dulce|'0,5|'1,25|10
|Total|100|250|2000""", merge=['A1:E1'], bold=[1, 2])
R('usual: Spanish, two sizes of batch, decimal commas as words', 'crema_corporal_Alcaudon.xlsx', '''Agua desmineralizada ¦ W ¦ 68.6
Glicerina ¦ G ¦ 5
Goma xantana ¦ XG ¦ 0.4
Aceite de almendras dulces ¦ AL ¦ 12 ¦ B
Manteca de karité ¦ SH ¦ 5 ¦ B
Estearato de glicerilo SE ¦ /GSE ¦ 5 ¦ B
Alcohol cetílico ¦ CEA ¦ 2 ¦ B
Fenoxietanol ¦ PHE ¦ 0.9 ¦ C
Vitamina E ¦ VE ¦ 0.6 ¦ C
Aceite esencial de naranja dulce ¦ /ORA ¦ 0.5 ¦ C''', recipes=1, note='either batch gives the same shares')
# 26 Italian, costs to the right by formula
xw('deo_crema_costi.xlsx', """Deodorante in crema – calcolo costi|||||
Ingrediente|Fornitore|g|%|€/kg|Costo €
Burro di karité|Bottega Tiglio|90|f:=C3/C$11*100;30|e:12|f:=C3*E3/1000;1.08
Olio di cocco|Bottega Tiglio|75|f:=C4/C$11*100;25|e:8|f:=C4*E4/1000;0.6
Amido di mais|Mercato|60|f:=C5/C$11*100;20|e:3|f:=C5*E5/1000;0.18
Bicarbonato di sodio|Mercato|36|f:=C6/C$11*100;12|e:2.5|f:=C6*E6/1000;0.09
Cera d'api|Apiario Salice|24|f:=C7/C$11*100;8|e:20|f:=C7*E7/1000;0.48
Ossido di zinco|Bottega Tiglio|9|f:=C8/C$11*100;3|e:15|f:=C8*E8/1000;0.135
Vitamina E|Bottega Tiglio|3|f:=C9/C$11*100;1|e:45|f:=C9*E9/1000;0.135
Olio essenziale di salvia sclarea|Bottega Tiglio|3|f:=C10/C$11*100;1|e:180|f:=C10*E10/1000;0.54
Totale||f:=SUM(C3:C10);300|f:=SUM(D3:D10);100||f:=SUM(F3:F10);3.24""")
R('usual: Italian, supplier, price of a kilogram and costs beside', 'deo_crema_costi.xlsx', '''Burro di karité ¦ SH ¦ 30
Olio di cocco ¦ CO ¦ 25
Amido di mais ¦ STA ¦ 20
Bicarbonato di sodio ¦ BIC ¦ 12
Cera d'api ¦ BW ¦ 8
Ossido di zinco ¦ zinc-oxide-pigment|? ¦ 3
Vitamina E ¦ VE ¦ 1
Olio essenziale di salvia sclarea ¦ /clary-sage-essential-oil ¦ 1''', recipes=1, batch=300, note='a recipe with its costs; clary sage is not sage')
# 27 Polish mail
tx('Re_maska_do_wlosow.eml', """
From: Bogna <bogna@pracownia-lubczyk.example>
To: Jagoda <jagoda@pracownia-lubczyk.example>
Subject: Re: maska do włosów
Date: Wed, 14 Oct 2026 20:05:00 +0200
MIME-Version: 1.0
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: 8bit

Cześć Jagoda,

przepis w procentach, wszystko razem 100:

- woda destylowana 80,5%
- gliceryna 4%
- alkohol cetearylowy 5%
- BTMS-50 4%
- masło mango 3%
- olej lniany 2%
- fenoksyetanol 0,9%
- pantenol 75% 0,5%
- kwas mlekowy 80% 0,1%

Mieszaj 3 minuty, w 70 stopniach. Zrobiłam na 250 g i starczyło na 5 słoiczków.

Bogna
""", crlf=True)
R('usual: a Polish mail', 'Re_maska_do_wlosow.eml', '''woda destylowana ¦ W ¦ 80.5 ¦
gliceryna ¦ G ¦ 4 ¦
alkohol cetearylowy ¦ CAL ¦ 5 ¦
BTMS-50 ¦ /B50 ¦ 4 ¦
masło mango ¦ MAN ¦ 3 ¦
olej lniany ¦ /linseed-oil ¦ 2 ¦
fenoksyetanol ¦ PHE ¦ 0.9 ¦
pantenol 75% ~ pantenol ~ pantenol 75 % ¦ /PAN ¦ 0.5 ¦
kwas mlekowy 80% ~ kwas mlekowy ~ kwas mlekowy 80 % ¦ /LA80 ¦ 0.1 ¦''', note='75% and 80% are the strength: the share stands behind')
# 28 English markdown with phases as headings
tx('baby_lotion_notes.md', """
# Baby lotion, Quillmere

Batch 200 g, made 8 Nov 2026. I know it only adds up to 99.7, it came out fine.

## Phase A
- Distilled water: 74.3 %
- Glycerine: 4 %
- Xanthan gum: 0.3 %

## Phase B
- Sweet almond oil: 12 %
- Glyceryl stearate citrate: 4 %
- Cetyl alcohol: 2 %
- Mango butter: 1.5 %

## Phase C
- Sodium benzoate: 0.5 %
- Potassium sorbate: 0.3 %
- Vitamin E: 0.5 %
- Lactic acid 80%: 0.3 %

## Method
1. Heat A and B to 72 °C.
2. Blend 4 min, cool to 38 °C, add C.
""")
R('usual: English markdown, phases as headings', 'baby_lotion_notes.md', '''Distilled water ¦ W ¦ 74.3
Glycerine ¦ G ¦ 4
Xanthan gum ¦ XG ¦ 0.3
Sweet almond oil ¦ AL ¦ 12 ¦ B
Glyceryl stearate citrate ¦ GSC ¦ 4 ¦ B
Cetyl alcohol ¦ CEA ¦ 2 ¦ B
Mango butter ¦ MAN ¦ 1.5 ¦ B
Sodium benzoate ¦ SB ¦ 0.5 ¦ C
Potassium sorbate ¦ PS ¦ 0.3 ¦ C
Vitamin E ¦ VE ¦ 0.5 ¦ C
Lactic acid 80% ~ Lactic acid ~ Lactic acid 80 % ¦ /LA80 ¦ 0.3 ¦ C''', tol=0.26, recipes=1, note='as they stand or scaled to 100; 99.7, the heat and the minutes are no lines')
# 29 Dutch page, cells of phase over several rows
ht('baardbalsem_pagina.html', """
<h1>Baardbalsem Veenmol</h1>
<p>Geplaatst op 2 november 2026 door Teun. Voor 4 blikjes van 30 g.</p>
<table>
<tr><th>Fase</th><th>Ingrediënt</th><th>%</th><th>gram</th></tr>
<tr><td rowspan="5">A</td><td>Jojobaolie</td><td>35</td><td>42</td></tr>
<tr><td>Sheaboter</td><td>25</td><td>30</td></tr>
<tr><td>Bijenwas</td><td>18</td><td>21,6</td></tr>
<tr><td>Hennepzaadolie</td><td>12</td><td>14,4</td></tr>
<tr><td>Lanoline</td><td>8,5</td><td>10,2</td></tr>
<tr><td rowspan="3">B</td><td>Vitamine E</td><td>0,5</td><td>0,6</td></tr>
<tr><td>Etherische cederolie (Virginia)</td><td>0,6</td><td>0,72</td></tr>
<tr><td>Etherische vetiverolie</td><td>0,4</td><td>0,48</td></tr>
<tr><td></td><td>Totaal</td><td>100</td><td>120</td></tr>
</table>
<p>Reacties: Joris vraagt of 10 g bijenwas minder ook kan. Ja.</p>""", 'Baardbalsem')
R('usual: a Dutch page, the phase over several rows', 'baardbalsem_pagina.html', '''Jojobaolie ¦ JO ¦ 35
Sheaboter ¦ SH ¦ 25
Bijenwas ¦ BW ¦ 18
Hennepzaadolie ¦ /hemp-seed-oil ¦ 12
Lanoline ¦ /lanolin-anhydrous ¦ 8.5
Vitamine E ¦ VE ¦ 0.5 ¦ B
Etherische cederolie (Virginia) ~ Etherische cederolie ¦ /cedarwood-virginia-essential-oil ¦ 0.6 ¦ B
Etherische vetiverolie ¦ /vetiver-essential-oil ¦ 0.4 ¦ B''', recipes=1, note="Joris's 10 g are no line")
# ---- usual: prices and stock
# 30 Spanish, packs in columns
xl('lista_precios_escalones.xlsx', """Herboristería La Jarilla. Precios con IVA incluido|||
Producto|100 g|500 g|1 kg
Manteca de cacao|e:3.2|e:12.9|e:23.5
Cera de candelilla|e:4.1|e:17.6|e:32
Ácido esteárico|e:1.6|e:4.9|e:8.2
Almidón de maíz||e:2.8|e:4.4
Niacinamida|e:5.5|e:22|""", merge=['A1:D1'], bold=[1, 2])
P('usual: Spanish prices, packs in columns', 'lista_precios_escalones.xlsx', '''Manteca de cacao ¦ CB ¦ 3.20 EUR 100;12.90 EUR 500;23.50 EUR 1000
Cera de candelilla ¦ CAN ¦ 4.10 EUR 100;17.60 EUR 500;32 EUR 1000
Ácido esteárico ¦ SA ¦ 1.60 EUR 100;4.90 EUR 500;8.20 EUR 1000
Almidón de maíz ¦ STA ¦ 2.80 EUR 500;4.40 EUR 1000
Niacinamida ¦ NIA ¦ 5.50 EUR 100;22 EUR 500''', note='an empty cell is a pack that is not sold')
# 31 German confirmation of an order as a page
ht('Auftragsbestaetigung_2291.html', """
<p>Guten Tag, vielen Dank für Ihre Bestellung Nr. 2291 vom 19.11.2026.</p>
<table>
<tr><th>Pos.</th><th>Artikel</th><th>Menge</th><th>Gebinde</th><th>Einzelpreis</th><th>Gesamt</th></tr>
<tr><td>1</td><td>Sheabutter</td><td>2</td><td>1 kg</td><td>12,90 €</td><td>25,80 €</td></tr>
<tr><td>2</td><td>Rizinusöl</td><td>3</td><td>500 ml</td><td>5,40 €</td><td>16,20 €</td></tr>
<tr><td>3</td><td>Zitronensäure, wasserfrei</td><td>1</td><td>2,5 kg</td><td>9,75 €</td><td>9,75 €</td></tr>
<tr><td>4</td><td>Bienenwachs</td><td>4</td><td>250 g</td><td>6,10 €</td><td>24,40 €</td></tr>
<tr><td></td><td>Versand</td><td></td><td></td><td></td><td>5,90 €</td></tr>
<tr><td></td><td>Gesamtbetrag inkl. 19 % MwSt.</td><td></td><td></td><td></td><td>82,05 €</td></tr>
</table>""", 'Auftragsbestätigung')
P('usual: a German confirmation of an order', 'Auftragsbestaetigung_2291.html', '''Sheabutter ¦ SH ¦ 12.90 EUR 1000
Rizinusöl ¦ CA ¦ 5.40 EUR 500 ml
Zitronensäure, wasserfrei ¦ /CAA ¦ 9.75 EUR 2500
Bienenwachs ¦ BW ¦ 6.10 EUR 250''', spare=['Versand', 'Gesamtbetrag inkl. 19 % MwSt.', 'Gesamtbetrag'], note='the price of one, not of all; carriage and total are no materials')
# 32 French stock, two lots of one oil, what was taken beside
xl('inventaire_cave.xlsx', """Inventaire du 15/11/2026||||||
Matière première|N° de lot|Entré (g)|Sorti (g)|Reste (g)|DLUO|Remarque
Huile de coco|HC-77|5000|3800|1200|d:2027-06-30|à finir
Huile de coco|HC-91|5000|0|5000|d:2028-06-30|
Beurre de karité|BK-64|2000|650|1350|d:2028-01-31|
Gomme xanthane|GX-20|500|90|410|d:2029-04-30|
Glycérine|GL-55|3000|1700|1300|d:2029-09-30|bidon 2""", bold=[1, 2])
P('usual: French stock, what came, went and is left', 'inventaire_cave.xlsx', '''Huile de coco ¦ CO ¦ ¦ HC-77
Huile de coco ¦ CO ¦ ¦ HC-91
Beurre de karité ¦ SH ¦ ¦ BK-64
Gomme xanthane ¦ XG ¦ ¦ GX-20
Glycérine ¦ G ¦ ¦ GL-55''', note='1200, 5000, 1350, 410, 1300 g are left')
# ---- usual: materials
# 33 Dutch, strength in the name
xl('grondstoffen_sterkte.xlsx', """Grondstof|INCI|CAS|Opmerking
Melkzuur 90 %|Lactic Acid|79-33-4|
Cocamidopropylbetaïne 38 %|Cocamidopropyl Betaine|61789-40-0|
Natronloog 30 %|Sodium Hydroxide|1310-73-2|achter slot
Sorbitol 70 %|Sorbitol|50-70-4|stroop
Glycerine 86 %|Glycerin|56-81-5|
Gistextract|Saccharomyces Ferment Lysate Filtrate||van Els gekregen""", bold=[1])
def st(n, s, i): return f'{n} {s} % ~ {n} ¦ {i}'
M('usual: Dutch list, the strength in the name', 'grondstoffen_sterkte.xlsx', '\n'.join((st('Melkzuur', 90, '/lactic-acid-90'), st('Cocamidopropylbetaïne', 38, '/cocamidopropyl-betaine-solution-38'),
  st('Natronloog', 30, '/sodium-hydroxide-solution-30'), st('Sorbitol', 70, '/sorbitol-solution-70'), st('Glycerine', 86, '/glycerin-86'), 'Gistextract ¦ NEW')), note='another strength in silence is wrong')
# 34 French markdown
tx('reserve_atelier.md', """
## Réserve de l'atelier

| Matière | INCI | Usage |
|---|---|---|
| Huile de nigelle | Nigella Sativa Seed Oil | soin |
| Cire de carnauba | Copernicia Cerifera Cera | dureté |
| Argile jaune | Yellow Clay | couleur |
| Urée | Urea | humectant |
| Stéarate de sorbitane | Sorbitan Stearate | émulsifiant |
| Vinaigre de framboise | Rubus Idaeus Vinegar | rinçage |
""")
M('usual: French markdown', 'reserve_atelier.md', '''Huile de nigelle ¦ /black-cumin-seed-oil
Cire de carnauba ¦ /carnauba-wax
Argile jaune ¦ /yellow-clay
Urée ¦ urea
Stéarate de sorbitane ¦ /sorbitan-stearate
Vinaigre de framboise ¦ NEW''', note='a vinegar of raspberries is neither their oil nor their extract')
# ====================================================================== odd: recipes
# 35 parts
tx('salve_in_parts.txt', """
Gardener's salve, by parts (weigh them!)

5 parts olive oil
2 parts shea butter
2 parts beeswax
1 part castor oil

One part was 15 g last time, enough for 5 tins.
""")
R('odd: parts by weight', 'salve_in_parts.txt', '''olive oil ¦ OL ¦ 50 ¦
shea butter ¦ SH ¦ 20 ¦
beeswax ¦ BW ¦ 20 ¦
castor oil ¦ CA ¦ 10 ¦''', note='ten parts; 15 g and 5 tins are no lines')
# 36 transposed
xl('olio_capelli_orizzontale.xlsx', """Olio capelli Rondine||||||
Ingrediente|Olio di argan|Olio di jojoba|Olio di ricino|Squalano|Vitamina E|Olio essenziale di rosmarino
%|40|30|20|8|1|1
g|20|15|10|4|0.5|0.5""", bold=[1])
R('odd: Italian, names across', 'olio_capelli_orizzontale.xlsx', '''Olio di argan ¦ ARG ¦ 40
Olio di jojoba ¦ JO ¦ 30
Olio di ricino ¦ CA ¦ 20
Squalano ¦ /SQ ¦ 8
Vitamina E ¦ VE ¦ 1
Olio essenziale di rosmarino ¦ ROS ¦ 1''', recipes=1)
# 37 two tongues
xl('bombe_zweisprachig.xlsx', """Français|Deutsch|g|%
Bicarbonate de sodium|Natron|400|50
Acide citrique anhydre|Zitronensäure, wasserfrei|200|25
Fécule de maïs|Maisstärke|120|15
Beurre de cacao|Kakaobutter|40|5
Huile d'amande douce|Süßes Mandelöl|24|3
Polysorbate 80|Polysorbat 80|8|1
Essence d'orange douce|Süßorangenöl|8|1
Total|Summe|800|100""", bold=[1])
R('odd: two tongues in two columns', 'bombe_zweisprachig.xlsx', '''Bicarbonate de sodium ~ Natron ¦ BIC ¦ 50
Acide citrique anhydre ~ Zitronensäure, wasserfrei ¦ /CAA ¦ 25
Fécule de maïs ~ Maisstärke ¦ /STA ¦ 15
Beurre de cacao ~ Kakaobutter ¦ CB ¦ 5
Huile d'amande douce ~ Süßes Mandelöl ¦ /AL ¦ 3
Polysorbate 80 ~ Polysorbat 80 ¦ /P80 ¦ 1
Essence d'orange douce ~ Süßorangenöl ¦ /ORA ¦ 1''', recipes=1, batch=800, note='one material in each row, never two')
# 38 corrected values struck in markdown
tx('body_milk_corrected.md', """
# Body milk, Lantern Yard (corrected after batch 3)

| Phase | Ingredient | % |
|---|---|---|
| A | Distilled water | ~~72.2~~ 75.2 |
| A | Glycerin | 5 |
| A | Xanthan gum | 0.3 |
| B | Rapeseed oil | ~~12~~ 10 |
| B | Glyceryl stearate SE | 5 |
| B | Cetearyl alcohol | ~~4~~ 3 |
| C | Phenoxyethanol | 0.9 |
| C | Vitamin E | 0.4 |
| C | Lavender essential oil | 0.2 |
| | Total | 100 |
""")
R('odd: struck shares with the new ones behind', 'body_milk_corrected.md', '''Distilled water ¦ W ¦ 75.2
Glycerin ¦ G ¦ 5
Xanthan gum ¦ XG ¦ 0.3
Rapeseed oil ¦ RAP ¦ 10 ¦ B
Glyceryl stearate SE ¦ GSE ¦ 5 ¦ B
Cetearyl alcohol ¦ CAL ¦ 3 ¦ B
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Vitamin E ¦ VE ¦ 0.4 ¦ C
Lavender essential oil ¦ LAV ¦ 0.2 ¦ C''', recipes=1, note='what is struck does not count: the new shares make 100')
# ---- odd: prices
# 39 typed on a telephone
tx('phone_prices.txt', """
prices from the market 7 Nov

Shea butter 500g £5.50
Beeswax 250 g - £4.20
Coconut oil 1kg £6.80
Kaolin 1 kg: £3.10
Castor oil 1 litre £8.40

ask about jars next time!
""")
P('odd: prices typed on a telephone', 'phone_prices.txt', '''Shea butter ~ Shea butter 500g ¦ SH ¦ 5.50 GBP 500
Beeswax ~ Beeswax 250 g ¦ BW ¦ 4.20 GBP 250
Coconut oil ~ Coconut oil 1kg ¦ CO ¦ 6.80 GBP 1000
Kaolin ~ Kaolin 1 kg ¦ KAO ¦ 3.10 GBP 1000
Castor oil ~ Castor oil 1 litre ¦ CA ¦ 8.40 GBP 1000 ml''', note='the day is no price')
# ---- odd: materials
# 40 own codes before the names, retired ones marked
cs('kody_surowcow.csv', """Kod¦Surowiec¦INCI¦Uwagi
T-03¦Olej konopny¦Cannabis Sativa Seed Oil¦
T-07¦Alkohol stearylowy¦Stearyl Alcohol¦
E-12¦Oleinian glicerolu¦Glyceryl Oleate¦
P-01¦Węgiel aktywny¦Charcoal Powder¦brudzi!
K-05¦Kwas winowy¦Tartaric Acid¦zamiast K-02
H-09¦Hydrolat z bzu czarnego¦Sambucus Nigra Flower Water¦własny, 2026""", sep=';')
M('odd: Polish list with codes of its own', 'kody_surowcow.csv', '''Olej konopny ¦ /hemp-seed-oil
Alkohol stearylowy ¦ /stearyl-alcohol
Oleinian glicerolu ¦ /glyceryl-oleate
Węgiel aktywny ¦ /activated-charcoal
Kwas winowy ¦ /tartaric-acid
Hydrolat z bzu czarnego ¦ NEW''', note='a code is no name')
# ======================================================================
# Each share stands in the file as it is told, or follows from an amount there and the sum of all.
def text_of(f):
    src = open(os.path.abspath(__file__), encoding='utf-8').read(); a = src.index(f"('{f}'"); b = src.index(f"'{f}'", a + 3 + len(f)); return src[a:b]
WHOLE = {'salve_in_parts.txt': 10}
for c in CASES:
    if c['kind'] != 'recipe' or c['file'] == 'olio_capelli_orizzontale.xlsx': continue
    t = text_of(c['file']).replace('\\t', '\t')
    for n, i, p, *r in c['lines']:
        names = r[1] if len(r) > 1 and r[1] else [n]
        rows = [l for l in t.split('\n') if any(x in l for x in names)]
        assert rows, (c['file'], n)
        if (c['file'], n) in (('body_mist_Alder_Carr.csv', 'Distilled water'), ('champu_Zarapito.xlsx', 'Citric Acid')): continue
        nums = [float(x.replace(',', '.')) for l in rows for x in re.findall(r'(?<![\w.,-])\d+(?:[.,]\d+)?', re.sub(r"p:|'|</?\w+[^>]*>", ' ', l))]
        wholes = [100] + ([c['batch']] if 'batch' in c else []) + ([WHOLE[c['file']]] if c['file'] in WHOLE else [])
        assert any(abs(x / w * 100 - p) < 6e-4 for x in nums for w in wholes), (c['file'], n, p, nums)
# Each id is that of a material on the shelf, where the shelf is at hand.
SHELF = os.path.join(HERE, *['..'] * 4, 'assets', 'materials')
if os.path.isdir(SHELF):
    shelf = set()
    for f in os.listdir(SHELF): shelf |= {re.sub(r'[^a-z0-9]+', '-', n.lower()).strip('-') for n in re.findall(r'^\s*name: "([^"]*)"', open(os.path.join(SHELF, f), encoding='utf-8').read(), re.M)}
    for c in CASES:
        for l in c['lines']:
            for x in l[1].split('|'):
                x = x.lstrip('?')
                if x and x != 'new' and x not in shelf: assert 'new' in l[1].split('|'), (c['file'], l)
# The expectations stand in expected.json, with those of the other rounds, corrected where they were wrong.
assert len(CASES) == len({c['file'] for c in CASES}) == 40
for c in CASES: assert os.path.exists(path(c['file'])), c['file']
for k in ('recipe', 'price', 'materials'): print(k, sum(c['kind'] == k for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['kind'] == k), 'lines')
for k in ('plain', 'usual', 'odd'): print(k, sum(c['cls'].startswith('nineteenth: ' + k) for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['cls'].startswith('nineteenth: ' + k)), 'lines')
