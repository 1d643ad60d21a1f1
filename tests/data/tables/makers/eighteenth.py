#!/usr/bin/env python3
"""An eighteenth round, written down without sight of the program (class "eighteenth" in expected.json): 38 recipes, 12
price lists or lists of stock, 10 lists of materials of invented makers and suppliers, in en, de, fr, es, it, nl, pl only.
Run with a Python that has openpyxl, xlsxwriter and odfpy; writes beside itself. The notation is told in by_hand.py."""
import csv, datetime, html, io, json, os, re
from by_hand import *
R, P, M = round_of('eighteenth')
S.update({'NIA': 'niacinamide', 'PD': 'propanediol', 'STA': 'corn-starch', 'KAO': 'kaolin-white-clay', 'TTO': 'tea-tree-essential-oil', 'CAN': 'candelilla-wax', 'ARG': 'argan-oil',
          'LG': 'lauryl-glucoside-paste-51', 'CG': 'coco-glucoside-solution-52', 'DG': 'decyl-glucoside-solution-51', 'SCI': 'sodium-cocoyl-isethionate-powder-85', 'SCS': 'sodium-coco-sulfate-granules',
          'ROW': 'rose-water', 'CAA': 'citric-acid-anhydrous', 'EPS': 'magnesium-sulfate-heptahydrate', 'P20': 'polysorbate-20', 'RAP': 'rapeseed-oil', 'ALO': 'aloe-vera-juice', 'NAOH': 'sodium-hydroxide-pellets', 'TOC': 'tocopherol-mixed-70-in-sunflower-oil'})
# ====================================================================== plain: recipes
# 1 numbered rows, INCI and grams, words about each row last
xl('shampoo_bar_ferny_beck.xlsx', """Ferny Beck shampoo bar, makes 5 bars of 80 g|||||
No.|Ingredient|INCI|%|Weigh out (g)|Comment
1|Sodium cocoyl isethionate powder 85 %|Sodium Cocoyl Isethionate|45|180|mask on!
2|Sodium coco-sulfate granules|Sodium Coco-Sulfate|15|60|
3|Cocamidopropyl betaine 30 %|Cocamidopropyl Betaine|12|48|
4|Cetyl alcohol|Cetyl Alcohol|9|36|
5|Mango butter|Mangifera Indica Seed Butter|7|28|
6|Stearic acid|Stearic Acid|6|24|
7|Rhassoul clay|Moroccan Lava Clay|3|12|sieve twice
8|D-Panthenol 75 %|Panthenol|1.5|6|below 50 °C
9|Rosemary essential oil|Rosmarinus Officinalis Leaf Oil|1|4|
10|Sodium benzoate|Sodium Benzoate|0.5|2|in 5 g of the betaine
|Total||100|400|""", bold=[1, 2], merge=['A1:F1'])
R('plain: numbered rows, INCI and grams', 'shampoo_bar_ferny_beck.xlsx', '''Sodium cocoyl isethionate powder 85 % ¦ SCI ¦ 45
Sodium coco-sulfate granules ¦ SCS ¦ 15
Cocamidopropyl betaine 30 % ¦ CAPB30 ¦ 12
Cetyl alcohol ¦ CEA ¦ 9
Mango butter ¦ MAN ¦ 7
Stearic acid ¦ SA ¦ 6
Rhassoul clay ¦ /rhassoul-clay ¦ 3
D-Panthenol 75 % ¦ PAN ¦ 1.5
Rosemary essential oil ¦ ROS ¦ 1
Sodium benzoate ¦ SB ¦ 0.5''', recipes=1, batch=400, note='the numbers of the rows and those in the comments are no amounts')
# 2 German deodorant stick, Windows-1252
cs('Deostift_Zaunkoenig.csv', """Phase¦Rohstoff¦INCI¦Gew.-%¦g (Ansatz 250 g)
A¦Kokosöl¦Cocos Nucifera Oil¦24,0¦60,00
A¦Sheabutter¦Butyrospermum Parkii Butter¦18,0¦45,00
A¦Candelillawachs¦Euphorbia Cerifera Cera¦9,0¦22,50
A¦Cetylalkohol¦Cetyl Alcohol¦7,0¦17,50
A¦Triethylcitrat¦Triethyl Citrate¦6,0¦15,00
B¦Maisstärke¦Zea Mays Starch¦20,0¦50,00
B¦Magnesiumhydroxid¦Magnesium Hydroxide¦8,0¦20,00
B¦Natron¦Sodium Bicarbonate¦5,0¦12,50
C¦Zinkricinoleat¦Zinc Ricinoleate¦2,0¦5,00
C¦Vitamin E¦Tocopherol¦0,5¦1,25
C¦Palmarosaöl, ätherisch¦Cymbopogon Martini Oil¦0,5¦1,25
¦Summe¦¦100,0¦250,00""", sep=';', enc='cp1252')
R('plain: German deodorant stick, Windows-1252', 'Deostift_Zaunkoenig.csv', '''Kokosöl ¦ CO ¦ 24
Sheabutter ¦ SH ¦ 18
Candelillawachs ¦ CAN ¦ 9
Cetylalkohol ¦ CEA ¦ 7
Triethylcitrat ¦ triethyl-citrate ¦ 6
Maisstärke ¦ STA ¦ 20 ¦ B
Magnesiumhydroxid ¦ /magnesium-hydroxide ¦ 8 ¦ B
Natron ¦ BIC ¦ 5 ¦ B
Zinkricinoleat ¦ zinc-ricinoleate|? ¦ 2 ¦ C
Vitamin E ¦ VE ¦ 0.5 ¦ C
Palmarosaöl, ätherisch ~ Palmarosaöl ¦ /palmarosa-essential-oil ¦ 0.5 ¦ C''', recipes=1, note='250 g stands in the heading of the grams')
# 3 French sugar scrub
od('gommage_ruche.ods', """Gommage « Ruche »||
Matière première|Pour 1 pot (g)|%
Sucre de canne roux|110|55
Huile de macadamia|44|22
Beurre de karité|20|10
Oléate de sorbitane|10|5
Miel|8|4
Cire d'abeille|6|3
Vitamine E|1|0.5
HE de mandarine|1|0.5
Total|200|100""")
R('plain: French sugar scrub, grams before per cent', 'gommage_ruche.ods', '''Sucre de canne roux ¦ brown-sugar|? ¦ 55
Huile de macadamia ¦ macadamia-oil|? ¦ 22
Beurre de karité ¦ SH ¦ 10
Oléate de sorbitane ¦ /sorbitan-oleate ¦ 5
Miel ¦ /honey ¦ 4
Cire d'abeille ¦ BW ¦ 3
Vitamine E ¦ VE ¦ 0.5
HE de mandarine ¦ /mandarin-essential-oil ¦ 0.5''', recipes=1, batch=200)
# 4 Italian hair mask, the phase in the last column
xl('maschera_capelli_lino.xlsx', """Ingrediente|Funzione|%|Fase
Acqua demineralizzata|solvente|77.3|A
Glicerina|umettante|4|A
Proteine del grano idrolizzate 20 %|condizionante|2|A
BTMS-50|emulsionante|5|B
Alcol cetilico|consistenza|4|B
Burro di murumuru|nutriente|3|B
Olio di semi di lino|lucidante|2|B
Pantenolo 75 %|condizionante|1|C
Fenossietanolo|conservante|0.9|C
Vitamina E|antiossidante|0.3|C
Olio essenziale di ylang-ylang|profumo|0.3|C
Acido lattico 80 %|correttore di pH|0.2|C
Totale||100|""", bold=[1, 14])
R('plain: Italian hair mask, the phase last', 'maschera_capelli_lino.xlsx', '''Acqua demineralizzata ¦ W ¦ 77.3
Glicerina ¦ G ¦ 4
Proteine del grano idrolizzate 20 % ¦ /hydrolyzed-wheat-protein-20 ¦ 2
BTMS-50 ¦ B50 ¦ 5 ¦ B
Alcol cetilico ¦ CEA ¦ 4 ¦ B
Burro di murumuru ¦ /murumuru-butter ¦ 3 ¦ B
Olio di semi di lino ¦ /linseed-oil ¦ 2 ¦ B
Pantenolo 75 % ¦ /PAN ¦ 1 ¦ C
Fenossietanolo ¦ PHE ¦ 0.9 ¦ C
Vitamina E ¦ VE ¦ 0.3 ¦ C
Olio essenziale di ylang-ylang ¦ /ylang-ylang-essential-oil ¦ 0.3 ¦ C
Acido lattico 80 % ¦ LA80 ¦ 0.2 ¦ C''', recipes=1, note='what a line is for is no name')
# 5 Polish micellar water, INCI in brackets behind the name
def pl(n, inci, i, v, p=''): return f'{n} ({inci}) ~ {n} ¦ {i} ¦ {v}' + (f' ¦ {p}' if p else '')
cs('plyn_micelarny_przepiorka.csv', """Faza¦Surowiec (INCI)¦%¦na 300 g
A¦Woda destylowana (Aqua)¦61,4¦184,2
A¦Woda różana (Rosa Damascena Flower Water)¦30¦90
A¦Gliceryna (Glycerin)¦3¦9
A¦Glikol propylenowy (Propylene Glycol)¦2¦6
B¦Glukozyd decylowy (Decyl Glucoside)¦1,5¦4,5
B¦Polisorbat 20 (Polysorbate 20)¦1¦3
C¦Benzoesan sodu (Sodium Benzoate)¦0,5¦1,5
C¦Alantoina (Allantoin)¦0,2¦0,6
C¦Sorbinian potasu (Potassium Sorbate)¦0,2¦0,6
C¦Kwas mlekowy 80 % (Lactic Acid)¦0,2¦0,6
¦Razem¦100¦300""", sep=';')
R('plain: Polish, INCI in brackets', 'plyn_micelarny_przepiorka.csv', '\n'.join(pl(*x) for x in (
    ('Woda destylowana', 'Aqua', 'W', 61.4), ('Woda różana', 'Rosa Damascena Flower Water', '/ROW', 30), ('Gliceryna', 'Glycerin', 'G', 3),
    ('Glikol propylenowy', 'Propylene Glycol', '/propylene-glycol', 2), ('Glukozyd decylowy', 'Decyl Glucoside', '/DG', 1.5, 'B'), ('Polisorbat 20', 'Polysorbate 20', '/P20', 1, 'B'),
    ('Benzoesan sodu', 'Sodium Benzoate', '/SB', 0.5, 'C'), ('Alantoina', 'Allantoin', '/ALL', 0.2, 'C'), ('Sorbinian potasu', 'Potassium Sorbate', '/PS', 0.2, 'C'),
    ('Kwas mlekowy 80 %', 'Lactic Acid', '/LA80', 0.2, 'C'))), recipes=1, batch=300, note='propylene glycol is not propanediol')
