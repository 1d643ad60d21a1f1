#!/usr/bin/env python3
"""A fifteenth round, written down without sight of the program (class "fifteenth" in expected.json): 40 recipes, 11 price
lists, 9 lists of materials or of stock of invented makers and suppliers in seven tongues.
Run with a Python that has openpyxl, xlsxwriter and odfpy; writes beside itself. The notation is told in by_hand.py."""
import csv, datetime, html, io, json, os, re
from by_hand import *
R, P, M = round_of('fifteenth')
# ====================================================================== the first half
# 1 two scales of one batch beside the per cents, a merged title
xl('shower_gel_two_scales.xlsx', """Juniper Mile shower gel – Fennick & Hollow Soapworks||||
Phase|Ingredient|% w/w|Trial 250 g|Kettle 4 kg (g)
A|Water|50.2|125.5|2008
A|Glycerin|5|12.5|200
B|Disodium laureth sulfosuccinate 32 %|24|60|960
B|Coco-betaine 31 %|14|35|560
B|Heptyl glucoside 75 %|3|7.5|120
C|Sodium chloride|2|5|80
C|Lactic acid 80 %|0.8|2|32
C|Sodium benzoate|0.5|1.25|20
C|Lemongrass essential oil|0.5|1.25|20
|Total|100|250|4000""", merge=['A1:E1'], bold=[1, 2, 12])
R('plain: two scales of one batch', 'shower_gel_two_scales.xlsx', '''Water ¦ W ¦ 50.2
Glycerin ¦ G ¦ 5
Disodium laureth sulfosuccinate 32 % ¦ disodium-laureth-sulfosuccinate-solution-32 ¦ 24 ¦ B
Coco-betaine 31 % ¦ coco-betaine-solution-31 ¦ 14 ¦ B
Heptyl glucoside 75 % ¦ heptyl-glucoside-solution-75 ¦ 3 ¦ B
Sodium chloride ¦ SAL ¦ 2 ¦ C
Lactic acid 80 % ¦ LA80 ¦ 0.8 ¦ C
Sodium benzoate ¦ SB ¦ 0.5 ¦ C
Lemongrass essential oil ¦ lemongrass-essential-oil ¦ 0.5 ¦ C''', recipes=1, note='one recipe; all columns agree, either batch (250 g or 4 kg) is right')
# 2 running totals on the balance
cs('Balsam_laufende_Summe.csv', """Wetterbalsam Moorkate, Ansatz 3¦¦¦
Nr.¦Rohstoff¦Einwaage g¦Waage zeigt (laufend) g
1¦Rapsöl¦60,0¦60,0
2¦Sheabutter¦45,0¦105,0
3¦Bienenwachs¦30,0¦135,0
4¦Wollwachs¦12,0¦147,0
5¦Vitamin E¦1,5¦148,5
6¦Lavendelöl¦1,5¦150,0""", sep=';')
R('usual: running totals of the balance', 'Balsam_laufende_Summe.csv', '''Rapsöl ¦ rapeseed-oil ¦ 40
Sheabutter ¦ SH ¦ 30
Bienenwachs ¦ BW ¦ 20
Wollwachs ¦ /lanolin-anhydrous ¦ 8
Vitamin E ¦ VE ¦ 1
Lavendelöl ¦ LAV ¦ 1''', batch=150, note='the last column is what the balance shows after each weighing, no amount')
# 3 per mille
tx('lotion_tonique_pour_mille.txt', """
Lotion tonique « Bleu de juin » — Atelier des Trois Haies
(toutes les quantités en ‰)

Eau de bleuet            500 ‰
Eau déminéralisée        437 ‰
Glycérine                 30 ‰
Panthénol 75 %            20 ‰
Benzoate de sodium         5 ‰
Allantoïne                 3 ‰
Sorbate de potassium       3 ‰
Acide citrique sol. 50 %   2 ‰
                        ------
                        1000 ‰
""")
R('odd: per mille', 'lotion_tonique_pour_mille.txt', '''Eau de bleuet ¦ /cornflower-water ¦ 50
Eau déminéralisée ¦ W ¦ 43.7
Glycérine ¦ G ¦ 3
Panthénol 75 % ¦ /PAN ¦ 2
Benzoate de sodium ¦ SB ¦ 0.5
Allantoïne ¦ ALL ¦ 0.3
Sorbate de potassium ¦ PS ¦ 0.3
Acide citrique sol. 50 % ¦ /CIT50 ¦ 0.2''', note='per mille: a tenth of each number as per cent; the 75 % and 50 % are strengths')
# 4 g/kg and mg/kg in one column
cs('crema_mg_kg.csv', """Crema facial Lirio Pardo¦¦
Materia prima¦Cantidad¦Unidad
Agua desmineralizada¦700,5¦g/kg
Aceite de argán¦120¦g/kg
Citrato estearato de glicerilo¦50¦g/kg
Glicerina¦40¦g/kg
Manteca de karité¦40¦g/kg
Alcohol cetílico¦30¦g/kg
Fenoxietanol¦9¦g/kg
Vitamina E¦5¦g/kg
Alantoína¦3000¦mg/kg
Hialuronato de sodio en polvo¦2000¦mg/kg
Biotina¦500¦mg/kg""", sep=';', enc='cp1252')
R('odd: g/kg and mg/kg', 'crema_mg_kg.csv', '''Agua desmineralizada ¦ W ¦ 70.05
Aceite de argán ¦ argan-oil ¦ 12
Citrato estearato de glicerilo ¦ /GSC ¦ 5
Glicerina ¦ G ¦ 4
Manteca de karité ¦ SH ¦ 4
Alcohol cetílico ¦ CEA ¦ 3
Fenoxietanol ¦ PHE ¦ 0.9
Vitamina E ¦ VE ¦ 0.5
Alantoína ¦ ALL ¦ 0.3
Hialuronato de sodio en polvo ¦ /sodium-hyaluronate-powder ¦ 0.2
Biotina ¦ biotin ¦ 0.05''', note='3000 mg/kg are 0.3 %')
# 5 phases side by side, the third below
xl('crema_mani_due_colonne.xlsx', """Crema mani "Castagneto" – Laboratorio Pian dell'Orso|||||
|||||
FASE A (acquosa)|%||FASE B (grassa)|%|
Acqua demineralizzata|63.4||Olio di vinaccioli|10|
Glicerina|5||Burro di karité|6|
Gomma xantana|0.3||Alcol cetilico|3|
Urea|3||Gliceril stearato SE|6|
|||Acido stearico|1.5|
|||||
FASE C (sotto 40 °C)|%||||
Fenossietanolo|0.9||||
Vitamina E|0.5||||
Olio essenziale di lavanda|0.4||||""", merge=['A1:E1'], bold=[1, 3, 10])
R('odd: phases side by side', 'crema_mani_due_colonne.xlsx', '''Acqua demineralizzata ¦ W ¦ 63.4
Glicerina ¦ G ¦ 5
Gomma xantana ¦ XG ¦ 0.3
Urea ¦ urea ¦ 3
Olio di vinaccioli ¦ GRA ¦ 10 ¦ B
Burro di karité ¦ SH ¦ 6 ¦ B
Alcol cetilico ¦ CEA ¦ 3 ¦ B
Gliceril stearato SE ¦ /GSE ¦ 6 ¦ B
Acido stearico ¦ SA ¦ 1.5 ¦ B
Fenossietanolo ¦ PHE ¦ 0.9 ¦ C
Vitamina E ¦ VE ¦ 0.5 ¦ C
Olio essenziale di lavanda ¦ LAV ¦ 0.4 ¦ C''', recipes=1, note='one recipe of three phases; the two blocks stand beside each other')
# 6 Dutch chat, final list in one message
tx('chat_groep_bodybutter.txt', """
[12-11-2026 20:14] Femke: wie heeft het recept van de bodybutter van zaterdag?
[12-11-2026 20:16] Joost: die met 50 g kokosolie? die was te hard
[12-11-2026 20:21] Femke: nee de laatste, voor 200 g
[12-11-2026 20:25] Ans: hier, nagewogen:
sheaboter 90 g
mangoboter 40 g
zonnebloemolie 40 g
rijstzetmeel 16 g
kokosolie 10 g
vitamine E 2 g
etherische lavendelolie 2 g
[12-11-2026 20:26] Ans: samen 200, klopt
[12-11-2026 20:31] Joost: 👍 ik maak hem zondag om 14 uur, neem 6 potjes mee
""")
R('odd: group chat with the list in one message', 'chat_groep_bodybutter.txt', '''sheaboter ¦ SH ¦ 45
mangoboter ¦ MAN ¦ 20
zonnebloemolie ¦ SU ¦ 20
rijstzetmeel ¦ /rice-starch ¦ 8
kokosolie ¦ CO ¦ 5
vitamine E ¦ VE ¦ 1
etherische lavendelolie ¦ LAV ¦ 1''', batch=200, note="Joost's 50 g is the older, rejected one; times, jars and the 200 g are no lines")
# 7 Polish, Roman phases, "uzup. do 100"
tx('tonik_zel_lipowy.txt', """
Żel do twarzy „Lipa za stodołą” – Pracownia Cztery Wiatry

Faza I
  hydrolat z oczaru      20 %
  woda destylowana       uzup. do 100 %
  gliceryna              4 %
  guma ksantanowa        0,8 %
Faza II
  betaina kokamidopropylowa 30 %   12 %
  glukozyd decylowy      8 %
Faza III
  panthenol 75 %         1,5 %
  benzoesan sodu         0,5 %
  sorbinian potasu       0,3 %
  kwas mlekowy 80 %      0,4 %
""")
R('usual: Polish text, water makes up to 100', 'tonik_zel_lipowy.txt', '''hydrolat z oczaru ¦ /witch-hazel-water ¦ 20 ¦
woda destylowana ¦ W ¦ 52.5 ¦
gliceryna ¦ G ¦ 4 ¦
guma ksantanowa ¦ XG ¦ 0.8 ¦
betaina kokamidopropylowa 30 % ¦ /CAPB30 ¦ 12 ¦
glukozyd decylowy ¦ /decyl-glucoside-solution-51 ¦ 8 ¦
panthenol 75 % ¦ PAN ¦ 1.5 ¦
benzoesan sodu ¦ SB ¦ 0.5 ¦
sorbinian potasu ¦ PS ¦ 0.3 ¦
kwas mlekowy 80 % ¦ LA80 ¦ 0.4 ¦''', note='three phases (I, II, III); the strengths of the betaine, panthenol and acid are not their amounts')
# 8 parts
tx('walkers_balm_parts.txt', """
Walker's heel balm (from Gran's tin, Saltmarsh Row)

4 parts sunflower oil
2 parts beeswax
2 parts cocoa butter
1 part castor oil
1 part calendula oil
+ 10 drops lavender essential oil at the end

Melt the wax first. Makes any size you like - I do 10 g to the part, so 100 g.
""")
R('odd: parts and drops', 'walkers_balm_parts.txt', '''sunflower oil ¦ SU ¦ 40
beeswax ¦ BW ¦ 20
cocoa butter ¦ CB ¦ 20
castor oil ¦ CA ¦ 10
calendula oil ¦ /calendula-macerate-in-sunflower-oil ¦ 10
lavender essential oil ¦ ?LAV|? ¦ -''', note='ten parts in all, to which the drops come, which must be asked and never weighed or left out in silence')
# 9 fractions
tx('burro_frazioni.md', """
# Burro montato della nonna Ilda

- 1/2 burro di karité
- 1/4 olio di cocco
- 1/8 cera d'api
- 1/8 olio di jojoba

Totale: 1 (io faccio 400 g)
""")
R('odd: fractions of the whole', 'burro_frazioni.md', '''burro di karité ¦ SH ¦ 50
olio di cocco ¦ CO ¦ 25
cera d'api ¦ BW ¦ 12.5
olio di jojoba ¦ JO ¦ 12.5''', note='halves, quarters and eighths of the whole; 400 g may be taken as the batch')
# 10 colours with a legend
xl('Haarspuelung_Farben.xlsx', """Haarspülung „Sandginster“||
Ansatz:|300 g|
||
Rohstoff|Gramm|Prozent
Wasser|240|80
Propandiol|9|3
Milchsäure 80 %|1.5|0.5
BTMS-25|15|5
Cetylalkohol|12|4
Brokkolisamenöl|9|3
Jojobaöl|6|2
Hydrolysiertes Haferprotein 20 %|4.5|1.5
Phenoxyethanol|3|1
||
Legende|blau = Wasserphase|
|gelb = Fettphase|
|grün = unter 40 °C|""", fill={'A5:C7': 'BDD7EE', 'A8:C11': 'FFF2CC', 'A12:C13': 'C6E0B4', 'B15': 'BDD7EE', 'B16': 'FFF2CC', 'B17': 'C6E0B4'}, bold=[1, 4])
R('odd: phases by colour with a legend', 'Haarspuelung_Farben.xlsx', '''Wasser ¦ W ¦ 80 ¦
Propandiol ¦ propanediol ¦ 3 ¦
Milchsäure 80 % ¦ LA80 ¦ 0.5 ¦
BTMS-25 ¦ B25 ¦ 5 ¦
Cetylalkohol ¦ CEA ¦ 4 ¦
Brokkolisamenöl ¦ /broccoli-seed-oil ¦ 3 ¦
Jojobaöl ¦ JO ¦ 2 ¦
Hydrolysiertes Haferprotein 20 % ¦ /hydrolyzed-oat-protein-20 ¦ 1.5 ¦
Phenoxyethanol ¦ PHE ¦ 1 ¦''', batch=300, note='blue, yellow, green are three phases as the legend tells; one phase is fair if it is told; the legend is no ingredient')
# 11 struck row with its replacement below
xl('lotion_bramblewick_revised.xlsx', """Bramblewick body lotion, rev. C|||
|||
Phase|Ingredient|%|Remark
Water|Water|70.1|
Water|Glycerin|4|
Water|Sodium gluconate|0.2|
Oil|Sunflower oil|14|
Oil|Ceteareth-20|3|out since rev. C
Oil|Glyceryl stearate citrate|4|instead of the line above
Oil|Cetearyl alcohol|3|
Oil|Shea butter|3|
Cool|Phenoxyethanol and ethylhexylglycerin 90:10|1|
Cool|Tocopheryl acetate|0.5|
Cool|Petitgrain essential oil|0.2|
||100|without the struck line""", strike=[8], bold=[3])
R('usual: a struck row and its replacement', 'lotion_bramblewick_revised.xlsx', '''Water ¦ W ¦ 70.1 ¦
Glycerin ¦ G ¦ 4 ¦
Sodium gluconate ¦ sodium-gluconate ¦ 0.2 ¦
Sunflower oil ¦ SU ¦ 14 ¦
Glyceryl stearate citrate ¦ GSC ¦ 4 ¦
Cetearyl alcohol ¦ CAL ¦ 3 ¦
Shea butter ¦ SH ¦ 3 ¦
Phenoxyethanol and ethylhexylglycerin 90:10 ¦ PEG ¦ 1 ¦
Tocopheryl acetate ¦ tocopheryl-acetate ¦ 0.5 ¦
Petitgrain essential oil ¦ petitgrain-essential-oil ¦ 0.2 ¦''', said=['Ceteareth-20'], note='struck out and said so in words; without it the rest is 100')
# 12 comments in cells
xl('masque_argile_commentaires.xlsx', """Masque argile – Atelier Pont-aux-Oies|||
|||
Ingrédient|INCI|%|
Eau déminéralisée|Aqua|47.2|
Kaolin|Kaolin|25|
Argile verte|Illite|10|
Glycérine|Glycerin|8|
Huile de noyaux d'abricot|Prunus Armeniaca Kernel Oil|5|
Polysorbate 20|Polysorbate 20|3|
Gomme xanthane|Xanthan Gum|0.8|
Phénoxyéthanol|Phenoxyethanol|1|""", notes={'C5': 'essai du 3/10 : 30 %, trop sec', 'C11': 'max 1 %', 'A8': 'ou 5 % de sésame si rupture'})
R('usual: comments in cells hold numbers', 'masque_argile_commentaires.xlsx', '''Eau déminéralisée ~ Aqua ¦ W ¦ 47.2
Kaolin ¦ kaolin-white-clay ¦ 25
Argile verte ~ Illite ¦ french-green-clay|?french-green-clay ¦ 10
Glycérine ~ Glycerin ¦ G ¦ 8
Huile de noyaux d'abricot ~ Prunus Armeniaca Kernel Oil ¦ apricot-kernel-oil ¦ 5
Polysorbate 20 ¦ polysorbate-20 ¦ 3
Gomme xanthane ~ Xanthan Gum ¦ XG ¦ 0.8
Phénoxyéthanol ~ Phenoxyethanol ¦ PHE ¦ 1''', note='the comments (30 %, max 1 %, sesame) are remarks; they may be told')
# 13 before and now
cs('serum_antes_ahora.csv', """Sérum «Tres Cardos», cambio del 14.10.2026 (vale la columna AHORA)¦¦¦
Fase¦Ingrediente¦antes %¦AHORA %
A¦Agua de rosas¦30¦40
A¦Agua destilada¦57,2¦44,7
A¦Niacinamida¦4¦5
A¦Propanediol¦5¦6
A¦Goma de esclerocio¦0,8¦0,8
B¦Escualano¦2¦2
B¦Oleato de poligliceril-4¦0¦0,5
C¦Fenoxietanol¦1¦1
¦¦100¦100""", sep=';')
R('usual: before and now', 'serum_antes_ahora.csv', '''Agua de rosas ¦ /rose-water ¦ 40
Agua destilada ¦ W ¦ 44.7
Niacinamida ¦ niacinamide ¦ 5
Propanediol ¦ propanediol ¦ 6
Goma de esclerocio ¦ /sclerotium-gum ¦ 0.8
Escualano ¦ /SQ ¦ 2 ¦ B
Oleato de poligliceril-4 ¦ /polyglyceryl-4-oleate ¦ 0.5 ¦ B
Fenoxietanol ¦ PHE ¦ 1 ¦ C''', note='the file says that the column AHORA holds; the column "antes" (also 100) in silence is wrong, to ask which is fair')
# 14 the chemist's Latin
tx('Hausrezeptur_Harnstoffsalbe.txt', """
Hausrezeptur 17 – harnstoffhaltige Hautsalbe (Kräuterhof Elsterried)

Rp.
Vaselinum album                                  25,5
Alcohol cetylicus et stearylicus emulsificans     9,0
Paraffinum liquidum                              10,5
Urea                                              5,0
Glycerolum 85 %                                   5,0
Acidum lacticum 90 %                              0,5
Kalii sorbas                                      0,5
Aqua purificata                             ad  100,0

M. D. S. 2x täglich
""")
R("odd: the chemist's Latin", 'Hausrezeptur_Harnstoffsalbe.txt', '''Vaselinum album ¦ /petrolatum ¦ 25.5
Alcohol cetylicus et stearylicus emulsificans ¦ cetearyl-alcohol-and-sodium-cetearyl-sulfate|?cetearyl-alcohol-and-sodium-cetearyl-sulfate|?|new ¦ 9
Paraffinum liquidum ¦ mineral-oil|?mineral-oil ¦ 10.5
Urea ¦ urea ¦ 5
Glycerolum 85 % ¦ glycerin-86|?glycerin-86|?|new ¦ 5
Acidum lacticum 90 % ¦ /lactic-acid-90 ¦ 0.5
Kalii sorbas ¦ /PS ¦ 0.5
Aqua purificata ¦ /W ¦ 44''', note='water makes up to 100 (44); the emulsifying alcohol is never plain cetyl, stearyl or cetearyl alcohol; glycerol of 85 % is not that of 99.5 %')
# 15 INCI only, capitals, grams
cs('night_balm_inci_only.csv', """INCI¦g
ORBIGNYA OLEIFERA SEED OIL¦75
HELIANTHUS ANNUUS SEED OIL¦90
SIMMONDSIA CHINENSIS SEED OIL¦60
EUPHORBIA CERIFERA CERA¦30
THEOBROMA CACAO SEED BUTTER¦30
LANOLIN¦12
BISABOLOL¦1.5
TOCOPHERYL ACETATE¦1.5
TOTAL¦300""", quote=csv.QUOTE_ALL)
R('plain: INCI only, in grams', 'night_balm_inci_only.csv', '''ORBIGNYA OLEIFERA SEED OIL ¦ babassu-oil ¦ 25
HELIANTHUS ANNUUS SEED OIL ¦ /SU ¦ 30
SIMMONDSIA CHINENSIS SEED OIL ¦ JO ¦ 20
EUPHORBIA CERIFERA CERA ¦ candelilla-wax ¦ 10
THEOBROMA CACAO SEED BUTTER ¦ CB ¦ 10
LANOLIN ¦ /lanolin-anhydrous ¦ 4
BISABOLOL ¦ bisabolol ¦ 0.5
TOCOPHERYL ACETATE ¦ tocopheryl-acetate ¦ 0.5''', batch=300)
# 16 INCI beside the Dutch name
od('shampoo_inci_nederlands.ods', """Shampoo Duindoorn|||
INCI|Nederlandse naam|Gewicht (g)|Fase
Aqua|gezuiverd water|331|1
Glycerin|plantaardige glycerine|15|1
Guar Hydroxypropyltrimonium Chloride|kationische guar|1.5|1
Sodium Cocoyl Glutamate|natriumcocoylglutamaat 25 %|75|2
Decyl Glucoside|decylglucoside|60|2
Citric Acid|citroenzuuroplossing 50 %|7.5|3
Sodium Benzoate|natriumbenzoaat|2.5|3
Potassium Sorbate|kaliumsorbaat|1.5|3
Lavandula Angustifolia Oil|etherische lavendelolie|2.5|3
Panthenol|D-panthenol 75 %|3.5|3
|totaal|500|""", merge={(1, 1): 3})
R('usual: INCI beside the name, numbered phases', 'shampoo_inci_nederlands.ods', '''gezuiverd water ~ Aqua ¦ W ¦ 66.2 ¦
plantaardige glycerine ~ Glycerin ¦ G ¦ 3 ¦
kationische guar ~ Guar Hydroxypropyltrimonium Chloride ¦ guar-hydroxypropyltrimonium-chloride ¦ 0.3 ¦
natriumcocoylglutamaat 25 % ~ Sodium Cocoyl Glutamate ¦ /sodium-cocoyl-glutamate-solution-25 ¦ 15 ¦
decylglucoside ~ Decyl Glucoside ¦ /decyl-glucoside-solution-51 ¦ 12 ¦
citroenzuuroplossing 50 % ~ Citric Acid ¦ /CIT50 ¦ 1.5 ¦
natriumbenzoaat ~ Sodium Benzoate ¦ SB ¦ 0.5 ¦
kaliumsorbaat ~ Potassium Sorbate ¦ PS ¦ 0.3 ¦
etherische lavendelolie ~ Lavandula Angustifolia Oil ¦ LAV ¦ 0.5 ¦
D-panthenol 75 % ~ Panthenol ¦ PAN ¦ 0.7 ¦''', batch=500, note='the citric acid is the solution of 50 %, never the crystals, though its INCI is that of both')
# 17 trade strength in a neighbouring cell
cs('Duschgel_Aktivgehalt.csv', """Duschgel Kornblumenweg – 10 kg¦¦¦
Rohstoff¦Handelsform¦kg¦%
Wasser¦¦5,53¦55,3
Natriumlaurylethersulfat¦70 %, Paste¦1,60¦16
Cocamidopropylbetain¦38 %¦1,20¦12
Glycerin¦86 %¦0,60¦6
Sorbit¦70 %, flüssig¦0,50¦5
Kochsalz¦¦0,20¦2
Polyquaternium-7¦9 %¦0,20¦2
Milchsäure¦90 %¦0,04¦0,4
Natriumbenzoat¦Pulver¦0,05¦0,5
Natronlauge¦20 %¦0,03¦0,3
Parfüm „Feldrain“¦¦0,05¦0,5
Summe¦¦10,00¦100""", sep=';')
R('usual: strength in a neighbouring cell', 'Duschgel_Aktivgehalt.csv', '''Wasser ¦ W ¦ 55.3
Natriumlaurylethersulfat ¦ sodium-laureth-sulfate-paste-70|?sodium-laureth-sulfate-paste-70 ¦ 16
Cocamidopropylbetain ¦ /cocamidopropyl-betaine-solution-38 ¦ 12
Glycerin ¦ /glycerin-86 ¦ 6
Sorbit ¦ /sorbitol-solution-70 ¦ 5
Kochsalz ¦ SAL ¦ 2
Polyquaternium-7 ¦ /polyquaternium-7-solution-9 ¦ 2
Milchsäure ¦ /lactic-acid-90 ¦ 0.4
Natriumbenzoat ¦ SB ¦ 0.5
Natronlauge ¦ /sodium-hydroxide-solution-20 ¦ 0.3
Parfüm „Feldrain“ ¦ FR ¦ 0.5''', batch=10000, note='70 %, 38 %, 86 %, 90 %, 20 % are strengths of the goods; another strength in silence is wrong')
# 18 a note on how a dilution is made
tx('conditioner_dilution_note.txt', """
Wool & Willow rinse-out conditioner, 1 kg

Water ............................ 851 g
Cetearyl alcohol .................. 45 g
BTMS-50 ........................... 40 g
Propanediol ....................... 30 g
Coconut oil ....................... 15 g
Phenoxyethanol .................... 10 g
Citric acid solution 20 % .......... 6 g   (made up from 20 g crystals + 80 g water, keep the rest in the fridge)
Rosemary essential oil ............. 3 g

                                  1000 g
Check pH: 4.5. If the scale drifts, tare again.
""")
R('usual: a note on how the dilution is made', 'conditioner_dilution_note.txt', '''Water ¦ W ¦ 85.1
Cetearyl alcohol ¦ CAL ¦ 4.5
BTMS-50 ¦ B50 ¦ 4
Propanediol ¦ propanediol ¦ 3
Coconut oil ¦ CO ¦ 1.5
Phenoxyethanol ¦ PHE ¦ 1
Citric acid solution 20 % ¦ citric-acid-solution-20 ¦ 0.6
Rosemary essential oil ¦ ROS ¦ 0.3''', batch=1000, note='20 g crystals and 80 g water describe the stock solution, they are no amounts of this batch')
# 19 an adjuster "to pH"
tx('face_gel_to_ph.md', """
## Rill & Reed face gel

| Ingredient | % |
|---|---|
| Aloe vera juice | 40 |
| Water | to 100 |
| Glycerin | 4 |
| Sodium carbomer powder | 0.6 |
| Phenoxyethanol | 0.9 |
| Citric acid solution 20 % | to pH 5.5 |
""")
R('usual: an adjuster "to pH 5.5"', 'face_gel_to_ph.md', '''Aloe vera juice ¦ /aloe-vera-juice ¦ 40
Water ¦ /W ¦ -
Glycerin ¦ G ¦ 4
Sodium carbomer powder ¦ sodium-carbomer-powder ¦ 0.6
Phenoxyethanol ¦ PHE ¦ 0.9
Citric acid solution 20 % ¦ ?citric-acid-solution-20 ¦ -''', note='the acid must be asked (5.5 is no amount), and the water is 54.5 less it')
# 20 rounding: thirds that make 99.99
od('olio_tre_terzi.ods', """Olio corpo "Tre Terzi"||
Ingrediente|%|g (lotto da 900)
Olio di girasole|33.33|300
Olio di mandorle dolci|33.33|300
Olio di riso|33.33|300
Totale|100|900""")
R('usual: thirds rounded off', 'olio_tre_terzi.ods', '''Olio di girasole ¦ SU ¦ 33.333333
Olio di mandorle dolci ¦ AL ¦ 33.333333
Olio di riso ¦ /rice-bran-oil ¦ 33.333333''', tol=0.01, recipes=1, batch=900, note='33.33 three times is 99.99, the total of 100 is of the rounding; a third each, no water or other line is added')

