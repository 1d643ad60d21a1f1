#!/usr/bin/env python3
"""An eighth round, written down before the program had read any of it (class "seventh" in
expected.json, which counts from the first round that was not tuned to). Fifty makers with their
own habits. Phases in the expectation are A, B, C in the order of the file; where the file writes
them in words or figures the case also carries phases={letter: what the file writes}; an empty
phase is not to be checked (steps that a person may or may not take for phases)."""
from cells import *
begin('')

# ====================================================================== recipes
# 1 the tidy chemist: data block, active matter before the percent, kilograms last
xl('duschgel_klarsee_v3.xlsx', '''Rezepturblatt||||||
Produkt|Duschgel Klarsee|||Version|3|
Rezeptur-Nr.|DG-017|||Datum|n:2026-09-14|
Ansatzgröße|25 kg|||pH-Soll|5,0–5,5|
||||||
Ph.|Rohstoff|INCI|CAS|WAS %|Gew.-%|Einwaage (kg)
A|Wasser, demineralisiert|Aqua|7732-18-5||58.4|14.6
A|Natriumbenzoat|Sodium Benzoate|532-32-1||0.5|0.125
A|Tetranatriumglutamatdiacetat 47 %|Tetrasodium Glutamate Diacetate|51981-21-6|47|0.3|0.075
B|Natriumlaurethsulfat 28 %|Sodium Laureth Sulfate|68891-38-3|28|25|6.25
B|Cocamidopropylbetain 38 %|Cocamidopropyl Betaine|61789-40-0|38|8|2
B|Laurylglucosid|Lauryl Glucoside|110615-47-9|51|4|1
B|PEG-7-Glycerylcocoat|PEG-7 Glyceryl Cocoate|66105-29-1|100|1.2|0.3
C|Citronensäure 50 %|Citric Acid, Aqua|77-92-9|50|0.6|0.15
C|Natriumchlorid|Sodium Chloride|7647-14-5||1.4|0.35
C|Parfümöl Seeluft|Parfum|||0.6|0.15
|Summe||||100|25
||||||
Herstellung:|A bei 20 °C lösen, B nacheinander einrühren (60 U/min), C zugeben, 15 min entlüften.|||||
Viskosität:|4500 mPas|||||''', bold=[1, 6, 17])
R('active matter column', 'duschgel_klarsee_v3.xlsx', '''Wasser, demineralisiert ¦ W ¦ 58.4 ¦ A
Natriumbenzoat ¦ sodium-benzoate ¦ 0.5 ¦ A
Tetranatriumglutamatdiacetat 47 % ¦ tetrasodium-glutamate-diacetate-47 ¦ 0.3 ¦ A
Natriumlaurethsulfat 28 % ¦ SLES28 ¦ 25 ¦ B
Cocamidopropylbetain 38 % ¦ CAPB38 ¦ 8 ¦ B
Laurylglucosid ¦ LG ¦ 4 ¦ B
PEG-7-Glycerylcocoat ¦ peg-7-glyceryl-cocoate ¦ 1.2 ¦ B
Citronensäure 50 % ¦ citric-acid-solution-50 ¦ 0.6 ¦ C
Natriumchlorid ¦ sodium-chloride ¦ 1.4 ¦ C
Parfümöl Seeluft ¦ FR ¦ 0.6 ¦ C''', batch=25000)

# 2 the grandmother: ounces and fractions
tx('grans_hand_balm.txt', '''
Hand balm for the garden and for cracked heels

4 oz olive oil
2 oz beeswax
1½ oz cocoa butter
½ oz lanolin

Melt the wax first, then the rest, in the old blue jug stood in hot water.
Pour into 3 little tins. Keeps a year if nobody leaves the lid off.
''')
R('ounces', 'grans_hand_balm.txt', '''olive oil ¦ olive-oil ¦ 50
beeswax ¦ beeswax-white ¦ 25
cocoa butter ¦ cocoa-butter ¦ 18.75
lanolin ¦ /lanolin-anhydrous ¦ 6.25''')

# 3 a letter pasted whole, with the question quoted below
tx('mail_lotion_rose.txt', '''
De : Solène
À : Maud
Objet : Re: ta lotion à la rose ?
Date : 3 mai 2026 19:05

Coucou Maud,

voilà, comme promis, pour un flacon de 250 g :

eau de rose ............... 100 g
eau distillée ............. 112,5 g
glycérine ................. 12,5 g
propanediol ............... 10 g
jus d'aloe vera ........... 10 g
allantoïne ................ 0,5 g
panthénol 75 % ............ 2,5 g
sorbate de potassium ...... 0,5 g
benzoate de sodium ........ 1 g
acide lactique 80 % ....... 0,5 g

Tout à froid, l'allantoïne en premier. Conserver 3 mois.
Bises
Solène

> Le 3 mai 2026 à 18:42, Maud a écrit :
> tu me redonnes ta recette ? la mienne colle trop, je crois que j'avais mis 10 % de glycérine
''')
R('e-mail', 'mail_lotion_rose.txt', '''eau de rose ¦ rose-water ¦ 40
eau distillée ¦ W ¦ 45
glycérine ¦ G ¦ 5
propanediol ¦ propanediol ¦ 4
jus d'aloe vera ¦ aloe-vera-juice ¦ 4
allantoïne ¦ allantoin-powder ¦ 0.2
panthénol 75 % ¦ d-panthenol-75 ¦ 1
sorbate de potassium ¦ potassium-sorbate ¦ 0.2
benzoate de sodium ¦ sodium-benzoate ¦ 0.4
acide lactique 80 % ¦ lactic-acid-80 ¦ 0.2''', batch=250)

# 4 the page of a blog, pasted with menu and comments; "grams | percent name" in lists
ht('blog_cleansing_jelly.html', '''<nav><a href="/">Home</a> | <a href="/all">All recipes</a> | <a href="/shop">Shop</a></nav>
<h1>A soft cleansing jelly</h1>
<p>Posted 12 March 2026 &middot; 4 comments</p>
<p>I wanted something that does not strip, so I went from 30% surfactant down to what you see here. Makes 200 g.</p>
<h2>Cleansing jelly</h2>
<h3>Water phase</h3>
<ul>
<li>117g | 58.5% distilled water</li>
<li>12g | 6% vegetable glycerin</li>
<li>3g | 1.5% hydroxyethylcellulose</li>
</ul>
<h3>Surfactant phase</h3>
<ul>
<li>40g | 20% cocamidopropyl betaine</li>
<li>20g | 10% decyl glucoside</li>
</ul>
<h3>Cool down phase</h3>
<ul>
<li>5g | 2.5% hydrolyzed oat protein</li>
<li>2g | 1% phenoxyethanol and ethylhexylglycerin</li>
<li>1g | 0.5% sweet orange essential oil</li>
</ul>
<p>Hydrate the thickener in the water phase, 40 minutes. Stir in the rest. The pH should land at 5.5.</p>
<h2>You may also like</h2>
<ul><li>Oat milk bath</li><li>Five balms in 15 minutes</li></ul>
<h2>Comments</h2>
<p><b>Ines</b>: mine came out thin, I used 1% of the thickener.</p>
<p><b>Tom</b>: works with 3 g of salt too!</p>''', 'A soft cleansing jelly')
R('blog page', 'blog_cleansing_jelly.html', '''distilled water ¦ W ¦ 58.5 ¦ A
vegetable glycerin ¦ G ¦ 6 ¦ A
hydroxyethylcellulose ¦ hydroxyethylcellulose ¦ 1.5 ¦ A
cocamidopropyl betaine ¦ CB ¦ 20 ¦ B
decyl glucoside ¦ DG ¦ 10 ¦ B
hydrolyzed oat protein ¦ /hydrolyzed-oat-protein-20 ¦ 2.5 ¦ C
phenoxyethanol and ethylhexylglycerin ¦ PE ¦ 1 ¦ C
sweet orange essential oil ¦ sweet-orange-essential-oil ¦ 0.5 ¦ C''', batch=200, phases={'A': 'Water phase', 'B': 'Surfactant phase', 'C': 'Cool down phase'})

# 5 the printed sheet of a day: columns to fill in by pen stand empty
xl('batch_sheet_BK-118.xlsx', '''Batch sheet||||||
Product:||Oat body lotion|Batch no.|BK-118||
Batch size:||12 kg|Made on|||
||||||
Done|Ph|Raw material|Lot no.|To weigh (g)|Weighed (g)|Initials
|A|Water||8160||
|A|Glycerin||480||
|A|Xanthan gum||36||
|B|Sunflower oil||1440||
|B|Shea butter||480||
|B|Glyceryl stearate SE||600||
|B|Cetyl alcohol||360||
|C|Colloidal oat flour||240||
|C|Phenoxyethanol||108||
|C|Tocopheryl acetate||60||
|C|Lavender essential oil||36||
||Total||12000||
||||||
pH found:||||||
Filled:||48 bottles of 250 g||||''', bold=[1, 5, 17])
R('batch sheet', 'batch_sheet_BK-118.xlsx', '''Water ¦ W ¦ 68 ¦ A
Glycerin ¦ G ¦ 4 ¦ A
Xanthan gum ¦ xanthan-gum ¦ 0.3 ¦ A
Sunflower oil ¦ sunflower-seed-oil ¦ 12 ¦ B
Shea butter ¦ shea-butter ¦ 4 ¦ B
Glyceryl stearate SE ¦ glyceryl-stearate-se ¦ 5 ¦ B
Cetyl alcohol ¦ cetyl-alcohol ¦ 3 ¦ B
Colloidal oat flour ¦ colloidal-oat-flour ¦ 2 ¦ C
Phenoxyethanol ¦ phenoxyethanol ¦ 0.9 ¦ C
Tocopheryl acetate ¦ tocopheryl-acetate ¦ 0.5 ¦ C
Lavender essential oil ¦ LAV ¦ 0.3 ¦ C''', batch=12000)