# 6 Dutch hand gel in steps
xl('handgel_kiosk.xlsx', """Handgel Kiosk 2|||
Stap|Grondstof|% m/m|gram in 750 g
1|Gedemineraliseerd water|24.3|182.25
1|Carbomeer|0.4|3
2|Ethanol 96 %, gedenatureerd|72|540
2|Glycerine|2|15
2|Propaandiol|1|7.5
3|Triethanolamine 99 %|0.2|1.5
3|Bisabolol|0.1|0.75
|Totaal|100|750""", bold=[1, 2])
R('plain: Dutch hand gel, steps in numbers', 'handgel_kiosk.xlsx', '''Gedemineraliseerd water ¦ W ¦ 24.3 ¦
Carbomeer ¦ /carbomer-powder ¦ 0.4 ¦
Ethanol 96 %, gedenatureerd ¦ /ethanol-96-denatured ¦ 72 ¦
Glycerine ¦ G ¦ 2 ¦
Propaandiol ¦ /PD ¦ 1 ¦
Triethanolamine 99 % ¦ triethanolamine-99 ¦ 0.2 ¦
Bisabolol ¦ bisabolol ¦ 0.1 ¦''', recipes=1, note='a step is no amount')
# 7 Spanish beard oil, the grams first
cs('aceite_barba_carbonero.csv', """g (frasco de 50 g)¦Aceite¦%
17,5¦Aceite de jojoba¦35
12,5¦Aceite de argán¦25
10¦Aceite de almendras dulces¦20
5¦Aceite de ricino¦10
4¦Escualano¦8
0,5¦Vitamina E¦1
0,3¦AE de cedro del Atlas¦0,6
0,2¦AE de vetiver¦0,4
50¦Total¦100""", sep=';')
R('plain: Spanish beard oil, the grams before the names', 'aceite_barba_carbonero.csv', '''Aceite de jojoba ¦ JO ¦ 35
Aceite de argán ¦ ARG ¦ 25
Aceite de almendras dulces ¦ AL ¦ 20
Aceite de ricino ¦ CA ¦ 10
Escualano ¦ /SQ ¦ 8
Vitamina E ¦ VE ¦ 1
AE de cedro del Atlas ¦ /cedarwood-atlas-essential-oil ¦ 0.6
AE de vetiver ¦ /vetiver-essential-oil ¦ 0.4''', recipes=1)
# 8 German bath bombs, grams only
od('Badekugeln_Pirol.ods', """Badekugeln „Pirol“, 1 kg für 8 Stück|
Zutat|Menge in g
Natron|480
Zitronensäure, wasserfrei|240
Maisstärke|120
Milchpulver|60
Kakaobutter|48
Mandelöl|24
Polysorbat 80|12
Lavandinöl|9.6
Rote Tonerde|6.4
Gesamt|1000""")
R('plain: German bath bombs, grams only', 'Badekugeln_Pirol.ods', '''Natron ¦ BIC ¦ 48
Zitronensäure, wasserfrei ¦ CAA ¦ 24
Maisstärke ¦ STA ¦ 12
Milchpulver ¦ /milk-powder ¦ 6
Kakaobutter ¦ CB ¦ 4.8
Mandelöl ¦ /AL ¦ 2.4
Polysorbat 80 ¦ P80 ¦ 1.2
Lavandinöl ¦ /lavandin-essential-oil ¦ 0.96
Rote Tonerde ¦ /red-clay ¦ 0.64''', batch=1000, note='lavandin is not lavender; "8 Stück" is no line')
# 9 face serum, INCI first, water q.s.
xl('serum_bluethroat.xlsx', """Phase|INCI|Common name|% w/w
A|Aqua|Distilled water|q.s. to 100
A|Aloe Barbadensis Leaf Juice|Aloe vera juice|20
A|Niacinamide|Vitamin B3|5
A|Propanediol|Propanediol|4
A|Sodium PCA|Sodium PCA 50 %|2
B|Glycerin|Vegetable glycerin|3
B|Xanthan Gum|Xanthan gum, clear grade|0.4
B|Sodium Hyaluronate|Sodium hyaluronate powder|0.3
C|Panthenol|D-Panthenol 75 %|1.3
C|Phenoxyethanol, Ethylhexylglycerin|Phenoxyethanol and ethylhexylglycerin 90:10|1
|||100""", bold=[1])
R('plain: face serum, INCI first, water q.s.', 'serum_bluethroat.xlsx', '''Distilled water ~ Aqua ¦ /W ¦ 63
Aloe vera juice ~ Aloe Barbadensis Leaf Juice ¦ /ALO ¦ 20
Vitamin B3 ~ Niacinamide ¦ /NIA ¦ 5
Propanediol ¦ PD ¦ 4
Sodium PCA 50 % ~ Sodium PCA ¦ /sodium-pca-solution-50 ¦ 2
Vegetable glycerin ~ Glycerin ¦ G ¦ 3 ¦ B
Xanthan gum, clear grade ~ Xanthan Gum ¦ /xanthan-gum-clear-grade ¦ 0.4 ¦ B
Sodium hyaluronate powder ~ Sodium Hyaluronate ¦ /sodium-hyaluronate-powder ¦ 0.3 ¦ B
D-Panthenol 75 % ~ Panthenol ¦ /PAN ¦ 1.3 ¦ C
Phenoxyethanol and ethylhexylglycerin 90:10 ~ Phenoxyethanol, Ethylhexylglycerin ¦ /PEG ¦ 1 ¦ C''', recipes=1, note='the clear grade is meant, not plain xanthan; 63 % of water make up the 100')
# 10 French body butter, a lot of 1.2 kg
xl('beurre_corporel_lot7.xlsx', """Phase|Matière première|%|Lot n° 7 : 1200 g|Observations
A|Beurre de karité|42|504|filtré
A|Huile de sésame|18|216|
A|Beurre de cacao|14|168|
A|Huile de coco|12|144|
A|Cire d'abeille|4|48|
B|Fécule de tapioca|7|84|tamiser
C|Parfum « Goyave »|2|24|
C|Vitamine E|1|12|
|Total|100|1200|""", bold=[1, 10])
R('plain: French body butter, the number of the lot in the heading', 'beurre_corporel_lot7.xlsx', '''Beurre de karité ¦ SH ¦ 42
Huile de sésame ¦ /sesame-oil ¦ 18
Beurre de cacao ¦ CB ¦ 14
Huile de coco ¦ CO ¦ 12
Cire d'abeille ¦ BW ¦ 4
Fécule de tapioca ¦ /tapioca-starch ¦ 7 ¦ B
Parfum « Goyave » ¦ ?|new|perfume-with-typical-allergens-placeholder|perfume-free-of-labelled-allergens-placeholder ¦ 2 ¦ C
Vitamine E ¦ VE ¦ 1 ¦ C''', recipes=1, batch=1200)
# 11 Italian cleansing balm, INCI first, grams
cs('balsamo_struccante_codirosso.csv', """INCI¦Nome¦Quantità (g)¦Note
Helianthus Annuus Seed Oil¦Olio di girasole¦150¦
Olea Europaea Fruit Oil¦Olio d'oliva¦90¦
Ricinus Communis Seed Oil¦Olio di ricino¦60¦
Polyglyceryl-4 Oleate¦Poligliceril-4 oleato¦54¦lavabile
Cera Alba¦Cera d'api¦36¦
Theobroma Cacao Seed Butter¦Burro di cacao¦6¦
Tocopherol¦Vitamina E¦3¦
Citrus Reticulata Peel Oil¦Olio essenziale di mandarino¦1¦
¦Totale¦400¦""", sep=';')
R('plain: Italian cleansing balm, INCI first, grams', 'balsamo_struccante_codirosso.csv', '''Olio di girasole ~ Helianthus Annuus Seed Oil ¦ SU ¦ 37.5
Olio d'oliva ~ Olea Europaea Fruit Oil ¦ OL ¦ 22.5
Olio di ricino ~ Ricinus Communis Seed Oil ¦ CA ¦ 15
Poligliceril-4 oleato ~ Polyglyceryl-4 Oleate ¦ /polyglyceryl-4-oleate ¦ 13.5
Cera d'api ~ Cera Alba ¦ BW ¦ 9
Burro di cacao ~ Theobroma Cacao Seed Butter ¦ CB ¦ 1.5
Vitamina E ~ Tocopherol ¦ VE ¦ 0.75
Olio essenziale di mandarino ~ Citrus Reticulata Peel Oil ¦ mandarin-essential-oil|? ¦ 0.25''', batch=400)
# 12 Polish baby oil, per cent only
xl('oliwka_dla_dzieci_krzyzodziob.xlsx', """Składnik|Udział %|Po co
Olej słonecznikowy|55|baza
Olej z pestek moreli|20|baza
Trójgliceryd kaprylowo-kaprynowy|15|lekkość
Macerat z nagietka w oleju słonecznikowym|9|łagodzi
Witamina E|0.8|przeciwutleniacz
Olejek z rumianku rzymskiego|0.2|zapach
Suma|100|""", bold=[1, 8])
R('plain: Polish baby oil', 'oliwka_dla_dzieci_krzyzodziob.xlsx', '''Olej słonecznikowy ¦ SU ¦ 55
Olej z pestek moreli ¦ /apricot-kernel-oil ¦ 20
Trójgliceryd kaprylowo-kaprynowy ¦ /MCT ¦ 15
Macerat z nagietka w oleju słonecznikowym ¦ calendula-macerate-in-sunflower-oil|? ¦ 9
Witamina E ¦ VE ¦ 0.8
Olejek z rumianku rzymskiego ¦ /roman-chamomile-essential-oil ¦ 0.2''', recipes=1, note='the macerate is not plain sunflower oil')
# 13 Dutch foot cream, the batch in a cell above and grams by formula
xw('voetcreme_bijvoet.xlsx', """Voetcrème Bijvoet|||
Charge (g)|600||
|||
Fase|Grondstof|%|g
A|Gedestilleerd water|63.3|f:=C5*$B$2/100;379.8
A|Ureum|10|f:=C6*$B$2/100;60
A|Glycerine|5|f:=C7*$B$2/100;30
A|Xanthaangom|0.4|f:=C8*$B$2/100;2.4
B|Raapzaadolie|8|f:=C9*$B$2/100;48
B|Glycerylstearaat SE|6|f:=C10*$B$2/100;36
B|Cetylalcohol|3|f:=C11*$B$2/100;18
B|Lanoline|2|f:=C12*$B$2/100;12
C|Fenoxyethanol|0.9|f:=C13*$B$2/100;5.4
C|Etherische eucalyptusolie (globulus)|0.5|f:=C14*$B$2/100;3
C|Melkzuur 80 %|0.5|f:=C15*$B$2/100;3
C|Mentholkristallen|0.4|f:=C16*$B$2/100;2.4
|Totaal|f:=SUM(C5:C16);100|f:=SUM(D5:D16);600""")
R('plain: Dutch foot cream, grams by formula of the batch above', 'voetcreme_bijvoet.xlsx', '''Gedestilleerd water ¦ W ¦ 63.3
Ureum ¦ urea ¦ 10
Glycerine ¦ G ¦ 5
Xanthaangom ¦ /XG ¦ 0.4
Raapzaadolie ¦ /RAP ¦ 8 ¦ B
Glycerylstearaat SE ¦ /GSE ¦ 6 ¦ B
Cetylalcohol ¦ CEA ¦ 3 ¦ B
Lanoline ¦ /lanolin-anhydrous ¦ 2 ¦ B
Fenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Etherische eucalyptusolie (globulus) ~ Etherische eucalyptusolie ¦ /eucalyptus-globulus-essential-oil ¦ 0.5 ¦ C
Melkzuur 80 % ¦ LA80 ¦ 0.5 ¦ C
Mentholkristallen ¦ /menthol-crystals ¦ 0.4 ¦ C''', recipes=1, batch=600, note='"Charge (g) 600" is the batch, no line')
# 14 German dry shampoo as a text in columns
tx('Trockenshampoo_Mehlschwalbe.txt', """
Trockenshampoo „Mehlschwalbe“, für helles Haar
Stand: 04.09.2026

Rohstoff                    %        g
Reisstärke                 40       60
Pfeilwurzmehl              30       45
Kaolin                     15       22,5
Natron                     10       15
Silica-Mikrokugeln          4        6
Grapefruitöl                1        1,5
Summe                     100      150
""")
R('plain: German dry shampoo, a text in columns', 'Trockenshampoo_Mehlschwalbe.txt', '''Reisstärke ¦ /rice-starch ¦ 40
Pfeilwurzmehl ¦ /arrowroot-powder ¦ 30
Kaolin ¦ KAO ¦ 15
Natron ¦ /BIC ¦ 10
Silica-Mikrokugeln ¦ /silica-microspheres ¦ 4
Grapefruitöl ¦ grapefruit-essential-oil|? ¦ 1''', recipes=1, note='the day is no amount')
# 15 Spanish solid conditioner in markdown, INCI with "(and)"
tx('acondicionador_chorlito.md', """
# Acondicionador sólido Chorlito

| INCI | Nombre habitual | % |
|---|---|--:|
| Cetearyl Alcohol | Alcohol cetearílico | 34 |
| Behentrimonium Methosulfate (and) Cetyl Alcohol (and) Butylene Glycol | BTMS-50 | 32 |
| Theobroma Cacao Seed Butter | Manteca de cacao | 15 |
| Butyrospermum Parkii Butter | Manteca de karité | 8 |
| Persea Gratissima Oil | Aceite de aguacate | 5 |
| Hydrolyzed Keratin | Queratina hidrolizada 20 % | 2 |
| Panthenol | DL-pantenol en polvo | 1,5 |
| Phenoxyethanol | Fenoxietanol | 1 |
| Mentha Piperita Oil | Aceite esencial de menta piperita | 1 |
| Tocopherol | Vitamina E | 0,5 |
| | **Total** | **100** |
""")
R('plain: Spanish solid conditioner in markdown', 'acondicionador_chorlito.md', '''Alcohol cetearílico ~ Cetearyl Alcohol ¦ CAL ¦ 34
BTMS-50 ~ Behentrimonium Methosulfate (and) Cetyl Alcohol (and) Butylene Glycol ¦ B50 ¦ 32
Manteca de cacao ~ Theobroma Cacao Seed Butter ¦ CB ¦ 15
Manteca de karité ~ Butyrospermum Parkii Butter ¦ SH ¦ 8
Aceite de aguacate ~ Persea Gratissima Oil ¦ AVO ¦ 5
Queratina hidrolizada 20 % ~ Hydrolyzed Keratin ¦ /hydrolyzed-keratin-20 ¦ 2
DL-pantenol en polvo ~ Panthenol ¦ /dl-panthenol-powder ¦ 1.5
Fenoxietanol ~ Phenoxyethanol ¦ PHE ¦ 1
Aceite esencial de menta piperita ~ Mentha Piperita Oil ¦ /peppermint-essential-oil ¦ 1
Vitamina E ~ Tocopherol ¦ VE ¦ 0.5''', recipes=1)
# 16 Italian after-sun gel, phases as headings
xl('gel_doposole_pispola.xlsx', """Gel doposole Pispola – lotto 250 g||
Ingrediente|g|%
Fase A||
Succo di aloe vera|137.5|55
Idrolato di lavanda|62.5|25
Acqua demineralizzata|30.5|12.2
Allantoina|0.75|0.3
Fase B||
Glicerina|10|4
Gomma xantana|1.75|0.7
Fase C||
Pantenolo 75 %|3.75|1.5
Fenossietanolo|2.25|0.9
Mentile lattato|0.5|0.2
Acido citrico, soluzione al 50 %|0.5|0.2
Totale|250|100""", bold=[1, 2, 3, 8, 11])
R('plain: Italian after-sun gel, phases as headings', 'gel_doposole_pispola.xlsx', '''Succo di aloe vera ¦ /ALO ¦ 55
Idrolato di lavanda ¦ /lavender-water ¦ 25
Acqua demineralizzata ¦ W ¦ 12.2
Allantoina ¦ ALL ¦ 0.3
Glicerina ¦ G ¦ 4 ¦ B
Gomma xantana ¦ XG ¦ 0.7 ¦ B
Pantenolo 75 % ¦ /PAN ¦ 1.5 ¦ C
Fenossietanolo ¦ PHE ¦ 0.9 ¦ C
Mentile lattato ¦ /menthyl-lactate ¦ 0.2 ¦ C
Acido citrico, soluzione al 50 % ¦ /CIT50 ¦ 0.2 ¦ C''', recipes=1, batch=250)
# 17 liquid soap with potash
cs('liquid_soap_dipper.csv', """Liquid soap "Dipper" (hot process)¦¦
Ingredient¦Grams¦Comment
Coconut oil¦450¦
Sunflower oil¦300¦
Castor oil¦100¦
Potassium hydroxide flakes 90 %¦198¦goggles
Distilled water (for the lye)¦600¦
Distilled water (to thin the paste)¦1250¦hot
Glycerin¦92¦at the end
Rosemary essential oil¦10¦
Total¦3000¦""")
R('plain: liquid soap with potash, two waters', 'liquid_soap_dipper.csv', '''Coconut oil ¦ CO ¦ 15
Sunflower oil ¦ SU ¦ 10
Castor oil ¦ CA ¦ 10/3
Potassium hydroxide flakes 90 % ¦ potassium-hydroxide-flakes-90 ¦ 6.6
Distilled water (for the lye) ~ Distilled water ¦ /W ¦ 20
Distilled water (to thin the paste) ~ Distilled water ¦ /W ¦ 1250/30
Glycerin ¦ G ¦ 92/30
Rosemary essential oil ¦ ROS ¦ 1/3''', batch=3000, note='two waters, two lines; potassium hydroxide, never sodium hydroxide')
# 18 cold process soap, groups as headings
xl('savon_froid_lagopede.xlsx', """Savon à froid « Lagopède »|
Ingrédient|g
Corps gras|
Huile d'olive|520
Huile de coco|240
Beurre de karité|120
Huile de tournesol|80
Huile de ricin|40
Lessive|
Soude caustique en perles|137
Eau déminéralisée|300
À la trace|
HE de lavandin|28
Argile verte|15
Total|1480""", bold=[1, 2, 3, 9, 12])
R('plain: French cold process soap, groups as headings', 'savon_froid_lagopede.xlsx', '''Huile d'olive ¦ OL ¦ 520/14.8 ¦
Huile de coco ¦ CO ¦ 240/14.8 ¦
Beurre de karité ¦ SH ¦ 120/14.8 ¦
Huile de tournesol ¦ SU ¦ 80/14.8 ¦
Huile de ricin ¦ CA ¦ 40/14.8 ¦
Soude caustique en perles ¦ /NAOH ¦ 137/14.8 ¦
Eau déminéralisée ¦ W ¦ 300/14.8 ¦
HE de lavandin ¦ /lavandin-essential-oil ¦ 28/14.8 ¦
Argile verte ¦ french-green-clay|? ¦ 15/14.8 ¦''', batch=1480, note='"Corps gras" and "Lessive" head groups, they are no materials')
# 19 Dutch lip tint, INCI beside
xl('liptint_rotgans.xlsx', """Nederlandse naam|INCI|%|g voor 12 hulsjes
Ricinusolie|Ricinus Communis Seed Oil|40|24
Jojobaolie|Simmondsia Chinensis Seed Oil|20|12
Candelillawas|Euphorbia Cerifera Cera|12|7.2
Cacaoboter|Theobroma Cacao Seed Butter|10|6
Lanoline|Lanolin|8|4.8
IJzeroxide rood|CI 77491|5|3
Mica|Mica|4|2.4
Vitamine E|Tocopherol|1|0.6
Totaal||100|60""", bold=[1, 10])
R('plain: Dutch lip tint with a CI number', 'liptint_rotgans.xlsx', '''Ricinusolie ¦ CA ¦ 40
Jojobaolie ¦ JO ¦ 20
Candelillawas ¦ CAN ¦ 12
Cacaoboter ¦ CB ¦ 10
Lanoline ¦ /lanolin-anhydrous ¦ 8
IJzeroxide rood ~ CI 77491 ¦ /iron-oxide-red ¦ 5
Mica ¦ mica ¦ 4
Vitamine E ¦ VE ¦ 1''', recipes=1, note='CI 77491 is red iron oxide, not the red clay')
# ---- plain: prices and stock
# 20 English price list with the price of a kilogram beside
cs('rowan_lane_prices.csv', """Material¦Pack¦Price (GBP)¦Price per kg (GBP)
Cetearyl alcohol¦1 kg¦9.80¦9.80
Shea butter¦500 g¦6.25¦12.50
Sodium benzoate¦250 g¦3.40¦13.60
Stearic acid¦2 kg¦11.00¦5.50
Candelilla wax¦200 g¦7.90¦39.50
Niacinamide¦100 g¦4.15¦41.50""")
P('plain: price of the pack and of a kilogram', 'rowan_lane_prices.csv', '''Cetearyl alcohol ¦ CAL ¦ 9.80 GBP 1000
Shea butter ¦ SH ¦ 6.25 GBP 500
Sodium benzoate ¦ SB ¦ 3.40 GBP 250
Stearic acid ¦ SA ¦ 11 GBP 2000
Candelilla wax ¦ CAN ¦ 7.90 GBP 200
Niacinamide ¦ NIA ¦ 4.15 GBP 100''', note='the price of a kilogram is the same price told twice')
# 21 German price list, VAT rate beside, number of the article last
xl('Preisliste_Erlenhof.xlsx', """Erlenhof Rohstoffe – Preisliste Winter 2026||||
Bezeichnung|Gebinde|Netto|USt.|Art.-Nr.
Rapsöl|5 l|e:18.9|p:19|40017
Bienenwachs|1 kg|e:21.5|p:19|40022
Kakaobutter|500 g|e:9.95|p:19|40031
Xanthan|250 g|e:7.2|p:19|40044
Zitronensäure, wasserfrei|2 kg|e:8.4|p:19|40058
Rizinusöl|1 l|e:7.75|p:19|40063""", bold=[1, 2])
P('plain: German price list, rate of tax beside', 'Preisliste_Erlenhof.xlsx', '''Rapsöl ¦ RAP ¦ 18.90 EUR 5000 ml
Bienenwachs ¦ BW ¦ 21.50 EUR 1000
Kakaobutter ¦ CB ¦ 9.95 EUR 500
Xanthan ¦ /XG ¦ 7.20 EUR 250
Zitronensäure, wasserfrei ¦ CAA ¦ 8.40 EUR 2000
Rizinusöl ¦ CA ¦ 7.75 EUR 1000 ml''', note='19 % and the number of the article are no prices')
# 22 French stock
cs('stock_remise.csv', """Produit¦Lot¦Reçu le¦À utiliser avant¦Reste (g)
Huile d'olive¦HO-260¦12/03/2026¦30/09/2027¦3400
Beurre de karité¦BK-118¦04/05/2026¦31/05/2028¦1250
Glycérine¦GL-077¦04/05/2026¦31/05/2029¦2100
Acide stéarique¦AS-031¦21/01/2026¦31/01/2030¦640
Benzoate de sodium¦BS-009¦21/01/2026¦31/12/2028¦180""", sep=';')
P('plain: French stock', 'stock_remise.csv', '''Huile d'olive ¦ OL ¦ ¦ HO-260
Beurre de karité ¦ SH ¦ ¦ BK-118
Glycérine ¦ G ¦ ¦ GL-077
Acide stéarique ¦ SA ¦ ¦ AS-031
Benzoate de sodium ¦ SB ¦ ¦ BS-009''', note='3400, 1250, 2100, 640, 180 g; the first day is when it came')
# 23 Dutch stock, amounts as words
xl('voorraad_zolder.xlsx', """Naam|Voorraad|THT|Partijnummer|Plank
Zonnebloemolie|4,5 l|d:2027-08-31|ZO-205|A
Sheaboter|1,2 kg|d:2028-02-29|SB-144|A
Bijenwas|750 g|d:2031-12-31|BW-016|B
Cetylalcohol|900 g|d:2029-06-30|CA-052|B
Citroenzuur, watervrij|3 kg|d:2029-11-30|CZ-087|C""", bold=[1])
P('plain: Dutch stock, amounts with their units', 'voorraad_zolder.xlsx', '''Zonnebloemolie ¦ SU ¦ ¦ ZO-205
Sheaboter ¦ SH ¦ ¦ SB-144
Bijenwas ¦ BW ¦ ¦ BW-016
Cetylalcohol ¦ CEA ¦ ¦ CA-052
Citroenzuur, watervrij ¦ /CAA ¦ ¦ CZ-087''', note='4500 ml, 1200 g, 750 g, 900 g, 3000 g')
# 24 Italian price list
od('listino_torrazza.ods', """Codice|Descrizione|Formato|Prezzo
T101|Olio di ricino|1 l|e:8.6
T104|Burro di karité|1 kg|e:11.9
T110|Cera d'api|500 g|e:10.4
T122|Bicarbonato di sodio|5 kg|e:9.5
T125|Acido stearico|1 kg|e:5.8
T140|Urea|1 kg|e:4.95""")
P('plain: Italian price list', 'listino_torrazza.ods', '''Olio di ricino ¦ CA ¦ 8.60 EUR 1000 ml
Burro di karité ¦ SH ¦ 11.90 EUR 1000
Cera d'api ¦ BW ¦ 10.40 EUR 500
Bicarbonato di sodio ¦ BIC ¦ 9.50 EUR 5000
Acido stearico ¦ SA ¦ 5.80 EUR 1000
Urea ¦ urea ¦ 4.95 EUR 1000''')
# 25 Spanish stock
cs('existencias_taller_noviembre.csv', """Materia prima¦Lote¦Cantidad¦Unidad¦Caduca
Aceite de oliva¦AO-31¦6¦kg¦30/06/2027
Manteca de cacao¦MC-14¦850¦g¦28/02/2028
Cera de abejas¦CA-09¦1,4¦kg¦31/12/2031
Almidón de maíz¦AM-22¦2,5¦kg¦31/03/2028
Sorbato de potasio¦SP-05¦140¦g¦31/10/2028""", sep=';')
P('plain: Spanish stock', 'existencias_taller_noviembre.csv', '''Aceite de oliva ¦ OL ¦ ¦ AO-31
Manteca de cacao ¦ CB ¦ ¦ MC-14
Cera de abejas ¦ /BW ¦ ¦ CA-09
Almidón de maíz ¦ STA ¦ ¦ AM-22
Sorbato de potasio ¦ PS ¦ ¦ SP-05''', note='6000, 850, 1400, 2500, 140 g')
# ---- plain: materials
# 26 Polish
xl('surowce_spis.xlsx', """Nazwa|INCI|CAS|Postać
Olej z czarnuszki|Nigella Sativa Seed Oil|90064-32-7|płyn
Alkohol behenylowy|Behenyl Alcohol|661-19-8|granulki
Kwas jabłkowy|Malic Acid|6915-15-7|proszek
Glukonolakton|Gluconolactone|90-80-2|proszek
Masło kokum|Garcinia Indica Seed Butter|-|bloczek
Olej z nasion rokitnika|Hippophae Rhamnoides Seed Oil|90106-68-6|płyn
Kwas bursztynowy|Succinic Acid|110-15-6|proszek""", bold=[1])
M('plain: Polish names, INCI, CAS', 'surowce_spis.xlsx', '''Olej z czarnuszki ¦ /black-cumin-seed-oil
Alkohol behenylowy ¦ /behenyl-alcohol
Kwas jabłkowy ¦ /malic-acid
Glukonolakton ¦ /gluconolactone
Masło kokum ¦ /kokum-butter
Olej z nasion rokitnika ¦ NEW
Kwas bursztynowy ¦ /succinic-acid''', note='the oil of the seeds of sea buckthorn is not that of its fruit')
# 27 English, INCI first
tx('cupboard_register.md', """
# What is in the cupboard

| INCI | What we call it | Where |
|---|---|---|
| Cetearyl Olivate, Sorbitan Olivate | olive emulsifier | shelf 2 |
| Sodium Gluconate | chelator | shelf 1 |
| Camellia Oleifera Seed Oil | camellia oil | fridge |
| Copernicia Cerifera Cera | carnauba | shelf 3 |
| Trehalose | trehalose | shelf 1 |
| Rubus Fruticosus Seed Oil | bramble seed oil | fridge |
| Sambucus Nigra Flower Water | elderflower water | fridge |
""")
M('plain: INCI and what it is called in the house', 'cupboard_register.md', '''olive emulsifier ~ Cetearyl Olivate, Sorbitan Olivate ¦ /OLI
chelator ~ Sodium Gluconate ¦ /sodium-gluconate
camellia oil ~ Camellia Oleifera Seed Oil ¦ camellia-seed-oil|?|new|camellia-oil
carnauba ~ Copernicia Cerifera Cera ¦ /carnauba-wax
trehalose ~ Trehalose ¦ trehalose-powder|?
bramble seed oil ~ Rubus Fruticosus Seed Oil ¦ new|?|bramble-seed-oil|rubus-fruticosus-seed-oil
elderflower water ~ Sambucus Nigra Flower Water ¦ new|?|elderflower-water|sambucus-nigra-flower-water''', note='bramble is not raspberry (Rubus Idaeus)')
# 28 Italian, with the strength
cs('materie_prime_concentrazione.csv', """Materia prima¦INCI¦Concentrazione
Coco-betaina¦Coco-Betaine¦31 %
Acido glicolico¦Glycolic Acid¦70 %
Sodio lattato¦Sodium Lactate¦60 %
Idrossido di sodio in soluzione¦Sodium Hydroxide¦20 %
Glicerina¦Glycerin¦86 %
Estratto di genziana¦Gentiana Lutea Root Extract¦""", sep=';')
M('plain: Italian list with the concentration', 'materie_prime_concentrazione.csv', '''Coco-betaina ¦ /coco-betaine-solution-31
Acido glicolico ¦ /glycolic-acid-70
Sodio lattato ¦ /sodium-lactate-solution-60
Idrossido di sodio in soluzione ¦ /sodium-hydroxide-solution-20
Glicerina ¦ /glycerin-86
Estratto di genziana ¦ NEW''', note='another strength in silence is wrong')
# 29 Dutch
od('grondstoffen_kast.ods', """Naam|INCI|Functie
Abrikozenpitolie|Prunus Armeniaca Kernel Oil|olie
Sorbitanlauraat|Sorbitan Laurate|emulgator
Glycerylcaprylaat|Glyceryl Caprylate|bewaarhulp
Actieve kool|Charcoal Powder|kleur
Havermeel, colloïdaal|Avena Sativa Kernel Flour|verzachter
Duindoornbladextract|Hippophae Rhamnoides Leaf Extract|extract
Lijsterbeswater|Sorbus Aucuparia Fruit Water|hydrolaat""")
M('plain: Dutch names with INCI', 'grondstoffen_kast.ods', '''Abrikozenpitolie ¦ apricot-kernel-oil|?
Sorbitanlauraat ¦ /sorbitan-laurate
Glycerylcaprylaat ¦ /glyceryl-caprylate
Actieve kool ¦ /activated-charcoal
Havermeel, colloïdaal ~ Havermeel ¦ /colloidal-oat-flour
Duindoornbladextract ¦ NEW
Lijsterbeswater ¦ NEW''')
# 30 German, with what it is for
xl('Rohstoffliste_Chemiker.xlsx', """Nr.|Stoff|INCI-Bezeichnung|CAS-Nr.|Bemerkung
1|Milchsäure 80 %|Lactic Acid|79-33-4|
2|Natriumphytat, Lösung 50 %|Sodium Phytate|14306-25-3|Komplexbildner
3|Dinatrium-EDTA-Dihydrat|Disodium EDTA|6381-92-6|
4|Sorbitanstearat|Sorbitan Stearate|1338-41-6|
5|Wollwachsalkohole|Lanolin Alcohol|8027-33-6|
6|Bittersalz|Magnesium Sulfate|10034-99-8|Heptahydrat
7|Kieselgur|Diatomaceous Earth|61790-53-2|
8|Schafgarbenwasser|Achillea Millefolium Flower Water||selbst gebrannt""", bold=[1])
M("plain: a chemist's German list", 'Rohstoffliste_Chemiker.xlsx', '''Milchsäure 80 % ¦ /LA80
Natriumphytat, Lösung 50 % ~ Natriumphytat ¦ /sodium-phytate-solution-50
Dinatrium-EDTA-Dihydrat ¦ /disodium-edta-dihydrate
Sorbitanstearat ¦ /sorbitan-stearate
Wollwachsalkohole ¦ /lanolin-alcohol
Bittersalz ¦ /EPS
Kieselgur ¦ diatomaceous-earth|?
Schafgarbenwasser ¦ NEW''', note='the water of yarrow is not its extract; wool wax alcohols are not wool wax')
# ====================================================================== usual: recipes
# 31 one workbook for ten years, one product a sheet
xl('cahier_dix_ans.xlsx', {'2017 baume lèvres': """Baume à lèvres (2017)|
Ingrédient|g
Huile de ricin|35
Beurre de cacao|25
Cire d'abeille|20
Huile de jojoba|19
Vitamine E|1
Total|100""", '2021 lait corps': """Lait corps (2021)||
Phase|Ingrédient|%
A|Eau déminéralisée|72.6
A|Glycérine|4
A|Gomme xanthane|0.3
B|Huile de colza|12
B|Stéarate de glycéryle SE|6
B|Alcool cétylique|3
C|Phénoxyéthanol|0.9
C|HE de lavande|0.7
C|Vitamine E|0.5
|Total|100""", '2026 huile sèche': """Huile sèche (2026)||
INCI|Nom|%
Caprylic/Capric Triglyceride|Triglycérides caprylique/caprique|45
Coco-Caprylate|Coco-caprylate|30
Prunus Amygdalus Dulcis Oil|Huile d'amande douce|20
Squalane|Squalane|4
Tocopherol|Vitamine E|0.5
Citrus Aurantium Amara Flower Oil|HE de néroli|0.5
|Total|100"""}, active=2, bold=[1, 2])
R('usual: one workbook for ten years', 'cahier_dix_ans.xlsx', '''Huile de ricin ¦ CA ¦ 35
Beurre de cacao ¦ CB ¦ 25
Cire d'abeille ¦ BW ¦ 20
Huile de jojoba ¦ JO ¦ 19
Vitamine E ¦ VE ¦ 1
Eau déminéralisée ¦ W ¦ 72.6
Glycérine ¦ G ¦ 4
Gomme xanthane ¦ XG ¦ 0.3
Huile de colza ¦ RAP ¦ 12 ¦ B
Stéarate de glycéryle SE ¦ /GSE ¦ 6 ¦ B
Alcool cétylique ¦ CEA ¦ 3 ¦ B
Phénoxyéthanol ¦ PHE ¦ 0.9 ¦ C
HE de lavande ¦ /LAV ¦ 0.7 ¦ C
Vitamine E ¦ VE ¦ 0.5 ¦ C
Triglycérides caprylique/caprique ~ Caprylic/Capric Triglyceride ¦ /MCT ¦ 45
Coco-caprylate ¦ coco-caprylate ¦ 30
Huile d'amande douce ~ Prunus Amygdalus Dulcis Oil ¦ AL ¦ 20
Squalane ¦ /SQ ¦ 4
Vitamine E ~ Tocopherol ¦ VE ¦ 0.5
HE de néroli ~ Citrus Aurantium Amara Flower Oil ¦ /neroli-essential-oil ¦ 0.5''', all=True, recipes=3, note='three products; the years are no amounts')
# 32 two skins in two columns, decimal commas as words
xl('crema_viso_due_pelli.xlsx', """Fase|Ingrediente|INCI|Pelle secca %|Pelle grassa %
A|Acqua distillata|Aqua|'66,2|'74,3
A|Glicerina|Glycerin|'5|'3
A|Gomma xantana|Xanthan Gum|'0,3|'0,4
B|Olio di avocado|Persea Gratissima Oil|'10|
B|Olio di vinaccioli|Vitis Vinifera Seed Oil||'8
B|Burro di karité|Butyrospermum Parkii Butter|'5|'2
B|Gliceril stearato citrato|Glyceryl Stearate Citrate|'5|'5
B|Alcol cetearilico|Cetearyl Alcohol|'4|'3
C|Niacinamide|Niacinamide|'2|'3
C|Vitamina E|Tocopherol|'1|'0,2
C|Fenossietanolo|Phenoxyethanol|'0,9|'0,9
C|Olio essenziale di geranio|Pelargonium Graveolens Oil|'0,6|'0,2
|Totale||'100|'100""", bold=[1])
R('usual: two skins in two columns, decimal commas as words', 'crema_viso_due_pelli.xlsx', '''Acqua distillata ¦ W ¦ 66.2
Glicerina ¦ G ¦ 5
Gomma xantana ¦ XG ¦ 0.3
Olio di avocado ¦ AVO ¦ 10 ¦ B
Burro di karité ¦ SH ¦ 5 ¦ B
Gliceril stearato citrato ¦ /GSC ¦ 5 ¦ B
Alcol cetearilico ¦ CAL ¦ 4 ¦ B
Niacinamide ¦ NIA ¦ 2 ¦ C
Vitamina E ¦ VE ¦ 1 ¦ C
Fenossietanolo ¦ PHE ¦ 0.9 ¦ C
Olio essenziale di geranio ¦ geranium-essential-oil|? ¦ 0.6 ¦ C
Acqua distillata ¦ W ¦ 74.3
Glicerina ¦ G ¦ 3
Gomma xantana ¦ XG ¦ 0.4
Olio di vinaccioli ¦ GRA ¦ 8 ¦ B
Burro di karité ¦ SH ¦ 2 ¦ B
Gliceril stearato citrato ¦ /GSC ¦ 5 ¦ B
Alcol cetearilico ¦ CAL ¦ 3 ¦ B
Niacinamide ¦ NIA ¦ 3 ¦ C
Vitamina E ¦ VE ¦ 0.2 ¦ C
Fenossietanolo ¦ PHE ¦ 0.9 ¦ C
Olio essenziale di geranio ¦ geranium-essential-oil|? ¦ 0.2 ¦ C''', all=True, recipes=2, note='dry and oily skin; what is empty is not in that one')
# 33 merged cells for the phases, cells of per cent
xl('balsam_do_ciala_gasiorek.xlsx', """Balsam do ciała „Gąsiorek”|||
Faza|Składnik|Udział|Na 400 g
wodna|Woda demineralizowana|p:70.4|281.6
|Gliceryna|p:5|20
|Mocznik|p:3|12
tłuszczowa|Olej rzepakowy|p:9|36
|Stearynian glicerolu SE|p:6|24
|Masło shea|p:3|12
|Alkohol cetylowy|p:2|8
końcowa|Fenoksyetanol|p:0.9|3.6
|Witamina E|p:0.4|1.6
|Olejek lawendowy|p:0.3|1.2
|Razem|p:100|400""", merge=['A1:D1', 'A3:A5', 'A6:A9', 'A10:A12'], bold=[1, 2, 13])
R('usual: merged phases, cells of per cent', 'balsam_do_ciala_gasiorek.xlsx', '''Woda demineralizowana ¦ W ¦ 70.4 ¦
Gliceryna ¦ G ¦ 5 ¦
Mocznik ¦ urea ¦ 3 ¦
Olej rzepakowy ¦ RAP ¦ 9 ¦
Stearynian glicerolu SE ¦ /GSE ¦ 6 ¦
Masło shea ¦ SH ¦ 3 ¦
Alkohol cetylowy ¦ CEA ¦ 2 ¦
Fenoksyetanol ¦ PHE ¦ 0.9 ¦
Witamina E ¦ VE ¦ 0.4 ¦
Olejek lawendowy ¦ /LAV ¦ 0.3 ¦''', recipes=1, note='the cells hold 0.704 and show 70.40%')
# 34 two batches, grams and kilograms, no per cent
od('body_butter_two_batches.ods', """Whipped body butter "Goldcrest"||
Ingredient|Trial (g)|Market day (kg)
Shea butter|90|0.9
Mango butter|60|0.6
Coconut oil|60|0.6
Sweet almond oil|54|0.54
Arrowroot powder|24|0.24
Candelilla wax|6|0.06
Vitamin E|3|0.03
Tangerine essential oil|3|0.03
Total|300|3""")
R('usual: two batches in grams and kilograms, no per cent', 'body_butter_two_batches.ods', '''Shea butter ¦ SH ¦ 30
Mango butter ¦ MAN ¦ 20
Coconut oil ¦ CO ¦ 20
Sweet almond oil ¦ AL ¦ 18
Arrowroot powder ¦ arrowroot-powder ¦ 8
Candelilla wax ¦ CAN ¦ 2
Vitamin E ¦ VE ¦ 1
Tangerine essential oil ¦ tangerine-essential-oil|? ¦ 1''', note='the shares are the same in both; the two columns are never added up')
# 35 what the data sheet allows beside what is in the recipe
xl('Tagespflege_Datenblatt.xlsx', """Tagespflege Gartenrotschwanz||||
Phase|Rohstoff|Einsatz lt. Datenblatt|Rezept %|g
A|Wasser, destilliert|–|73.3|146.6
A|Glycerin|2–10 %|4|8
A|Xanthan|0,1–1 %|0.3|0.6
B|Traubenkernöl|bis 100 %|10|20
B|Cetearylolivat und Sorbitanolivat|3–8 %|5|10
B|Sheabutter|1–20 %|3|6
B|Cetylalkohol|1–5 %|2|4
C|Phenoxyethanol|0,5–1 %|0.9|1.8
C|Bisabolol|0,1–1 %|0.5|1
C|Vitamin E|0,1–1 %|0.5|1
C|Lavendelöl|max. 1 %|0.5|1
|Summe||100|200""", bold=[1, 2, 14])
R('usual: the range of the data sheet beside the recipe', 'Tagespflege_Datenblatt.xlsx', '''Wasser, destilliert ¦ W ¦ 73.3
Glycerin ¦ G ¦ 4
Xanthan ¦ XG ¦ 0.3
Traubenkernöl ¦ GRA ¦ 10 ¦ B
Cetearylolivat und Sorbitanolivat ¦ /OLI ¦ 5 ¦ B
Sheabutter ¦ SH ¦ 3 ¦ B
Cetylalkohol ¦ CEA ¦ 2 ¦ B
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Bisabolol ¦ bisabolol ¦ 0.5 ¦ C
Vitamin E ¦ VE ¦ 0.5 ¦ C
Lavendelöl ¦ /LAV ¦ 0.5 ¦ C''', recipes=1, batch=200, note='the range of the data sheet is no amount of the recipe')
# 36 supplier, pack and costs before the amounts
xw('zoutscrub_kostprijs.xlsx', """Grondstof|Leverancier|Verpakking|Prijs|€/kg|%|g op 1 kg|Kosten
Zeezout|Zoutkade|5 kg|e:6|f:=D2/5;1.2|60|600|f:=E2*G2/1000;0.72
Zonnebloemolie|De Oliehoek|5 kg|e:15|f:=D3/5;3|20|200|f:=E3*G3/1000;0.6
Zoete amandelolie|De Oliehoek|1 kg|e:9.5|f:=D4/1;9.5|12|120|f:=E4*G4/1000;1.14
Polysorbaat 80|Atelier Wilg|1 kg|e:8|f:=D5/1;8|5|50|f:=E5*G5/1000;0.4
Glycerine|Atelier Wilg|5 kg|e:20|f:=D6/5;4|1|10|f:=E6*G6/1000;0.04
Vitamine E|Atelier Wilg|100 g|e:4.5|f:=D7*10;45|1|10|f:=E7*G7/1000;0.45
Etherische citroengrasolie|De Oliehoek|100 g|e:7|f:=D8*10;70|1|10|f:=E8*G8/1000;0.7
Totaal|||||f:=SUM(F2:F8);100|f:=SUM(G2:G8);1000|f:=SUM(H2:H8);4.05
Kostprijs per pot van 200 g|||||||f:=H9/5;0.81""")
R('usual: supplier, pack and costs before the amounts', 'zoutscrub_kostprijs.xlsx', '''Zeezout ¦ /sea-salt ¦ 60
Zonnebloemolie ¦ SU ¦ 20
Zoete amandelolie ¦ AL ¦ 12
Polysorbaat 80 ¦ P80 ¦ 5
Glycerine ¦ G ¦ 1
Vitamine E ¦ VE ¦ 1
Etherische citroengrasolie ¦ /lemongrass-essential-oil ¦ 1''', recipes=1, note='it is a recipe with its costs, no price list; the price of the pot is no line')
# 37 a Spanish mail
tx('Re_crema_de_pies.eml', """
From: Inma <inma@tallerretama.example>
To: Rocío <rocio@tallerretama.example>
Subject: Re: crema de pies
Date: Tue, 10 Nov 2026 21:14:09 +0100
MIME-Version: 1.0
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: 8bit

Hola, Rocío:

Te copio la crema de pies tal como la hago yo, sale medio kilo justo:

agua destilada: 340 g
urea: 50 g
glicerina: 25 g
aceite de girasol: 35 g
estearato de glicerilo SE: 25 g
manteca de karité: 15 g
fenoxietanol: 4,5 g
aceite esencial de menta piperita: 3 g
mentol en cristales: 2,5 g

Calienta las dos partes a 72 grados y bate 4 minutos. Me salen 10 tubos.

Un abrazo,
Inma
Tel. 000 000 000
""", crlf=True)
R('usual: a Spanish mail', 'Re_crema_de_pies.eml', '''agua destilada ¦ W ¦ 68 ¦
urea ¦ urea ¦ 10 ¦
glicerina ¦ G ¦ 5 ¦
aceite de girasol ¦ SU ¦ 7 ¦
estearato de glicerilo SE ¦ /GSE ¦ 5 ¦
manteca de karité ¦ SH ¦ 3 ¦
fenoxietanol ¦ PHE ¦ 0.9 ¦
aceite esencial de menta piperita ¦ /peppermint-essential-oil ¦ 0.6 ¦
mentol en cristales ¦ /menthol-crystals ¦ 0.5 ¦''', batch=500, note='degrees, minutes, tubes and the telephone are no lines')
# 38 a German page with steps and comments
ht('Bodybutter_Grauschnaepper.html', """
<nav>Start | Rezepte | Über mich</nav>
<h1>Feste Körperbutter Grauschnäpper</h1>
<p>Veröffentlicht am 12. Oktober 2026, 7 Kommentare</p>
<p>Ergibt 300 g, also 3 Tiegel.</p>
<h2>Zutaten</h2>
<ul>
<li><b>120&nbsp;g</b> Sheabutter</li>
<li><b>60&nbsp;g</b> Kokos&ouml;l</li>
<li><b>60&nbsp;g</b> Mandel&ouml;l</li>
<li><b>30&nbsp;g</b> Bienenwachs</li>
<li><b>24&nbsp;g</b> Maisst&auml;rke</li>
<li><b>3&nbsp;g</b> Vitamin E</li>
<li><b>3&nbsp;g</b> Palmarosa&ouml;l</li>
</ul>
<h2>Zubereitung</h2>
<ol>
<li>Wachs und Butter bei 70&nbsp;°C schmelzen.</li>
<li>St&auml;rke einr&uuml;hren, unter 40&nbsp;°C Vitamin E und Duft dazu.</li>
</ol>
<h2>Kommentare</h2>
<p>Heide: Bei mir nur 20 g Bienenwachs, dann wird sie weicher.</p>
<p>&copy; 2026</p>""", 'Feste Körperbutter')
R('usual: a German page with steps and comments', 'Bodybutter_Grauschnaepper.html', '''Sheabutter ¦ SH ¦ 40
Kokosöl ¦ CO ¦ 20
Mandelöl ¦ /AL ¦ 20
Bienenwachs ¦ BW ¦ 10
Maisstärke ¦ STA ¦ 8
Vitamin E ¦ VE ¦ 1
Palmarosaöl ¦ /palmarosa-essential-oil ¦ 1''', batch=300, note="Heide's 20 g of wax are no line")
# 39 French notes in markdown, one range
tx('apres_rasage_traquet.md', """
# Gel après-rasage Traquet

## Phase A

- Hydrolat d'hamamélis : 45 %
- Eau déminéralisée : 42,1 %
- Glycérine : 4 %
- Gomme xanthane : 0,3 à 0,5 %

## Phase B

- Huile de pépins de raisin : 4 %
- Polysorbate 20 : 2 %
- Menthol cristallisé : 0,3 %

## Phase C

- D-panthénol 75 % : 1 %
- Phénoxyéthanol : 0,9 %
- Acide lactique 80 % : 0,3 %

Refaire avec moins de menthol.
""")
R('usual: French markdown, one range', 'apres_rasage_traquet.md', '''Hydrolat d'hamamélis ¦ /witch-hazel-water ¦ 45
Eau déminéralisée ¦ W ¦ 42.1
Glycérine ¦ G ¦ 4
Gomme xanthane ¦ ?XG|? ¦ -
Huile de pépins de raisin ¦ GRA ¦ 4 ¦ B
Polysorbate 20 ¦ P20 ¦ 2 ¦ B
Menthol cristallisé ¦ /menthol-crystals ¦ 0.3 ¦ B
D-panthénol 75 % ¦ PAN ¦ 1 ¦ C
Phénoxyéthanol ¦ PHE ¦ 0.9 ¦ C
Acide lactique 80 % ¦ LA80 ¦ 0.3 ¦ C''', tol=0.11, note='0.3 to 0.5 % must be asked; with 0.4 all is 100; 75 % and 80 % are the strength')
# 40 99.7 told
cs('conditioner_wagtail_99_7.csv', """Wagtail conditioner¦¦
Ingredient¦%¦Remark
Water¦82.3¦
BTMS-25¦7¦
Glycerin¦3¦
Cetyl alcohol¦3¦
Jojoba oil¦2¦
Hydrolyzed oat protein 20 %¦1¦
Phenoxyethanol¦0.9¦
Geranium essential oil¦0.5¦
Sum¦99.7¦yes, 99.7: the other 0.3 is what I keep for setting the pH""")
R('usual: 99.7 told by the maker', 'conditioner_wagtail_99_7.csv', '''Water ¦ W ¦ 82.3
BTMS-25 ¦ B25 ¦ 7
Glycerin ¦ G ¦ 3
Cetyl alcohol ¦ CEA ¦ 3
Jojoba oil ¦ JO ¦ 2
Hydrolyzed oat protein 20 % ¦ hydrolyzed-oat-protein-20 ¦ 1
Phenoxyethanol ¦ PHE ¦ 0.9
Geranium essential oil ¦ geranium-essential-oil ¦ 0.5''', tol=0.26, recipes=1, note='as they stand or scaled to 100; 99.7 and 0.3 in the remark are no lines')
# 41 slips of typing, glycerin in two phases
cs('szampon_kwiczol_literowki.csv', """Faza¦Surowiec¦%¦Uwagi
A¦Woda destylowana¦48,7¦
A¦Glicerna¦3¦
A¦Guma guar¦0,5¦rozprowadzić w glicerynie
B¦Kokamidopropylobetaina 30 %¦20¦
B¦Sodium Laureth Sufate 28 %¦15¦
B¦Glukozyd laurylowy¦10¦podgrzać do 40 °C
C¦Gliceryna¦1¦z konserwantem
C¦Pantenol 75 %¦1¦
C¦Benzoesan sodowy¦0,5¦
C¦Sorbinian potasu¦0,3¦pH 5,3
¦RAZEM¦100¦""", sep=';', enc='cp1250')
R('usual: slips of typing, glycerin in two phases', 'szampon_kwiczol_literowki.csv', '''Woda destylowana ¦ W ¦ 48.7
Glicerna ¦ /G ¦ 3
Guma guar ¦ /guar-gum ¦ 0.5
Kokamidopropylobetaina 30 % ¦ CAPB30 ¦ 20 ¦ B
Sodium Laureth Sufate 28 % ¦ /SLES28 ¦ 15 ¦ B
Glukozyd laurylowy ¦ /LG ¦ 10 ¦ B
Gliceryna ¦ G ¦ 1 ¦ C
Pantenol 75 % ¦ /PAN ¦ 1 ¦ C
Benzoesan sodowy ¦ /SB ¦ 0.5 ¦ C
Sorbinian potasu ¦ PS ¦ 0.3 ¦ C''', recipes=1, note='glycerin stands in A (misspelt) and in C: two lines')
# ---- usual: prices and stock
# 42 packs in columns, "on request"
xl('thornbury_lane_packs.xlsx', """Thornbury Lane Supplies, prices in GBP without VAT, valid until the end of January||||
Product|250 g|1 kg|5 kg|20 kg
Cetyl alcohol|2.95|8.6|36|on request
Kaolin||2.4|9.5|31
Sodium bicarbonate|||8.75|29.5
Cocoa butter|5.9|19.8|89|
Mango butter|6.4|21.5|99|on request
Empty jar 100 ml, each|0.85|||""", merge=['A1:E1'], bold=[1, 2])
P('usual: packs in columns, on request', 'thornbury_lane_packs.xlsx', '''Cetyl alcohol ¦ /CEA ¦ 2.95 GBP 250;8.60 GBP 1000;36 GBP 5000;- GBP 20000
Kaolin ¦ KAO ¦ 2.40 GBP 1000;9.50 GBP 5000;31 GBP 20000
Sodium bicarbonate ¦ BIC ¦ 8.75 GBP 5000;29.50 GBP 20000
Cocoa butter ¦ CB ¦ 5.90 GBP 250;19.80 GBP 1000;89 GBP 5000
Mango butter ¦ /MAN ¦ 6.40 GBP 250;21.50 GBP 1000;99 GBP 5000;- GBP 20000''', spare=['Empty jar 100 ml, each', 'Empty jar 100 ml', 'Empty jar'], note='"on request" is a pack without a price, which the program keeps as such and says so: a careful person may; the jar is no material')
# 43 net, rate and gross
cs('cennik_netto_brutto.csv', """Ceny dla firm: liczymy netto, brutto tylko dla informacji¦¦¦¦
Surowiec¦Opakowanie¦Cena netto (zł)¦VAT¦Cena brutto (zł)
Masło shea¦1 kg¦41,50¦23 %¦51,05
Olej kokosowy¦5 kg¦98,00¦23 %¦120,54
Kwas cytrynowy bezwodny¦1 kg¦14,00¦23 %¦17,22
Alkohol cetylowy¦500 g¦21,00¦23 %¦25,83
Gliceryna¦1 l¦19,00¦23 %¦23,37""", sep=';')
P('usual: Polish prices, net, rate and gross', 'cennik_netto_brutto.csv', '''Masło shea ¦ SH ¦ 41.50 PLN 1000
Olej kokosowy ¦ CO ¦ 98 PLN 5000
Kwas cytrynowy bezwodny ¦ /CAA ¦ 14 PLN 1000
Alkohol cetylowy ¦ CEA ¦ 21 PLN 500
Gliceryna ¦ G ¦ 19 PLN 1000 ml''', note='the file says that net counts; the gross price in silence is wrong')
# 44 an Italian mail with prices
tx('Offerta_dicembre.eml', """
From: Drogheria Il Cardo <ordini@ilcardo.example>
To: Laboratorio Ghiandaia <info@ghiandaia.example>
Subject: offerta di dicembre
Date: Mon, 23 Nov 2026 09:30:00 +0100
MIME-Version: 1.0
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: 8bit

Buongiorno,

ecco i prezzi validi fino al 31 dicembre, IVA esclusa:

Burro di karité, 1 kg: 10,90 €
Olio di cocco, 5 kg: 27,50 €
Cera d'api, 1 kg: 18,40 €
Acido stearico, 1 kg: 5,20 €
Olio di girasole, 5 l: 16,00 €

Spedizione 7,50 €, gratis da 120 €.

Cordiali saluti
Drogheria Il Cardo
""", crlf=True)
P('usual: an Italian mail with prices', 'Offerta_dicembre.eml', '''Burro di karité ~ Burro di karité, 1 kg ¦ SH ¦ 10.90 EUR 1000
Olio di cocco ~ Olio di cocco, 5 kg ¦ CO ¦ 27.50 EUR 5000
Cera d'api ~ Cera d'api, 1 kg ¦ BW ¦ 18.40 EUR 1000
Acido stearico ~ Acido stearico, 1 kg ¦ SA ¦ 5.20 EUR 1000
Olio di girasole ~ Olio di girasole, 5 l ¦ SU ¦ 16 EUR 5000 ml''', spare=['Spedizione', 'Spedizione 7,50 €, gratis da'], note='carriage is no material')
# 45 stock, two lots, the day of opening, words beside
xl('Bestand_Waschkueche.xlsx', """Bestand Waschküche, gezählt am 22.11.2026||||||
Rohstoff|Charge|Bestand|Einheit|Angebrochen|MHD|Bemerkung
Sonnenblumenöl|SO-611|3.2|kg|d:2026-10-04|d:2027-07-31|zuerst nehmen
Sonnenblumenöl|SO-702|5|kg||d:2028-01-31|
Glycerin|GL-310|900|g|d:2026-05-18|d:2029-03-31|
Kokosöl|KO-120|2.5|kg|d:2026-11-02|d:2028-04-30|2 Eimer
Natriumbenzoat|NB-045|350|g|d:2025-12-01|d:2028-12-31|
Lanolin|LA-018|600|g||d:2028-09-30|Mindestmenge 250 g""", merge=['A1:G1'], bold=[1, 2])
P('usual: German stock, two lots, the day of opening', 'Bestand_Waschkueche.xlsx', '''Sonnenblumenöl ¦ SU ¦ ¦ SO-611
Sonnenblumenöl ¦ SU ¦ ¦ SO-702
Glycerin ¦ G ¦ ¦ GL-310
Kokosöl ¦ CO ¦ ¦ KO-120
Natriumbenzoat ¦ SB ¦ ¦ NB-045
Lanolin ¦ /lanolin-anhydrous ¦ ¦ LA-018''', note='3200, 5000, 900, 2500, 350, 600 g; the day of opening is no best before; 250 g is a minimum')
# 46 a French order on a page
ht('commande_F2211.html', """
<h2>Merci pour votre commande F-2211 !</h2>
<p>Passée le 20 novembre 2026, livraison prévue le 26.</p>
<table>
<tr><th>Désignation</th><th>Conditionnement</th><th>Qté</th><th>P.U. TTC</th><th>Total TTC</th></tr>
<tr><td>Beurre de cacao</td><td>1&nbsp;kg</td><td>2</td><td>17,40&nbsp;€</td><td>34,80&nbsp;€</td></tr>
<tr><td>Huile de ricin</td><td>500&nbsp;ml</td><td>3</td><td>5,90&nbsp;€</td><td>17,70&nbsp;€</td></tr>
<tr><td>Cire de candelilla</td><td>250&nbsp;g</td><td>1</td><td>8,10&nbsp;€</td><td>8,10&nbsp;€</td></tr>
<tr><td>Acide stéarique</td><td>1&nbsp;kg</td><td>2</td><td>6,20&nbsp;€</td><td>12,40&nbsp;€</td></tr>
<tr><td colspan="4">Frais de port</td><td>6,90&nbsp;€</td></tr>
<tr><td colspan="4">Total</td><td>79,90&nbsp;€</td></tr>
<tr><td colspan="4">dont TVA</td><td>13,32&nbsp;€</td></tr>
</table>""", 'Commande F-2211')
P('usual: a French order on a page', 'commande_F2211.html', '''Beurre de cacao ¦ CB ¦ 17.40 EUR 1000
Huile de ricin ¦ CA ¦ 5.90 EUR 500 ml
Cire de candelilla ¦ CAN ¦ 8.10 EUR 250
Acide stéarique ¦ SA ¦ 6.20 EUR 1000''', spare=['Frais de port', 'dont TVA'], note='the price of one, not of all that were ordered; carriage and tax are no materials')
# ---- usual: materials
# 47 French, strength beside
xl('matieres_teneur.xlsx', """Matière|INCI|Teneur|Rangée
Cocamidopropyl bétaïne|Cocamidopropyl Betaine|38 %|basse
Acide lactique|Lactic Acid|90 %|haute
Lessive de potasse|Potassium Hydroxide|20 %|sous clé
Gluconate de sodium|Sodium Gluconate|poudre|haute
Hydroxyéthylurée|Hydroxyethyl Urea|50 %|haute
Extrait de sureau|Sambucus Nigra Fruit Extract|maison|cave""", bold=[1])
M('usual: French list with the strength', 'matieres_teneur.xlsx', '''Cocamidopropyl bétaïne ¦ /cocamidopropyl-betaine-solution-38
Acide lactique ¦ /lactic-acid-90
Lessive de potasse ¦ /potassium-hydroxide-solution-20
Gluconate de sodium ¦ /sodium-gluconate
Hydroxyéthylurée ¦ /hydroxyethyl-urea-solution-50
Extrait de sureau ¦ new|?|extrait-de-sureau|sambucus-nigra-fruit-extract''', note='another strength in silence is wrong: 90 % lactic acid, potash lye of 20 %')
# 48 trade words and INCI of blends
cs('emulsifiers_and_friends.csv', """What we say¦INCI¦What it does
Emulsifier (soft)¦Glyceryl Stearate (and) PEG-100 Stearate¦o/w
Emulsifier (rich)¦Cetearyl Alcohol (and) Cetearyl Glucoside¦o/w
Usual preservative¦Benzyl Alcohol, Dehydroacetic Acid¦keeps
Solubiliser¦PEG-40 Hydrogenated Castor Oil¦for scents
Slip¦Dicaprylyl Ether¦light
Rowan extract¦Sorbus Aucuparia Fruit Extract¦own""")
M('usual: trade words with the INCI of blends', 'emulsifiers_and_friends.csv', '''Emulsifier (soft) ~ Emulsifier ~ Glyceryl Stearate (and) PEG-100 Stearate ¦ glyceryl-stearate-and-peg-100-stearate|?|new|emulsifier-soft
Emulsifier (rich) ~ Emulsifier ~ Cetearyl Alcohol (and) Cetearyl Glucoside ¦ cetearyl-glucoside-and-cetearyl-alcohol|?|new|emulsifier-rich
Usual preservative ~ Benzyl Alcohol, Dehydroacetic Acid ¦ benzyl-alcohol-and-dehydroacetic-acid-blend|?|new|usual-preservative
Solubiliser ~ PEG-40 Hydrogenated Castor Oil ¦ peg-40-hydrogenated-castor-oil|?|new|solubiliser
Slip ~ Dicaprylyl Ether ¦ dicaprylyl-ether|?|new|slip
Rowan extract ~ Sorbus Aucuparia Fruit Extract ¦ NEW''', note='never the first part of a blend alone: glyceryl stearate, cetearyl alcohol or benzyl alcohol')
# 49 Spanish, dose and remarks beside
xl('fichas_materias_dosis.xlsx', """Materia prima|INCI|Dosis|Soluble en|Observaciones
Ácido mandélico|Mandelic Acid|2–10 %|agua|pH 3,5
Aceite de onagra|Oenothera Biennis Oil|1–20 %|aceite|nevera
Oleato de sorbitano|Sorbitan Oleate|1–5 %|aceite|
Goma tara|Caesalpinia Spinosa Gum|0,2–1 %|agua|
Cera de salvado de arroz|Oryza Sativa Cera|2–15 %|aceite|funde a 80 °C
Hidrolato de jara|Cistus Ladaniferus Flower Water|hasta 100 %|agua|destilado propio""", bold=[1])
M('usual: Spanish list with doses', 'fichas_materias_dosis.xlsx', '''Ácido mandélico ¦ /mandelic-acid
Aceite de onagra ¦ /evening-primrose-oil
Oleato de sorbitano ¦ /sorbitan-oleate
Goma tara ¦ /tara-gum
Cera de salvado de arroz ¦ /rice-bran-wax
Hidrolato de jara ¦ NEW''', note='the water of rock rose is not the oil of cistus; the doses are no amounts of a recipe')
# 50 German, INCI and CAS, no names
cs('inci_cas_lager.csv', """INCI¦CAS¦Lagerort
Isopropyl Myristate¦110-27-0¦R1
Cetyl Palmitate¦540-10-3¦R1
Sodium Lauryl Sulfoacetate¦1847-58-1¦R2
Zinc Ricinoleate¦13040-19-2¦R2
Ethylhexylglycerin¦70445-33-9¦R3
Carnosine¦305-84-0¦Kühlschrank
Rubus Chamaemorus Seed Oil¦¦Kühlschrank""", sep=';')
M('usual: INCI and CAS alone', 'inci_cas_lager.csv', '''Isopropyl Myristate ¦ isopropyl-myristate
Cetyl Palmitate ¦ cetyl-palmitate
Sodium Lauryl Sulfoacetate ¦ /sodium-lauryl-sulfoacetate-powder
Zinc Ricinoleate ¦ zinc-ricinoleate
Ethylhexylglycerin ¦ ethylhexylglycerin
Carnosine ¦ carnosine
Rubus Chamaemorus Seed Oil ¦ NEW''', note='cloudberry is not raspberry')
# ====================================================================== odd: recipes
# 51 materials across, per cent and grams below
xl('tonique_en_travers.xlsx', """Tonique Pouillot|Hydrolat de bleuet|Eau déminéralisée|Glycérine|Propanediol|Benzoate de sodium|Sorbate de potassium|Acide lactique 80 %|Total
%|60|33.3|4|2|0.4|0.2|0.1|100
g (250 g)|150|83.25|10|5|1|0.5|0.25|250""", bold=[1])
R('odd: materials across, per cent and grams below', 'tonique_en_travers.xlsx', '''Hydrolat de bleuet ¦ /cornflower-water ¦ 60
Eau déminéralisée ¦ W ¦ 33.3
Glycérine ¦ G ¦ 4
Propanediol ¦ PD ¦ 2
Benzoate de sodium ¦ SB ¦ 0.4
Sorbate de potassium ¦ PS ¦ 0.2
Acide lactique 80 % ¦ LA80 ¦ 0.1''', note='one recipe, told in per cent and in grams; two that are the same are fair to offer')
# 52 the balance is never set to nought
tx('maslo_narastajaco.txt', """
Masło do ciała „Trznadel”
Wagi nie zeruję: zapisuję, co pokazuje po każdym dodaniu (narastająco).

Składnik                          waga pokazuje (g)
Masło shea                        180
Masło kakaowe                     260
Olej ze słodkich migdałów         340
Wosk pszczeli                     376
Skrobia kukurydziana              396
Witamina E                        398
Olejek lawendowy                  400
""")
R('odd: running totals only', 'maslo_narastajaco.txt', '''Masło shea ¦ /SH ¦ 180/4
Masło kakaowe ¦ /CB ¦ 80/4
Olej ze słodkich migdałów ¦ /AL ¦ 80/4
Wosk pszczeli ¦ /BW ¦ 36/4
Skrobia kukurydziana ¦ /STA ¦ 20/4
Witamina E ¦ VE ¦ 2/4
Olejek lawendowy ¦ /LAV ¦ 2/4''', note='each amount is what the balance shows less what it showed before: 180, 80, 80, 36, 20, 2, 2 g; to refuse or to ask about all is fair, 180 : 260 : 340 … as amounts in silence is wrong')
# 53 a note on the telephone, "double it"
tx('foot_soak_double_it.txt', """
foot soak (for the wedding!!)

epsom salt 300 g
sea salt 120 g
baking soda 60g
almond oil (sweet) 12 g
polysorbate 80 - 6 g
peppermint essential oil 2 g

double it for the big bucket = 1 kg
3 jars to mum, 2 to Nell
ring the hall 00000 000000
""")
R('odd: a note on the telephone, "double it"', 'foot_soak_double_it.txt', '''epsom salt ¦ /EPS ¦ 60
sea salt ¦ sea-salt ¦ 24
baking soda ¦ /BIC ¦ 12
almond oil (sweet) ~ almond oil ¦ /AL ¦ 2.4
polysorbate 80 ¦ P80 ¦ 1.2
peppermint essential oil ¦ peppermint-essential-oil ¦ 0.4''', note='500 g or, doubled, 1000 g: the shares are the same; 80 is part of the name; jars and the telephone are no lines')
# 54 spoons and drops, the grams in brackets
tx('deodorante_cucchiai.txt', """
Deodorante in crema della zia Nives

6 cucchiai di olio di cocco (80 g)
5 cucchiai di amido di mais (50 g)
3 cucchiai di burro di karité (36 g)
2 cucchiai di bicarbonato di sodio (30 g)
1 cucchiaino di cera d'api (3 g)
20 gocce di olio essenziale di lavanda (1 g)

Totale 200 g, basta per 4 vasetti.
""")
R('odd: spoons and drops, the grams in brackets', 'deodorante_cucchiai.txt', '''olio di cocco ¦ /CO ¦ 40
amido di mais ¦ /STA ¦ 25
burro di karité ¦ /SH ¦ 18
bicarbonato di sodio ¦ /BIC ¦ 15
cera d'api ¦ /BW ¦ 1.5
olio essenziale di lavanda ¦ /LAV ¦ 0.5''', batch=200, note='the grams in brackets hold; 6 : 5 : 3 in silence is wrong')
# 55 name and INCI in two lines, one row struck out
xl('Massageriegel_gestrichen.xlsx', """Massageriegel Heckenbraunelle|
Rohstoff⏎(INCI)|%
Sheabutter⏎(Butyrospermum Parkii Butter)|40
Palmöl⏎(Elaeis Guineensis Oil)|20
Kakaobutter⏎(Theobroma Cacao Seed Butter)|35
Bienenwachs⏎(Cera Alba)|18
Mandelöl⏎(Prunus Amygdalus Dulcis Oil)|6
Vitamin E⏎(Tocopherol)|0.5
Lavandinöl⏎(Lavandula Hybrida Oil)|0.5
Summe|100""", strike=[4], bold=[1, 2, 10])
def zwei(n, inci, i, v): return f'{n} ~ {n}⏎({inci}) ~ {n} ({inci}) ~ {n}⏎{inci} ~ {n} {inci} ¦ {i} ¦ {v}'
R('odd: name and INCI in two lines, one row struck out', 'Massageriegel_gestrichen.xlsx', '\n'.join(zwei(*x) for x in (
    ('Sheabutter', 'Butyrospermum Parkii Butter', '/SH', 40), ('Kakaobutter', 'Theobroma Cacao Seed Butter', '/CB', 35), ('Bienenwachs', 'Cera Alba', '/BW', 18),
    ('Mandelöl', 'Prunus Amygdalus Dulcis Oil', '/AL', 6), ('Vitamin E', 'Tocopherol', 'VE', 0.5), ('Lavandinöl', 'Lavandula Hybrida Oil', '/lavandin-essential-oil', 0.5))),
  recipes=1, said=['Palmöl'], note='the struck palm oil is out: without it all is 100 as the sum says')