# ---- prices, first half
# 21 price per kg at pack sizes
xl('Sackpreise_Hinterwald.xlsx', """Rohstoffkontor Hinterwald – Preise in € je Gebinde, netto, gültig ab 02.11.2026|||||
Artikel|Art.-Nr.|1 kg|5 kg|25 kg|Bemerkung
Natron|10-040|2.9|11.5|44|Lebensmittelqualität
Zitronensäure wasserfrei|10-051|4.8|19.9|82|
Kaolin|10-077|3.6|13.5|–|25 kg auf Anfrage
Maisstärke|10-090|3.2|–|52.5|
Fracht|pauschal|6.9||48|Palette""", bold=[1, 2])
P('plain: price of each pack in a column, freight below', 'Sackpreise_Hinterwald.xlsx', '''Natron ¦ /BIC ¦ 2.90 EUR 1000;11.50 EUR 5000;44 EUR 25000
Zitronensäure wasserfrei ¦ citric-acid-anhydrous ¦ 4.80 EUR 1000;19.90 EUR 5000;82 EUR 25000
Kaolin ¦ kaolin-white-clay ¦ 3.60 EUR 1000;13.50 EUR 5000
Maisstärke ¦ corn-starch ¦ 3.20 EUR 1000;52.50 EUR 25000''', spare=['Fracht'], note='the freight is no material; a dash is no price')
# 22 net and gross, the file says which counts
cs('tarif_ht_ttc.csv', """Comptoir Fleur-de-Bruyère, tarif au 1/11/2026. Nous récupérons la TVA : compter le HT.¦¦¦¦
Désignation¦Conditionnement¦Prix HT €¦TVA¦Prix TTC €
Beurre de cacao¦500 g¦7,50¦20 %¦9,00
Huile de ricin¦1 kg¦8,25¦20 %¦9,90
Cire de candelilla¦250 g¦6,00¦20 %¦7,20
Allantoïne¦100 g¦3,75¦20 %¦4,50
Squalane¦100 ml¦5,50¦20 %¦6,60""", sep=';')
P('usual: net and gross', 'tarif_ht_ttc.csv', '''Beurre de cacao ¦ CB ¦ 7.50 EUR 500
Huile de ricin ¦ CA ¦ 8.25 EUR 1000
Cire de candelilla ¦ candelilla-wax ¦ 6.00 EUR 250
Allantoïne ¦ ALL ¦ 3.75 EUR 100
Squalane ¦ SQ ¦ 5.50 EUR 100 ml''', note='the file says to count the price without tax; to ask is fair, the gross price in silence is wrong')
# 23 order confirmation as text
tx('order_confirmation_7714.txt', """
PILBEAM & DAUGHTERS, raw materials for soapmakers
Order 7714 of 9 November 2026 - thank you!

Qty  Item                               Each       Line
 2   Shea butter, 1 kg                 £11.40     £22.80
 1   Stearic acid, 500 g                £3.95      £3.95
 3   Castor oil, 1 litre                £8.10     £24.30
 1   Menthol crystals, 100 g            £6.25      £6.25
                                    Subtotal      £57.30
                                    Shipping       £5.95
                                    Total         £63.25
""")
P('odd: an order confirmation as text', 'order_confirmation_7714.txt', '''Shea butter ~ Shea butter, 1 kg ¦ SH ¦ 11.40 GBP 1000
Stearic acid ~ Stearic acid, 500 g ¦ SA ¦ 3.95 GBP 500
Castor oil ~ Castor oil, 1 litre ¦ CA ¦ 8.10 GBP 1000 ml
Menthol crystals ~ Menthol crystals, 100 g ¦ menthol-crystals ¦ 6.25 GBP 100''', spare=['Shipping'], note='"Each" is the price of one pack, "Line" that of all')
# 24 pack sizes in mixed units
od('prijzen_lindeloof.ods', """Grondstoffenhandel Lindeloof, prijslijst||
Product|Inhoud|Prijs
Avocado-olie|1 L|e:14.90
Carnaubawas|0,25 kg|e:6.75
Sheaboter|2,5 kg|e:24.50
Melkzuur 80 %|500 ml|e:5.95
Menthol kristallen|50 g|e:4.20
Glazen potje 50 ml|12 st.|e:9.60""", merge={(1, 1): 3})
P('usual: pack sizes in mixed units', 'prijzen_lindeloof.ods', '''Avocado-olie ¦ AVO ¦ 14.90 EUR 1000 ml
Carnaubawas ¦ carnauba-wax ¦ 6.75 EUR 250
Sheaboter ¦ SH ¦ 24.50 EUR 2500
Melkzuur 80 % ¦ LA80 ¦ 5.95 EUR 500 ml
Menthol kristallen ¦ /menthol-crystals ¦ 4.20 EUR 50''', spare=['Glazen potje 50 ml'], note='the jars are no material')
# 25 Polish thousands
cs('cennik_worki.csv', """Hurtownia Pod Kasztanem¦¦
Surowiec¦Opakowanie¦Cena netto
Masło kakaowe¦25 kg¦2\u00a0349,00 zł
Wosk pszczeli¦20 kg¦1\u00a0780,50 zł
Soda oczyszczona¦25 kg¦119,00 zł
Olej kokosowy¦20 l¦399,90 zł
Kwas stearynowy¦25 kg¦1\u00a0012,00 zł""", sep=';')
P('usual: Polish thousands', 'cennik_worki.csv', '''Masło kakaowe ¦ CB ¦ 2349 PLN 25000
Wosk pszczeli ¦ BW ¦ 1780.50 PLN 20000
Soda oczyszczona ¦ /BIC ¦ 119 PLN 25000
Olej kokosowy ¦ CO ¦ 399.90 PLN 20000 ml
Kwas stearynowy ¦ SA ¦ 1012 PLN 25000''')
# 26 last year and this year
xl('tarifs_2025_2026.xlsx', """Coopérative des Genêts||||
Matière première|Unité de vente|Tarif 2025 (périmé)|Tarif 2026|Évolution
Huile de tournesol|5 L|e:19.5|e:21|p:7.7
Beurre de karité|1 kg|e:12.8|e:13.4|p:4.7
Acide stéarique|1 kg|e:6.2|e:5.9|p:-4.8
Gomme xanthane|250 g|e:8.4|e:8.4|p:0
Alcool cétylique|500 g|e:5.1|e:5.6|p:9.8""")
P("usual: last year's price beside this year's", 'tarifs_2025_2026.xlsx', '''Huile de tournesol ¦ SU ¦ 21 EUR 5000 ml
Beurre de karité ¦ SH ¦ 13.40 EUR 1000
Acide stéarique ¦ SA ¦ 5.90 EUR 1000
Gomme xanthane ¦ XG ¦ 8.40 EUR 250
Alcool cétylique ¦ CEA ¦ 5.60 EUR 500''', note='2025 is marked "périmé"; the price of 2026 holds')