# 6 saved from a tablet: name of the table first, empty columns and rows
cs('Detergente_viso-Tabella_1.csv', '''Tabella 1;;;;;
Ingrediente;%;;Fase;;
Acqua demineralizzata;q.b. a 100;;A;;
Glicerina;5;;A;;
Gomma xantana;0,8;;A;;
Decil glucoside;12;;B;;
Cocamidopropil betaina 30 %;14;;B;;
Proteine del riso idrolizzate 20 %;2;;C;;
Pantenolo 75 %;1;;C;;
Benzoato di sodio;0,5;;C;;
Sorbato di potassio;0,3;;C;;
Acido citrico soluzione 50 %;0,7;;C;;
Olio essenziale di mandarino;0,5;;C;;
;;;;;
;;;;;'''.replace(';', '|'), sep=';')
R('tablet export', 'Detergente_viso-Tabella_1.csv', '''Acqua demineralizzata ¦ W ¦ 63.2 ¦ A
Glicerina ¦ G ¦ 5 ¦ A
Gomma xantana ¦ xanthan-gum ¦ 0.8 ¦ A
Decil glucoside ¦ DG ¦ 12 ¦ B
Cocamidopropil betaina 30 % ¦ CAPB30 ¦ 14 ¦ B
Proteine del riso idrolizzate 20 % ¦ hydrolyzed-rice-protein-20 ¦ 2 ¦ C
Pantenolo 75 % ¦ d-panthenol-75 ¦ 1 ¦ C
Benzoato di sodio ¦ sodium-benzoate ¦ 0.5 ¦ C
Sorbato di potassio ¦ potassium-sorbate ¦ 0.3 ¦ C
Acido citrico soluzione 50 % ¦ citric-acid-solution-50 ¦ 0.7 ¦ C
Olio essenziale di mandarino ¦ mandarin-essential-oil ¦ 0.5 ¦ C''')

# 7 costing: price per kg, grams, cost, and the share of the cost in percent beside the percent of the formula
ch = [('Cocoil isetionato de sodio en polvo 85 %', 'sodium-cocoyl-isethionate-powder-85', 10.5, 45), ('Coco-sulfato de sodio en gránulos', 'sodium-coco-sulfate-granules', 6.2, 20), ('Alcohol cetílico', 'cetyl-alcohol', 6.8, 9), ('Manteca de cacao', 'cocoa-butter', 14, 6), ('Cocamidopropil betaína 30 %', 'CAPB30', 3.4, 8), ('Almidón de maíz', 'corn-starch', 2.4, 5), ('BTMS-25', 'behentrimonium-methosulfate-25-in-cetearyl-alcohol', 18, 4), ('Proteína de trigo hidrolizada 20 %', 'hydrolyzed-wheat-protein-20', 21, 1.5), ('Ácido cítrico monohidrato', 'citric-acid-monohydrate', 3.2, .5), ('Aceite esencial de romero, tipo cineol', '/rosemary-essential-oil-cineole-type', 88, 1)]
cost = sum(e * p / 40 for n, i, e, p in ch)
xl('escandallo_champu_solido.xlsx', 'Champú sólido de romero – escandallo|||||\nLote: 2,5 kg (50 pastillas de 50 g)|||||\n|||||\nIngrediente|Precio €/kg|Fórmula %|Lote (g)|Coste (€)|% del coste\n' + ''.join(f'{n}|{e:g}|{p:g}|{p*25:g}|{e*p/40:.2f}|{e*p/40/cost*100:.1f}\n' for n, i, e, p in ch) + f'Total||100|2500|{cost:.2f}|100\nPor pastilla||||{cost/50:.2f}|', bold=[1, 4, 15])
R('costing columns', 'escandallo_champu_solido.xlsx', '\n'.join(f'{n} ¦ {i} ¦ {p}' for n, i, e, p in ch), batch=2500)

# 8 no heading over the percent, remarks with numbers, water made up
od('douchemelk_kamille.ods', '''Douchemelk Kamille||
gemaakt 3 mei 2026, 4e versie||
||
grondstof||opmerking
Demiwater|aanvullen tot 100|eerst 10 min koken
Glycerine|4|
Natriumcocoylglutamaat 25 %|18|
Cocoglucoside|8|pH is 11!
Zonnebloemolie|3|2 was te weinig
Coco-glucoside en glyceryloleaat|2|
Kamille-extract in glycerine|1|
Natriumbenzoaat|0.5|
Citroenzuurmonohydraat|0.6|pH 5
Etherische olie van lavendel|0.3|6 druppels per 100 g''')
R('no heading over the percent', 'douchemelk_kamille.ods', '''Demiwater ¦ W ¦ 62.6
Glycerine ¦ G ¦ 4
Natriumcocoylglutamaat 25 % ¦ sodium-cocoyl-glutamate-solution-25 ¦ 18
Cocoglucoside ¦ CG ¦ 8
Zonnebloemolie ¦ sunflower-seed-oil ¦ 3
Coco-glucoside en glyceryloleaat ¦ /coco-glucoside-and-glyceryl-oleate-blend ¦ 2
Kamille-extract in glycerine ¦ chamomile-extract-in-glycerin ¦ 1
Natriumbenzoaat ¦ sodium-benzoate ¦ 0.5
Citroenzuurmonohydraat ¦ citric-acid-monohydrate ¦ 0.6
Etherische olie van lavendel ¦ LAV ¦ 0.3''')

# 9 old Windows encoding, phases in words of two languages, odd headings, acid q.s.
cs('reinigungsmilch_rose.csv', '''Teil;Was;Wieviel %;Bemerkung
wässrig;Rosenwasser;20;
wässrig;dest. Wasser;47,5;
wässrig;Glycerin;3;
ölig;Mandelöl;14;
ölig;Jojobaöl;4;
ölig;Glycerylstearat SE;5;
ölig;Cetylalkohol;2;
cool down;Sanddornfruchtfleischöl;0,5;färbt!
cool down;Phenoxyethanol + Ethylhexylglycerin;1;
cool down;D-Panthenol 75 %;2;
cool down;Vitamin E;0,5;
cool down;Lavendelöl;0,5;ca. 12 Tropfen
cool down;Milchsäure 80 %;q.s.;auf pH 5'''.replace(';', '|'), sep=';', enc='cp1252')
R('phases in words', 'reinigungsmilch_rose.csv', '''Rosenwasser ¦ rose-water ¦ 20 ¦ A
dest. Wasser ¦ W ¦ 47.5 ¦ A
Glycerin ¦ G ¦ 3 ¦ A
Mandelöl ¦ sweet-almond-oil ¦ 14 ¦ B
Jojobaöl ¦ jojoba-oil ¦ 4 ¦ B
Glycerylstearat SE ¦ glyceryl-stearate-se ¦ 5 ¦ B
Cetylalkohol ¦ cetyl-alcohol ¦ 2 ¦ B
Sanddornfruchtfleischöl ¦ /sea-buckthorn-fruit-oil ¦ 0.5 ¦ C
Phenoxyethanol + Ethylhexylglycerin ¦ phenoxyethanol-and-ethylhexylglycerin-90-10 or ? ¦ 1 ¦ C
D-Panthenol 75 % ¦ d-panthenol-75 ¦ 2 ¦ C
Vitamin E ¦ VE ¦ 0.5 ¦ C
Lavendelöl ¦ LAV ¦ 0.5 ¦ C
Milchsäure 80 % ¦ lactic-acid-80 ¦ - ¦ C''', phases={'A': 'wässrig', 'B': 'ölig', 'C': 'cool down'})

# 10 phases in merged cells at the left, without a heading
xl('krem_do_rak_lipa.xlsx', '''Krem do rąk Lipa|||
|Surowiec|INCI|Udział %
Faza wodna|Woda destylowana|Aqua|66
|Gliceryna|Glycerin|6
|Guma ksantanowa|Xanthan Gum|0.4
Faza tłuszczowa|Masło shea|Butyrospermum Parkii Butter|8
|Olej ze słodkich migdałów|Prunus Amygdalus Dulcis Oil|8
|Alkohol cetylowy|Cetyl Alcohol|3
|Stearynian glicerolu SE|Glyceryl Stearate, Potassium Stearate|5
Dodatki|Ekstrakt z lipy w glicerynie|Glycerin, Aqua, Tilia Cordata Flower Extract|2
|Fenoksyetanol|Phenoxyethanol|0.9
|Octan tokoferylu|Tocopheryl Acetate|0.4
|Olejek geraniowy|Pelargonium Graveolens Flower Oil|0.3
|||100''', merge=['A1:D1', 'A3:A5', 'A6:A9', 'A10:A13'], bold=[1, 2])
R('merged phases', 'krem_do_rak_lipa.xlsx', '''Woda destylowana ¦ W ¦ 66 ¦ A
Gliceryna ¦ G ¦ 6 ¦ A
Guma ksantanowa ¦ xanthan-gum ¦ 0.4 ¦ A
Masło shea ¦ shea-butter ¦ 8 ¦ B
Olej ze słodkich migdałów ¦ sweet-almond-oil ¦ 8 ¦ B
Alkohol cetylowy ¦ cetyl-alcohol ¦ 3 ¦ B
Stearynian glicerolu SE ¦ glyceryl-stearate-se ¦ 5 ¦ B
Ekstrakt z lipy w glicerynie ¦ linden-blossom-extract-in-glycerin ¦ 2 ¦ C
Fenoksyetanol ¦ phenoxyethanol ¦ 0.9 ¦ C
Octan tokoferylu ¦ tocopheryl-acetate ¦ 0.4 ¦ C
Olejek geraniowy ¦ geranium-essential-oil ¦ 0.3 ¦ C''', phases={'A': 'Faza wodna', 'B': 'Faza tłuszczowa', 'C': 'Dodatki'})