# 56 codes with their key in columns beside
xl('gezichtsolie_sleutel.xlsx', """Gezichtsolie Roodmus||||
Code|%||Code|Grondstof
K1|45||K1|Druivenpitolie
K2|30||K2|Rozenbottelolie
K4|20||K3|Kokosolie
K7|4||K4|Squalaan
K9|0.5||K7|Duindoornvruchtolie
K11|0.5||K9|Vitamine E
Totaal|100||K11|Etherische geraniumolie""", bold=[1, 2])
R('odd: codes, the key in columns beside', 'gezichtsolie_sleutel.xlsx', '''Druivenpitolie ~ K1 ~ K1 Druivenpitolie ¦ /GRA ¦ 45
Rozenbottelolie ~ K2 ~ K2 Rozenbottelolie ¦ /rosehip-seed-oil ¦ 30
Squalaan ~ K4 ~ K4 Squalaan ¦ /SQ ¦ 20
Duindoornvruchtolie ~ K7 ~ K7 Duindoornvruchtolie ¦ sea-buckthorn-fruit-oil|? ¦ 4
Vitamine E ~ K9 ~ K9 Vitamine E ¦ VE ¦ 0.5
Etherische geraniumolie ~ K11 ~ K11 Etherische geraniumolie ¦ /geranium-essential-oil ¦ 0.5''', recipes=1, note='K4 is squalane (the key tells), though coconut oil stands in the same row; K3 is not used')
# 57 grams for each kilogram, water to make up
cs('gel_ducha_por_kilo.csv', """Gel de ducha Bisbita (dosis por kilo)¦
Ingrediente¦g/kg
Agua destilada¦c.s.p. 1000
Cocamidopropil betaína 30 %¦180
Coco-glucósido¦120
Glicerina¦30
Cloruro sódico¦15
Benzoato sódico¦5
Goma xantana¦4
Ácido láctico 80 %¦4
Aceite esencial de lavandín¦2""", sep=';')
R('odd: grams for each kilogram, water to make up 1000', 'gel_ducha_por_kilo.csv', '''Agua destilada ¦ /W ¦ 64
Cocamidopropil betaína 30 % ¦ /CAPB30 ¦ 18
Coco-glucósido ¦ /CG ¦ 12
Glicerina ¦ G ¦ 3
Cloruro sódico ¦ SAL ¦ 1.5
Benzoato sódico ¦ SB ¦ 0.5
Goma xantana ¦ XG ¦ 0.4
Ácido láctico 80 % ¦ LA80 ¦ 0.4
Aceite esencial de lavandín ¦ /lavandin-essential-oil ¦ 0.2''', recipes=1, note='640 g of water make up the kilogram')
# 58 ounces in a forwarded mail
tx('Fwd_gardeners_hand_salve.eml', """
From: Dorothy <dorothy@sallowbank.example>
To: Prue <prue@sallowbank.example>
Subject: Fwd: gardener's hand salve
Date: Sat, 21 Nov 2026 18:40:00 +0000
MIME-Version: 1.0
Content-Type: text/plain; charset=utf-8
Content-Transfer-Encoding: 8bit

Here it is, see below. D

---------- Forwarded message ----------
From: Muriel
Date: 14 March 2026

> Fills eight 2 oz tins. Everything by weight.
>
> 8 oz sunflower oil
> 3 oz beeswax
> 2 1/2 oz lanolin
> 2 oz cocoa butter
> 1/4 oz vitamin E
> 1/4 oz lavender essential oil
>
> Melt at 160 F, stir in the last two at 120 F.
""", crlf=True)
R('odd: ounces in a forwarded mail', 'Fwd_gardeners_hand_salve.eml', '''sunflower oil ¦ SU ¦ 50
beeswax ¦ BW ¦ 18.75
lanolin ¦ /lanolin-anhydrous ¦ 15.625
cocoa butter ¦ CB ¦ 12.5
vitamin E ¦ VE ¦ 1.5625
lavender essential oil ¦ LAV ¦ 1.5625''', note='the tins of 2 oz and the degrees are no lines')
# ---- odd: prices
# 59 like a scan of a printed price list
tx('cennik_pod_lipa.txt', """
ZIELARNIA POD LIPĄ                    cennik, zima 2026
--------------------------------------------------------
Masło shea, 1 kg ........................... 44,90 zł
Masło kakaowe, 500 g ....................... 39,50 zł
Wosk pszczeli, 500 g ....................... 42,00 zł
Olej rycynowy, 1 l ......................... 31,80 zł
                                              str. 1/2
--------------------------------------------------------
Kaolin, 1 kg ............................... 14,20 zł
Mocznik, 1 kg .............................. 18,70 zł
Ceny z VAT. Odbiór osobisty w piątki od 10 do 16.
                                              str. 2/2
""", crlf=True)
P('odd: like a scan of a Polish price list', 'cennik_pod_lipa.txt', '''Masło shea ~ Masło shea, 1 kg ¦ SH ¦ 44.90 PLN 1000
Masło kakaowe ~ Masło kakaowe, 500 g ¦ CB ¦ 39.50 PLN 500
Wosk pszczeli ~ Wosk pszczeli, 500 g ¦ BW ¦ 42 PLN 500
Olej rycynowy ~ Olej rycynowy, 1 l ¦ CA ¦ 31.80 PLN 1000 ml
Kaolin ~ Kaolin, 1 kg ¦ KAO ¦ 14.20 PLN 1000
Mocznik ~ Mocznik, 1 kg ¦ urea ¦ 18.70 PLN 1000''', note='pages and hours are no prices')
# ---- odd: materials
# 60 two tongues in two columns
xl('matieres_bilingue.xlsx', """Français|Deutsch|INCI
Huile de pépins de cassis|Schwarze-Johannisbeere-Samenöl|Ribes Nigrum Seed Oil
Beurre d'illipé|Illipebutter|Shorea Stenoptera Seed Butter
Acide tartrique|Weinsäure|Tartaric Acid
Citrate de zinc|Zinkcitrat|Zinc Citrate
Amidon de pomme de terre|Kartoffelstärke|Solanum Tuberosum Starch
Eau de mélèze|Lärchenwasser|Larix Decidua Wood Water""", bold=[1])
M('odd: two tongues in two columns', 'matieres_bilingue.xlsx', '''Huile de pépins de cassis ~ Schwarze-Johannisbeere-Samenöl ~ Ribes Nigrum Seed Oil ¦ /blackcurrant-seed-oil
Beurre d'illipé ~ Illipebutter ~ Shorea Stenoptera Seed Butter ¦ /illipe-butter
Acide tartrique ~ Weinsäure ~ Tartaric Acid ¦ /tartaric-acid
Citrate de zinc ~ Zinkcitrat ~ Zinc Citrate ¦ /zinc-citrate
Amidon de pomme de terre ~ Kartoffelstärke ~ Solanum Tuberosum Starch ¦ /potato-starch
Eau de mélèze ~ Lärchenwasser ~ Larix Decidua Wood Water ¦ new|?|eau-de-meleze|larchenwasser|larix-decidua-wood-water''', note='one material in each row, never two')
# ======================================================================
# Each share stands in the file as it is told, or follows from an amount there and the sum of all.
def text_of(f):
    src = open(os.path.abspath(__file__), encoding='utf-8').read(); a = src.index(f"('{f}'"); b = src.index(f"'{f}'", a + 3 + len(f)); return src[a:b]