# ---- materials and stock, first half
# 27 stock in mixed units with lots
cs('stock_november.csv', """Material¦On hand¦Unit¦Lot¦Best before
Olive oil¦4.2¦kg¦OO-331¦2027-05-31
Coconut oil¦850¦g¦CO-18¦2028-01-15
Glycerin¦2.5¦l¦GL-904¦2029-02-28
Sodium bicarbonate¦12¦kg¦SB-7¦2028-12-31
Lavender essential oil¦120¦ml¦LV-55¦2027-08-01
Castor oil¦0¦kg¦CA-40¦2026-10-01
Lavender essential oil¦60¦ml¦LV-61¦2028-03-01""")
P('plain: stock in mixed units', 'stock_november.csv', '''Olive oil ¦ OL ¦ ¦ OO-331
Coconut oil ¦ CO ¦ ¦ CO-18
Glycerin ¦ G ¦ ¦ GL-904
Sodium bicarbonate ¦ BIC ¦ ¦ SB-7
Lavender essential oil ¦ LAV ¦ ¦ LV-55
Lavender essential oil ¦ LAV ¦ ¦ LV-61''', note='4200 g, 850 g, 2500 ml, 12000 g, 120 ml, 60 ml; two lots of lavender; the castor oil is used up (lot CA-40 at 0 may be kept or told)')
# 28 stock with a hidden and a discontinued row
xl('Lagerbestand_Sudhaus.xlsx', """Lagerbestand Sudhaus am Anger, Stand 15.11.2026||||
Rohstoff|Menge|Einheit|Charge|haltbar bis
Rapsöl|9.5|kg|RA-2611|d:2027-09-30
Cetylalkohol|1400|g|CE-08|d:2029-01-31
Milchsäure 80 %|750|ml|MS-77|d:2027-12-31
Palmöl|300|g|PA-02|d:2025-04-30
Xanthan|0.65|kg|XA-19|d:2028-06-30
Titandioxid|200|g|TI-5|d:2030-01-01""", hide=[6], bold=[2])
P('usual: stock with a hidden row', 'Lagerbestand_Sudhaus.xlsx', '''Rapsöl ¦ rapeseed-oil ¦ ¦ RA-2611
Cetylalkohol ¦ CEA ¦ ¦ CE-08
Milchsäure 80 % ¦ LA80 ¦ ¦ MS-77
Xanthan ¦ XG ¦ ¦ XA-19
Titandioxid ¦ titanium-dioxide-pigment|?titanium-dioxide-pigment|? ¦ ¦ TI-5''', said=['Palmöl'], note='9500 g, 1400 g, 750 ml, 650 g, 200 g; the hidden, expired palm oil is left out and that is said')
# 29 French table of materials, some new
tx('fiche_matieres_houlette.md', """
# Matières de la Houlette

| Nom | INCI | Fournisseur |
|---|---|---|
| Huile de noyaux de cerise | Prunus Avium Seed Oil | Moulin du Gué |
| Beurre de kokum | Garcinia Indica Seed Butter | Moulin du Gué |
| Hydrolat de tilleul | Tilia Cordata Flower Water | Ferme des Ajoncs |
| Poudre de noyaux d'olive | Olea Europaea Seed Powder | Moulin du Gué |
| Huile de pépins de figue de Barbarie | Opuntia Ficus-Indica Seed Oil | Comptoir Sud |
| Cire de son de riz | Oryza Sativa Cera | Comptoir Sud |
""")
M('plain: French names with INCI', 'fiche_matieres_houlette.md', '''Huile de noyaux de cerise ¦ /cherry-kernel-oil
Beurre de kokum ¦ /kokum-butter
Hydrolat de tilleul ¦ NEW
Poudre de noyaux d'olive ¦ /olive-stone-powder
Huile de pépins de figue de Barbarie ¦ NEW
Cire de son de riz ¦ /rice-bran-wax''', note='the linden water is not the linden extract in glycerin')
# 30 Spanish list, INCI and CAS
cs('materias_inci_cas.csv', """INCI¦CAS¦Uso
Betaine¦107-43-7¦acondicionador
Caprylyl Glycol¦1117-86-8¦humectante
Triethyl Citrate¦77-93-0¦desodorante
Sodium Lauroyl Methyl Isethionate¦¦tensioactivo en polvo
Zinc Ricinoleate¦13040-19-2¦desodorante
Opuntia Streptacantha Stem Extract¦¦extracto""", sep=';')
M('plain: INCI and CAS only', 'materias_inci_cas.csv', '''Betaine ¦ /betaine-trimethylglycine-powder
Caprylyl Glycol ¦ caprylyl-glycol
Triethyl Citrate ¦ triethyl-citrate
Sodium Lauroyl Methyl Isethionate ¦ /sodium-lauroyl-methyl-isethionate-powder
Zinc Ricinoleate ¦ zinc-ricinoleate
Opuntia Streptacantha Stem Extract ¦ NEW''', note='betaine of 107-43-7 is trimethylglycine, never cocamidopropyl betaine')
# ====================================================================== the second half
# 31 kilograms with three decimals after a comma
cs('badolie_25kg.csv', """Badolie Wilgenroos - productie 25 kg¦
grondstof¦kg
zonnebloemolie¦11,250
raapzaadolie¦5,000
PEG-7 glycerylcocoaat¦3,750
amandelolie¦2,500
ricinusolie¦1,750
jojobaolie¦0,500
vitamine E¦0,125
eucalyptusolie (radiata)¦0,125
totaal¦25,000""", sep=';')
R('usual: kilograms with three decimals', 'badolie_25kg.csv', '''zonnebloemolie ¦ SU ¦ 45
raapzaadolie ¦ rapeseed-oil ¦ 20
PEG-7 glycerylcocoaat ¦ /peg-7-glyceryl-cocoate ¦ 15
amandelolie ¦ /AL ¦ 10
ricinusolie ¦ CA ¦ 7
jojobaolie ¦ JO ¦ 2
vitamine E ¦ VE ¦ 0.5
eucalyptusolie (radiata) ~ eucalyptusolie ¦ /eucalyptus-radiata-essential-oil ¦ 0.5''', batch=25000, note='11,250 kg are eleven and a quarter, not eleven thousand; the batch is 25 kg')
# 32 thousands with points, decimals with commas, subtotals
cs('Koerperlotion_Tausender.csv', """Körperlotion „Heuwiese“¦¦
¦¦g
Phase A¦¦
¦Wasser¦1.762,50
¦Glycerin¦100,00
¦Xanthan¦7,50
¦Zwischensumme A¦1.870,00
Phase B¦¦
¦Distelöl¦250,00
¦Mandelöl¦125,00
¦Glycerinstearatcitrat¦112,50
¦Cetylstearylalkohol¦75,00
¦Sheabutter¦37,50
¦Zwischensumme B¦600,00
Phase C¦¦
¦Phenoxyethanol¦22,50
¦Vitamin E¦7,50
¦Zwischensumme C¦30,00
¦Gesamt¦2.500,00""", sep=';', enc='cp1252')
R('usual: thousands with points and subtotals', 'Koerperlotion_Tausender.csv', '''Wasser ¦ W ¦ 70.5
Glycerin ¦ G ¦ 4
Xanthan ¦ XG ¦ 0.3
Distelöl ¦ safflower-oil|?safflower-oil ¦ 10 ¦ B
Mandelöl ¦ AL ¦ 5 ¦ B
Glycerinstearatcitrat ¦ /GSC ¦ 4.5 ¦ B
Cetylstearylalkohol ¦ CAL ¦ 3 ¦ B
Sheabutter ¦ SH ¦ 1.5 ¦ B
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Vitamin E ¦ VE ¦ 0.3 ¦ C''', batch=2500, note='1.762,50 is 1762.5; subtotals are no lines')
# 33 e-mail thread
tx('thread_cleansing_milk.txt', """
From: Orla
To: Benedict
Date: 18 Nov 2026 21:07
Subject: RE: RE: cleansing milk

Tested both - this is the one we keep. Four per cent off the sunflower, into the water:

Water 66.8 %
Glycerin 4 %
Caprylic/capric triglyceride 10 %
Sunflower oil 6 %
Glyceryl stearate SE 5 %
Polyglyceryl-4 caprate 4 %
Cetyl alcohol 2.5 %
Phenoxyethanol 0.9 %
Sodium stearoyl lactylate 0.5 %
Lavender essential oil 0.3 %

Cheers, O.

> On 11 Nov 2026 at 19:40 Benedict wrote:
> My version, bit greasy:
> Water 62.8 %
> Glycerin 4 %
> Caprylic/capric triglyceride 10 %
> Sunflower oil 10 %
> Glyceryl stearate SE 5 %
> Polyglyceryl-4 caprate 4 %
> Cetyl alcohol 2.5 %
> Phenoxyethanol 0.9 %
> Sodium stearoyl lactylate 0.5 %
> Lavender essential oil 0.3 %
""")
R('odd: an e-mail thread with the older recipe quoted', 'thread_cleansing_milk.txt', '''Water ¦ W ¦ 66.8
Glycerin ¦ G ¦ 4
Caprylic/capric triglyceride ¦ MCT ¦ 10
Sunflower oil ¦ SU ¦ 6
Glyceryl stearate SE ¦ GSE ¦ 5
Polyglyceryl-4 caprate ¦ polyglyceryl-4-caprate ¦ 4
Cetyl alcohol ¦ CEA ¦ 2.5
Phenoxyethanol ¦ PHE ¦ 0.9
Sodium stearoyl lactylate ¦ sodium-stearoyl-lactylate ¦ 0.5
Lavender essential oil ¦ LAV ¦ 0.3''', recipes=1, note='the quoted lines are the older recipe: twenty lines in one recipe, or the older one in silence, are wrong; to offer both or to ask is fair')
# 34 chat, an ingredient in each message
tx('chat_bifasica.txt', """
9/11/26, 20:02 - Marta: apunta la bifásica, 500 g
9/11/26, 20:02 - Marta: agua de azahar 200 g
9/11/26, 20:03 - Marta: agua destilada 150 g
9/11/26, 20:03 - Marta: triglicérido caprílico/cáprico 100 g
9/11/26, 20:04 - Rocío: ese cuesta 12 € el litro, ¿no?
9/11/26, 20:04 - Marta: sí
9/11/26, 20:05 - Marta: aceite de jojoba 35 g
9/11/26, 20:05 - Marta: propanediol 10 g
9/11/26, 20:06 - Marta: benzoato de sodio 2,5 g
9/11/26, 20:06 - Marta: sorbato de potasio 1,5 g
9/11/26, 20:07 - Marta: ácido láctico 80 % 1 g
9/11/26, 20:07 - Rocío: vale, te llevo 3 frascos el viernes
""")
R('odd: a chat with an ingredient in each message', 'chat_bifasica.txt', '''agua de azahar ¦ /orange-blossom-water ¦ 40
agua destilada ¦ W ¦ 30
triglicérido caprílico/cáprico ¦ /MCT ¦ 20
aceite de jojoba ¦ JO ¦ 7
propanediol ¦ propanediol ¦ 2
benzoato de sodio ¦ SB ¦ 0.5
sorbato de potasio ¦ PS ¦ 0.3
ácido láctico 80 % ¦ LA80 ¦ 0.2''', batch=500, note='dates, times, the 12 € and the bottles are no lines; the acid is 1 g of the 80 % one')
# 35 like a scan read by a machine
tx('Fusscreme_Scan.txt', """
Rezeptblatt 44                                   Seite 2 von 3
                F u ß c r e m e   Wiesengrund
---------------------------------------------------------------
Rohstoff                                Menge      Einh.
Wasser . . . . . . . . . . . . . . .    305,0      g
Harnstoff  . . . . . . . . . . . . .     50,0      g
Glycerin . . . . . . . . . . . . . .     25,0      g
Natriumlactat 60 %  . . . . . . . .      15,0      g
Olivenöl . . . . . . . . . . . . . .     45,0      g
Glycerinstearat-
citrat . . . . . . . . . . . . . . .     25,0      g
Cetylalkohol . . . . . . . . . . . .     15,0      g
Sheabutter . . . . . . . . . . . . .     12,5      g
Phenoxyethanol . . . . . . . . . . .      5,0      g
Teebaumöl  . . . . . . . . . . . . .      2,5      g
                                       -------
                              Summe     500,0      g
---------------------------------------------------------------
Seite 2 von 3                              gedruckt 03.11.26
""", crlf=True)
R('odd: like a scan, a name broken at the line', 'Fusscreme_Scan.txt', '''Wasser ¦ W ¦ 61
Harnstoff ¦ urea ¦ 10
Glycerin ¦ G ¦ 5
Natriumlactat 60 % ¦ /sodium-lactate-solution-60 ¦ 3
Olivenöl ¦ OL ¦ 9
Glycerinstearatcitrat ~ Glycerinstearatcitrat ~ Glycerinstearat- citrat ~ Glycerinstearat-citrat ¦ /GSC ¦ 5
Cetylalkohol ¦ CEA ¦ 3
Sheabutter ¦ SH ¦ 2.5
Phenoxyethanol ¦ PHE ¦ 1
Teebaumöl ¦ tea-tree-essential-oil ¦ 0.5''', batch=500, note='"Glycerinstearat-" at the end of a line and "citrat" on the next are one name: glyceryl stearate citrate; neither glyceryl stearate nor a citrate in silence')
# 36 web table with spans
ht('creme_jour_tableau.html', """
<h2>Crème de jour « Aubépine » (100 g)</h2>
<p>Publié le 3 mai 2026 par Solène – 14 commentaires</p>
<table border="1">
<tr><th>Phase</th><th>Ingrédient</th><th>Quantité</th></tr>
<tr><td rowspan="3">A</td><td>Eau de rose</td><td>25&nbsp;g</td></tr>
<tr><td>Eau d&eacute;min&eacute;ralis&eacute;e</td><td>43,6&nbsp;g</td></tr>
<tr><td>Glyc&eacute;rine v&eacute;g&eacute;tale</td><td>5&nbsp;g</td></tr>
<tr><td rowspan="4">B</td><td>Huile de noisette</td><td>12&nbsp;g</td></tr>
<tr><td>Olivate de c&eacute;t&eacute;aryle et olivate de sorbitane</td><td>6&nbsp;g</td></tr>
<tr><td>Beurre de mangue</td><td>4&nbsp;g</td></tr>
<tr><td>Alcool c&eacute;tylique</td><td>2&nbsp;g</td></tr>
<tr><td rowspan="3">C</td><td>Extrait de calendula dans la glyc&eacute;rine</td><td>1&nbsp;g</td></tr>
<tr><td>Ph&eacute;noxy&eacute;thanol</td><td>0,9&nbsp;g</td></tr>
<tr><td>Vitamine E</td><td>0,5&nbsp;g</td></tr>
<tr><td colspan="2">Total</td><td>100&nbsp;g</td></tr>
</table>
<p>Lina : j'ai mis 2 g de miel en plus, c'est top !</p>""", 'Crème de jour Aubépine')
R('usual: a web table with spanned phases', 'creme_jour_tableau.html', '''Eau de rose ¦ /rose-water ¦ 25
Eau déminéralisée ¦ W ¦ 43.6
Glycérine végétale ¦ G ¦ 5
Huile de noisette ¦ hazelnut-oil ¦ 12 ¦ B
Olivate de cétéaryle et olivate de sorbitane ¦ /OLI ¦ 6 ¦ B
Beurre de mangue ¦ MAN ¦ 4 ¦ B
Alcool cétylique ¦ CEA ¦ 2 ¦ B
Extrait de calendula dans la glycérine ¦ /calendula-extract-in-glycerin ¦ 1 ¦ C
Phénoxyéthanol ¦ PHE ¦ 0.9 ¦ C
Vitamine E ¦ VE ¦ 0.5 ¦ C''', batch=100, note="a reader's honey is no line")
# 37 nested JSON
tx('receta_anidada.json', json.dumps({'nombre': 'Acondicionador sólido Zarzamora', 'peso_lote_g': 240, 'fases': [
    {'fase': 'A', 'temperatura_C': 75, 'componentes': [{'materia': 'BTMS-50', 'porcentaje': '30,0'}, {'materia': 'Alcohol cetílico', 'porcentaje': '28,0'}, {'materia': 'Manteca de cacao', 'porcentaje': '16,0'}, {'materia': 'Aceite de brócoli', 'porcentaje': '8,0'}, {'materia': 'Ácido esteárico', 'porcentaje': '7,0'}]},
    {'fase': 'B', 'temperatura_C': 45, 'componentes': [{'materia': 'Inulina', 'porcentaje': '5,0'}, {'materia': 'Pantenol 75 %', 'porcentaje': '3,0'}, {'materia': 'Fenoxietanol', 'porcentaje': '1,0'}, {'materia': 'Proteína de trigo hidrolizada 20 %', 'porcentaje': '1,5'}, {'materia': 'Aceite esencial de naranja dulce', 'porcentaje': '0,5'}]}]}, ensure_ascii=False, indent=1))