# 11 a column for each phase
xl('hand_cream_columns.xlsx', '''Lavender hand cream||||
Ingredient|INCI|Phase A %|Phase B %|Phase C %
Lavender water|Lavandula Angustifolia Flower Water|25||
Water|Aqua|42.2||
Propanediol|Propanediol|4||
Sclerotium gum|Sclerotium Gum|0.5||
Apricot kernel oil|Prunus Armeniaca Kernel Oil||9|
Mango butter|Mangifera Indica Seed Butter||6|
Cetearyl olivate and sorbitan olivate|Cetearyl Olivate, Sorbitan Olivate||5|
Cetyl palmitate|Cetyl Palmitate||2.5|
Niacinamide|Niacinamide|||3
Sodium lactate 60 %|Sodium Lactate, Aqua|||1.5
Benzyl alcohol and dehydroacetic acid|Benzyl Alcohol, Aqua, Dehydroacetic Acid|||0.9
Lavender essential oil|Lavandula Angustifolia Oil|||0.4
Sum of phase||71.7|22.5|5.8
Sum||||100''', bold=[1, 2, 15, 16])
R('phases in column headings', 'hand_cream_columns.xlsx', '''Lavender water ¦ lavender-water ¦ 25 ¦ A
Water ¦ W ¦ 42.2 ¦ A
Propanediol ¦ propanediol ¦ 4 ¦ A
Sclerotium gum ¦ sclerotium-gum ¦ 0.5 ¦ A
Apricot kernel oil ¦ apricot-kernel-oil ¦ 9 ¦ B
Mango butter ¦ mango-butter ¦ 6 ¦ B
Cetearyl olivate and sorbitan olivate ¦ cetearyl-olivate-and-sorbitan-olivate ¦ 5 ¦ B
Cetyl palmitate ¦ cetyl-palmitate ¦ 2.5 ¦ B
Niacinamide ¦ niacinamide ¦ 3 ¦ C
Sodium lactate 60 % ¦ sodium-lactate-solution-60 ¦ 1.5 ¦ C
Benzyl alcohol and dehydroacetic acid ¦ BADHA ¦ 0.9 ¦ C
Lavender essential oil ¦ LAV ¦ 0.4 ¦ C''')

# 12 numbered phases, a column of the highest dose before the dose
od('lait_corps_abricot.ods', '''Lait corps abricot||||
Ph.|Matière première|Dose max %|Taux|Pour 300 g
1|Eau déminéralisée||'67,8 %|203.4
1|Glycérine|10|'4 %|12
1|Gomme guar|1|'0,4 %|1.2
2|Huile de noyau d'abricot||'14 %|42
2|Cire d'abeille|5|'1,5 %|4.5
2|Cétéaryl glucoside et alcool cétéarylique|6|'6 %|18
2|Alcool béhénylique|4|'2 %|6
3|Protéines d'avoine hydrolysées 20 %|5|'2 %|6
3|Extrait de calendula dans la glycérine|5|'1 %|3
3|Phénoxyéthanol|1|'0,9 %|2.7
3|Vitamine E|1|'0,4 %|1.2
|TOTAL||'100 %|300''')
R('numbered phases, highest dose', 'lait_corps_abricot.ods', '''Eau déminéralisée ¦ W ¦ 67.8 ¦ A
Glycérine ¦ G ¦ 4 ¦ A
Gomme guar ¦ guar-gum ¦ 0.4 ¦ A
Huile de noyau d'abricot ¦ apricot-kernel-oil ¦ 14 ¦ B
Cire d'abeille ¦ beeswax-white ¦ 1.5 ¦ B
Cétéaryl glucoside et alcool cétéarylique ¦ /cetearyl-glucoside-and-cetearyl-alcohol ¦ 6 ¦ B
Alcool béhénylique ¦ behenyl-alcohol ¦ 2 ¦ B
Protéines d'avoine hydrolysées 20 % ¦ hydrolyzed-oat-protein-20 ¦ 2 ¦ C
Extrait de calendula dans la glycérine ¦ calendula-extract-in-glycerin ¦ 1 ¦ C
Phénoxyéthanol ¦ phenoxyethanol ¦ 0.9 ¦ C
Vitamine E ¦ VE ¦ 0.4 ¦ C''', batch=300, phases={'A': '1', 'B': '2', 'C': '3'})

# 13 steps between the ingredients
tx('ginger_scrub_steps.md', '''
# Ginger sugar scrub

Enough for two jars of 250 g.

**1.** Melt together over hot water (75 °C):

- 75 g shea butter
- 25 g emulsifying wax NF
- 15 g stearic acid

**2.** Take off the heat, stir in:

- 120 g sweet almond oil
- 4 g vitamin E
- 4.5 g phenoxyethanol
- 1.5 g ginger essential oil

**3.** When it is cool, after about 2 hours, whip 5 minutes and fold in:

- 255 g granulated sugar

**4.** Fill the jars and let them stand for 24 hours.
''')
R('steps between', 'ginger_scrub_steps.md', '''shea butter ¦ shea-butter ¦ 15 ¦
emulsifying wax NF ¦ EWNF ¦ 5 ¦
stearic acid ¦ stearic-acid ¦ 3 ¦
sweet almond oil ¦ sweet-almond-oil ¦ 24 ¦
vitamin E ¦ VE ¦ 0.8 ¦
phenoxyethanol ¦ phenoxyethanol ¦ 0.9 ¦
ginger essential oil ¦ ginger-essential-oil ¦ 0.3 ¦
granulated sugar ¦ /sugar-granulated ¦ 51 ¦''', batch=500)

# 14 the total first, kilograms and grams as text below each other
xl('bagnoschiuma_pineta.xlsx', '''Bagnoschiuma Pineta|
Totale lotto|20 kg
|
Materia prima|Quantità
Acqua demineralizzata|11,56 kg
Sodio laurete solfato 70 %|3,2 kg
Cocamidopropil betaina 30 %|2,4 kg
Coco glucoside|1,6 kg
Glicerina|400 g
Sale fino|500 g
Sodio benzoato|100 g
Acido citrico monoidrato|80 g
Estratto di edera in glicerina|60 g
Olio essenziale di pino silvestre|60 g
Olio essenziale di ginepro|40 g''', bold=[1, 4])
R('kilograms and grams, total on top', 'bagnoschiuma_pineta.xlsx', '''Acqua demineralizzata ¦ W ¦ 57.8
Sodio laurete solfato 70 % ¦ SLES70 ¦ 16
Cocamidopropil betaina 30 % ¦ CAPB30 ¦ 12
Coco glucoside ¦ CG ¦ 8
Glicerina ¦ G ¦ 2
Sale fino ¦ /sodium-chloride ¦ 2.5
Sodio benzoato ¦ sodium-benzoate ¦ 0.5
Acido citrico monoidrato ¦ citric-acid-monohydrate ¦ 0.4
Estratto di edera in glicerina ¦ ivy-extract-in-glycerin ¦ 0.3
Olio essenziale di pino silvestre ¦ scots-pine-essential-oil ¦ 0.3
Olio essenziale di ginepro ¦ /juniper-berry-essential-oil ¦ 0.2''', batch=20000)

# 15 the same recipe in three sizes, the headings are the sizes
xl('bath_bombs_sizes.xlsx', '''Fizzing bath bombs|||
|100 g|500 g|1 kg
Sodium bicarbonate|48|240|480
Citric acid, anhydrous|24|120|240
Corn starch|12|60|120
Epsom salt|8|40|80
Cocoa butter|4.5|22.5|45
Sweet almond oil|2|10|20
Polysorbate 80|1|5|10
Spearmint essential oil|0.5|2.5|5
|100|500|1000''', bold=[1, 2])
R('scaled columns', 'bath_bombs_sizes.xlsx', '''Sodium bicarbonate ¦ sodium-bicarbonate ¦ 48
Citric acid, anhydrous ¦ citric-acid-anhydrous ¦ 24
Corn starch ¦ corn-starch ¦ 12
Epsom salt ¦ magnesium-sulfate-heptahydrate ¦ 8
Cocoa butter ¦ cocoa-butter ¦ 4.5
Sweet almond oil ¦ sweet-almond-oil ¦ 2
Polysorbate 80 ¦ polysorbate-80 ¦ 1
Spearmint essential oil ¦ spearmint-essential-oil ¦ 0.5''')

# 16 written as in a pharmacy: grams without a unit, water "ad"
tx('rezeptur_harnstoffgel.txt', '''
Rp.

Harnstoff                 10,0
Natriumlactat 60 %         5,0
Glycerin 86 %             12,0
Xanthan                    0,6
Phenoxyethanol             1,8
Milchsäure 90 %            0,4
Lavendelwasser            40,0
Aqua purificata       ad 200,0

M. f. Gel. 2 x täglich dünn auftragen.
''')
R('balance', 'rezeptur_harnstoffgel.txt', '''Harnstoff ¦ urea ¦ 5
Natriumlactat 60 % ¦ sodium-lactate-solution-60 ¦ 2.5
Glycerin 86 % ¦ glycerin-86 ¦ 6
Xanthan ¦ xanthan-gum ¦ 0.3
Phenoxyethanol ¦ phenoxyethanol ¦ 0.9
Milchsäure 90 % ¦ lactic-acid-90 ¦ 0.2
Lavendelwasser ¦ lavender-water ¦ 20
Aqua purificata ¦ /water-demineralised ¦ 65.1''', batch=200)