PLAIN_SUM = {'liquid_soap_dipper.csv': 3000, 'savon_froid_lagopede.xlsx': 1480, 'body_butter_two_batches.ods': 300, 'foot_soak_double_it.txt': 500, 'Fwd_gardeners_hand_salve.eml': 16}
FRACTION = {'2 1/2': '2.5', '1/4': '0.25'}
for c in CASES:
    if c['kind'] != 'recipe': continue
    t = text_of(c['file']).replace('⏎', '\n').replace('&ouml;', 'ö').replace('&auml;', 'ä').replace('&nbsp;', ' ')
    for a, b in FRACTION.items(): t = t.replace(a, b)
    for n, i, p, *r in c['lines']:
        names = r[1] if len(r) > 1 and r[1] else [n]
        rows = [l for l in t.split('\n') if any(x and x in l for x in names)]
        assert rows, (c['file'], n)
        if p is None or c['file'] in ('tonique_en_travers.xlsx', 'maslo_narastajaco.txt', 'gezichtsolie_sleutel.xlsx', 'Massageriegel_gestrichen.xlsx') or (c['file'], p) in (('serum_bluethroat.xlsx', 63), ('gel_ducha_por_kilo.csv', 64)): continue
        nums = [float(x.replace(',', '.')) for l in rows for x in re.findall(r'(?<![\w.,-])\d+(?:[.,]\d+)?', re.sub(r"p:|'|</?\w+[^>]*>", ' ', l))]
        wholes = [100, 1000] + ([c['batch']] if 'batch' in c else []) + ([PLAIN_SUM[c['file']]] if c['file'] in PLAIN_SUM else [])
        assert any(abs(x / w * 100 - p) < 6e-4 for x in nums for w in wholes), (c['file'], n, p, nums)
# The expectations stand in expected.json, with those of the other rounds, corrected where they were wrong.
assert len(CASES) == len({c['file'] for c in CASES}) == 60
for c in CASES: assert os.path.exists(path(c['file'])), c['file']
for k in ('recipe', 'price', 'materials'): print(k, sum(c['kind'] == k for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['kind'] == k), 'lines')
for k in ('plain', 'usual', 'odd'): print(k, sum(c['cls'].startswith('eighteenth: ' + k) for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['cls'].startswith('eighteenth: ' + k)), 'lines')