R('odd: nested JSON with decimal commas', 'receta_anidada.json', '''BTMS-50 ¦ B50 ¦ 30
Alcohol cetílico ¦ CEA ¦ 28
Manteca de cacao ¦ CB ¦ 16
Aceite de brócoli ¦ /broccoli-seed-oil ¦ 8
Ácido esteárico ¦ SA ¦ 7
Inulina ¦ new|?|inulina ¦ 5 ¦ B
Pantenol 75 % ¦ PAN ¦ 3 ¦ B
Fenoxietanol ¦ PHE ¦ 1 ¦ B
Proteína de trigo hidrolizada 20 % ¦ /hydrolyzed-wheat-protein-20 ¦ 1.5 ¦ B
Aceite esencial de naranja dulce ¦ /ORA ¦ 0.5 ¦ B''', batch=240, note='plain inulin is not on the shelf: neither the carbamate nor the hydroxypropyltrimonium one; to refuse such a file in plain words is fair, lines made of keys or temperatures are not')
# 38 bars as separators, Windows-1252
tx('shampoo_barre.csv', """
Shampoo delicato "Ginestra" - lotto 1000 g|||
fase|ingrediente|quantità (g)|note
A|Acqua distillata|523|
A|Glicerina|30|
A|Gomma guar cationica|3|disperdere nella glicerina
B|Sodio cocoil glutammato 25 %|160|
B|Cocamidopropil betaina 30 %|150|già liquida
B|Decil glucoside|100|
C|Pantenolo 75 %|10|
C|Sodio benzoato|5|
C|Potassio sorbato|3|
C|Acido lattico 80 %|11|pH 5,2
C|Olio essenziale di lavanda|5|max 0,5 %
""", enc='cp1252', crlf=True)
R('usual: bars as separators, Windows-1252', 'shampoo_barre.csv', '''Acqua distillata ¦ W ¦ 52.3
Glicerina ¦ G ¦ 3
Gomma guar cationica ¦ /guar-hydroxypropyltrimonium-chloride ¦ 0.3
Sodio cocoil glutammato 25 % ¦ /sodium-cocoyl-glutamate-solution-25 ¦ 16 ¦ B
Cocamidopropil betaina 30 % ¦ /CAPB30 ¦ 15 ¦ B
Decil glucoside ¦ /decyl-glucoside-solution-51 ¦ 10 ¦ B
Pantenolo 75 % ¦ /PAN ¦ 1 ¦ C
Sodio benzoato ¦ SB ¦ 0.5 ¦ C
Potassio sorbato ¦ PS ¦ 0.3 ¦ C
Acido lattico 80 % ¦ LA80 ¦ 1.1 ¦ C
Olio essenziale di lavanda ¦ LAV ¦ 0.5 ¦ C''', batch=1000, note='cationic guar is not plain guar gum')
# 39 tabs, Windows-1250
tx('maslo_do_ciala.tsv', """
Składnik\tIlość [g]\tUwagi
Masło shea\t180\tnierafinowane
Masło mango\t60\t
Olej ze słodkich migdałów\t80\t
Olej z pestek winogron\t40\t
Skrobia kukurydziana\t24\tprzesiać
Wosk pszczeli\t8\t
Witamina E\t4\t1 %
Olejek z drzewa herbacianego\t4\t
RAZEM\t400\t
""", enc='cp1250', crlf=True)
R('usual: tabs, Windows-1250', 'maslo_do_ciala.tsv', '''Masło shea ¦ SH ¦ 45
Masło mango ¦ MAN ¦ 15
Olej ze słodkich migdałów ¦ AL ¦ 20
Olej z pestek winogron ¦ GRA ¦ 10
Skrobia kukurydziana ¦ corn-starch ¦ 6
Wosk pszczeli ¦ BW ¦ 2
Witamina E ¦ VE ¦ 1
Olejek z drzewa herbacianego ¦ tea-tree-essential-oil ¦ 1''', batch=400)
# 40 check boxes, a struck line, chores
tx('bench_checklist.md', """
# Bench list – Otter Brook hand wash (2 kg)

- [x] 1100 g water
- [x] 500 g sodium laureth sulfate 28 %
- [x] 200 g cocamidopropyl betaine 30 %
- [x] ~~100 g lauryl glucoside~~ (gone hard, swapped)
- [x] 100 g coco-glucoside
- [x] 50 g glycerin
- [x] 30 g salt
- [x] 10 g sodium benzoate
- [ ] 8 g lactic acid 80 %
- [ ] 2 g lime essential oil (distilled)
- [ ] print 24 labels
- [ ] wash the 5 l bucket
""")
R('odd: a bench list with boxes, chores and a struck line', 'bench_checklist.md', '''water ¦ W ¦ 55
sodium laureth sulfate 28 % ¦ SLES28 ¦ 25
cocamidopropyl betaine 30 % ¦ CAPB30 ¦ 10
coco-glucoside ¦ /coco-glucoside-solution-52 ¦ 5
glycerin ¦ G ¦ 2.5
salt ¦ SAL ¦ 1.5
sodium benzoate ¦ SB ¦ 0.5
lactic acid 80 % ¦ LA80 ¦ 0.4
lime essential oil (distilled) ~ lime essential oil ¦ /lime-essential-oil-distilled ¦ 0.1''', batch=2000, said=['lauryl glucoside'], note='ticked or not, both belong to the recipe; labels and bucket are chores; the struck line is out (2000 g without it)')
# 41 hidden row and hidden column
xl('dagcreme_verborgen.xlsx', """Dagcrème Akkerwinde||||
||||
Fase|Grondstof|%|oud %|Opmerking
A|Water|67.1|60|
A|Glycerine|4|4|
A|Natriumlactaat 60 %|1.5|1.5|
B|Druivenpitolie|10|14|
B|Squalaan|4|4|
B|Cacaoboter|3|5|
B|Paraffine|6|6|niet meer
B|Cetylalcohol|3|3|
B|Glycerylstearaat SE|6|6|
C|Fenoxyethanol|0.9|0.9|
C|Vitamine E|0.5|0.5|
|Totaal|100||""", hide=[10], hidecol=['D'])
R('usual: a hidden row and a hidden column', 'dagcreme_verborgen.xlsx', '''Water ¦ W ¦ 67.1
Glycerine ¦ G ¦ 4
Natriumlactaat 60 % ¦ /sodium-lactate-solution-60 ¦ 1.5
Druivenpitolie ¦ GRA ¦ 10 ¦ B
Squalaan ¦ SQ ¦ 4 ¦ B
Cacaoboter ¦ CB ¦ 3 ¦ B
Cetylalcohol ¦ CEA ¦ 3 ¦ B
Glycerylstearaat SE ¦ GSE ¦ 6 ¦ B
Fenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Vitamine E ¦ VE ¦ 0.5 ¦ C''', said=['Paraffine'], note='the hidden row is out (the rest is 100 as the total says) and that is told; the hidden column holds older amounts')
# 42 spoons with a key
tx('baume_cuilleres.txt', """
Baume express de Tante Odile

Clé : chez moi 1 c. à s. = 12 g et 1 c. à c. = 4 g, pour toutes les matières.

3 c. à s. d'huile d'olive
2 c. à s. de beurre de karité
1 c. à s. de cire d'abeille
2 c. à c. d'huile de coco

Pesé au total : 80 g.
""")
R('odd: spoons with a key', 'baume_cuilleres.txt', '''huile d'olive ¦ /OL ¦ 45
beurre de karité ¦ /SH ¦ 30
cire d'abeille ¦ /BW ¦ 15
huile de coco ¦ /CO ¦ 10''', batch=80, note='36, 24, 12 and 8 g by the key of the file itself, as the 80 g prove; to ask about every amount, or to refuse for the spoons, is fair; 3 : 2 : 1 : 2 parts are wrong')
# 43 substitutes in brackets
cs('after_shave_balm_swaps.csv', """Phase¦Ingredient¦Percent
A¦Witch hazel water¦35
A¦Water¦44.1
A¦Propanediol (or glycerin)¦4
A¦Allantoin¦0.3
B¦Sweet almond oil (or apricot kernel oil)¦7
B¦Glyceryl stearate citrate¦4
B¦Cetearyl alcohol or cetyl alcohol¦3
B¦Menthyl lactate (optional, swap: menthol)¦0.3
C¦Phenoxyethanol¦0.9
C¦Bisabolol¦0.2
C¦Sodium PCA 50 % (or sodium lactate)¦1
C¦Cedarwood essential oil (Atlas)¦0.2""")
R('usual: substitutes in brackets', 'after_shave_balm_swaps.csv', '''Witch hazel water ¦ witch-hazel-water ¦ 35
Water ¦ W ¦ 44.1
Propanediol (or glycerin) ~ Propanediol ¦ /propanediol ¦ 4
Allantoin ¦ ALL ¦ 0.3
Sweet almond oil (or apricot kernel oil) ~ Sweet almond oil ¦ /AL ¦ 7 ¦ B
Glyceryl stearate citrate ¦ GSC ¦ 4 ¦ B
Cetearyl alcohol or cetyl alcohol ¦ ?|?cetearyl-alcohol|?cetyl-alcohol ¦ 3 ¦ B
Menthyl lactate (optional, swap: menthol) ~ Menthyl lactate ¦ /menthyl-lactate ¦ 0.3 ¦ B
Phenoxyethanol ¦ PHE ¦ 0.9 ¦ C
Bisabolol ¦ bisabolol ¦ 0.2 ¦ C
Sodium PCA 50 % (or sodium lactate) ~ Sodium PCA 50 % ¦ /sodium-pca-solution-50 ¦ 1 ¦ C
Cedarwood essential oil (Atlas) ~ Cedarwood essential oil ¦ /cedarwood-atlas-essential-oil ¦ 0.2 ¦ C''', note='the first named is the material, the bracket a substitute: the substitute in its place is wrong; "cetearyl alcohol or cetyl alcohol" must be asked')
# 44 two recipes on one sheet, one in per cent, one in grams
xl('Zwei_auf_einem_Blatt.xlsx', """Gesichtsöl „Eberesche“||
Zutat|%|
Traubenkernöl|50|
Hagebuttenkernöl|25|
Squalan|20|
Sanddornfruchtfleischöl|4|
Vitamin E|1|
||
Badesalz „Torfstich“|(Ansatz 2 kg)|
Zutat|g|
Meersalz|1400|
Bittersalz|400|
Natron|160|
Fichtennadelöl|20|
Polysorbat 20|20|
Summe|2000|""", bold=[1, 9])
R('usual: two recipes on one sheet, two units', 'Zwei_auf_einem_Blatt.xlsx', '''Traubenkernöl ¦ GRA ¦ 50
Hagebuttenkernöl ¦ /rosehip-seed-oil ¦ 25
Squalan ¦ SQ ¦ 20
Sanddornfruchtfleischöl ¦ /sea-buckthorn-fruit-oil ¦ 4
Vitamin E ¦ VE ¦ 1
Meersalz ¦ sea-salt ¦ 70
Bittersalz ¦ /magnesium-sulfate-heptahydrate ¦ 20
Natron ¦ /BIC ¦ 8
Fichtennadelöl ¦ ?|new|?siberian-fir-essential-oil|?scots-pine-essential-oil|fichtennadelol ¦ 1
Polysorbat 20 ¦ polysorbate-20 ¦ 1''', all=True, recipes=2, note='two recipes; spruce needle oil is not on the shelf (fir and pine are others)')
# 45 costs between the grams, formulas with values
xw('shampoing_solide_couts.xlsx', """Shampoing solide « Ortie » – 8 pains de 60 g|||
Ingrédient|€/kg|g|coût €
Sodium cocoyl isethionate en poudre|14.5|240|f:=B3*C3/1000;3.48
Sodium coco sulfate en granulés|9.8|72|f:=B4*C4/1000;0.7056
Fécule de maïs|3.2|48|f:=B5*C5/1000;0.1536
Alcool cétylique|11|38.4|f:=B6*C6/1000;0.4224
BTMS-50|38|24|f:=B7*C7/1000;0.912
Beurre de cacao|19|24|f:=B8*C8/1000;0.456
Huile de brocoli|62|14.4|f:=B9*C9/1000;0.8928
Protéines de blé hydrolysées 20 %|45|9.6|f:=B10*C10/1000;0.432
Panthénol 75 %|30|4.8|f:=B11*C11/1000;0.144
HE de palmarosa|150|4.8|f:=B12*C12/1000;0.72
Total||f:=SUM(C3:C12);480|f:=SUM(D3:D12);8.3184
Coût par pain|||f:=D13/8;1.0398""")
R('usual: costs beside the grams', 'shampoing_solide_couts.xlsx', '''Sodium cocoyl isethionate en poudre ¦ /sodium-cocoyl-isethionate-powder-85 ¦ 50
Sodium coco sulfate en granulés ¦ /sodium-coco-sulfate-granules ¦ 15
Fécule de maïs ¦ corn-starch ¦ 10
Alcool cétylique ¦ CEA ¦ 8
BTMS-50 ¦ B50 ¦ 5
Beurre de cacao ¦ CB ¦ 5
Huile de brocoli ¦ /broccoli-seed-oil ¦ 3
Protéines de blé hydrolysées 20 % ¦ /hydrolyzed-wheat-protein-20 ¦ 2
Panthénol 75 % ¦ /PAN ¦ 1
HE de palmarosa ¦ /palmarosa-essential-oil ¦ 1''', batch=480, note='the prices per kg stand before the grams and are no amounts; the cost of a bar is no line')
# 46 per cents by formula
xw('szampon_formuly.xlsx', """Szampon „Skrzyp”, warsztat Zielona Miedza|||
Faza|Składnik|g|udział
A|Woda|322.5|f:=C3/C$13;64.5%
A|Gliceryna|15|f:=C4/C$13;3%
A|Ekstrakt ze skrzypu w glicerynie|10|f:=C5/C$13;2%
B|Sodium Coco Sulfate|50|f:=C6/C$13;10%
B|Kokamidopropylobetaina 38 %|75|f:=C7/C$13;15%
B|Olej rycynowy|5|f:=C8/C$13;1%
C|Pantenol 75 %|10|f:=C9/C$13;2%
C|Sól|5|f:=C10/C$13;1%
C|Benzoesan sodu|2.5|f:=C11/C$13;0.5%
C|Kwas mlekowy 80 %|5|f:=C12/C$13;1%
|Suma|f:=SUM(C3:C12);500|f:=SUM(D3:D12);100%""")
R('usual: per cents by formula', 'szampon_formuly.xlsx', '''Woda ¦ W ¦ 64.5
Gliceryna ¦ G ¦ 3
Ekstrakt ze skrzypu w glicerynie ¦ /horsetail-extract-in-glycerin ¦ 2
Sodium Coco Sulfate ¦ /sodium-coco-sulfate-granules ¦ 10 ¦ B
Kokamidopropylobetaina 38 % ¦ /cocamidopropyl-betaine-solution-38 ¦ 15 ¦ B
Olej rycynowy ¦ CA ¦ 1 ¦ B
Pantenol 75 % ¦ PAN ¦ 2 ¦ C
Sól ¦ /SAL ¦ 1 ¦ C
Benzoesan sodu ¦ SB ¦ 0.5 ¦ C
Kwas mlekowy 80 % ¦ LA80 ¦ 1 ¦ C''', batch=500)
# 47 ounces and a pound
tx('bath_fizzies_oz.txt', """
PRAIRIE HEN BATH FIZZIES - makes 2 lb

1 lb       baking soda
8 oz       citric acid, anhydrous
4 oz       corn starch
2 oz       epsom salt
1 1/2 oz   sweet almond oil
1/2 oz     polysorbate 80

Pack hard, leave 24 hours. Sell at $4.50 each.
""")
R('usual: pounds and ounces with fractions', 'bath_fizzies_oz.txt', '''baking soda ¦ /BIC ¦ 50
citric acid, anhydrous ¦ citric-acid-anhydrous ¦ 25
corn starch ¦ corn-starch ¦ 12.5
epsom salt ¦ magnesium-sulfate-heptahydrate ¦ 6.25
sweet almond oil ¦ AL ¦ 4.6875
polysorbate 80 ¦ P80 ¦ 1.5625''', batch=907.18474, tol=0.001, note='one pound is sixteen ounces, thirty-two in all')
# 48 lye soap
tx('jabon_en_frio.txt', """
JABÓN EN FRÍO «LA SOLANA» (1000 g de grasas)

Aceite de oliva            650 g
Aceite de coco             200 g
Manteca de cacao           100 g
Aceite de ricino            50 g
Agua destilada             290 g
Sosa cáustica (perlas)     138 g
Lactato de sodio 60 %       22 g
Aceite esencial de lavanda  30 g
Óxido de cinc               10 g
Arcilla roja                10 g
---------------------------------
Peso total                1500 g

Sobreengrasado 5 %   ·   Concentración de lejía 32 %   ·   Curado 45 días
""")
R('usual: cold process soap', 'jabon_en_frio.txt', '''Aceite de oliva ¦ OL ¦ 650/15
Aceite de coco ¦ CO ¦ 200/15
Manteca de cacao ¦ CB ¦ 100/15
Aceite de ricino ¦ CA ¦ 50/15
Agua destilada ¦ W ¦ 290/15
Sosa cáustica (perlas) ~ Sosa cáustica ¦ /sodium-hydroxide-pellets ¦ 138/15
Lactato de sodio 60 % ¦ /sodium-lactate-solution-60 ¦ 22/15
Aceite esencial de lavanda ¦ LAV ¦ 2
Óxido de cinc ¦ ?|zinc-oxide-pigment ¦ 10/15
Arcilla roja ¦ /red-clay ¦ 10/15''', batch=1500, note='superfat, strength of the lye and days of curing are no lines; the 1000 g of fats are not the batch; the lye is the solid one, as "perlas" tells; zinc oxide in a soap is the pigment or asked, never a UV filter in silence')
# 49 the current version on its own sheet
xl('Deocreme_Versionen.xlsx', {'v1 verworfen': """Deocreme v1 – verworfen, bröselt||
Rohstoff|%|
Kokosöl|40|
Natron|25|
Maisstärke|25|
Bienenwachs|9|
Vitamin E|1|""", 'v2 AKTUELL': """Deocreme v2 – AKTUELL seit 1.9.2026||
Rohstoff|%|Hinweis
Caprylic/Capric Triglyceride|30|„Neutralöl“
Sheabutter|22|
Maisstärke|18|
Natron|10|fein gesiebt
Zinkricinoleat|5|
Triethylcitrat|5|
Candelillawachs|6|
Cetylalkohol|2.5|
Vitamin E|1|
Salbeiöl|0.5|Salvia officinalis"""}, active=1)
R('odd: a discarded and a current version on sheets', 'Deocreme_Versionen.xlsx', '''Caprylic/Capric Triglyceride ¦ MCT ¦ 30
Sheabutter ¦ SH ¦ 22
Maisstärke ¦ corn-starch ¦ 18
Natron ¦ /BIC ¦ 10
Zinkricinoleat ¦ /zinc-ricinoleate ¦ 5
Triethylcitrat ¦ /triethyl-citrate ¦ 5
Candelillawachs ¦ candelilla-wax ¦ 6
Cetylalkohol ¦ CEA ¦ 2.5
Vitamin E ¦ VE ¦ 1
Salbeiöl ¦ /sage-essential-oil ¦ 0.5''', note='the current version is the active sheet; to ask which, or to bring in both as two, is fair; the discarded one in silence is wrong')
# 50 a material twice
od('gel_glycerine_twee_keer.ods', """Douchegel Rietzanger|||
Fase|Ingrediënt|%|Werkwijze
A|Water|55|verwarmen tot 40 °C
A|Glycerine|3|
A|Natriumchloride|1.5|
B|Xanthaangom|1|eerst in de glycerine roeren
B|Glycerine|2|om de gom te mengen
C|Natriumlauroylsarcosinaat 30 %|22|
C|Cocamidopropylbetaïne 30 %|14|
D|Melkzuur 80 %|0.4|tot pH 5,4
D|Natriumbenzoaat|0.5|
D|Kaliumsorbaat|0.3|
D|Etherische olie van mandarijn|0.3|
|Som|100|""")
R('usual: one material in two phases', 'gel_glycerine_twee_keer.ods', '''Water ¦ W ¦ 55
Glycerine ¦ G ¦ 3
Natriumchloride ¦ SAL ¦ 1.5
Xanthaangom ¦ XG ¦ 1 ¦ B
Glycerine ¦ G ¦ 2 ¦ B
Natriumlauroylsarcosinaat 30 % ¦ /sodium-lauroyl-sarcosinate-solution-30 ¦ 22 ¦ C
Cocamidopropylbetaïne 30 % ¦ /CAPB30 ¦ 14 ¦ C
Melkzuur 80 % ¦ LA80 ¦ 0.4 ¦ D
Natriumbenzoaat ¦ SB ¦ 0.5 ¦ D
Kaliumsorbaat ¦ PS ¦ 0.3 ¦ D
Etherische olie van mandarijn ¦ /mandarin-essential-oil ¦ 0.3 ¦ D''', note='glycerin stands in A and in B: two lines, 3 and 2, not one of 5 nor the second dropped; 40 °C and pH 5.4 are no amounts')