# 17 grams only, a column of own numbers, remarks full of numbers
cs('baardolie.csv', '''Nummer;Ingrediënt;Hoeveelheid g;Opmerking
R-102;Jojobaolie;24;houdbaar 24 maanden
R-088;Arganolie;18;
R-041;Druivenpitolie;13,5;max 30 %
R-012;Ricinusolie;3;2 g is ook goed
R-120;Vitamine E;0,6;1 %
R-203;Cederhoutolie Atlas;0,5;ca. 10 druppels
R-207;Etherische olie van zoete sinaasappel;0,4;8 druppels'''.replace(';', '|'), sep=';')
R('grams, remarks with numbers', 'baardolie.csv', '''Jojobaolie ¦ jojoba-oil ¦ 40
Arganolie ¦ argan-oil ¦ 30
Druivenpitolie ¦ grape-seed-oil ¦ 22.5
Ricinusolie ¦ castor-oil ¦ 5
Vitamine E ¦ VE ¦ 1
Cederhoutolie Atlas ¦ /cedarwood-atlas-essential-oil ¦ 0.5/0.6
Etherische olie van zoete sinaasappel ¦ sweet-orange-essential-oil ¦ 0.4/0.6''')

# 18 INCI names only, the CAS second, water "do 100"
cs('krem_lekki_inci.csv', '''INCI|CAS|Faza|% wag.
Aqua|7732-18-5|A|do 100
Glycerin|56-81-5|A|5
Allantoin|97-59-6|A|0.2
Caprylic/Capric Triglyceride|73398-61-5|B|10
Squalane|111-01-3|B|5
Glyceryl Stearate Citrate|55840-13-6|B|4
Cetearyl Alcohol|67762-27-0|B|3
Niacinamide|98-92-0|C|2
Phenoxyethanol|122-99-6|C|0.9
Tocopheryl Acetate|7695-91-2|C|0.5
Bisabolol|515-69-5|C|0.2''')
R('INCI only', 'krem_lekki_inci.csv', '''Aqua ¦ W ¦ 69.2 ¦ A
Glycerin ¦ G ¦ 5 ¦ A
Allantoin ¦ allantoin-powder ¦ 0.2 ¦ A
Caprylic/Capric Triglyceride ¦ caprylic-capric-triglyceride ¦ 10 ¦ B
Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 5 ¦ B
Glyceryl Stearate Citrate ¦ glyceryl-stearate-citrate ¦ 4 ¦ B
Cetearyl Alcohol ¦ cetearyl-alcohol ¦ 3 ¦ B
Niacinamide ¦ niacinamide ¦ 2 ¦ C
Phenoxyethanol ¦ phenoxyethanol ¦ 0.9 ¦ C
Tocopheryl Acetate ¦ tocopheryl-acetate ¦ 0.5 ¦ C
Bisabolol ¦ bisabolol ¦ 0.2 ¦ C''')

# 19 a second recipe beside the first (several recipes)
xl('hand_wash_and_lotion.xlsx', '''Hand wash||||Hand lotion||
Ingredient|%|g (500)||Ingredient|%|g (500)
Water|61.5|307.5||Water|71.6|358
Sodium coco-sulfate granules|14|70||Glycerin|5|25
Cocamidopropyl betaine 30 %|12|60||Xanthan gum|0.4|2
Coco-glucoside|6|30||Olive oil|10|50
Glycerin|4|20||Cocoa butter|4|20
Sodium chloride|1.5|7.5||Cetearyl alcohol and ceteareth-20|5|25
Sodium benzoate|0.5|2.5||Stearic acid|2|10
Citric acid, anhydrous|0.3|1.5||Phenoxyethanol and ethylhexylglycerin|1|5
Spearmint essential oil|0.2|1||Vitamin E|0.5|2.5
Total|100|500||Geranium essential oil|0.5|2.5
||||Total|100|500''', bold=[1, 2])
R('second recipe beside', 'hand_wash_and_lotion.xlsx', '''Water ¦ W ¦ 61.5
Sodium coco-sulfate granules ¦ sodium-coco-sulfate-granules ¦ 14
Cocamidopropyl betaine 30 % ¦ CAPB30 ¦ 12
Coco-glucoside ¦ CG ¦ 6
Glycerin ¦ G ¦ 4
Sodium chloride ¦ sodium-chloride ¦ 1.5
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid, anhydrous ¦ citric-acid-anhydrous ¦ 0.3
Spearmint essential oil ¦ spearmint-essential-oil ¦ 0.2
Water ¦ W ¦ 71.6
Glycerin ¦ G ¦ 5
Xanthan gum ¦ xanthan-gum ¦ 0.4
Olive oil ¦ olive-oil ¦ 10
Cocoa butter ¦ cocoa-butter ¦ 4
Cetearyl alcohol and ceteareth-20 ¦ CETE ¦ 5
Stearic acid ¦ stearic-acid ¦ 2
Phenoxyethanol and ethylhexylglycerin ¦ PE ¦ 1
Vitamin E ¦ VE ¦ 0.5
Geranium essential oil ¦ geranium-essential-oil ¦ 0.5''', all=True, recipes=2)

# 20 thousands points and decimal commas
cs('badesalz_grossansatz.csv', '''Badesalz Tannenwald;
Zutat;Menge in g
Meersalz;12.500,00
Bittersalz;6.250,00
Natron;4.750,00
Maisstärke;1.000,00
Mandelöl;250,00
Sibirisches Tannenöl;187,50
Lavendelöl;62,50
Summe;25.000,00'''.replace(';', '|'), sep=';', enc='cp1252')
R('thousands points', 'badesalz_grossansatz.csv', '''Meersalz ¦ sea-salt ¦ 50
Bittersalz ¦ magnesium-sulfate-heptahydrate ¦ 25
Natron ¦ sodium-bicarbonate ¦ 19
Maisstärke ¦ corn-starch ¦ 4
Mandelöl ¦ sweet-almond-oil ¦ 1
Sibirisches Tannenöl ¦ /siberian-fir-essential-oil ¦ 0.75
Lavendelöl ¦ LAV ¦ 0.25''', batch=25000)

# 21 cells shown as per cent, two typed as plain numbers; the sum tells that they are percents too
xl('gel_mani_aloe.xlsx', '''Gel mani aloe||
Ingrediente|Percentuale|Note
Succo di aloe vera|p:60|
Acqua|p:31.7|
Glicerina|p:4|
Gomma xantana|p:1|
Pantenolo 75 %|p:2|
Acido citrico monoidrato|p:0.5|
Benzoato di sodio|0.5|aggiunto dopo
Sorbato di potassio|0.3|aggiunto dopo
Totale|p:100|''', bold=[2])
R('per cent cells beside plain numbers', 'gel_mani_aloe.xlsx', '''Succo di aloe vera ¦ aloe-vera-juice ¦ 60
Acqua ¦ W ¦ 31.7
Glicerina ¦ G ¦ 4
Gomma xantana ¦ xanthan-gum ¦ 1
Pantenolo 75 % ¦ d-panthenol-75 ¦ 2
Acido citrico monoidrato ¦ citric-acid-monohydrate ¦ 0.5
Benzoato di sodio ¦ sodium-benzoate ¦ 0.5
Sorbato di potassio ¦ potassium-sorbate ¦ 0.3''')

# 22 water and grams by formula, the batch in a cell of its own
to = [('Water', 58.4, 'W'), ('Cucumber water', 30, 'cucumber-water'), ('Propanediol', 3, 'propanediol'), ('Betaine (trimethylglycine)', 2, 'betaine-trimethylglycine-powder'), ('Niacinamide', 3, 'niacinamide'), ('Sodium PCA 50 %', 2, 'sodium-pca-solution-50'), ('Polysorbate 20', .4, 'polysorbate-20'), ('Phenoxyethanol and caprylyl glycol', 1, 'phenoxyethanol-and-caprylyl-glycol-blend'), ('Citric acid solution 20 %', .2, 'citric-acid-solution-20')]
xw('cucumber_toner.xlsx', {'Toner': 'Cucumber toner||\nBatch (g)|650|\n||\nIngredient|%|g\n' + ''.join(f'{n}|' + ('f:=100-SUM(B6:B13);58.4' if r == 5 else f'{p:g}') + f'|f:=B{r}*$B$2/100;{p*6.5:.10g}\n' for r, (n, p, i) in enumerate(to, 5)) + 'Total|f:=SUM(B5:B13);100|f:=SUM(C5:C13);650'}, freeze=4)
R('formulas', 'cucumber_toner.xlsx', '\n'.join(f'{n} ¦ {i} ¦ {p}' for n, p, i in to), batch=650)

# 23 one line struck through, one hidden; the sum is without both
od('waschgel_hafer.ods', '''Waschgel Hafer, Stand Juni||
Rohstoff|%|Notiz
Wasser|61.1|
Kokosglucosid|12|
Cocamidopropylbetain 30 %|10|
Natriumlauroylsarcosinat 30 %|8|raus
Dinatriumcocoylglutamat 27 %|8|dafür dies
Glycerin|5|
Honig|3|nur im Winter
Haferextrakt in Glycerin|2|
Xanthan|0.9|
Natriumbenzoat|0.5|
Citronensäure 50 %|0.5|Lösung
Summe|100|''', strike=[6], hide=[9])
R('struck out and hidden', 'waschgel_hafer.ods', '''Wasser ¦ W ¦ 61.1
Kokosglucosid ¦ CG ¦ 12
Cocamidopropylbetain 30 % ¦ CAPB30 ¦ 10
Dinatriumcocoylglutamat 27 % ¦ disodium-cocoyl-glutamate-solution-27 ¦ 8
Glycerin ¦ G ¦ 5
Haferextrakt in Glycerin ¦ oat-extract-in-glycerin ¦ 2
Xanthan ¦ xanthan-gum ¦ 0.9
Natriumbenzoat ¦ sodium-benzoate ¦ 0.5
Citronensäure 50 % ¦ citric-acid-solution-50 ¦ 0.5''')

