#!/usr/bin/env python3
"""A sixteenth round, written down without sight of the program (class "sixteenth" in expected.json): 38 recipes, 12 price
lists or lists of stock, 10 lists of materials of invented makers and suppliers in nine tongues.
Run with a Python that has openpyxl, xlsxwriter and odfpy; writes beside itself. The notation is told in by_hand.py."""
import csv, datetime, html, io, json, os, re
from by_hand import *
R, P, M = round_of('sixteenth')
S.update({'NIA': 'niacinamide', 'PD': 'propanediol', 'STA': 'corn-starch', 'KAO': 'kaolin-white-clay', 'TTO': 'tea-tree-essential-oil', 'CAN': 'candelilla-wax', 'ARG': 'argan-oil',
          'LG': 'lauryl-glucoside-paste-51', 'CG': 'coco-glucoside-solution-52', 'DG': 'decyl-glucoside-solution-51', 'SCI': 'sodium-cocoyl-isethionate-powder-85', 'SCS': 'sodium-coco-sulfate-granules',
          'ROW': 'rose-water', 'CAA': 'citric-acid-anhydrous', 'EPS': 'magnesium-sulfate-heptahydrate', 'P20': 'polysorbate-20', 'RAP': 'rapeseed-oil', 'ALO': 'aloe-vera-juice', 'NAOH': 'sodium-hydroxide-pellets', 'TOC': 'tocopherol-mixed-70-in-sunflower-oil'})