# ---- prices, second half
# 51 web shop, old prices struck
ht('offerte_bottega.html', """
<h1>Erboristeria Valdombra – offerte di novembre</h1>
<table>
<tr><th>Prodotto</th><th>Formato</th><th>Prezzo</th></tr>
<tr><td>Burro di cacao</td><td>500 g</td><td><s>12,50 €</s> 9,90 €</td></tr>
<tr><td>Olio di argan</td><td>250 ml</td><td>18,00 €</td></tr>
<tr><td>Cera d'api</td><td>1 kg</td><td><s>21,00 €</s> 17,80 €</td></tr>
<tr><td>Gomma xantana</td><td>100 g</td><td>4,30 €</td></tr>
<tr><td>Burro di mango</td><td>200 g</td><td>esaurito</td></tr>
</table>
<p>Spedizione 6,50 €, gratuita oltre 60 €.</p>""", 'Offerte')
P('usual: offers with the old price struck', 'offerte_bottega.html', '''Burro di cacao ¦ CB ¦ 9.90 EUR 500
Olio di argan ¦ argan-oil ¦ 18 EUR 250 ml
Cera d'api ¦ BW ¦ 17.80 EUR 1000
Gomma xantana ¦ XG ¦ 4.30 EUR 100''', spare=['Spedizione'], note='the struck price no longer holds; the mango butter is sold out and has none')
# 52 discontinued rows
xl('lista_precios_descatalogados.xlsx', """Almacenes El Serbal – lista de precios 4/2026||||
Ref.|Producto|Envase|Precio|Estado
101|Aceite de ricino|1 l|e:9.2|
102|Aceite de aguacate|500 ml|e:8.75|
103|Manteca de karité|5 kg|e:49|
104|Cera de abejas|1 kg|e:16.4|descatalogado
105|Cera de candelilla|500 g|e:11.9|
106|Ácido esteárico|1 kg|e:5.6|
107|Lanolina|1 kg||descatalogado""")
P('usual: discontinued rows', 'lista_precios_descatalogados.xlsx', '''Aceite de ricino ¦ CA ¦ 9.20 EUR 1000 ml
Aceite de aguacate ¦ AVO ¦ 8.75 EUR 500 ml
Manteca de karité ¦ SH ¦ 49 EUR 5000
Cera de candelilla ¦ candelilla-wax ¦ 11.90 EUR 500
Ácido esteárico ¦ SA ¦ 5.60 EUR 1000''', spare=['Cera de abejas'], note='the beeswax is discontinued: its price left out, or kept and that told; the lanolin has none')
# 53 JSON with prices in pence
tx('feed_prices.json', json.dumps({'supplier': 'Tansy Lane Ingredients', 'currency': 'GBP', 'note': 'price_pence is for one pack, VAT excluded', 'items': [
    {'name': 'Jojoba oil', 'pack': 500, 'unit': 'ml', 'price_pence': 1395}, {'name': 'Cetearyl alcohol', 'pack': 1, 'unit': 'kg', 'price_pence': 845},
    {'name': 'Niacinamide', 'pack': 100, 'unit': 'g', 'price_pence': 420}, {'name': 'Mango butter', 'pack': 2.5, 'unit': 'kg', 'price_pence': 3180},
    {'name': 'Guar gum', 'pack': 250, 'unit': 'g', 'price_pence': 375}]}, indent=2))