# 24 the log of the balance: vessel, tare, gross, net
xl('weighing_log_salve.xlsx', '''Weighing log: calendula salve||||
13 June 2026, small balance||||
Ingredient|Vessel|Tare g|Gross g|Net g
Calendula oil|beaker 3|182.4|582.4|400
Olive oil|beaker 1|175.1|315.1|140
Beeswax|dish 2|61.3|181.3|120
Shea butter|dish 5|60.7|172.7|112
Lanolin, anhydrous|dish 4|58.9|78.9|20
Vitamin E|vial 1|12.2|16.2|4
Tea tree essential oil|vial 2|12.5|16.5|4
Total||||800''', bold=[1, 3])
R('tare, gross and net', 'weighing_log_salve.xlsx', '''Calendula oil ¦ calendula-macerate-in-sunflower-oil ¦ 50
Olive oil ¦ olive-oil ¦ 17.5
Beeswax ¦ beeswax-white ¦ 15
Shea butter ¦ shea-butter ¦ 14
Lanolin, anhydrous ¦ lanolin-anhydrous ¦ 2.5
Vitamin E ¦ VE ¦ 0.5
Tea tree essential oil ¦ tea-tree-essential-oil ¦ 0.5''', batch=800)

# 25 percent within the phase only, and the share of each phase in the formula in a merged cell
od('creme_riche_phases.ods', '''Crème riche|||
Phase|Part de la phase dans la formule|Ingrédient|% dans la phase
A|'70 %|Eau distillée|92
A||Glycérine|7.5
A||Gomme xanthane|0.5
B|'27 %|Huile de macadamia|50
B||Beurre de karité|20
B||Olivate de cétéaryle et olivate de sorbitan|20
B||Alcool cétylique|10
C|'3 %|Panthénol 75 %|50
C||Alcool benzylique et acide déhydroacétique|30
C||Vitamine E|20''', merge={(3, 2): (3, 1), (6, 2): (4, 1), (10, 2): (3, 1)})
R('percent of the phase', 'creme_riche_phases.ods', '''Eau distillée ¦ W ¦ 64.4 ¦ A
Glycérine ¦ G ¦ 5.25 ¦ A
Gomme xanthane ¦ xanthan-gum ¦ 0.35 ¦ A
Huile de macadamia ¦ macadamia-oil ¦ 13.5 ¦ B
Beurre de karité ¦ shea-butter ¦ 5.4 ¦ B
Olivate de cétéaryle et olivate de sorbitan ¦ /cetearyl-olivate-and-sorbitan-olivate ¦ 5.4 ¦ B
Alcool cétylique ¦ cetyl-alcohol ¦ 2.7 ¦ B
Panthénol 75 % ¦ d-panthenol-75 ¦ 1.5 ¦ C
Alcool benzylique et acide déhydroacétique ¦ BADHA ¦ 0.9 ¦ C
Vitamine E ¦ VE ¦ 0.6 ¦ C''')

# 26 drops with their weight in brackets
tx('serum_noche.txt', '''
SÉRUM DE NOCHE (frasco de 40 g)

aceite de rosa mosqueta – 16 g
escualano – 12 g
aceite de jojoba – 11,2 g
vitamina E – 10 gotas (0,4 g)
aceite esencial de lavanda – 8 gotas (0,4 g)

Con 5 gotas por la noche basta.
''')
R('drops', 'serum_noche.txt', '''aceite de rosa mosqueta ¦ rosehip-seed-oil ¦ 40
escualano ¦ squalane-from-olive-or-sugar-cane ¦ 30
aceite de jojoba ¦ jojoba-oil ¦ 28
vitamina E ¦ VE ¦ 1
aceite esencial de lavanda ¦ LAV ¦ 1''', batch=40)

# 27 a row for each product, a column for each ingredient (several recipes)
cs('balms_matrix.csv', '''Product (all in %)|Beeswax|Shea butter|Coconut oil|Olive oil|Castor oil|Vitamin E|Peppermint essential oil|Total
Foot balm|18|30|20|30||0.5|1.5|100
Lip balm|22|20|25|17|15.5|0.5||100
Cuticle balm|12|33|10|24|20|1||100''')
bm = [('Beeswax', 'beeswax-white', (18, 22, 12)), ('Shea butter', 'shea-butter', (30, 20, 33)), ('Coconut oil', 'coconut-oil', (20, 25, 10)), ('Olive oil', 'olive-oil', (30, 17, 24)), ('Castor oil', 'castor-oil', (0, 15.5, 20)), ('Vitamin E', 'VE', (.5, .5, 1)), ('Peppermint essential oil', 'peppermint-essential-oil', (1.5, 0, 0))]
R('turned table', 'balms_matrix.csv', '\n'.join(f'{n} ¦ {i} ¦ {a[k]}' for k in (0, 1, 2) for n, i, a in bm if a[k]), all=True, recipes=3)

# 28 three recipes below each other on a sheet, the middle one in grams (several recipes)
od('carnet_atelier.ods', '''Baume du jardinier|
Ingrédient|%
Huile d'olive|45
Beurre de karité|25
Cire d'abeille|18
Lanoline|10
Vitamine E|1
Huile essentielle d'arbre à thé|1
|
Sels de bain des pins, 800 g|
Ingrédient|g
Gros sel de mer|560
Sel d'Epsom|160
Bicarbonate de soude|64
Huile de tournesol|12
Huile essentielle de pin sylvestre|4
|
Huile de massage|
Ingrédient|%
Huile de tournesol|55
Huile de noisette|30
Macérat de millepertuis dans l'huile d'olive|14
Vitamine E|0.5
Huile essentielle de lavandin|0.5''')
R('several below each other', 'carnet_atelier.ods', '''Huile d'olive ¦ olive-oil ¦ 45
Beurre de karité ¦ shea-butter ¦ 25
Cire d'abeille ¦ beeswax-white ¦ 18
Lanoline ¦ /lanolin-anhydrous ¦ 10
Vitamine E ¦ VE ¦ 1
Huile essentielle d'arbre à thé ¦ tea-tree-essential-oil ¦ 1
Gros sel de mer ¦ /sea-salt ¦ 70
Sel d'Epsom ¦ magnesium-sulfate-heptahydrate ¦ 20
Bicarbonate de soude ¦ sodium-bicarbonate ¦ 8
Huile de tournesol ¦ sunflower-seed-oil ¦ 1.5
Huile essentielle de pin sylvestre ¦ scots-pine-essential-oil ¦ 0.5
Huile de tournesol ¦ sunflower-seed-oil ¦ 55
Huile de noisette ¦ hazelnut-oil ¦ 30
Macérat de millepertuis dans l'huile d'olive ¦ st-john-s-wort-macerate-in-olive-oil ¦ 14
Vitamine E ¦ VE ¦ 0.5
Huile essentielle de lavandin ¦ lavandin-essential-oil ¦ 0.5''', all=True, recipes=3)

# 29 a workbook with a cover, two recipes, prices, and an old recipe on a hidden sheet (several recipes)
xl('werkstattbuch.xlsx', {'Übersicht': '''Werkstattbuch Erlenhof|||
Nr.|Produkt|Blatt|zuletzt gemacht
1|Rasiercreme Herbst|Rasiercreme|n:2026-10-04
2|Haarkur Brokkoli|Haarkur|n:2026-08-21''', 'Rasiercreme': '''Rasiercreme Herbst|||
Phase|Zutat|%|g (500)
A|Wasser|58.7|293.5
A|Glycerin|8|40
A|Allantoin|0.3|1.5
B|Stearinsäure|14|70
B|Kokosöl|6|30
B|Glycerylstearat-Citrat|4|20
B|Cetylalkohol|3|15
C|Triethanolamin 99 %|4|20
C|Phenoxyethanol|0.9|4.5
C|Vitamin E|0.6|3
C|Zypressenöl|0.5|2.5
|Summe|100|500''', 'Haarkur': '''Haarkur Brokkoli|||
Phase|Zutat|%|g (800)
A|Wasser|80.2|641.6
A|Glycerin|3|24
A|Milchsäure 80 %|0.3|2.4
B|BTMS-25|6|48
B|Cetearylalkohol|4|32
B|Brokkolisamenöl|2|16
B|Sheabutter|1.5|12
C|Hydrolysierte Seide 10 %|1|8
C|D-Panthenol 75 %|1|8
C|Phenoxyethanol und Ethylhexylglycerin|1|8
|Summe|100|800''', 'Preise': '''Zutat|€/kg
Stearinsäure|4.2
Kokosöl|5.1
BTMS-25|18.5''', 'alt': '''Rasiercreme 2024|
Zutat|%
Wasser|70
Stearinsäure|20
Kokosöl|10'''}, bold=[1, 2], hiddensheets=('alt',))
R('several sheets', 'werkstattbuch.xlsx', '''Wasser ¦ W ¦ 58.7 ¦ A
Glycerin ¦ G ¦ 8 ¦ A
Allantoin ¦ allantoin-powder ¦ 0.3 ¦ A
Stearinsäure ¦ stearic-acid ¦ 14 ¦ B
Kokosöl ¦ coconut-oil ¦ 6 ¦ B
Glycerylstearat-Citrat ¦ /glyceryl-stearate-citrate ¦ 4 ¦ B
Cetylalkohol ¦ cetyl-alcohol ¦ 3 ¦ B
Triethanolamin 99 % ¦ triethanolamine-99 ¦ 4 ¦ C
Phenoxyethanol ¦ phenoxyethanol ¦ 0.9 ¦ C
Vitamin E ¦ VE ¦ 0.6 ¦ C
Zypressenöl ¦ /cypress-essential-oil ¦ 0.5 ¦ C
Wasser ¦ W ¦ 80.2 ¦ A
Glycerin ¦ G ¦ 3 ¦ A
Milchsäure 80 % ¦ lactic-acid-80 ¦ 0.3 ¦ A
BTMS-25 ¦ behentrimonium-methosulfate-25-in-cetearyl-alcohol ¦ 6 ¦ B
Cetearylalkohol ¦ cetearyl-alcohol ¦ 4 ¦ B
Brokkolisamenöl ¦ broccoli-seed-oil ¦ 2 ¦ B
Sheabutter ¦ shea-butter ¦ 1.5 ¦ B
Hydrolysierte Seide 10 % ¦ hydrolyzed-silk-10 ¦ 1 ¦ C
D-Panthenol 75 % ¦ d-panthenol-75 ¦ 1 ¦ C
Phenoxyethanol und Ethylhexylglycerin ¦ PE ¦ 1 ¦ C''', all=True, recipes=2)