# ====================================================================== plain: recipes
# 1 the per cent stand in the first column
cs('beard_oil_cooper.csv', """%¦Ingredient¦What it is for
45¦Jojoba oil¦base, dry touch
20¦Argan oil¦shine
15¦Apricot kernel oil¦light
10¦Hemp seed oil¦skin under the beard
8¦Castor oil¦hold
1¦Vitamin E¦keeps the oils
0.6¦Cedarwood Virginia essential oil¦scent
0.4¦Black pepper essential oil¦scent
100¦TOTAL¦""")
R('plain: per cent before the name', 'beard_oil_cooper.csv', '''Jojoba oil ¦ JO ¦ 45
Argan oil ¦ ARG ¦ 20
Apricot kernel oil ¦ apricot-kernel-oil ¦ 15
Hemp seed oil ¦ hemp-seed-oil ¦ 10
Castor oil ¦ CA ¦ 8
Vitamin E ¦ VE ¦ 1
Cedarwood Virginia essential oil ¦ cedarwood-virginia-essential-oil ¦ 0.6
Black pepper essential oil ¦ black-pepper-essential-oil ¦ 0.4''')
# 2 micellar water, INCI beside, batch of 500 g
xl('Mizellenwasser_Distelfink.xlsx', """Mizellenwasser Distelfink||||
Phase|Rohstoff|INCI|Anteil %|für 500 g
A|Wasser, demineralisiert|Aqua|70|350
A|Rosenwasser|Rosa Damascena Flower Water|20|100
A|Glycerin|Glycerin|3|15
B|Caprylyl/Capryl-Glucosid 60 %|Caprylyl/Capryl Glucoside|3|15
B|Polyglyceryl-4-caprat|Polyglyceryl-4 Caprate|2|10
C|D-Panthenol 75 %|Panthenol|1|5
C|Natriumbenzoat|Sodium Benzoate|0.4|2
C|Kaliumsorbat|Potassium Sorbate|0.3|1.5
C|Milchsäure 80 %|Lactic Acid|0.3|1.5
|Summe||100|500""", bold=[1, 2])
R('plain: German, INCI, per cent and one batch', 'Mizellenwasser_Distelfink.xlsx', '''Wasser, demineralisiert ~ Aqua ¦ W ¦ 70
Rosenwasser ~ Rosa Damascena Flower Water ¦ /ROW ¦ 20
Glycerin ¦ G ¦ 3
Caprylyl/Capryl-Glucosid 60 % ~ Caprylyl/Capryl Glucoside ¦ /caprylyl-capryl-glucoside-solution-60 ¦ 3 ¦ B
Polyglyceryl-4-caprat ~ Polyglyceryl-4 Caprate ¦ /polyglyceryl-4-caprate ¦ 2 ¦ B
D-Panthenol 75 % ~ Panthenol ¦ PAN ¦ 1 ¦ C
Natriumbenzoat ~ Sodium Benzoate ¦ SB ¦ 0.4 ¦ C
Kaliumsorbat ~ Potassium Sorbate ¦ PS ¦ 0.3 ¦ C
Milchsäure 80 % ~ Lactic Acid ¦ LA80 ¦ 0.3 ¦ C''', recipes=1)
# 3 cleansing balm, grams only
cs('baume_demaquillant.csv', """Baume démaquillant « Joue fraîche »¦¦
Ingrédient¦Poids (g)¦Remarque
Huile de tournesol¦60¦
Huile d'amande douce¦30¦
Beurre de karité¦22,5¦
Oléate de polyglycéryle-4¦18¦rend le baume rinçable
Cire d'abeille¦15¦
Beurre de cacao¦3¦
Vitamine E¦0,75¦
Huile essentielle d'orange douce¦0,75¦
Total¦150¦""", sep=';')
R('plain: French, grams only', 'baume_demaquillant.csv', '''Huile de tournesol ¦ SU ¦ 40
Huile d'amande douce ¦ AL ¦ 20
Beurre de karité ¦ SH ¦ 15
Oléate de polyglycéryle-4 ¦ /polyglyceryl-4-oleate ¦ 12
Cire d'abeille ¦ BW ¦ 10
Beurre de cacao ¦ CB ¦ 2
Vitamine E ¦ VE ¦ 0.5
Huile essentielle d'orange douce ¦ /ORA ¦ 0.5''', batch=150)
# 4 hand gel
xl('gel_manos_alcohol.xlsx', """Gel hidroalcohólico de manos, taller Retama||||
Fase|Materia prima|%|g para 2 kg|Observaciones
A|Agua destilada|22.9|458|
A|Carbómero en polvo|0.4|8|espolvorear y dejar hinchar
A|Glicerina|2|40|
B|Alcohol etílico 96 % desnaturalizado|74|1480|lejos de la llama
C|Trietanolamina 99 %|0.5|10|espesa al momento
C|Aceite esencial de árbol del té|0.2|4|
|Total|100|2000|""", bold=[2])
R('plain: Spanish hand gel', 'gel_manos_alcohol.xlsx', '''Agua destilada ¦ W ¦ 22.9
Carbómero en polvo ¦ /carbomer-powder ¦ 0.4
Glicerina ¦ G ¦ 2
Alcohol etílico 96 % desnaturalizado ¦ /ethanol-96-denatured ¦ 74 ¦ B
Trietanolamina 99 % ¦ /triethanolamine-99 ¦ 0.5 ¦ C
Aceite esencial de árbol del té ¦ TTO ¦ 0.2 ¦ C''', recipes=1, note='96 % and 99 % are strengths')
# 5 body butter
od('burro_montato_nocciolo.ods', """Burro corpo montato "Nocciolo"||
Ingrediente|Grammi|%
Burro di karité|125|50
Burro di mango|50|20
Olio di mandorle dolci|37.5|15
Olio di cocco|25|10
Amido di mais|10|4
Vitamina E|1.25|0.5
Olio essenziale di mandarino|1.25|0.5
Totale|250|100""")
R('plain: Italian, grams and per cent', 'burro_montato_nocciolo.ods', '''Burro di karité ¦ SH ¦ 50
Burro di mango ¦ MAN ¦ 20
Olio di mandorle dolci ¦ AL ¦ 15
Olio di cocco ¦ CO ¦ 10
Amido di mais ¦ STA ¦ 4
Vitamina E ¦ VE ¦ 0.5
Olio essenziale di mandarino ¦ /mandarin-essential-oil ¦ 0.5''', recipes=1, batch=250)
# 6 hair mask
cs('haarmasker_vlierbes.csv', """Fase¦Grondstof¦%
A¦Gedemineraliseerd water¦72,2
A¦Aloë vera-sap¦5
A¦Glycerine¦4
B¦BTMS-50¦5
B¦Cetylalcohol¦4
B¦Sheaboter¦3
B¦Jojobaolie¦2
B¦Avocado-olie¦2
C¦Gehydrolyseerd tarwe-eiwit 20 %¦1,5
C¦Fenoxyethanol¦0,9
C¦Etherische geraniumolie¦0,3
C¦Vitamine E¦0,1
¦Totaal¦100""", sep=';')
R('plain: Dutch hair mask', 'haarmasker_vlierbes.csv', '''Gedemineraliseerd water ¦ W ¦ 72.2
Aloë vera-sap ¦ /ALO ¦ 5
Glycerine ¦ G ¦ 4
BTMS-50 ¦ B50 ¦ 5 ¦ B
Cetylalcohol ¦ CEA ¦ 4 ¦ B
Sheaboter ¦ SH ¦ 3 ¦ B
Jojobaolie ¦ JO ¦ 2 ¦ B
Avocado-olie ¦ AVO ¦ 2 ¦ B
Gehydrolyseerd tarwe-eiwit 20 % ¦ /hydrolyzed-wheat-protein-20 ¦ 1.5 ¦ C
Fenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Etherische geraniumolie ¦ /geranium-essential-oil ¦ 0.3 ¦ C
Vitamine E ¦ VE ¦ 0.1 ¦ C''', recipes=1)
# 7 sugar scrub
cs('peeling_cukrowy.csv', """Składnik¦Gramy¦Uwagi
Cukier biały¦360¦drobny
Olej kokosowy¦90¦rozpuścić
Olej ze słodkich migdałów¦60¦
Masło shea¦48¦
Polisorbat 80¦30¦żeby się spłukiwał
Witamina E¦6¦
Olejek z trawy cytrynowej¦6¦
Razem¦600¦""", sep=';')
R('plain: Polish sugar scrub', 'peeling_cukrowy.csv', '''Cukier biały ¦ /sugar-granulated ¦ 60
Olej kokosowy ¦ CO ¦ 15
Olej ze słodkich migdałów ¦ AL ¦ 10
Masło shea ¦ SH ¦ 8
Polisorbat 80 ¦ P80 ¦ 5
Witamina E ¦ VE ¦ 1
Olejek z trawy cytrynowej ¦ /lemongrass-essential-oil ¦ 1''', batch=600)
# 8 foot cream, water "q.b.p. 100"
cs('creme_pes_carqueja.csv', """Creme para pés Carqueja¦¦¦
Fase¦Ingrediente¦%¦Observações
A¦Água destilada¦q.b.p. 100¦
A¦Ureia¦10¦dissolver a frio
A¦Glicerina¦5¦
A¦Goma xantana¦0,3¦
B¦Óleo de girassol¦8¦
B¦Estearato de glicerila SE¦6¦
B¦Manteiga de karité¦5¦
B¦Álcool cetílico¦3¦
C¦Fenoxietanol¦0,9¦abaixo de 40 °C
C¦Mentol (cristais)¦0,5¦
C¦Óleo essencial de hortelã-pimenta¦0,3¦""", sep=';')
R('plain: Portuguese, water makes up to 100', 'creme_pes_carqueja.csv', '''Água destilada ¦ /W ¦ 61
Ureia ¦ /urea ¦ 10
Glicerina ¦ G ¦ 5
Goma xantana ¦ /XG ¦ 0.3
Óleo de girassol ¦ SU ¦ 8 ¦ B
Estearato de glicerila SE ¦ /GSE ¦ 6 ¦ B
Manteiga de karité ¦ /SH ¦ 5 ¦ B
Álcool cetílico ¦ /CEA ¦ 3 ¦ B
Fenoxietanol ¦ PHE ¦ 0.9 ¦ C
Mentol (cristais) ~ Mentol ¦ /menthol-crystals ¦ 0.5 ¦ C
Óleo essencial de hortelã-pimenta ¦ /peppermint-essential-oil ¦ 0.3 ¦ C''', recipes=1, note='"q.b.p. 100" is as much as makes 100')
# 9 lip tint
xl('lappfarg_ronnbar.xlsx', """Läppfärg Rönnbär|||
Fas|Råvara|%|g
A|Ricinolja|40|20
A|Kakaosmör|18|9
A|Bivax|14|7
A|Jojobaolja|14|7
A|Candelillavax|4|2
B|Järnoxid röd|6|3
B|Glimmer (mica)|3|1.5
C|E-vitamin|1|0.5
|Summa|100|50""", bold=[1, 2])
R('plain: Swedish lip tint', 'lappfarg_ronnbar.xlsx', '''Ricinolja ¦ /CA ¦ 40
Kakaosmör ¦ /CB ¦ 18
Bivax ¦ /BW ¦ 14
Jojobaolja ¦ /JO ¦ 14
Candelillavax ¦ /CAN ¦ 4
Järnoxid röd ¦ /iron-oxide-red ¦ 6 ¦ B
Glimmer (mica) ~ Glimmer ¦ /mica ¦ 3 ¦ B
E-vitamin ¦ VE ¦ 1 ¦ C''', recipes=1)
# 10 baby oil
tx('baby_oil_thrush.md', """
# Thrush Nest baby oil

| Ingredient | Grams |
|---|---:|
| Sunflower oil | 141.2 |
| Sweet almond oil | 40 |
| Calendula infused sunflower oil | 16 |
| Tocopherol (mixed, 70 %) | 2 |
| Roman chamomile essential oil | 0.8 |
| **Total** | **200** |
""")
R('plain: markdown, grams', 'baby_oil_thrush.md', '''Sunflower oil ¦ SU ¦ 70.6
Sweet almond oil ¦ AL ¦ 20
Calendula infused sunflower oil ¦ /calendula-macerate-in-sunflower-oil ¦ 8
Tocopherol (mixed, 70 %) ~ Tocopherol ¦ /TOC ¦ 1
Roman chamomile essential oil ¦ roman-chamomile-essential-oil ¦ 0.4''', batch=200, note='the infused oil is not plain sunflower oil')
# 11 after-sun gel
xl('after_sun_gel_1kg.xlsx', """After-sun gel "Low Tide" – batch 1000 g||||
Phase|Ingredient|% w/w|Batch (g)|Notes
A|Aloe vera juice|45|450|fridge
A|Distilled water|43.35|433.5|
A|Glycerin|4|40|
A|Xanthan gum|0.8|8|slurry in the propanediol
B|Propanediol|3|30|
B|Allantoin|0.3|3|dissolve at 50 °C
C|D-Panthenol 75 %|2|20|
C|Phenoxyethanol and ethylhexylglycerin 90:10|1|10|
C|Polysorbate 20|0.4|4|mix with the oil first
C|Peppermint essential oil|0.15|1.5|
|Total|100|1000|pH 5.5""", bold=[1, 2])
R('plain: English, per cent, grams, notes', 'after_sun_gel_1kg.xlsx', '''Aloe vera juice ¦ /ALO ¦ 45
Distilled water ¦ W ¦ 43.35
Glycerin ¦ G ¦ 4
Xanthan gum ¦ XG ¦ 0.8
Propanediol ¦ PD ¦ 3 ¦ B
Allantoin ¦ ALL ¦ 0.3 ¦ B
D-Panthenol 75 % ¦ PAN ¦ 2 ¦ C
Phenoxyethanol and ethylhexylglycerin 90:10 ¦ PEG ¦ 1 ¦ C
Polysorbate 20 ¦ P20 ¦ 0.4 ¦ C
Peppermint essential oil ¦ peppermint-essential-oil ¦ 0.15 ¦ C''', recipes=1, batch=1000)
# 12 dry shampoo
od('Trockenshampoo_Haselmaus.ods', """Trockenshampoo Haselmaus (für dunkles Haar)|
Zutat|Menge (g)
Maisstärke|40
Reisstärke|20
Kaolin|12
Natron|4
Kakaopulver|3.2
Rosmarinöl|0.8
Summe|80""")
R('plain: German, one column of grams', 'Trockenshampoo_Haselmaus.ods', '''Maisstärke ¦ STA ¦ 50
Reisstärke ¦ /rice-starch ¦ 25
Kaolin ¦ KAO ¦ 15
Natron ¦ /BIC ¦ 5
Kakaopulver ¦ /cocoa-powder ¦ 4
Rosmarinöl ¦ ROS ¦ 1''', batch=80)
# 13 bath bombs
xl('bombes_de_bain_dix.xlsx', """Ingrédients|%|Pour 10 pièces (g)|Étape
Bicarbonate de sodium|50|600|1
Acide citrique anhydre|25|300|1
Fécule de maïs|12|144|1
Sel d'Epsom|5|60|1
Huile d'amande douce|4|48|2
Beurre de cacao|2.5|30|2
Sodium lauryl sulfoacétate en poudre|1|12|1
HE de lavande|0.5|6|2
TOTAL|100|1200|""", bold=[1])
R('plain: French bath bombs', 'bombes_de_bain_dix.xlsx', '''Bicarbonate de sodium ¦ BIC ¦ 50 ¦
Acide citrique anhydre ¦ /CAA ¦ 25 ¦
Fécule de maïs ¦ STA ¦ 12 ¦
Sel d'Epsom ¦ /EPS ¦ 5 ¦
Huile d'amande douce ¦ AL ¦ 4 ¦
Beurre de cacao ¦ CB ¦ 2.5 ¦
Sodium lauryl sulfoacétate en poudre ¦ /sodium-lauryl-sulfoacetate-powder ¦ 1 ¦
HE de lavande ¦ /LAV ¦ 0.5 ¦''', recipes=1, note='the step is no amount; it may be taken for a phase; 1200 g are a batch')
# 14 INCI only, per cent
cs('face_serum_inci.csv', """INCI¦% w/w
Aqua¦66.5
Aloe Barbadensis Leaf Juice¦15
Niacinamide¦5
Propanediol¦5
Glycerin¦3
Panthenol¦2
Betaine¦1.8
Xanthan Gum¦0.4
Sodium Hyaluronate¦0.3
Phenoxyethanol¦0.9
Ethylhexylglycerin¦0.1""")
R('plain: INCI only, per cent', 'face_serum_inci.csv', '''Aqua ¦ W ¦ 66.5
Aloe Barbadensis Leaf Juice ¦ /ALO ¦ 15
Niacinamide ¦ NIA ¦ 5
Propanediol ¦ PD ¦ 5
Glycerin ¦ G ¦ 3
Panthenol ¦ d-panthenol-75|? ¦ 2
Betaine ¦ betaine-trimethylglycine-powder|? ¦ 1.8
Xanthan Gum ¦ XG|? ¦ 0.4
Sodium Hyaluronate ¦ sodium-hyaluronate-powder|? ¦ 0.3
Phenoxyethanol ¦ PHE ¦ 0.9
Ethylhexylglycerin ¦ ethylhexylglycerin ¦ 0.1'''.replace('XG|?', 'xanthan-gum|?'), recipes=1)
# 15 shampoo bar
od('champu_solido_junco.ods', """Champú sólido Junco, 4 pastillas||
Ingrediente|Peso (g)|Nota
Cocoil isetionato sódico (polvo)|150|mascarilla puesta
Sodium coco sulfate|45|
Almidón de maíz|30|
Alcohol cetílico|24|
Manteca de cacao|21|
BTMS-25|15|
Proteína de arroz hidrolizada 20 %|6|
Pantenol 75 %|4.5|
Aceite esencial de romero|3|
Benzoato de sodio|1.5|
Total|300|""")
R('plain: Spanish shampoo bar, grams', 'champu_solido_junco.ods', '''Cocoil isetionato sódico (polvo) ~ Cocoil isetionato sódico ¦ /SCI ¦ 50
Sodium coco sulfate ¦ /SCS ¦ 15
Almidón de maíz ¦ STA ¦ 10
Alcohol cetílico ¦ CEA ¦ 8
Manteca de cacao ¦ CB ¦ 7
BTMS-25 ¦ B25 ¦ 5
Proteína de arroz hidrolizada 20 % ¦ /hydrolyzed-rice-protein-20 ¦ 2
Pantenol 75 % ¦ /PAN ¦ 1.5
Aceite esencial de romero ¦ ROS ¦ 1
Benzoato de sodio ¦ SB ¦ 0.5''', batch=300)
# 16 deodorant
cs('deodorante_crema_malva.csv', """Materia prima¦Percentuale¦Funzione
Burro di karité¦28¦consistenza
Olio di cocco¦22¦consistenza
Amido di mais¦20¦assorbe
Bicarbonato di sodio¦10¦odore
Cera d'api¦9¦consistenza
Ossido di zinco¦5¦assorbe
Trietil citrato¦4¦odore
Olio essenziale di salvia sclarea¦1.2¦profumo
Vitamina E¦0.8¦antiossidante
¦100¦""", quote=csv.QUOTE_ALL)
R('plain: Italian deodorant, per cent', 'deodorante_crema_malva.csv', '''Burro di karité ¦ SH ¦ 28
Olio di cocco ¦ CO ¦ 22
Amido di mais ¦ STA ¦ 20
Bicarbonato di sodio ¦ BIC ¦ 10
Cera d'api ¦ BW ¦ 9
Ossido di zinco ¦ zinc-oxide-pigment|? ¦ 5
Trietil citrato ¦ /triethyl-citrate ¦ 4
Olio essenziale di salvia sclarea ¦ /clary-sage-essential-oil ¦ 1.2
Vitamina E ¦ VE ¦ 0.8''', note='clary sage is not sage; zinc oxide is never a UV filter in silence')
# ---- plain: prices and stock
# 17 price list
cs('gorsefield_prices.csv', """Item¦Size¦Price (GBP)
Shea butter¦1 kg¦12.40
Cocoa butter¦500 g¦8.95
Rhassoul clay¦250 g¦5.60
Rosehip seed oil¦100 ml¦6.75
Epsom salt¦5 kg¦9.90
Xylitol powder¦1 kg¦7.20
Amber bottle 100 ml¦10 pcs¦8.40""")
P('plain: English price list', 'gorsefield_prices.csv', '''Shea butter ¦ SH ¦ 12.40 GBP 1000
Cocoa butter ¦ CB ¦ 8.95 GBP 500
Rhassoul clay ¦ rhassoul-clay ¦ 5.60 GBP 250
Rosehip seed oil ¦ rosehip-seed-oil ¦ 6.75 GBP 100 ml
Epsom salt ¦ /EPS ¦ 9.90 GBP 5000
Xylitol powder ¦ xylitol-powder ¦ 7.20 GBP 1000''', spare=['Amber bottle 100 ml', 'Amber bottle'], note='bottles are no material')
# 18 stock
xl('Bestand_Werkbank.xlsx', """Rohstoff|Charge|Bestand|Einheit|MHD|Regal
Olivenöl|OE-2417|3.2|kg|d:2027-08-31|1 oben
Kokosöl|KO-2309|5|kg|d:2028-02-29|1 oben
Bienenwachs|BW-77|650|g|d:2031-12-31|2
Harnstoff|HA-12|400|g|d:2029-05-31|3
Natriumbenzoat|NB-05|180|g|d:2028-11-30|3
Lavendelöl|LA-91|45|ml|d:2027-03-31|Kühlschrank""", bold=[1])
P('plain: German stock, lot before the amount', 'Bestand_Werkbank.xlsx', '''Olivenöl ¦ OL ¦ ¦ OE-2417
Kokosöl ¦ CO ¦ ¦ KO-2309
Bienenwachs ¦ BW ¦ ¦ BW-77
Harnstoff ¦ urea ¦ ¦ HA-12
Natriumbenzoat ¦ SB ¦ ¦ NB-05
Lavendelöl ¦ LAV ¦ ¦ LA-91''', note='3200 g, 5000 g, 650 g, 400 g, 180 g, 45 ml')
# 19 price per kg
od('tarif_au_kilo.ods', """Réf.|Matière|Prix au kg (€ HT)
B12|Beurre de cacao|e:15.80
B14|Beurre de mangue|e:19.50
C03|Cire de carnauba|e:24.00
H21|Huile de ricin|e:7.95
H22|Huile de jojoba|e:38.00
P07|Kaolin|e:3.10
T02|Acide stéarique|e:5.25""")
P('plain: French price for a kilogram', 'tarif_au_kilo.ods', '''Beurre de cacao ¦ CB ¦ 15.80 EUR 1000
Beurre de mangue ¦ MAN ¦ 19.50 EUR 1000
Cire de carnauba ¦ carnauba-wax ¦ 24 EUR 1000
Huile de ricin ¦ CA ¦ 7.95 EUR 1000
Huile de jojoba ¦ JO ¦ 38 EUR 1000
Kaolin ¦ KAO ¦ 3.10 EUR 1000
Acide stéarique ¦ SA ¦ 5.25 EUR 1000''')
# 20 Polish stock
cs('magazyn_szuflada.csv', """nazwa¦ilość¦jednostka¦partia¦termin
gliceryna¦2,5¦kg¦GL/118¦31.12.2028
olej słonecznikowy¦4¦l¦SL/044¦30.06.2027
wosk pszczeli¦900¦g¦WP/009¦31.12.2030
soda oczyszczona¦10¦kg¦SO/201¦31.10.2029
guma ksantanowa¦150¦g¦KS/013¦28.02.2028""", sep=';')
P('plain: Polish stock', 'magazyn_szuflada.csv', '''gliceryna ¦ G ¦ ¦ GL/118
olej słonecznikowy ¦ SU ¦ ¦ SL/044
wosk pszczeli ¦ BW ¦ ¦ WP/009
soda oczyszczona ¦ /BIC ¦ ¦ SO/201
guma ksantanowa ¦ XG ¦ ¦ KS/013''', note='2500 g, 4000 ml, 900 g, 10000 g, 150 g')
# 21 Swedish price list
xl('prislista_tallkotten.xlsx', """Vara|Förpackning|Pris (SEK)
Kokosolja|1 kg|119
Sheasmör|500 g|98
Kakaosmör|500 g|129.5
Bivax|250 g|74
Glycerin|1 l|85
Citronsyra|1 kg|62""", bold=[1])
P('plain: Swedish price list', 'prislista_tallkotten.xlsx', '''Kokosolja ¦ /CO ¦ 119 SEK 1000
Sheasmör ¦ /SH ¦ 98 SEK 500
Kakaosmör ¦ /CB ¦ 129.50 SEK 500
Bivax ¦ /BW ¦ 74 SEK 250
Glycerin ¦ G ¦ 85 SEK 1000 ml
Citronsyra ¦ citric-acid-anhydrous|citric-acid-monohydrate|? ¦ 62 SEK 1000''', note='citric acid without its water told: to ask is fair')
# ---- plain: materials
# 22 names, INCI, CAS
cs('materials_register.csv', """Name¦INCI¦CAS¦Supplier
Meadowfoam seed oil¦Limnanthes Alba Seed Oil¦153065-40-8¦Hollin Clough
Cetyl alcohol¦Cetyl Alcohol¦36653-82-4¦Hollin Clough
Bisabolol¦Bisabolol¦23089-26-1¦Fell & Ford
Urea¦Urea¦57-13-6¦Fell & Ford
Sodium gluconate¦Sodium Gluconate¦527-07-1¦Fell & Ford
Bog myrtle hydrosol¦Myrica Gale Leaf Water¦¦Hollin Clough
Sloe seed oil¦Prunus Spinosa Seed Oil¦¦Hollin Clough""")
M('plain: names, INCI, CAS', 'materials_register.csv', '''Meadowfoam seed oil ¦ /meadowfoam-seed-oil
Cetyl alcohol ¦ CEA
Bisabolol ¦ /bisabolol
Urea ¦ urea
Sodium gluconate ¦ sodium-gluconate
Bog myrtle hydrosol ¦ NEW
Sloe seed oil ¦ NEW''', note='two are not on the shelf')
# 23 German table
tx('Rohstoffe_Lade.md', """
# Rohstoffe in der Lade

| Bezeichnung | INCI | Wofür |
|---|---|---|
| Schwarzkümmelöl | Nigella Sativa Seed Oil | Öl |
| Behenylalkohol | Behenyl Alcohol | Konsistenz |
| Natriumlaktat 60 % | Sodium Lactate | Feuchte |
| Guarkernmehl | Cyamopsis Tetragonoloba Gum | Verdicker |
| Wollwachs | Lanolin | Fett |
| Quittenkernöl | Pyrus Cydonia Seed Oil | Öl |
| Rote Tonerde | Illite | Farbe |
""")
M('plain: German names with INCI', 'Rohstoffe_Lade.md', '''Schwarzkümmelöl ¦ /black-cumin-seed-oil
Behenylalkohol ¦ /behenyl-alcohol
Natriumlaktat 60 % ¦ /sodium-lactate-solution-60
Guarkernmehl ¦ /guar-gum
Wollwachs ¦ /lanolin-anhydrous
Quittenkernöl ¦ NEW
Rote Tonerde ¦ red-clay|?|new|rote-tonerde''', note='quince seed oil is not on the shelf; red clay is not the green clay, though Illite may be its INCI too')
# 24 Italian table
xl('elenco_materie_ginepro.xlsx', """Materia prima|INCI|Funzione|Fornitore
Burro di cupuaçu|Theobroma Grandiflorum Seed Butter|burro|Bottega Rovo
Olio di baobab|Adansonia Digitata Seed Oil|olio|Bottega Rovo
Sorbitano laurato|Sorbitan Laurate|emulsionante|Casa Lupinella
Sodio fitato 50 %|Sodium Phytate|chelante|Casa Lupinella
Alcol benzilico|Benzyl Alcohol|conservante|Casa Lupinella
Acqua distillata di elicriso|Helichrysum Italicum Flower Water|idrolato|Bottega Rovo
Carbone attivo|Charcoal Powder|polvere|Casa Lupinella""", bold=[1])
M('plain: Italian table of materials', 'elenco_materie_ginepro.xlsx', '''Burro di cupuaçu ¦ /cupuacu-butter
Olio di baobab ¦ /baobab-oil
Sorbitano laurato ¦ /sorbitan-laurate
Sodio fitato 50 % ¦ /sodium-phytate-solution-50
Alcol benzilico ¦ /benzyl-alcohol
Acqua distillata di elicriso ¦ NEW
Carbone attivo ¦ /activated-charcoal''', note='the water of helichrysum is neither the essential oil nor plain water')
# 25 Dutch table with the strength
cs('grondstoffen_sterkte.csv', """Grondstof¦INCI¦Gehalte
Cocamidopropylbetaïne¦Cocamidopropyl Betaine¦38 %
Melkzuur¦Lactic Acid¦90 %
Natriumhydroxide-oplossing¦Sodium Hydroxide¦10 %
Glycerine¦Glycerin¦86 %
Citroenzuuroplossing¦Citric Acid¦20 %
Jojobaolie¦Simmondsia Chinensis Seed Oil¦100 %""", sep=';')
M('plain: Dutch table with the strength', 'grondstoffen_sterkte.csv', '''Cocamidopropylbetaïne ¦ /cocamidopropyl-betaine-solution-38
Melkzuur ¦ /lactic-acid-90
Natriumhydroxide-oplossing ¦ /sodium-hydroxide-solution-10
Glycerine ¦ /glycerin-86
Citroenzuuroplossing ¦ /citric-acid-solution-20
Jojobaolie ¦ JO''', note='another strength in silence is wrong')
# ====================================================================== usual: recipes
# 26 a workbook of three recipes behind a page of words
xl('teasel_hair_line.xlsx', {'About': """Teasel hair line, master sheets
Every recipe in per cent by weight. Scale on the bench card.
Last looked over: October""", 'Shampoo': """Phase|Ingredient|%
A|Water|48.2
A|Glycerin|3
B|Sodium lauroyl sarcosinate 30 %|20
B|Coco-betaine 31 %|18
B|Lauryl glucoside|8
C|Sodium chloride|1
C|Lactic acid 80 %|0.8
C|Sodium benzoate|0.5
C|Spearmint essential oil|0.5
|Total|100""", 'Conditioner': """Phase|Ingredient|%
A|Water|84.4
A|Propanediol|3
B|BTMS-25|6
B|Cetyl alcohol|3
B|Sunflower oil|2
C|Phenoxyethanol|0.9
C|Spearmint essential oil|0.4
C|D-Panthenol 75 %|0.3
|Total|100""", 'Hair mist': """Phase|Ingredient|%
A|Water|68
A|Rose water|25
A|Glycerin|2
B|Polysorbate 20|3.2
B|Spearmint essential oil|0.5
C|Sodium benzoate|0.5
C|Lactic acid 80 %|0.5
C|Potassium sorbate|0.3
|Total|100"""}, active=1)
R('usual: a workbook of three recipes', 'teasel_hair_line.xlsx', '''Water ¦ W ¦ 48.2
Glycerin ¦ G ¦ 3
Sodium lauroyl sarcosinate 30 % ¦ /sodium-lauroyl-sarcosinate-solution-30 ¦ 20 ¦ B
Coco-betaine 31 % ¦ coco-betaine-solution-31 ¦ 18 ¦ B
Lauryl glucoside ¦ /LG ¦ 8 ¦ B
Sodium chloride ¦ SAL ¦ 1 ¦ C
Lactic acid 80 % ¦ LA80 ¦ 0.8 ¦ C
Sodium benzoate ¦ SB ¦ 0.5 ¦ C
Spearmint essential oil ¦ spearmint-essential-oil ¦ 0.5 ¦ C
Water ¦ W ¦ 84.4
Propanediol ¦ PD ¦ 3
BTMS-25 ¦ B25 ¦ 6 ¦ B
Cetyl alcohol ¦ CEA ¦ 3 ¦ B
Sunflower oil ¦ SU ¦ 2 ¦ B
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Spearmint essential oil ¦ spearmint-essential-oil ¦ 0.4 ¦ C
D-Panthenol 75 % ¦ PAN ¦ 0.3 ¦ C
Water ¦ W ¦ 68
Rose water ¦ ROW ¦ 25
Glycerin ¦ G ¦ 2
Polysorbate 20 ¦ P20 ¦ 3.2 ¦ B
Spearmint essential oil ¦ spearmint-essential-oil ¦ 0.5 ¦ B
Sodium benzoate ¦ SB ¦ 0.5 ¦ C
Lactic acid 80 % ¦ LA80 ¦ 0.5 ¦ C
Potassium sorbate ¦ PS ¦ 0.3 ¦ C''', all=True, recipes=3, note='the first sheet is words only')
# 27 three versions side by side, the third holds
xl('Gesichtscreme_drei_Staende.xlsx', """Gesichtscreme Ehrenpreis – es gilt V3, V1 und V2 nur zum Nachlesen|||
Rohstoff|V1 %|V2 %|V3 % (gilt)
Wasser|72.1|70.1|66.1
Lindenblütenextrakt in Glycerin||2|3
Natrium-PCA 50 %|2|2|3
Xanthan|0.3|0.3|0.3
Mandelöl|12|10|10
Squalan||2|4
Glycerinstearatcitrat|5|5|5
Sheabutter|4|4|4
Cetylalkohol|3|3|3
Phenoxyethanol|0.9|0.9|0.9
Vitamin E|0.5|0.5|0.5
Palmarosaöl|0.2|0.2|0.2
Summe|100|100|100""", merge=['A1:D1'], bold=[1, 2])
R('usual: three versions side by side', 'Gesichtscreme_drei_Staende.xlsx', '''Wasser ¦ W ¦ 66.1
Lindenblütenextrakt in Glycerin ¦ /linden-blossom-extract-in-glycerin ¦ 3
Natrium-PCA 50 % ¦ /sodium-pca-solution-50 ¦ 3
Xanthan ¦ XG ¦ 0.3
Mandelöl ¦ AL ¦ 10
Squalan ¦ /SQ ¦ 4
Glycerinstearatcitrat ¦ /GSC ¦ 5
Sheabutter ¦ SH ¦ 4
Cetylalkohol ¦ CEA ¦ 3
Phenoxyethanol ¦ PHE ¦ 0.9
Vitamin E ¦ VE ¦ 0.5
Palmarosaöl ¦ /palmarosa-essential-oil ¦ 0.2''', recipes=1, note='V3 holds, as title and heading tell; to ask which of the three is fair, V1 or V2 in silence is wrong')
# 28 liquid soap: lye water and the water to thin it
cs('Fluessigseife_Kali.csv', """Flüssigseife Ackerwinde, Kochbuch Seite 12¦¦
Zutat¦Gramm¦dazu
Rapsöl¦500¦
Kokosöl¦300¦
Rizinusöl¦200¦
Kaliumhydroxid 90 % (Schuppen)¦228¦Handschuhe!
Wasser für die Lauge¦500¦
Wasser zum Verdünnen¦1200¦heiß, nach 3 Stunden
Glycerin¦60¦
Lavendelöl¦12¦
zusammen¦3000¦""", sep=';')
R('usual: liquid soap with two waters', 'Fluessigseife_Kali.csv', '''Rapsöl ¦ RAP ¦ 500/30
Kokosöl ¦ CO ¦ 10
Rizinusöl ¦ CA ¦ 200/30
Kaliumhydroxid 90 % (Schuppen) ~ Kaliumhydroxid 90 % ~ Kaliumhydroxid ¦ /potassium-hydroxide-flakes-90 ¦ 7.6
Wasser für die Lauge ~ Wasser ¦ /W ¦ 500/30
Wasser zum Verdünnen ~ Wasser ¦ /W ¦ 40
Glycerin ¦ G ¦ 2
Lavendelöl ¦ LAV ¦ 0.4''', batch=3000, note='two waters: 500 and 1200 g; the second is not left out')
# 29 cold process soap: per cent of the oils
xl('cold_process_meadow_bar.xlsx', """Meadow bar – cold process (per cent is of the OILS, weigh by the grams)||
Ingredient|% of oils|Grams
Olive oil|45|360
Coconut oil|25|200
Rapeseed oil|20|160
Cocoa butter|5|40
Castor oil|5|40
Sodium hydroxide pellets|14|112
Water|32|256
Sodium lactate solution 60 %|3|24
Lavandin essential oil|3|24
Batch||1216""", merge=['A1:C1'], bold=[1, 2])
R('usual: cold process soap, per cent of the oils', 'cold_process_meadow_bar.xlsx', '''Olive oil ¦ OL ¦ 360/12.16
Coconut oil ¦ CO ¦ 200/12.16
Rapeseed oil ¦ RAP ¦ 160/12.16
Cocoa butter ¦ CB ¦ 40/12.16
Castor oil ¦ CA ¦ 40/12.16
Sodium hydroxide pellets ¦ NAOH ¦ 112/12.16
Water ¦ W ¦ 256/12.16
Sodium lactate solution 60 % ¦ sodium-lactate-solution-60 ¦ 24/12.16
Lavandin essential oil ¦ lavandin-essential-oil ¦ 24/12.16''', recipes=1, batch=1216, note='the per cent are of the oils and add up to 152; the grams tell the shares of the whole')
# 30 a mail with the recipe in it
tx('Mail_handcreme_trijntje.txt', """
Van: Wieke
Aan: Trijntje
Onderwerp: handcrème voor de kerstmarkt

Hoi Trijntje,

Zoals beloofd, dit is wat ik zaterdag gemaakt heb (1 kilo, ongeveer 19 tubes van 50 ml):

- gedestilleerd water 655 g
- glycerine 60 g
- abrikozenpitolie 110 g
- glycerylstearaat SE 60 g
- sheaboter 50 g
- cetylalcohol 30 g
- bijenwas 15 g
- fenoxyethanol 10 g
- vitamine E 5 g
- sinaasappelolie (zoet) 5 g

De waterfase en de vetfase allebei tot 72 graden, 3 minuten mixen. Bel je me voor 8 uur?

Groetjes, Wieke
""")
R('usual: a mail with the recipe in it', 'Mail_handcreme_trijntje.txt', '''gedestilleerd water ¦ W ¦ 65.5
glycerine ¦ G ¦ 6
abrikozenpitolie ¦ /apricot-kernel-oil ¦ 11
glycerylstearaat SE ¦ /GSE ¦ 6
sheaboter ¦ SH ¦ 5
cetylalcohol ¦ CEA ¦ 3
bijenwas ¦ BW ¦ 1.5
fenoxyethanol ¦ PHE ¦ 1
vitamine E ¦ VE ¦ 0.5
sinaasappelolie (zoet) ~ sinaasappelolie ¦ /ORA ¦ 0.5''', batch=1000, note='tubes, degrees, minutes and the hour are no lines')
# 31 a pasted web page: cups, with the grams in brackets
ht('whipped_balm_page.html', """
<h1>Whipped Winter Balm</h1>
<p>Posted in: body &middot; 6 min read &middot; makes 120 g (two 4 oz jars, whipped)</p>
<h2>You will need</h2>
<ul>
<li>1/4 cup (60 g) shea butter</li>
<li>3 tbsp (36 g) sunflower oil</li>
<li>2 tbsp (14 g) arrowroot powder</li>
<li>1 tbsp (8 g) beeswax</li>
<li>1/4 tsp (1 g) vitamin E</li>
<li>25 drops (1 g) lavender essential oil</li>
</ul>
<h2>How to</h2>
<ol><li>Melt the wax with the oil over 70 &deg;C water.</li><li>Chill 20 minutes, whip 5 minutes.</li></ol>
<p>Store up to 6 months.</p>""", 'Whipped Winter Balm')
R('usual: a web page, cups with grams in brackets', 'whipped_balm_page.html', '''shea butter ¦ SH ¦ 50
sunflower oil ¦ SU ¦ 30
arrowroot powder ¦ /arrowroot-powder ¦ 14/1.2
beeswax ¦ BW ¦ 8/1.2
vitamin E ¦ VE ¦ 1/1.2
lavender essential oil ¦ LAV ¦ 1/1.2''', batch=120, note='the grams in the brackets are what counts; the steps and the six months are no lines')
# 32 merged cells
xl('creme_mains_fusion.xlsx', """Crème mains « Talus fleuri »|||
Phase|Matière première|% m/m|Pesée pour 800 g
Phase aqueuse|Eau déminéralisée|67,5|540
|Glycérine|6|48
|Gomme xanthane|0,4|3,2
Phase grasse|Huile de noyaux d'abricot|9|72
|Beurre de karité|6|48
|Stéarate de glycéryle SE|5|40
|Alcool cétéarylique|3|24
|Cire d'abeille|1|8
Ajouts|Phénoxyéthanol|0,9|7,2
|Vitamine E|0,7|5,6
|Huile essentielle de petit grain|0,5|4
Total||100|800""", merge=['A1:D1', 'A3:A5', 'A6:A10', 'A11:A13'], bold=[1, 2, 14])
R('usual: merged phases, decimal commas as text', 'creme_mains_fusion.xlsx', '''Eau déminéralisée ¦ W ¦ 67.5 ¦
Glycérine ¦ G ¦ 6 ¦
Gomme xanthane ¦ XG ¦ 0.4 ¦
Huile de noyaux d'abricot ¦ apricot-kernel-oil ¦ 9 ¦
Beurre de karité ¦ SH ¦ 6 ¦
Stéarate de glycéryle SE ¦ /GSE ¦ 5 ¦
Alcool cétéarylique ¦ /CAL ¦ 3 ¦
Cire d'abeille ¦ BW ¦ 1 ¦
Phénoxyéthanol ¦ PHE ¦ 0.9 ¦
Vitamine E ¦ VE ¦ 0.7 ¦
Huile essentielle de petit grain ¦ /petitgrain-essential-oil ¦ 0.5 ¦''', recipes=1, note='6 % of glycerin and 6 % of shea; the phases are words')
# 33 ranges
cs('shower_cream_ranges.csv', """Ingredient¦% w/w¦Remark
Water¦to 100¦
Cocamidopropyl betaine solution 38 %¦15¦
Sodium cocoyl glutamate solution 25 %¦18¦
Coco-glucoside and glyceryl oleate blend¦2 - 4¦taste of the skin feel
Glycerin¦5¦
Xanthan gum¦0.8-1.2¦until it flows as honey
Sodium benzoate¦0.5¦
Citric acid solution 50 %¦0.8¦
Grapefruit essential oil¦0.3¦""")
R('usual: ranges for two materials', 'shower_cream_ranges.csv', '''Water ¦ /W ¦ -
Cocamidopropyl betaine solution 38 % ¦ cocamidopropyl-betaine-solution-38 ¦ 15
Sodium cocoyl glutamate solution 25 % ¦ sodium-cocoyl-glutamate-solution-25 ¦ 18
Coco-glucoside and glyceryl oleate blend ¦ ?coco-glucoside-and-glyceryl-oleate-blend ¦ -
Glycerin ¦ G ¦ 5
Xanthan gum ¦ ?XG ¦ -
Sodium benzoate ¦ SB ¦ 0.5
Citric acid solution 50 % ¦ CIT50 ¦ 0.8
Grapefruit essential oil ¦ grapefruit-essential-oil ¦ 0.3''', note='the two ranges must be asked; the water hangs on them')
# 34 supplier and costs beside
xw('hand_cream_costing.xlsx', """Ingredient|Supplier|Pack|Cost per kg|% in formula|kg for 12 kg|Cost in batch
Water|own still||u:0.05|70.7|8.484|f:=D2*F2;0.4242
Sunflower oil|Pell & Marsh|5 kg|u:4.2|10|1.2|f:=D3*F3;5.04
Glycerin|Pell & Marsh|25 kg|u:2.6|5|0.6|f:=D4*F4;1.56
Glyceryl stearate SE|Quarry Lane|1 kg|u:14|5|0.6|f:=D5*F5;8.4
Mango butter|Quarry Lane|1 kg|u:22|4|0.48|f:=D6*F6;10.56
Cetearyl alcohol|Quarry Lane|5 kg|u:9.5|3|0.36|f:=D7*F7;3.42
Phenoxyethanol|Pell & Marsh|1 kg|u:18|1|0.12|f:=D8*F8;2.16
Tocopheryl acetate|Quarry Lane|500 g|u:46|0.5|0.06|f:=D9*F9;2.76
Xanthan gum|Pell & Marsh|500 g|u:31|0.4|0.048|f:=D10*F10;1.488
Frankincense essential oil|Quarry Lane|100 g|u:380|0.4|0.048|f:=D11*F11;18.24
Totals||||f:=SUM(E2:E11);100|f:=SUM(F2:F11);12|f:=SUM(G2:G11);54.0522
Per tube (150)||||||f:=G12/150;0.360348""")
R('usual: supplier, pack and costs beside', 'hand_cream_costing.xlsx', '''Water ¦ W ¦ 70.7
Sunflower oil ¦ SU ¦ 10
Glycerin ¦ G ¦ 5
Glyceryl stearate SE ¦ GSE ¦ 5
Mango butter ¦ MAN ¦ 4
Cetearyl alcohol ¦ CAL ¦ 3
Phenoxyethanol ¦ PHE ¦ 1
Tocopheryl acetate ¦ tocopheryl-acetate ¦ 0.5
Xanthan gum ¦ XG ¦ 0.4
Frankincense essential oil ¦ frankincense-essential-oil ¦ 0.4''', recipes=1, note='packs and costs are no amounts; the tube is no line')
# 35 markdown with headings for the phases
tx('masque_cheveux_titres.md', """
# Masque cheveux « Ronceraie », 250 g

## Phase A (chauffer à 75 °C)

- 185 g eau de source
- 7,5 g glycérine
- 5 g jus d'aloe vera

## Phase B (chauffer à 75 °C)

- 17,5 g BTMS-50
- 12,5 g alcool cétylique
- 10 g huile de brocoli
- 5 g beurre de murumuru

## Phase C (sous 40 °C)

- 3,75 g protéines de soie hydrolysées 10 %
- 2,5 g phénoxyéthanol
- 1,25 g huile essentielle d'ylang-ylang

À garder 3 mois au frais.
""")
R('usual: markdown headings for the phases', 'masque_cheveux_titres.md', '''eau de source ¦ /W ¦ 74
glycérine ¦ G ¦ 3
jus d'aloe vera ¦ /ALO ¦ 2
BTMS-50 ¦ B50 ¦ 7 ¦ B
alcool cétylique ¦ CEA ¦ 5 ¦ B
huile de brocoli ¦ /broccoli-seed-oil ¦ 4 ¦ B
beurre de murumuru ¦ /murumuru-butter ¦ 2 ¦ B
protéines de soie hydrolysées 10 % ¦ /hydrolyzed-silk-10 ¦ 1.5 ¦ C
phénoxyéthanol ¦ PHE ¦ 1 ¦ C
huile essentielle d'ylang-ylang ¦ /ylang-ylang-essential-oil ¦ 0.5 ¦ C'''.replace('eau de source ¦ /W', 'eau de source ¦ water-demineralised|?|new|eau-de-source'), batch=250, note='spring water may be taken for water or asked')
# 36 a sum of 99.7 told by the maker
tx('Bartbalsam_Rest.txt', """
Bartbalsam „Krähenbeere“

Traubenkernöl        38,0 %
Sheabutter           30,0 %
Bienenwachs          14,0 %
Jojobaöl             12,0 %
Lanolin               4,0 %
Vitamin E             1,0 %
Zypressenöl           0,7 %
                     ------
                     99,7 %   (die 0,3 % sind Schwund, ich lasse das so)
""")
R('usual: a sum of 99.7 told by the maker', 'Bartbalsam_Rest.txt', '''Traubenkernöl ¦ GRA ¦ 38
Sheabutter ¦ SH ¦ 30
Bienenwachs ¦ BW ¦ 14
Jojobaöl ¦ JO ¦ 12
Lanolin ¦ /lanolin-anhydrous ¦ 4
Vitamin E ¦ VE ¦ 1
Zypressenöl ¦ /cypress-essential-oil ¦ 0.7''', tol=0.16, recipes=1, note='scaled to 100 or as they stand; neither the sum nor the 0.3 % of loss is a line')
# 37 one material in two phases, typing slips
xw('zel_pod_prysznic_wiklina.xlsx', """Żel pod prysznic Wiklina, szarża 2 kg|||
Faza|Surowiec|%|g
A|Woda demineralizowna|49.3|986
A|Gliceryna|3|60
A|Guma ksantanowa|0.7|14
B|Kokamidopropylobetaina 30 %|20|400
B|Kokoglukozyd|14|280
B|Kokosiarczan sodu (granulki)|8|160
C|Gliceryna|1|20
C|Ekstrakt z owsa w glicerynie|2|40
C|Benzoesan sodu|0.5|10
C|Kwas mlekowy 80 %|0.9|18
C|Olejek z mięty zielonej|0.6|12
|Razem|100|2000""")
R('usual: one material in two phases, a typing slip', 'zel_pod_prysznic_wiklina.xlsx', '''Woda demineralizowna ¦ /W ¦ 49.3
Gliceryna ¦ G ¦ 3
Guma ksantanowa ¦ XG ¦ 0.7
Kokamidopropylobetaina 30 % ¦ /CAPB30 ¦ 20 ¦ B
Kokoglukozyd ¦ /CG ¦ 14 ¦ B
Kokosiarczan sodu (granulki) ~ Kokosiarczan sodu ¦ /SCS ¦ 8 ¦ B
Gliceryna ¦ G ¦ 1 ¦ C
Ekstrakt z owsa w glicerynie ¦ /oat-extract-in-glycerin ¦ 2 ¦ C
Benzoesan sodu ¦ SB ¦ 0.5 ¦ C
Kwas mlekowy 80 % ¦ LA80 ¦ 0.9 ¦ C
Olejek z mięty zielonej ¦ /spearmint-essential-oil ¦ 0.6 ¦ C''', recipes=1, note='glycerin stands in A and C, two lines of 3 and 1; the water has a typing slip')
# 38 a mail as a file
tx('receta_tonico.eml', """
From: Amparo <amparo@taller-espliego.example>
To: Nieves <nieves@taller-espliego.example>
Subject: =?utf-8?Q?t=C3=B3nico_de_diciembre?=
Date: Thu, 3 Dec 2026 18:22:10 +0100
MIME-Version: 1.0
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: 8bit

Nieves, este es el tónico. Lote de 400 g:

Agua de hamamelis    200 g
Agua destilada       166 g
Glicerina             12 g
Propanediol            8 g
Niacinamida            8 g
Benzoato de sodio      2 g
Ácido láctico 80 %     2 g
Sorbato de potasio   1,2 g
Alantoína            0,8 g

Filtra antes de llenar. El pH, 5.
Un abrazo,
Amparo
Tel. 000 000 000
""", crlf=True)
R('usual: a mail as a file', 'receta_tonico.eml', '''Agua de hamamelis ¦ /witch-hazel-water ¦ 50
Agua destilada ¦ W ¦ 41.5
Glicerina ¦ G ¦ 3
Propanediol ¦ PD ¦ 2
Niacinamida ¦ NIA ¦ 2
Benzoato de sodio ¦ SB ¦ 0.5
Ácido láctico 80 % ¦ LA80 ¦ 0.5
Sorbato de potasio ¦ PS ¦ 0.3
Alantoína ¦ ALL ¦ 0.2''', batch=400, note='head, pH and telephone are no lines')
# ---- usual: prices and stock
# 39 tiers by the amount taken
xl('Staffel_Moosbruck.xlsx', """Moosbruck Rohwaren – Preis je kg in EUR netto, nach Abnahme||||
Rohstoff|1 kg|ab 5 kg|ab 25 kg|MwSt.
Sheabutter|11.2|9.8|7.95|19 %
Kokosöl|6.4|5.6|4.3|7 %
Natron|2.8|2.3|1.7|19 %
Cetylalkohol|10.5|9.1||19 %""", bold=[1, 2])
P('usual: a price per kilogram by the amount taken', 'Staffel_Moosbruck.xlsx', '''Sheabutter ¦ SH ¦ 11.20 EUR 1000;49 EUR 5000;198.75 EUR 25000
Kokosöl ¦ CO ¦ 6.40 EUR 1000;28 EUR 5000;107.50 EUR 25000
Natron ¦ /BIC ¦ 2.80 EUR 1000;11.50 EUR 5000;42.50 EUR 25000
Cetylalkohol ¦ CEA ¦ 10.50 EUR 1000;45.50 EUR 5000''', note='per kilogram at each tier: 5 kg at 9.80 are 49; the tax is no price')
# 40 pack in the name, price with its sign, VAT told as included
cs('drogheria_listino.csv', """Listino Drogheria del Carrubo (IVA compresa)¦
Articolo¦Prezzo
Burro di karité 500 g¦€ 9,90
Olio di jojoba 250 ml¦€ 14,50
Cera d'api 1 kg¦€ 19,00
Allume di potassio 200 g¦€ 4,20
Acido stearico 500 g¦€ 5,60
Flacone in vetro 50 ml¦€ 1,10""", sep=';')
P('usual: the pack in the name', 'drogheria_listino.csv', '''Burro di karité ~ Burro di karité 500 g ¦ SH ¦ 9.90 EUR 500
Olio di jojoba ~ Olio di jojoba 250 ml ¦ JO ¦ 14.50 EUR 250 ml
Cera d'api ~ Cera d'api 1 kg ¦ BW ¦ 19 EUR 1000
Allume di potassio ~ Allume di potassio 200 g ¦ /potassium-alum ¦ 4.20 EUR 200
Acido stearico ~ Acido stearico 500 g ¦ SA ¦ 5.60 EUR 500''', spare=['Flacone in vetro 50 ml', 'Flacone in vetro'], note='the bottle is no material')
# 41 lots, opened, minimum
xl('stock_sheet_minimum.xlsx', """Stock sheet – counted 30 Nov 2026||||||
Material|Lot|Opened|Best before|In stock (g)|Minimum (g)|Order?
Cocoa butter|CB-771|d:2026-08-14|d:2028-04-30|2350|1000|
Kaolin|KA-18|d:2025-11-02|d:2030-12-31|900|1500|yes
Niacinamide|NI-204|d:2026-09-20|d:2028-09-30|180|100|
Rapeseed oil|RP-66|d:2026-10-01|d:2027-06-30|4800|5000|yes
Sodium benzoate|SB-31||d:2029-01-31|500|200|
Tea tree essential oil|TT-09|d:2026-05-11|d:2027-11-30|85|50|""", bold=[1, 2])
P('usual: stock with opened day and minimum', 'stock_sheet_minimum.xlsx', '''Cocoa butter ¦ CB ¦ ¦ CB-771
Kaolin ¦ KAO ¦ ¦ KA-18
Niacinamide ¦ NIA ¦ ¦ NI-204
Rapeseed oil ¦ RAP ¦ ¦ RP-66
Sodium benzoate ¦ SB ¦ ¦ SB-31
Tea tree essential oil ¦ TTO ¦ ¦ TT-09''', note='2350, 900, 180, 4800, 500, 85 g; the minimum is no stock, the opened day no best before')
# 42 a mail with new prices
tx('Mail_nouveaux_prix.txt', """
De : Comptoir de la Hêtraie
À : nos clients artisans
Objet : prix à partir du 1er décembre

Bonjour,

Voici nos prix, hors taxes, en euros :

Huile de colza, 5 L : 21,50 €
Beurre de cacao, 1 kg : 16,90 €
Cire de candelilla, 500 g : 13,20 €
Urée, 1 kg : 6,40 €
Gomme de guar, 250 g : 4,75 €

Port : 9,90 € jusqu'à 30 kg.
Franco dès 180 €.

Bien à vous
""")
P('usual: a mail with prices', 'Mail_nouveaux_prix.txt', '''Huile de colza ~ Huile de colza, 5 L ¦ RAP ¦ 21.50 EUR 5000 ml
Beurre de cacao ~ Beurre de cacao, 1 kg ¦ CB ¦ 16.90 EUR 1000
Cire de candelilla ~ Cire de candelilla, 500 g ¦ CAN ¦ 13.20 EUR 500
Urée ~ Urée, 1 kg ¦ urea ¦ 6.40 EUR 1000
Gomme de guar ~ Gomme de guar, 250 g ¦ guar-gum ¦ 4.75 EUR 250''', spare=['Port', 'Franco dès'], note='carriage is no material')
# 43 how many are in a case
cs('wholesale_units.csv', """SKU¦Product¦Net weight¦Units per case¦Price per unit, USD
1001¦Coconut oil¦900 g¦6¦8.50
1002¦Candelilla wax¦450 g¦12¦11.20
1003¦Arrowroot powder¦1 kg¦10¦7.75
1004¦Castor oil¦500 ml¦12¦6.10
1005¦Cream of tartar¦250 g¦24¦3.90""")
P('usual: units in a case beside the price of one', 'wholesale_units.csv', '''Coconut oil ¦ CO ¦ 8.50 USD 900
Candelilla wax ¦ CAN ¦ 11.20 USD 450
Arrowroot powder ¦ arrowroot-powder ¦ 7.75 USD 1000
Castor oil ¦ CA ¦ 6.10 USD 500 ml
Cream of tartar ¦ /cream-of-tartar ¦ 3.90 USD 250''', note='the price is that of one unit, not of a case')
# ---- usual: materials
# 44 names and INCI mixed in one column
cs('stoffliste_gemischt.csv', """Stoff (Name oder INCI)¦CAS¦Reinheit / Stärke
Glycolic Acid¦79-14-1¦70 %
Triethanolamin¦102-71-6¦99 %
Pentylene Glycol¦5343-92-0¦
Sodium Hydroxide¦1310-73-2¦30 %ige Lösung
Zitronensäure-Monohydrat¦5949-29-1¦
Cetrimonium Chloride¦112-02-7¦29 %
Moorlauge, selbst angesetzt¦¦""", sep=';', enc='cp1252')
M('usual: names and INCI in one column, strength beside', 'stoffliste_gemischt.csv', '''Glycolic Acid ¦ /glycolic-acid-70
Triethanolamin ¦ /triethanolamine-99
Pentylene Glycol ¦ pentylene-glycol
Sodium Hydroxide ¦ /sodium-hydroxide-solution-30
Zitronensäure-Monohydrat ¦ /citric-acid-monohydrate
Cetrimonium Chloride ¦ /cetrimonium-chloride-29
Moorlauge, selbst angesetzt ~ Moorlauge ¦ NEW''', note='the lye is the 30 % solution, never the pellets')
# 45 own nicknames, INCI of blends
xl('own_names_blends.xlsx', """My name for it|INCI as on the drum|Bought from
The yellow wax|Euphorbia Cerifera Cera|Fell & Ford
Soft preservative|Benzyl Alcohol, Dehydroacetic Acid|Fell & Ford
Pearl stuff|Glycol Distearate|Hollin Clough
Creamy emulsifier|Glyceryl Stearate, PEG-100 Stearate|Hollin Clough
Elder oil|Helianthus Annuus Seed Oil, Sambucus Nigra Flower Extract|own shelf
Slip powder|Boron Nitride|Hollin Clough""", bold=[1])
M('usual: nicknames with the INCI', 'own_names_blends.xlsx', '''The yellow wax ~ Euphorbia Cerifera Cera ¦ candelilla-wax|?|new|the-yellow-wax
Soft preservative ~ Benzyl Alcohol, Dehydroacetic Acid ¦ benzyl-alcohol-and-dehydroacetic-acid-blend|?|new|soft-preservative
Pearl stuff ~ Glycol Distearate ¦ glycol-distearate-flakes|?|new|pearl-stuff
Creamy emulsifier ~ Glyceryl Stearate, PEG-100 Stearate ¦ glyceryl-stearate-and-peg-100-stearate|?|new|creamy-emulsifier
Elder oil ~ Helianthus Annuus Seed Oil, Sambucus Nigra Flower Extract ¦ NEW
Slip powder ~ Boron Nitride ¦ boron-nitride|?|new|slip-powder''', note='never the first part of a blend alone; elder oil is not plain sunflower oil')
# 46 use range and remarks beside
od('lista_zakresy.ods', """Surowce – zakresy stosowania|||
Nazwa polska|INCI|Zakres [%]|Uwagi
Kwas hialuronowy, proszek|Sodium Hyaluronate|0,05-0,5|hydratować całą noc
Mleczan sodu 60 %|Sodium Lactate|1-5|
Olej z pestek malin|Rubus Idaeus Seed Oil|2-10|lodówka
Lecytyna płynna|Lecithin|0,5-3|
Alkohol cetearylowy|Cetearyl Alcohol|1-6|
Hydrolat z kocanki|Helichrysum Arenarium Flower Water|5-50|własny""", merge={(1, 1): 4})
M('usual: Polish list with use ranges', 'lista_zakresy.ods', '''Kwas hialuronowy, proszek ¦ sodium-hyaluronate-powder|?
Mleczan sodu 60 % ¦ /sodium-lactate-solution-60
Olej z pestek malin ¦ /raspberry-seed-oil
Lecytyna płynna ¦ /lecithin-soy-or-sunflower-liquid
Alkohol cetearylowy ¦ CAL
Hydrolat z kocanki ¦ NEW''', note='the ranges are no strengths; the water of everlasting is not the helichrysum essential oil')
# 47 a list in a mail, CAS in brackets
tx('bestaande_voorraad_lijst.txt', """
Grondstoffen in huis (naam – INCI – CAS)

Stearinezuur – Stearic Acid – 57-11-4
Propyleenglycol – Propylene Glycol – 57-55-6
Betaïne – Betaine – 107-43-7
Talkpoeder – Talc – 14807-96-6
Vlierbloesemwater – Sambucus Nigra Flower Water – geen
""")
M('usual: names, INCI and CAS with dashes', 'bestaande_voorraad_lijst.txt', '''Stearinezuur ¦ SA
Propyleenglycol ¦ /propylene-glycol
Betaïne ¦ /betaine-trimethylglycine-powder
Talkpoeder ¦ /talc
Vlierbloesemwater ¦ NEW''', note='propylene glycol is not propanediol; this betaine is trimethylglycine')
# ====================================================================== odd: recipes
# 48 transposed: the materials stand in the first row
cs('Massageoel_quer.csv', """Massageöl Quendel¦Sonnenblumenöl¦Mandelöl¦Jojobaöl¦Arnikamazerat in Olivenöl¦Vitamin E¦Lavandinöl¦Summe
Menge g¦300¦150¦90¦48¦6¦6¦600
Prozent¦50¦25¦15¦8¦1¦1¦100
Charge¦S-12¦M-4¦J-9¦A-1¦E-3¦L-7¦""", sep=';')
R('odd: transposed', 'Massageoel_quer.csv', '''Sonnenblumenöl ¦ SU ¦ 50
Mandelöl ¦ AL ¦ 25
Jojobaöl ¦ JO ¦ 15
Arnikamazerat in Olivenöl ¦ /arnica-macerate-in-olive-oil ¦ 8
Vitamin E ¦ VE ¦ 1
Lavandinöl ¦ /lavandin-essential-oil ¦ 1''', recipes=1, note='each material is a column; arnica macerate is not plain olive oil, lavandin is not lavender')
# 49 codes with a key on the second sheet
xl('coded_night_cream.xlsx', {'Formula': """Night cream NC-7|
Code|%
W01|62.5
H02|5
H05|4
O11|12
O14|5
E03|3.5
E07|3
F02|3
T01|0.4
P04|0.9
X02|0.5
S09|0.2
Sum|100""", 'Key': """Code|Material
W01|Water
H02|Glycerin
H05|Butylene glycol
O11|Rice bran oil
O14|Camellia seed oil
E03|Sucrose stearate, HLB 15
E07|Glyceryl stearate
F02|Cetyl alcohol
T01|Xanthan gum
P04|Phenoxyethanol
X02|Vitamin E
S09|Ho wood essential oil
S10|Rosewood essential oil"""})
R('odd: codes with a key on another sheet', 'coded_night_cream.xlsx', '''Water ~ W01 ~ W01 Water ¦ /W ¦ 62.5
Glycerin ~ H02 ~ H02 Glycerin ¦ /G ¦ 5
Butylene glycol ~ H05 ~ H05 Butylene glycol ¦ /butylene-glycol ¦ 4
Rice bran oil ~ O11 ~ O11 Rice bran oil ¦ /rice-bran-oil ¦ 12
Camellia seed oil ~ O14 ~ O14 Camellia seed oil ¦ /camellia-seed-oil ¦ 5
Sucrose stearate, HLB 15 ~ E03 ~ E03 Sucrose stearate, HLB 15 ¦ /sucrose-stearate-hlb-15 ¦ 3.5
Glyceryl stearate ~ E07 ~ E07 Glyceryl stearate ¦ /glyceryl-stearate ¦ 3
Cetyl alcohol ~ F02 ~ F02 Cetyl alcohol ¦ /CEA ¦ 3
Xanthan gum ~ T01 ~ T01 Xanthan gum ¦ /XG ¦ 0.4
Phenoxyethanol ~ P04 ~ P04 Phenoxyethanol ¦ /PHE ¦ 0.9
Vitamin E ~ X02 ~ X02 Vitamin E ¦ VE ¦ 0.5
Ho wood essential oil ~ S09 ~ S09 Ho wood essential oil ¦ /ho-wood-essential-oil ¦ 0.2''', recipes=1, note='the second sheet tells what each code is; a code taken for another material in silence is wrong; S10 is not used')
# 50 values struck out and written anew
tx('face_wash_corrected.md', """
# Face wash, bench copy (1000 g)

| Phase | Ingredient | g |
|---|---|---|
| A | Water | ~~700~~ 720 |
| A | Glycerin | ~~60~~ 40 |
| A | Xanthan gum | 8 |
| B | Decyl glucoside | 120 |
| B | Cocamidopropyl betaine 30 % | 100 |
| C | Sodium benzoate | 5 |
| C | Lactic acid 80 % | 4 |
| C | Potassium sorbate | 3 |
| | Total | 1000 |
""")
R('odd: amounts struck out and written anew', 'face_wash_corrected.md', '''Water ¦ W ¦ 72
Glycerin ¦ G ¦ 4
Xanthan gum ¦ XG ¦ 0.8
Decyl glucoside ¦ /DG ¦ 12 ¦ B
Cocamidopropyl betaine 30 % ¦ CAPB30 ¦ 10 ¦ B
Sodium benzoate ¦ SB ¦ 0.5 ¦ C
Lactic acid 80 % ¦ LA80 ¦ 0.4 ¦ C
Potassium sorbate ¦ PS ¦ 0.3 ¦ C''', batch=1000, note='the struck numbers are out; the total fits the new ones')
# 51 one row a phase, the materials under each other in one cell
xl('lait_corps_cellules.xlsx', """Lait corps « Reine-des-prés »|||
Phase|Ingrédients|%|Geste
A|Eau déminéralisée⏎Glycérine⏎Gomme xanthane|68,8⏎4⏎0,3|75 °C
B|Huile de pépins de raisin⏎Citrate stéarate de glycéryle⏎Beurre de cacao⏎Alcool cétylique|12⏎5⏎4⏎3|75 °C
C|Panthénol 75 %⏎Phénoxyéthanol⏎Vitamine E|1,5⏎0,9⏎0,5|40 °C""", bold=[1, 2])
R('odd: several materials in one cell', 'lait_corps_cellules.xlsx', '''Eau déminéralisée ¦ W ¦ 68.8
Glycérine ¦ G ¦ 4
Gomme xanthane ¦ XG ¦ 0.3
Huile de pépins de raisin ¦ GRA ¦ 12 ¦ B
Citrate stéarate de glycéryle ¦ /GSC ¦ 5 ¦ B
Beurre de cacao ¦ CB ¦ 4 ¦ B
Alcool cétylique ¦ CEA ¦ 3 ¦ B
Panthénol 75 % ¦ /PAN ¦ 1.5 ¦ C
Phénoxyéthanol ¦ PHE ¦ 0.9 ¦ C
Vitamine E ¦ VE ¦ 0.5 ¦ C''', recipes=1, note='each line of the cell belongs to that of the cell beside; the degrees are no amounts')
# 52 two tongues in a cell
cs('Fusspuder_zweisprachig.csv', """Fusspuder «Alpenklee» / Poudre pour les pieds «Alpenklee»¦
Zutat / Ingrédient¦g
Talk / Talc¦90
Maisstärke / Fécule de maïs¦60
Natron / Bicarbonate de sodium¦24
Weisse Tonerde / Kaolin¦14
Zinkoxid / Oxyde de zinc¦10
Teebaumöl / HE d'arbre à thé¦1.2
Mentholkristalle / Cristaux de menthol¦0.8
Total¦200""", sep=';')
R('odd: two tongues in a cell', 'Fusspuder_zweisprachig.csv', '''Talk / Talc ~ Talk ~ Talc ¦ /talc ¦ 45
Maisstärke / Fécule de maïs ~ Maisstärke ~ Fécule de maïs ¦ /STA ¦ 30
Natron / Bicarbonate de sodium ~ Natron ~ Bicarbonate de sodium ¦ /BIC ¦ 12
Weisse Tonerde / Kaolin ~ Weisse Tonerde ~ Kaolin ¦ /KAO ¦ 7
Zinkoxid / Oxyde de zinc ~ Zinkoxid ~ Oxyde de zinc ¦ zinc-oxide-pigment|? ¦ 5
Teebaumöl / HE d'arbre à thé ~ Teebaumöl ~ HE d'arbre à thé ¦ /TTO ¦ 0.6
Mentholkristalle / Cristaux de menthol ~ Mentholkristalle ~ Cristaux de menthol ¦ /menthol-crystals ¦ 0.4''', batch=200, note='one material under two names, never two')
# 53 a forwarded mail, the recipe quoted in it
tx('Fwd_conditioner_bar.eml', """
From: Ida <ida@hazelbench.example>
To: workshop@hazelbench.example
Subject: Fwd: conditioner bar as promised
Date: Fri, 27 Nov 2026 08:04:51 +0000
MIME-Version: 1.0
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: 8bit

For the folder please, we run 24 bars of it on Tuesday. I.

---------- Forwarded message ----------
From: Leopold
Date: Thu, 26 Nov 2026 at 21:40
Subject: conditioner bar as promised

> Test batch, 200 g, four bars of 50:
>
> BTMS-25                      60 g
> Cetyl alcohol                52 g
> Cocoa butter                 44 g
> Stearic acid                 20 g
> Babassu oil                  14 g
> D-Panthenol 75 %              6 g
> Phenoxyethanol                2 g
> Coriander seed essential oil  2 g
>
> Pour at 68 °C, out of the mould after 90 minutes.
""", crlf=True)
R('odd: a forwarded mail', 'Fwd_conditioner_bar.eml', '''BTMS-25 ¦ B25 ¦ 30
Cetyl alcohol ¦ CEA ¦ 26
Cocoa butter ¦ CB ¦ 22
Stearic acid ¦ SA ¦ 10
Babassu oil ¦ babassu-oil ¦ 7
D-Panthenol 75 % ¦ PAN ¦ 3
Phenoxyethanol ¦ PHE ¦ 1
Coriander seed essential oil ¦ coriander-seed-essential-oil ¦ 1''', batch=200, note='the quoted lines are the recipe here, there is no other; bars, degrees and minutes are no lines')
# 54 spoons and drops among grams
tx('clay_mask_kitchen.txt', """
Saturday clay mask (dry mix, keep in a jar)

60 g kaolin
30 g French green clay
10 g colloidal oat flour
1 tsp honey
5 drops lavender essential oil

Stir with rose water when you use it, not before.
""")
R('odd: a spoon and drops among grams', 'clay_mask_kitchen.txt', '''kaolin ¦ /KAO ¦ -
French green clay ¦ /french-green-clay ¦ -
colloidal oat flour ¦ /colloidal-oat-flour ¦ -
honey ¦ ?honey ¦ -
lavender essential oil ¦ ?LAV ¦ -''', note='spoon and drops must be asked; the rose water of use is no line')
# 55 "double it"
tx('lip_balm_double_it.txt', """
LIP BALM, Gannet Steps (one tray, 250 g)

castor oil ............... 75 g
beeswax .................. 55 g
coconut oil .............. 50 g
mango butter ............. 37.5 g
jojoba oil ............... 30 g
vitamin E ................ 1.25 g
peppermint essential oil . 1.25 g

For the harbour fair double it. Two trays, 100 sticks of 5 g.
""")
R('odd: "double it"', 'lip_balm_double_it.txt', '''castor oil ¦ CA ¦ 30
beeswax ¦ BW ¦ 22
coconut oil ¦ CO ¦ 20
mango butter ¦ MAN ¦ 15
jojoba oil ¦ JO ¦ 12
vitamin E ¦ VE ¦ 0.5
peppermint essential oil ¦ peppermint-essential-oil ¦ 0.5''', note='the shares are the same; 250 g, or 500 g if doubled, are the batch; sticks and trays are no lines')
# 56 per cent of each phase
xl('Nachtcreme_Phasenanteile.xlsx', """Nachtcreme Königskerze – jede Phase für sich auf 100 %|||
Phase A = 70 % der Creme|||
|Rohstoff|% der Phase|
|Wasser|90|
|Glycerin|6|
|Propandiol|4|
Phase B = 28 % der Creme|||
|Rohstoff|% der Phase|
|Distelöl|50|
|Sheabutter|20|
|Glycerinstearatcitrat|20|
|Cetylalkohol|10|
Phase C = 2 % der Creme|||
|Rohstoff|% der Phase|
|Phenoxyethanol|50|
|Vitamin E|25|
|Geraniumöl|25|""", bold=[1, 2, 7, 13])
R('odd: per cent of each phase', 'Nachtcreme_Phasenanteile.xlsx', '''Wasser ¦ /W ¦ 63
Glycerin ¦ /G ¦ 4.2
Propandiol ¦ /PD ¦ 2.8
Distelöl ¦ /safflower-oil ¦ 14 ¦ B
Sheabutter ¦ /SH ¦ 5.6 ¦ B
Glycerinstearatcitrat ¦ /GSC ¦ 5.6 ¦ B
Cetylalkohol ¦ /CEA ¦ 2.8 ¦ B
Phenoxyethanol ¦ /PHE ¦ 1 ¦ C
Vitamin E ¦ VE ¦ 0.5 ¦ C
Geraniumöl ¦ /geranium-essential-oil ¦ 0.5 ¦ C''', recipes=1, note='70, 28 and 2 % of the whole; a third of each number, or three recipes, in silence is wrong; to refuse or to ask is fair')
# ---- odd: prices and stock
# 57 packs and prices in one cell
cs('prezzi_in_una_cella.csv', """Prodotto¦Confezioni e prezzi
Burro di karité¦250 g: 5,90 €; 1 kg: 18,50 €
Olio di ricino¦500 ml: 6,40 €; 5 l: 48,00 €
Cera di candelilla¦100 g: 3,80 €; 500 g: 15,20 €
Gomma xantana¦100 g: 4,10 €
Urea¦1 kg: 5,70 €""", sep='\t')
P('odd: packs and prices in one cell', 'prezzi_in_una_cella.csv', '''Burro di karité ¦ SH ¦ 5.90 EUR 250;18.50 EUR 1000
Olio di ricino ¦ CA ¦ 6.40 EUR 500 ml;48 EUR 5000 ml
Cera di candelilla ¦ CAN ¦ 3.80 EUR 100;15.20 EUR 500
Gomma xantana ¦ XG ¦ 4.10 EUR 100
Urea ¦ urea ¦ 5.70 EUR 1000''', note='two packs in a cell; the first alone in silence is wrong')
# 58 stock with quantities struck as they are used
tx('larder_stock_struck.md', """
## Larder, last gone over 22 November

| Material | Left | Lot | Use by |
|---|---|---|---|
| Olive oil | ~~5 kg~~ ~~4.1 kg~~ 2.6 kg | OV-88 | 2027-09-30 |
| Beeswax | ~~1 kg~~ 700 g | BX-14 | 2031-01-31 |
| Glycerin | 3 kg | GY-205 | 2029-04-30 |
| Sodium bicarbonate | ~~10 kg~~ 8 kg | BC-3 | 2028-12-31 |
| Vitamin E | ~~200 g~~ 65 g | VE-19 | 2027-05-31 |
""")
P('odd: stock struck as it is used', 'larder_stock_struck.md', '''Olive oil ¦ OL ¦ ¦ OV-88
Beeswax ¦ BW ¦ ¦ BX-14
Glycerin ¦ G ¦ ¦ GY-205
Sodium bicarbonate ¦ BIC ¦ ¦ BC-3
Vitamin E ¦ VE ¦ ¦ VE-19''', note='2600, 700, 3000, 8000, 65 g are left; the struck ones are gone')
# ---- odd: materials
# 59 a key of short signs
tx('Kuerzel_an_der_Wand.txt', """
Kürzel | Stoff | INCI
KOS | Kokosöl | Cocos Nucifera Oil
RIZ | Rizinusöl | Ricinus Communis Seed Oil
ZS50 | Zitronensäurelösung 50 % | Citric Acid
BAB | Babassuöl | Orbignya Oleifera Seed Oil
HOL | Holunderbeerpulver | Sambucus Nigra Fruit Powder
XAN | Xanthan | Xanthan Gum
""")
M('odd: short signs with their key', 'Kuerzel_an_der_Wand.txt', '''Kokosöl ~ KOS ¦ CO
Rizinusöl ~ RIZ ¦ CA
Zitronensäurelösung 50 % ~ ZS50 ¦ /CIT50
Babassuöl ~ BAB ¦ /babassu-oil
Holunderbeerpulver ~ HOL ¦ NEW
Xanthan ~ XAN ¦ XG''', note='the short sign is no name of a material; ZS50 is the solution')
# 60 like a scan: leaders, page heads, a word broken
tx('shelf_list_scan.txt', """
                 SHELF   LIST                  page 1

Name . . . . . . . . . . . . . . . INCI

Walnut oil . . . . . . . . . . . . Juglans Regia Seed Oil
Stearyl alcohol  . . . . . . . . . Stearyl Alcohol
Potassium carbonate  . . . . . . . Potassium Carbonate
                                               page 2
Plantain seed husk . . . . . . . . Plantago Ovata Husk Powder
Tapioca starch . . . . . . . . . . Tapioca Starch
Menthyl lactate  . . . . . . . . . Menthyl Lactate
Walnut shell powder  . . . . . . . Juglans Regia Shell Powder
""", crlf=True)
M('odd: like a scan, with leaders', 'shelf_list_scan.txt', '''Walnut oil ¦ walnut-oil
Stearyl alcohol ¦ stearyl-alcohol
Potassium carbonate ¦ potassium-carbonate
Plantain seed husk ¦ NEW
Tapioca starch ¦ tapioca-starch
Menthyl lactate ¦ menthyl-lactate
Walnut shell powder ¦ walnut-shell-powder''', note='oil and shell of the walnut are two materials; page heads are no lines')
# ======================================================================
# The expectations stand in expected.json, with those of the other rounds, corrected where they were wrong.
assert len(CASES) == len({c['file'] for c in CASES}) == 60
for k in ('recipe', 'price', 'materials'): print(k, sum(c['kind'] == k for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['kind'] == k), 'lines')
for k in ('plain', 'usual', 'odd'): print(k, sum(c['cls'].startswith('sixteenth: ' + k) for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['cls'].startswith('sixteenth: ' + k)), 'lines')