P('odd: JSON with prices in pence', 'feed_prices.json', '''Jojoba oil ¦ JO ¦ 13.95 GBP 500 ml
Cetearyl alcohol ¦ CAL ¦ 8.45 GBP 1000
Niacinamide ¦ niacinamide ¦ 4.20 GBP 100
Mango butter ¦ MAN ¦ 31.80 GBP 2500
Guar gum ¦ guar-gum ¦ 3.75 GBP 250''', note='pence, not pounds; to refuse such a file in plain words is fair, 1395 GBP is not')
# 54 price per 100 g in the heading
cs('apothecary_per_100g.csv', """Marsh Samphire Apothecary, loose goods¦
Item¦GBP per 100 g
Kaolin, white clay¦0.95
Rhassoul clay¦2.40
Sodium ascorbyl phosphate¦21.50
Xanthan gum¦3.10
Menthol crystals¦5.80
Urea¦1.05""")
P('usual: price per 100 g in the heading', 'apothecary_per_100g.csv', '''Kaolin, white clay ¦ kaolin-white-clay ¦ 0.95 GBP 100
Rhassoul clay ¦ rhassoul-clay ¦ 2.40 GBP 100
Sodium ascorbyl phosphate ¦ sodium-ascorbyl-phosphate ¦ 21.50 GBP 100
Xanthan gum ¦ XG ¦ 3.10 GBP 100
Menthol crystals ¦ menthol-crystals ¦ 5.80 GBP 100
Urea ¦ urea ¦ 1.05 GBP 100''', note='for 100 g each, never for 1 g or 1 kg')
# 55 Swiss francs
tx('Offerte_Bergmatt.txt', """
Rohstoffe Bergmatt GmbH, Offerte 5512 vom 12.11.2026, gültig 30 Tage
Alle Preise exkl. MWST, franko Haus

Bienenwachs, 25 kg         CHF 1'180.50
Kakaobutter, 10 kg         CHF 245.00
Sheabutter, 25 kg          CHF 212.75
Rizinusöl, 5 l             CHF 48.20
Natriumbenzoat, 1 kg       CHF 9.60

Zahlbar innert 30 Tagen, 2 % Skonto bei 10 Tagen.
""")
P('usual: Swiss francs with apostrophes', 'Offerte_Bergmatt.txt', '''Bienenwachs ~ Bienenwachs, 25 kg ¦ BW ¦ 1180.50 CHF 25000
Kakaobutter ~ Kakaobutter, 10 kg ¦ CB ¦ 245 CHF 10000
Sheabutter ~ Sheabutter, 25 kg ¦ SH ¦ 212.75 CHF 25000
Rizinusöl ~ Rizinusöl, 5 l ¦ CA ¦ 48.20 CHF 5000 ml
Natriumbenzoat ~ Natriumbenzoat, 1 kg ¦ SB ¦ 9.60 CHF 1000''', note='the discount and the days are no prices')