# 30 a page with two lists (several recipes)
ht('przepisy_z_bloga.html', '''<h1>Dwa przepisy na jesień</h1>
<p>Wpis z 20 października 2026, czas czytania 3 min.</p>
<h2>Masło do ciała</h2>
<ul>
<li>Masło shea – 50%</li>
<li>Olej kokosowy – 25%</li>
<li>Olej ze słodkich migdałów – 18%</li>
<li>Skrobia kukurydziana – 6%</li>
<li>Witamina E – 0,5%</li>
<li>Olejek lawendowy – 0,5%</li>
</ul>
<p>Ubijać mikserem 10 minut.</p>
<h2>Peeling kawowy</h2>
<ul>
<li>Cukier trzcinowy – 45%</li>
<li>Olej z pestek winogron – 25%</li>
<li>Kawa mielona – 15%</li>
<li>Masło kakaowe – 10%</li>
<li>Wosk pszczeli – 4%</li>
<li>Witamina E – 1%</li>
</ul>
<p>Stosować raz na 7 dni. Zostaw komentarz!</p>''', 'Dwa przepisy na jesień')
R('several recipes on a page', 'przepisy_z_bloga.html', '''Masło shea ¦ shea-butter ¦ 50
Olej kokosowy ¦ coconut-oil ¦ 25
Olej ze słodkich migdałów ¦ sweet-almond-oil ¦ 18
Skrobia kukurydziana ¦ corn-starch ¦ 6
Witamina E ¦ VE ¦ 0.5
Olejek lawendowy ¦ LAV ¦ 0.5
Cukier trzcinowy ¦ ? ¦ 45
Olej z pestek winogron ¦ grape-seed-oil ¦ 25
Kawa mielona ¦ /coffee-powder ¦ 15
Masło kakaowe ¦ cocoa-butter ¦ 10
Wosk pszczeli ¦ beeswax-white ¦ 4
Witamina E ¦ VE ¦ 1''', all=True, recipes=2)
CASES[-1]['lines'][6][1] = 'brown-sugar|?brown-sugar|?'  # ids() would cut the own- out of brown-

# 31 all in one sentence, the percent in brackets behind each name
tx('guide_formula_204.txt', '''
Guide formula 204, mild shampoo

Water (62.4 %), disodium laureth sulfosuccinate (18 %), coco-glucoside (9 %), glycerin (5 %), sodium chloride (2 %), hydrolyzed pea protein 20 % (1.5 %), petitgrain essential oil (0.6 %), sodium benzoate (0.5 %), citric acid monohydrate (0.4 %), guar hydroxypropyltrimonium chloride (0.3 %), polyglyceryl-4 caprate (0.3 %).

Appearance: clear, pH 5.2, 3000 mPas.
''')
R('one line', 'guide_formula_204.txt', '''Water ¦ W ¦ 62.4
disodium laureth sulfosuccinate ¦ /disodium-laureth-sulfosuccinate-solution-32 ¦ 18
coco-glucoside ¦ CG ¦ 9
glycerin ¦ G ¦ 5
sodium chloride ¦ sodium-chloride ¦ 2
hydrolyzed pea protein 20 % ¦ hydrolyzed-pea-protein-20 ¦ 1.5
petitgrain essential oil ¦ petitgrain-essential-oil ¦ 0.6
sodium benzoate ¦ sodium-benzoate ¦ 0.5
citric acid monohydrate ¦ citric-acid-monohydrate ¦ 0.4
guar hydroxypropyltrimonium chloride ¦ guar-hydroxypropyltrimonium-chloride ¦ 0.3
polyglyceryl-4 caprate ¦ polyglyceryl-4-caprate ¦ 0.3''')

# 32 parts
tx('fusspuder.txt', '''
Fußpuder für den Sommer

20 Teile Maisstärke
12 Teile Kaolin
5 Teile Natron
2 Teile Zinkricinoleat
1 Teil Magnesiumstearat

Zweimal sieben, in 3 Streudosen füllen.
''')
R('parts', 'fusspuder.txt', '''Maisstärke ¦ corn-starch ¦ 50
Kaolin ¦ kaolin-white-clay ¦ 30
Natron ¦ sodium-bicarbonate ¦ 12.5
Zinkricinoleat ¦ zinc-ricinoleate ¦ 5
Magnesiumstearat ¦ magnesium-stearate ¦ 2.5''')

# 33 Markdown, the phases in bold, dashes before the percent
tx('bodybutter.md', '''
## Opgeklopte bodybutter

**Vetfase**

* sheaboter — 45%
* cacaoboter — 15%
* kokosolie — 12%

**Na het afkoelen**

* jojobaolie — 20%
* tapiocazetmeel — 6,5%
* vitamine E — 1%
* etherische olie van citroengras — 0,5%

Vetfase smelten op 70 °C, 20 minuten in de koelkast, dan opkloppen.
''')
R('markdown', 'bodybutter.md', '''sheaboter ¦ shea-butter ¦ 45 ¦ A
cacaoboter ¦ cocoa-butter ¦ 15 ¦ A
kokosolie ¦ coconut-oil ¦ 12 ¦ A
jojobaolie ¦ jojoba-oil ¦ 20 ¦ B
tapiocazetmeel ¦ tapioca-starch ¦ 6.5 ¦ B
vitamine E ¦ VE ¦ 1 ¦ B
etherische olie van citroengras ¦ lemongrass-essential-oil ¦ 0.5 ¦ B''', phases={'A': 'Vetfase', 'B': 'Na het afkoelen'})

# 34 everything in one column, the amount in the same cell behind the name
xl('exfoliante_azucar.xlsx', '''Exfoliante corporal de azúcar
Fase A
Manteca de karité 14 %
Aceite de girasol 20 %
Alcohol cetearílico y ceteareth-20 7 %
Alcohol cetílico 3 %
Fase B
Azúcar blanco 52 %
Polvo de hueso de aceituna 2 %
Fenoxietanol 0,9 %
Aceite esencial de pomelo 0,6 %
Vitamina E 0,5 %''')
R('name and amount in a cell', 'exfoliante_azucar.xlsx', '''Manteca de karité ~ Manteca de karité 14 % ¦ shea-butter ¦ 14 ¦ A
Aceite de girasol ~ Aceite de girasol 20 % ¦ sunflower-seed-oil ¦ 20 ¦ A
Alcohol cetearílico y ceteareth-20 ~ Alcohol cetearílico y ceteareth-20 7 % ¦ CETE ¦ 7 ¦ A
Alcohol cetílico ~ Alcohol cetílico 3 % ¦ cetyl-alcohol ¦ 3 ¦ A
Azúcar blanco ~ Azúcar blanco 52 % ¦ /sugar-granulated or ? ¦ 52 ¦ B
Polvo de hueso de aceituna ~ Polvo de hueso de aceituna 2 % ¦ /olive-stone-powder ¦ 2 ¦ B
Fenoxietanol ~ Fenoxietanol 0,9 % ¦ phenoxyethanol ¦ 0.9 ¦ B
Aceite esencial de pomelo ~ Aceite esencial de pomelo 0,6 % ¦ grapefruit-essential-oil ¦ 0.6 ¦ B
Vitamina E ~ Vitamina E 0,5 % ¦ VE ¦ 0.5 ¦ B''')

# ====================================================================== prices, invoices, receipts, stock with prices
# 1 a column for each pack
cs('preisliste_herbst.csv', '''Werkhof Rohstoffe, Preisliste Herbst 2026, alle Preise in EUR inkl. MwSt.;;;;;
Art.-Nr.;Rohstoff;100 g;500 g;1 kg;5 kg
1001;Sheabutter;;5,90;10,80;48,00
1002;Kakaobutter;2,40;9,50;17,60;
1017;Bienenwachs;2,10;8,90;16,40;75,00
1023;Cetylalkohol;;4,20;7,40;32,50
1040;Xanthan;4,80;19,50;;'''.replace(';', '|'), sep=';')
P('tiers in columns', 'preisliste_herbst.csv', '''Sheabutter ¦ shea-butter ¦ 5.9 EUR 500; 10.8 EUR 1000; 48 EUR 5000
Kakaobutter ¦ cocoa-butter ¦ 2.4 EUR 100; 9.5 EUR 500; 17.6 EUR 1000
Bienenwachs ¦ beeswax-white ¦ 2.1 EUR 100; 8.9 EUR 500; 16.4 EUR 1000; 75 EUR 5000
Cetylalkohol ¦ cetyl-alcohol ¦ 4.2 EUR 500; 7.4 EUR 1000; 32.5 EUR 5000
Xanthan ¦ xanthan-gum ¦ 4.8 EUR 100; 19.5 EUR 500''', note='a row for each pack is as right as one row with all')

# 2 a till receipt typed off; two pieces of one article
tx('till_receipt.txt', '''
       BRACKEN & DAUGHTERS
        The Old Dairy
   14/11/2026  10:42  Till 2

COCOA BUTTER 250G            5.20
SHEA BUTTER 1KG             11.40
BEESWAX 500G
   2 @ 7.25                 14.50
CASTOR OIL 500G              4.60

SUBTOTAL                    35.70
VAT INCLUDED                 5.95
TOTAL GBP                   35.70
CASH                        40.00
CHANGE                       4.30

   THANK YOU, CALL AGAIN
''')
P('receipt', 'till_receipt.txt', '''COCOA BUTTER ~ COCOA BUTTER 250G ¦ cocoa-butter ¦ 5.2 GBP 250
SHEA BUTTER ~ SHEA BUTTER 1KG ¦ shea-butter ¦ 11.4 GBP 1000
BEESWAX ~ BEESWAX 500G ¦ beeswax-white ¦ 7.25 GBP 500
CASTOR OIL ~ CASTOR OIL 500G ¦ castor-oil ¦ 4.6 GBP 500''', note='14.50 for 1000 g of beeswax is the same price')

# 3 invoice with lots, packs and pieces
od('facture_2218.ods', '''Comptoir des Alizés|||||
Facture n° 2218 du 02/10/2026|||||
|||||
Désignation|Lot|Conditionnement|Qté|PU HT €|Montant HT €
Huile de jojoba|JO-77|1 kg|2|24.5|49
Alcool cétylique|AC-31|5 kg|1|31|31
Gomme xanthane|GX-09|250 g|3|6.8|20.4
Phénoxyéthanol|PH-14|500 g|1|8.9|8.9
Frais de port|||1|7.5|7.5
||||Total HT|116.8
||||TVA 20 %|23.36
||||Total TTC|140.16''')
P('invoice', 'facture_2218.ods', '''Huile de jojoba ¦ jojoba-oil ¦ 24.5 EUR 1000 ¦ JO-77
Alcool cétylique ¦ cetyl-alcohol ¦ 31 EUR 5000 ¦ AC-31
Gomme xanthane ¦ xanthan-gum ¦ 6.8 EUR 250 ¦ GX-09
Phénoxyéthanol ¦ phenoxyethanol ¦ 8.9 EUR 500 ¦ PH-14''', note='49.00 for 2000 g and 20.40 for 750 g are the same prices')

# 4 the page a shop sends after the order
ht('bestelbevestiging.html', '''<h2>Bedankt voor je bestelling!</h2>
<p>Bestelnummer 20418, besteld op 7 november 2026. Levering binnen 3 werkdagen.</p>
''' + tab('''Artikel|Inhoud|Aantal|Prijs per stuk|Totaal
Zonnebloemolie|1 kg|2|€ 4,75|€ 9,50
Cetearylalcohol|500 g|1|€ 5,10|€ 5,10
Kokosolie|2,5 kg|1|€ 17,90|€ 17,90
D-panthenol 75 %|100 g|1|€ 6,25|€ 6,25
Etherische olie van lavendel|50 g|1|€ 11,40|€ 11,40''') + '''
<p>Subtotaal € 50,15<br>Verzendkosten € 5,95<br><b>Totaal € 56,10</b></p>
<p>Heb je vragen? Bel 0100 000 000.</p>''', 'Bestelbevestiging')
P('order page', 'bestelbevestiging.html', '''Zonnebloemolie ¦ sunflower-seed-oil ¦ 4.75 EUR 1000
Cetearylalcohol ¦ cetearyl-alcohol ¦ 5.1 EUR 500
Kokosolie ¦ coconut-oil ¦ 17.9 EUR 2500
D-panthenol 75 % ¦ d-panthenol-75 ¦ 6.25 EUR 100
Etherische olie van lavendel ¦ LAV ¦ 11.4 EUR 50''', note='9.50 for 2000 g is the same price')

# 5 prices per 100 g
xl('gum_prices.xlsx', '''Gums and thickeners, what I paid||
Material|Price per 100 g (€)|Bought
Hydroxyethylcellulose|3.9|d:2026-02-11
Guar gum|2.1|d:2026-02-11
Carrageenan|4.4|d:2026-05-03
Sodium alginate|3.6|d:2026-05-03
Konjac gum|5.2|d:2026-08-19''', bold=[1, 2])
P('price per 100 g', 'gum_prices.xlsx', '''Hydroxyethylcellulose ¦ hydroxyethylcellulose ¦ 3.9 EUR 100
Guar gum ¦ guar-gum ¦ 2.1 EUR 100
Carrageenan ¦ carrageenan ¦ 4.4 EUR 100
Sodium alginate ¦ sodium-alginate ¦ 3.6 EUR 100
Konjac gum ¦ konjac-gum ¦ 5.2 EUR 100''')

# 6 price of the pack and price of the kilogram in two columns, Central European encoding
cs('cennik_jesien.csv', '''Nazwa;Opakowanie;Cena zł;Cena za kg zł
Masło shea;1 kg;42,00;42,00
Olej kokosowy;5 kg;115,00;23,00
Wosk pszczeli;500 g;31,50;63,00
Gliceryna;1 kg;14,90;14,90
Kwas stearynowy;500 g;12,00;24,00'''.replace(';', '|'), sep=';', enc='cp1250')
P('price of pack and of kilogram', 'cennik_jesien.csv', '''Masło shea ¦ shea-butter ¦ 42 PLN 1000
Olej kokosowy ¦ coconut-oil ¦ 115 PLN 5000
Wosk pszczeli ¦ beeswax-white ¦ 31.5 PLN 500
Gliceryna ¦ G ¦ 14.9 PLN 1000
Kwas stearynowy ¦ stearic-acid ¦ 12 PLN 500''', note='the price per kg for 1000 g is the same price')

# 7 stock with lots, amounts, price per kg and value
xl('magazzino_ottobre.xlsx', '''Magazzino al 31 ottobre 2026||||||
Codice|Materia prima|Lotto|Giacenza kg|Costo €/kg|Valore €|Scadenza
MP01|Burro di karité|K-2219|12.5|9.8|122.5|n:2027-10-31
MP02|Olio di oliva|OL-88|20|7.2|144|n:2027-04-30
MP03|Sodio benzoato|SB-14|3|6.5|19.5|n:2028-12-31
MP04|Alcol cetilstearilico|CS-5|8|5.9|47.2|n:2028-06-30
MP05|Cera d'api|CA-31|2.5|15|37.5|n:2029-01-31
|Totale||||370.7|''', bold=[1, 2])
P('lots and values', 'magazzino_ottobre.xlsx', '''Burro di karité ¦ shea-butter ¦ 9.8 EUR 1000 ¦ K-2219
Olio di oliva ¦ olive-oil ¦ 7.2 EUR 1000 ¦ OL-88
Sodio benzoato ¦ sodium-benzoate ¦ 6.5 EUR 1000 ¦ SB-14
Alcol cetilstearilico ¦ cetearyl-alcohol ¦ 5.9 EUR 1000 ¦ CS-5
Cera d'api ¦ beeswax-white ¦ 15 EUR 1000 ¦ CA-31''')

# 8 Swiss offer: apostrophes for the thousands, francs
cs('offerte_4410.csv', '''Rohstoffkontor Bergli;Offerte 4410;
Produkt;Gebinde;Preis CHF
Glycerin 99,5 %;25 kg;87.50
Kokosöl;20 kg;132.00
Decylglucosid;25 kg;118.00
Jojobaöl;50 kg;1'180.00
Lavendelöl;10 kg;1'045.50'''.replace(';', '|'), sep=';')
P('thousands', 'offerte_4410.csv', '''Glycerin 99,5 % ¦ G ¦ 87.5 CHF 25000
Kokosöl ¦ coconut-oil ¦ 132 CHF 20000
Decylglucosid ¦ DG ¦ 118 CHF 25000
Jojobaöl ¦ jojoba-oil ¦ 1180 CHF 50000
Lavendelöl ¦ LAV ¦ 1045.5 CHF 10000''')

# 9 a chat copied from the telephone
tx('precios_chat.txt', '''
[12/10/26, 9:41] Nuria: buenos días! los precios de esta semana
[12/10/26, 9:42] Nuria: manteca de karité 9,80 €/kg
[12/10/26, 9:42] Nuria: cera de abejas 13,50 €/kg
[12/10/26, 9:43] Nuria: aceite de almendras dulces 11,20 €/kg
[12/10/26, 9:43] Nuria: bicarbonato de sodio 1,90 €/kg
[12/10/26, 9:50] Ana: gracias! y el alcohol cetílico?
[12/10/26, 9:58] Nuria: alcohol cetílico 7,25 €/kg
''')
P('chat', 'precios_chat.txt', '''manteca de karité ¦ shea-butter ¦ 9.8 EUR 1000
cera de abejas ¦ beeswax-white ¦ 13.5 EUR 1000
aceite de almendras dulces ¦ sweet-almond-oil ¦ 11.2 EUR 1000
bicarbonato de sodio ¦ sodium-bicarbonate ¦ 1.9 EUR 1000
alcohol cetílico ¦ cetyl-alcohol ¦ 7.25 EUR 1000''')