# ---- materials and stock, second half
# 56 Dutch stock, packs counted
cs('voorraad_geteld.csv', """Telling 21 november 2026, schuur¦¦¦¦
Grondstof¦Volle verpakkingen¦Inhoud per verpakking¦Los¦Partij
Zonnebloemolie¦3¦5 l¦1,2 l¦ZB-14
Sheaboter¦2¦1 kg¦350 g¦SH-09
Stearinezuur¦4¦500 g¦¦ST-3
Maïszetmeel¦1¦25 kg¦4 kg¦MZ-88
Kaliumsorbaat¦0¦250 g¦85 g¦KS-21""", sep=';')
P('odd: full packs and loose rest', 'voorraad_geteld.csv', '''Zonnebloemolie ¦ SU ¦ ¦ ZB-14
Sheaboter ¦ SH ¦ ¦ SH-09
Stearinezuur ¦ SA ¦ ¦ ST-3
Maïszetmeel ¦ corn-starch ¦ ¦ MZ-88
Kaliumsorbaat ¦ PS ¦ ¦ KS-21''', note='packs times content plus the loose rest: 16200 ml, 2350 g, 2000 g, 29000 g, 85 g; to ask about the amounts is fair, 5 l or 1.2 l in silence is not')
# 57 Polish stock with date cells
xl('stan_magazynu_sucha.xlsx', """Magazyn – pracownia Jeżynowy Dwór||||
Nazwa|Ilość|j.m.|Nr partii|Ważne do
Olej ryżowy|2.4|l|OR-512|d:2027-04-30
Masło kakaowe|3|kg|MK-77|d:2028-11-30
Glukozyd kokosowy|1.5|kg|GK-2|d:2027-02-28
Mocznik|800|g|MO-41|d:2029-06-30
Guma ksantanowa|120|g|GX-6|d:2028-03-31""")
P('plain: Polish stock with dates', 'stan_magazynu_sucha.xlsx', '''Olej ryżowy ¦ /rice-bran-oil ¦ ¦ OR-512
Masło kakaowe ¦ CB ¦ ¦ MK-77
Glukozyd kokosowy ¦ /coco-glucoside-solution-52 ¦ ¦ GK-2
Mocznik ¦ urea ¦ ¦ MO-41
Guma ksantanowa ¦ XG ¦ ¦ GX-6''', note='2400 ml, 3000 g, 1500 g, 800 g, 120 g')
# 58 American stock, month first
cs('inventory_us_dates.csv', """Material¦Qty¦Lot #¦Exp. (MM/DD/YYYY)
Coconut oil¦5 lb¦CN-101¦06/05/2028
Sodium bicarbonate¦16 oz¦BS-7¦04/03/2029
Castor oil¦950 ml¦CS-33¦11/25/2027
Candelilla wax¦2.5 lb¦CW-12¦01/08/2030
Menthol crystals¦100 g¦MN-2¦12/31/2028""")
P('usual: American dates and pounds', 'inventory_us_dates.csv', '''Coconut oil ¦ CO ¦ ¦ CN-101
Sodium bicarbonate ¦ BIC ¦ ¦ BS-7
Castor oil ¦ CA ¦ ¦ CS-33
Candelilla wax ¦ candelilla-wax ¦ ¦ CW-12
Menthol crystals ¦ menthol-crystals ¦ ¦ MN-2''', note='2267.96 g, 453.59 g, 950 ml, 1133.98 g, 100 g; the heading says month first: 5 June 2028, 3 April 2029, 25 November 2027, 8 January 2030, 31 December 2028')
# 59 Italian blends by INCI
cs('miscele_inci.csv', """Nome commerciale¦INCI¦Fornitore¦Dose
Cera emulsionante¦Cetearyl Alcohol, Ceteareth-20¦Depositi Ripalta¦3-8 %
Emulsionante dolce¦Glyceryl Stearate, Sodium Stearoyl Lactylate¦Depositi Ripalta¦4-6 %
Conservante base¦Phenoxyethanol, Caprylyl Glycol¦Depositi Ripalta¦1 %
Olio di mirtillo macerato¦Helianthus Annuus Seed Oil, Vaccinium Myrtillus Fruit Extract¦Orto dei Frati¦5 %
Amido di tapioca¦Tapioca Starch¦Orto dei Frati¦2-10 %
Ceramide NP¦Ceramide NP¦Depositi Ripalta¦0,2 %""", sep=';')
M('usual: blends told by INCI', 'miscele_inci.csv', '''Cera emulsionante ¦ cetearyl-alcohol-and-ceteareth-20|?cetearyl-alcohol-and-ceteareth-20|?|new|cera-emulsionante
Emulsionante dolce ¦ glyceryl-stearate-and-sodium-stearoyl-lactylate|?glyceryl-stearate-and-sodium-stearoyl-lactylate|?|new|emulsionante-dolce
Conservante base ¦ phenoxyethanol-and-caprylyl-glycol-blend|?phenoxyethanol-and-caprylyl-glycol-blend|?|new|conservante-base
Olio di mirtillo macerato ¦ NEW
Amido di tapioca ¦ /tapioca-starch
Ceramide NP ¦ ceramide-np''', note='never the first part of a blend alone; bilberry in sunflower oil is not on the shelf and is not plain sunflower oil')
# 60 German notes, INCI in brackets
tx('Regalzettel_Rohstoffe.txt', """
Regalzettel Manufaktur Birkenschlag (Name – INCI – Charge steht am Eimer)

Rizinusöl, gehärtet – INCI: Hydrogenated Castor Oil
Olivenölemulgator – INCI: Cetearyl Olivate, Sorbitan Olivate
Birkensaft – INCI: Betula Alba Juice
Schlehenblütenmazerat in Mandelöl – INCI: Prunus Amygdalus Dulcis Oil, Prunus Spinosa Flower Extract
Milchpulver – INCI: Lac Powder
Kamillenhydrolat – INCI: Chamomilla Recutita Flower Water
Rügener Heilkreide – INCI: Calcium Carbonate
""")
M('odd: shelf notes as text', 'Regalzettel_Rohstoffe.txt', '''Rizinusöl, gehärtet ¦ /hydrogenated-castor-oil
Olivenölemulgator ¦ cetearyl-olivate-and-sorbitan-olivate|?cetearyl-olivate-and-sorbitan-olivate|?|new|olivenolemulgator
Birkensaft ¦ /birch-sap
Schlehenblütenmazerat in Mandelöl ¦ NEW
Milchpulver ¦ /milk-powder
Kamillenhydrolat ¦ /chamomile-water
Rügener Heilkreide ¦ calcium-carbonate|?calcium-carbonate|?|new|rugener-heilkreide''', note='the hydrogenated castor oil is a wax, not castor oil; blackthorn macerate is new and is not plain almond oil')
# The expectations stand in expected.json, with those of the other rounds, corrected where they were wrong.
for k in ('recipe', 'price', 'materials'): print(k, sum(c['kind'] == k for c in CASES), 'files', sum(len(c['lines']) for c in CASES if c['kind'] == k), 'lines')