# ====================================================================== lists of materials, stock without prices
# 1 trade names beside plain ones
xl('rohstoffe_handelsnamen.xlsx', '''Handelsname|INCI|Lieferant|Einsatz|Lagerort
Milvosoft CG|Coco-Glucoside, Aqua|Werkhof Rohstoffe|5–20 %|Regal 1
Kernal 90|Phenoxyethanol, Ethylhexylglycerin|Werkhof Rohstoffe|0,5–1 %|Schrank
Traubenkernöl|Vitis Vinifera Seed Oil|Mühle Ried|bis 100 %|Keller
Zinkricinoleat|Zinc Ricinoleate|Mühle Ried|1–3 %|Regal 2
Sucrosestearat HLB 15|Sucrose Stearate|Werkhof Rohstoffe|2–4 %|Regal 2
Aronia-Pulver|Aronia Melanocarpa Fruit Powder|Mühle Ried|1–5 %|Regal 3''', bold=[1])
M('trade names', 'rohstoffe_handelsnamen.xlsx', '''Milvosoft CG ¦ coco-glucoside-solution-52|?|new|own-milvosoft-cg
Kernal 90 ¦ phenoxyethanol-and-ethylhexylglycerin-90-10|?|new|own-kernal-90
Traubenkernöl ¦ grape-seed-oil
Zinkricinoleat ¦ zinc-ricinoleate
Sucrosestearat HLB 15 ¦ sucrose-stearate-hlb-15
Aronia-Pulver ¦ new|?|own-aronia-pulver''')

# 2 CAS and a column of strengths, amounts on hand
cs('lab_cupboard.csv', '''Material|CAS|Strength|On hand (g)
Urea|57-13-6||1200
Glycolic acid|79-14-1|70 %|250
Sodium hydroxide solution|1310-73-2|20 %|500
Potassium hydroxide flakes|1310-58-3|90 %|900
Sodium metabisulfite|7681-57-4||100
Benzalkonium chloride|63449-41-2|50 %|50
Isopropyl alcohol|67-63-0||750
Ethyl lactate|97-64-3||300''')
M('CAS and strengths', 'lab_cupboard.csv', '''Urea ¦ urea
Glycolic acid ¦ glycolic-acid-70
Sodium hydroxide solution ¦ sodium-hydroxide-solution-20
Potassium hydroxide flakes ¦ potassium-hydroxide-flakes-90
Sodium metabisulfite ¦ sodium-metabisulfite
Benzalkonium chloride ¦ benzalkonium-chloride-50
Isopropyl alcohol ¦ isopropyl-alcohol
Ethyl lactate ¦ new|?|own-ethyl-lactate''')

# 3 essential oils by their French names and INCI
od('huiles_essentielles.ods', '''Mes huiles essentielles|||
Nom|INCI|Origine|Flacons
Ylang-ylang|Cananga Odorata Flower Oil|Comores|2
Palmarosa|Cymbopogon Martini Oil|Inde|1
Petit grain bigarade|Citrus Aurantium Amara Leaf/Twig Oil|Paraguay|3
Camomille romaine|Anthemis Nobilis Flower Oil|France|1
Hélichryse italienne|Helichrysum Italicum Flower Oil|Corse|1
Eucalyptus radié|Eucalyptus Radiata Leaf/Stem Oil|Australie|2
Lavande aspic|Lavandula Latifolia Herb Oil|Espagne|1
Saro|Cinnamosma Fragrans Leaf Oil|Madagascar|1''')
M('essential oils', 'huiles_essentielles.ods', '''Ylang-ylang ¦ ylang-ylang-essential-oil
Palmarosa ¦ palmarosa-essential-oil
Petit grain bigarade ¦ petitgrain-essential-oil
Camomille romaine ¦ roman-chamomile-essential-oil
Hélichryse italienne ¦ helichrysum-essential-oil
Eucalyptus radié ¦ eucalyptus-radiata-essential-oil
Lavande aspic ¦ spike-lavender-essential-oil
Saro ¦ new|?|own-saro''')

# 4 dashes, the INCI after an equals sign
tx('dispensa.txt', '''
Cosa c'è in dispensa (novembre)

- Burro di mango = Mangifera Indica Seed Butter
- Cera carnauba = Copernicia Cerifera Cera
- Olio di borragine = Borago Officinalis Seed Oil
- Olio di moringa = Moringa Oleifera Seed Oil
- Amido di riso = Oryza Sativa Starch
- Farina di castagne = Castanea Sativa Seed Flour
''')
M('text', 'dispensa.txt', '''Burro di mango ~ Burro di mango = Mangifera Indica Seed Butter ¦ mango-butter
Cera carnauba ~ Cera carnauba = Copernicia Cerifera Cera ¦ carnauba-wax
Olio di borragine ~ Olio di borragine = Borago Officinalis Seed Oil ¦ borage-seed-oil
Olio di moringa ~ Olio di moringa = Moringa Oleifera Seed Oil ¦ moringa-oil
Amido di riso ~ Amido di riso = Oryza Sativa Starch ¦ rice-starch
Farina di castagne ~ Farina di castagne = Castanea Sativa Seed Flour ¦ new|?|own-farina-di-castagne''')

# 5 stock counted in grams; betaine is trimethylglycine here, the INCI says so
xl('stan_magazynu.xlsx', '''Stan magazynu, 30.09.2026|||||
Lp.|Surowiec|INCI|CAS|Stan (g)|Ważne do
1|Olej z czarnuszki|Nigella Sativa Seed Oil|90064-32-7|420|n:2027-03-31
2|Masło kokum|Garcinia Indica Seed Butter||800|n:2028-01-31
3|Hydrolat chabrowy|Centaurea Cyanus Flower Water|84012-18-0|950|n:2027-02-28
4|Betaina|Betaine|107-43-7|300|n:2029-05-31
5|Octan tokoferylu|Tocopheryl Acetate|7695-91-2|150|n:2028-08-31
6|Keratyna hydrolizowana 20 %|Hydrolyzed Keratin|69430-36-0|200|n:2027-06-30
7|Masło kawowe|Coffea Arabica Seed Butter||250|n:2027-12-31''', bold=[1, 2])
M('stock', 'stan_magazynu.xlsx', '''Olej z czarnuszki ¦ black-cumin-seed-oil
Masło kokum ¦ kokum-butter
Hydrolat chabrowy ¦ cornflower-water
Betaina ¦ betaine-trimethylglycine-powder
Octan tokoferylu ¦ tocopheryl-acetate
Keratyna hydrolizowana 20 % ¦ hydrolyzed-keratin-20
Masło kawowe ¦ new|?|own-maslo-kawowe''')

# 6 colours with CI numbers
ht('colorantes.html', '<h2>Pigmentos del taller</h2>\n' + tab('''Nombre|INCI|CAS|Notas
Óxido de hierro rojo|CI 77491|1309-37-1|50 g
Ultramar azul|CI 77007|12769-96-9|no con ácidos
Dióxido de titanio|CI 77891|13463-67-7|
Óxido de cromo verde|CI 77288|1308-38-9|
Violeta de manganeso|CI 77742|10101-66-3|
Carmín|CI 75470|1390-65-4|no vegano
Mica|Mica|12001-26-2|200 g'''), 'Pigmentos')
M('colours', 'colorantes.html', '''Óxido de hierro rojo ¦ iron-oxide-red
Ultramar azul ¦ ultramarine-blue
Dióxido de titanio ¦ titanium-dioxide-pigment
Óxido de cromo verde ¦ chromium-oxide-green
Violeta de manganeso ¦ manganese-violet
Carmín ¦ carmine-powder
Mica ¦ mica''')

# 7 Markdown table; one name leaves the grade open
tx('emulgatoren.md', '''
# Emulgatoren in huis

| Naam | INCI | HLB | Waar |
|------|------|----:|------|
| Glycerylstearaatcitraat | Glyceryl Stearate Citrate | 9 | la 1 |
| Natriumstearoyllactylaat | Sodium Stearoyl Lactylate | 20 | la 1 |
| Sorbitanoleaat | Sorbitan Oleate | 4.3 | la 2 |
| Polyglyceryl-3-polyricinoleaat | Polyglyceryl-3 Polyricinoleate | 3 | la 2 |
| Vloeibare lecithine | Lecithin, Glycine Soja Oil | 4 | koelkast |
| Olijfemulgator | Cetearyl Olivate, Sorbitan Olivate | 9 | la 3 |
| Sucrosestearaat | Sucrose Stearate | | la 3 |

Bijgewerkt 12 november 2026.
''')
M('markdown', 'emulgatoren.md', '''Glycerylstearaatcitraat ¦ glyceryl-stearate-citrate
Natriumstearoyllactylaat ¦ sodium-stearoyl-lactylate
Sorbitanoleaat ¦ sorbitan-oleate
Polyglyceryl-3-polyricinoleaat ¦ polyglyceryl-3-polyricinoleate
Vloeibare lecithine ¦ lecithin-soy-or-sunflower-liquid
Olijfemulgator ¦ cetearyl-olivate-and-sorbitan-olivate|?|new|own-olijfemulgator
Sucrosestearaat ¦ ?|?sucrose-stearate-hlb-15|?sucrose-stearate-hlb-11|new|own-sucrosestearaat''')
end('eighth')
