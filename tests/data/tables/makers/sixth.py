#!/usr/bin/env python3
"""A sixth round, written down before the program had read any of it."""
from cells import *
begin('w2_')
ng = lambda x: f'{x:.10g}'

# ---------- recipes
xl('side_by_side_blocks.xlsx', '''CLEANSING BALM SOFT|||||CLEANSING BALM FIRM||
|||||||
Ingredient|%|g/200|||Ingredient|%|g/200
Sunflower oil|62|124|||Sunflower oil|54|108
Polyglyceryl-4 oleate|12|24|||Polyglyceryl-4 oleate|12|24
Candelilla wax|5|10|||Candelilla wax|9|18
Cocoa butter|20.5|41|||Cocoa butter|24.5|49
T50|0.5|1|||T50|0.5|1
|100|200||||100|200''', bold=[1, 3])
R('blocks side by side', 'side_by_side_blocks.xlsx', '''Sunflower oil ¦ sunflower-seed-oil ¦ 62
Polyglyceryl-4 oleate ¦ polyglyceryl-4-oleate ¦ 12
Candelilla wax ¦ candelilla-wax ¦ 5
Cocoa butter ¦ cocoa-butter ¦ 20.5
T50 ¦ tocopherol-mixed-50-in-sunflower-oil ¦ 0.5
Sunflower oil ¦ sunflower-seed-oil ¦ 54
Polyglyceryl-4 oleate ¦ polyglyceryl-4-oleate ¦ 12
Candelilla wax ¦ candelilla-wax ¦ 9
Cocoa butter ¦ cocoa-butter ¦ 24.5
T50 ¦ tocopherol-mixed-50-in-sunflower-oil ¦ 0.5''', all=True)

xl('recipe_book.xlsx', {'Index': '''My recipes|
Sheet|What it is
Toner|everyday toner
Dry oil|summer
''', 'Toner': '''Everyday toner|
Ingredient|%
Rose water|60
Distilled water|34.1
Glycerin|3
Betaine (trimethylglycine)|2
Sodium benzoate|0.5
Citric acid|0.4''', 'Dry oil': '''Dry oil|
Ingredient|%
Coco-caprylate|50
Squalane|25
Camellia seed oil|24.3
Tocopheryl acetate|0.5
Neroli essential oil|0.2'''})
R('several sheets', 'recipe_book.xlsx', '''Rose water ¦ rose-water ¦ 60
Distilled water ¦ W ¦ 34.1
Glycerin ¦ G ¦ 3
Betaine (trimethylglycine) ¦ betaine-trimethylglycine-powder ¦ 2
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid ¦ CA ¦ 0.4
Coco-caprylate ¦ coco-caprylate ¦ 50
Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 25
Camellia seed oil ¦ camellia-seed-oil ¦ 24.3
Tocopheryl acetate ¦ tocopheryl-acetate ¦ 0.5
Neroli essential oil ¦ neroli-essential-oil ¦ 0.2''', all=True)

xl('notes_then_recipe.xlsx', {'To do': '''To do|When
buy jars|May
order labels|June
ask about the pump|''', 'Cream': '''Phase|Raw material|INCI|%
A|Water|Aqua|69
A|Sodium lactate 60 %|Sodium Lactate, Aqua|3
A|Sclerotium gum|Sclerotium Gum|0.5
B|Cetearyl glucoside & cetearyl alcohol|Cetearyl Alcohol, Cetearyl Glucoside|5
B|Plum kernel oil|Prunus Domestica Seed Oil|13
B|Cetyl palmitate|Cetyl Palmitate|2
B|Babassu oil|Orbignya Oleifera Seed Oil|6
C|Sodium dehydroacetate|Sodium Dehydroacetate|0.5
C|Bakuchiol|Bakuchiol|1'''}, active=1)
R('active sheet', 'notes_then_recipe.xlsx', '''Water ¦ W ¦ 69 ¦ A
Sodium lactate 60 % ¦ sodium-lactate-solution-60 ¦ 3 ¦ A
Sclerotium gum ¦ sclerotium-gum ¦ 0.5 ¦ A
Cetearyl glucoside & cetearyl alcohol ¦ cetearyl-glucoside-and-cetearyl-alcohol ¦ 5 ¦ B
Plum kernel oil ¦ plum-kernel-oil ¦ 13 ¦ B
Cetyl palmitate ¦ cetyl-palmitate ¦ 2 ¦ B
Babassu oil ¦ babassu-oil ¦ 6 ¦ B
Sodium dehydroacetate ¦ sodium-dehydroacetate ¦ 0.5 ¦ C
Bakuchiol ¦ bakuchiol ¦ 1 ¦ C''')

xl('hidden_old_column.xlsx', {'Now': '''Ingredient|old %|% now|Phase
Distilled water|80|77.4|A
Urea|5|5|A
Glycerin|3|4|A
Almond oil|7|8|B
Glyceryl stearate and PEG-100 stearate|4|4.5|B
Lactic acid 80 %|0.2|0.3|C
Phenoxyethanol|0.8|0.8|C''', 'Before 2025': '''Ingredient|%
Water|95
Urea|5'''}, hidecols=['B'], hiddensheets=['Before 2025'])
R('hidden column and sheet', 'hidden_old_column.xlsx', '''Distilled water ¦ W ¦ 77.4 ¦ A
Urea ¦ urea ¦ 5 ¦ A
Glycerin ¦ G ¦ 4 ¦ A
Almond oil ¦ sweet-almond-oil ¦ 8 ¦ B
Glyceryl stearate and PEG-100 stearate ¦ glyceryl-stearate-and-peg-100-stearate ¦ 4.5 ¦ B
Lactic acid 80 % ¦ lactic-acid-80 ¦ 0.3 ¦ C
Phenoxyethanol ¦ phenoxyethanol ¦ 0.8 ¦ C''')

xl('filtered.xlsx', '''Product|Ingredient|%
Foam bath|Water|54.6
Foam bath|Sodium laureth sulfate 28 %|30
Scrub|Sugar|70
Foam bath|Coco-glucoside|10
Scrub|Coconut oil|30
Foam bath|Glycerin|4
Foam bath|Sodium benzoate|0.5
Foam bath|Citric acid|0.4
Foam bath|Sweet orange essential oil|0.5''', hide=[4, 6], filt='A1:C10')
R('filtered rows', 'filtered.xlsx', '''Water ¦ W ¦ 54.6
Sodium laureth sulfate 28 % ¦ SLES28 ¦ 30
Coco-glucoside ¦ CG ¦ 10
Glycerin ¦ G ¦ 4
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid ¦ CA ¦ 0.4
Sweet orange essential oil ¦ sweet-orange-essential-oil ¦ 0.5''')

od('fusscreme.ods', '''Fußcreme mit Urea|||
|||
Fettphase, 75 °C|||
Jojobaöl|8|g|
Sheabutter|6|g|
Emulgator (Glycerylstearat SE)|5|g|
Stearinsäure|2|g|
Wasserphase, 75 °C|||
Dest. Wasser|65,2|g|
Harnstoff|10|g|
Glycerin 86 %|3|g|
Wirkstoffphase, unter 40 °C|||
Teebaumöl|0,3|g|
Kaliumsorbat|0,3|g|
Milchsäure 80%|0,2|g|'''.replace('65,2', '65.2').replace('0,3', '0.3').replace('0,2', '0.2'))
R('phase rows', 'fusscreme.ods', '''Jojobaöl ¦ jojoba-oil ¦ 8 ¦ A
Sheabutter ¦ shea-butter ¦ 6 ¦ A
Emulgator (Glycerylstearat SE) ¦ glyceryl-stearate-se|? ¦ 5 ¦ A
Stearinsäure ¦ stearic-acid ¦ 2 ¦ A
Dest. Wasser ¦ W ¦ 65.2 ¦ B
Harnstoff ¦ urea ¦ 10 ¦ B
Glycerin 86 % ¦ glycerin-86 ¦ 3 ¦ B
Teebaumöl ¦ tea-tree-essential-oil ¦ 0.3 ¦ C
Kaliumsorbat ¦ potassium-sorbate ¦ 0.3 ¦ C
Milchsäure 80% ¦ lactic-acid-80 ¦ 0.2 ¦ C''')

xl('hand_soap_500.xlsx', '''Liquid hand soap, 500 g batch|||
|||
Ingredient|Grams|Notes|
Water|up to 500|add last|
Potassium cocoate soap solution 40 %|250|from the big can|
Glycerin|25||
Salt|q.s.|to thicken, drop by drop|
Citric acid|q.s.|pH 9|
Lemongrass oil|2.5||
Disodium EDTA|1||''')
R('grams with q.s.', 'hand_soap_500.xlsx', '''Water ¦ W ¦ (500-278.5)/5 ¦ A
Potassium cocoate soap solution 40 % ¦ potassium-cocoate-soap-solution-40 ¦ 50
Glycerin ¦ G ¦ 5
Salt ¦ ?sodium-chloride ¦ -
Citric acid ¦ CA ¦ -
Lemongrass oil ¦ lemongrass-essential-oil|? ¦ 0.5
Disodium EDTA ¦ disodium-edta-dihydrate|?disodium-edta-dihydrate ¦ 0.2''', batch=500)

cs('aftershave.csv', '''Bestandteil;Menge;INCI
Hamameliswasser;40,0;Hamamelis Virginiana Water
Ethanol 96 %, vergällt;12,0;Alcohol Denat.
Aloe-Vera-Saft;20,0;Aloe Barbadensis Leaf Juice
Allantoin;0,3;Allantoin
Polysorbat 20;0,8;Polysorbate 20
Zedernöl (Atlas);0,2;Cedrus Atlantica Wood Oil
Wasser;ad 100,0;Aqua'''.replace(';', '|'), sep=';', enc='utf-8-sig')
R('ad 100', 'aftershave.csv', '''Hamameliswasser ¦ witch-hazel-water ¦ 40
Ethanol 96 %, vergällt ¦ ethanol-96-denatured ¦ 12
Aloe-Vera-Saft ¦ aloe-vera-juice ¦ 20
Allantoin ¦ allantoin-powder ¦ 0.3
Polysorbat 20 ¦ polysorbate-20 ¦ 0.8
Zedernöl (Atlas) ¦ cedarwood-atlas-essential-oil ¦ 0.2
Wasser ¦ W ¦ 26.7''')

xl('text_percent_and_grams.xlsx', '''Nourishing hair mask|||
Batch 500 g|||
Ingredient|Percent|Weight|
Water|'83.5 %|'417.5 g|
Cetearyl alcohol|'6 %|'30 g|
BTMS-25|'5 %|'25 g|
Avocado oil|'3 %|'15 g|
Honey|'1 %|'5 g|
Phenoxyethanol (and) ethylhexylglycerin|'1 %|'5 g|
Ylang ylang oil|'0.5 %|'2.5 g|''')
R('text percent and grams', 'text_percent_and_grams.xlsx', '''Water ¦ W ¦ 83.5
Cetearyl alcohol ¦ cetearyl-alcohol ¦ 6
BTMS-25 ¦ behentrimonium-methosulfate-25-in-cetearyl-alcohol ¦ 5
Avocado oil ¦ avocado-oil ¦ 3
Honey ¦ honey ¦ 1
Phenoxyethanol (and) ethylhexylglycerin ¦ PE ¦ 1
Ylang ylang oil ¦ ylang-ylang-essential-oil|? ¦ 0.5''', batch=500)

xl('mixed_units.xlsx', '''Shower gel for the gym||
Ingredient|Weight|
Water|1.32 kg|
Sodium lauryl sulfate solution 28 %|360g|
Cocamidopropyl betaine solution 38 %|220 g|
Glycerin|80 g|
Peppermint essential oil|4 g|
Sodium benzoate|10 g|
Citric acid solution 50 %|5.5 g|
Brilliant blue|500 mg|''')
R('mixed units', 'mixed_units.xlsx', '''Water ¦ W ¦ 66
Sodium lauryl sulfate solution 28 % ¦ sodium-lauryl-sulfate-solution-28 ¦ 18
Cocamidopropyl betaine solution 38 % ¦ CAPB38 ¦ 11
Glycerin ¦ G ¦ 4
Peppermint essential oil ¦ peppermint-essential-oil ¦ 0.2
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid solution 50 % ¦ citric-acid-solution-50 ¦ 0.275
Brilliant blue ¦ brilliant-blue ¦ 0.025''', batch=2000)

cs('ansatz_gross.csv', '''Rohstoff;Menge g
Wasser demineralisiert;17.040,00
Kokosglucosid 52 %;3.120,00
Natriumcocoylglutamat 25 %;2.400,00
Glycerin 99,5 %;1.080,00
Xanthan transparent;240,00
Natriumbenzoat;120,00
Summe;24.000,00'''.replace(';', '|'), sep=';', enc='cp1252')
R('thousands marks', 'ansatz_gross.csv', '''Wasser demineralisiert ¦ W ¦ 71
Kokosglucosid 52 % ¦ coco-glucoside-solution-52 ¦ 13
Natriumcocoylglutamat 25 % ¦ sodium-cocoyl-glutamate-solution-25 ¦ 10
Glycerin 99,5 % ¦ G ¦ 4.5
Xanthan transparent ¦ xanthan-gum-clear-grade|? ¦ 1
Natriumbenzoat ¦ sodium-benzoate ¦ 0.5''', batch=24000)

xl('footnotes.xlsx', '''Serum with peptides (draft)||
Ingredient|% w/w|
Water|81.2|
Butylene glycol|6.0*|
Sodium hyaluronate solution 1 %|5 (up to 10)|
Hydrolyzed elastin 20 %|2 †|
Caprylyl glycol|0.5 (max)|
Niacinamide|4.0|
Phenoxyethanol|0.9 [1]|
Xanthan gum|0.4|
* half may be pentylene glycol||
† animal free grade if we find one||
[1] limit 1 %||''')
R('footnotes', 'footnotes.xlsx', '''Water ¦ W ¦ 81.2
Butylene glycol ¦ /butylene-glycol ¦ 6
Sodium hyaluronate solution 1 % ¦ /sodium-hyaluronate-solution-1 ¦ 5
Hydrolyzed elastin 20 % ¦ /hydrolyzed-elastin-20 ¦ 2
Caprylyl glycol ¦ /caprylyl-glycol ¦ 0.5
Niacinamide ¦ niacinamide ¦ 4
Phenoxyethanol ¦ /phenoxyethanol ¦ 0.9
Xanthan gum ¦ xanthan-gum ¦ 0.4''')

xw('full_columns.xlsx', '''Formula no. 118 rev. C|||||||
Chemist: (retired, so no hurry)|||||||
|||||||
Seq|Phase|Trade name|INCI|CAS|Supplier|Code|% w/w
10|A|Purified water|Aqua|7732-18-5|own still|-|74.9
20|A|Carbomer|Carbomer|9007-20-9|Harrow Chem|HC 940|0.3
30|A|Propylene glycol|Propylene Glycol|57-55-6|Harrow Chem|HC 102|4
40|B|Liquid paraffin|Paraffinum Liquidum|8012-95-1|Harrow Chem|HC 551|10
50|B|Stearic acid|Stearic Acid|57-11-4|Harrow Chem|HC 560|3
60|B|Isopropyl myristate|Isopropyl Myristate|110-27-0|Harrow Chem|HC 570|4
70|B|Cetyl alcohol|Cetyl Alcohol|36653-82-4|Harrow Chem|HC 566|2
80|C|TEA 99 %|Triethanolamine|102-71-6|Harrow Chem|HC 811|1
90|D|Methylparaben|Methylparaben|99-76-3|Harrow Chem|HC 901|0.2
100|D|Imidazolidinyl urea|Imidazolidinyl Urea|39236-46-9|Harrow Chem|HC 903|0.3
110|D|Perfume 2217|Parfum||Sorrel Scents|2217|0.3
|||||||f:=SUM(H5:H15);100''')
R('all columns', 'full_columns.xlsx', '''Purified water ¦ W ¦ 74.9 ¦ A
Carbomer ¦ carbomer-powder ¦ 0.3 ¦ A
Propylene glycol ¦ propylene-glycol ¦ 4 ¦ A
Liquid paraffin ¦ mineral-oil ¦ 10 ¦ B
Stearic acid ¦ stearic-acid ¦ 3 ¦ B
Isopropyl myristate ¦ isopropyl-myristate ¦ 4 ¦ B
Cetyl alcohol ¦ cetyl-alcohol ¦ 2 ¦ B
TEA 99 % ¦ triethanolamine-99 ¦ 1 ¦ C
Methylparaben ¦ methylparaben ¦ 0.2 ¦ D
Imidazolidinyl urea ¦ imidazolidinyl-urea-powder ¦ 0.3 ¦ D
Perfume 2217 ¦ FR ¦ 0.3 ¦ D''')

pdx('inci_only.xlsx', '''INCI|Conc. (%)
Aqua|62.35
Sodium Lauroyl Methyl Isethionate|12
Coco-Betaine|14
Glycerin|4
Polyquaternium-10|0.25
Panthenol|1
Sodium Chloride|1.2
Parfum|0.8
Sodium Benzoate|0.4
Citric Acid|0.5
Coconut Acid|3.5''')
R('INCI only', 'inci_only.xlsx', '''Aqua ¦ W ¦ 62.35
Sodium Lauroyl Methyl Isethionate ¦ sodium-lauroyl-methyl-isethionate-powder|? ¦ 12
Coco-Betaine ¦ coco-betaine-solution-31|? ¦ 14
Glycerin ¦ glycerin-99-5|? ¦ 4
Polyquaternium-10 ¦ polyquaternium-10-powder|? ¦ 0.25
Panthenol ¦ ? ¦ 1
Sodium Chloride ¦ sodium-chloride|? ¦ 1.2
Parfum ¦ FR ¦ 0.8
Sodium Benzoate ¦ sodium-benzoate ¦ 0.4
Citric Acid ¦ ? ¦ 0.5
Coconut Acid ¦ new|? ¦ 3.5''')

xl('misspelt.xlsx', '''Ingrediant|Precent|Purpouse
Distiled water|70.9|
Glycerine|5|humectant
Xantham gum|0.5|thickner
Jojaba oil|12|emolient
Cetearly alcohol|3|
Emulsifing wax NF|6|emulsifer
Phenoxyethenol|0.9|preservitive
Lavander oil|0.2|sent
Tocoferol acetate|0.5|
Alantoin|1|''')
R('misspellings', 'misspelt.xlsx', '''Distiled water ¦ water-demineralised|? ¦ 70.9
Glycerine ¦ G ¦ 5
Xantham gum ¦ xanthan-gum|? ¦ 0.5
Jojaba oil ¦ jojoba-oil|? ¦ 12
Cetearly alcohol ¦ cetearyl-alcohol|? ¦ 3
Emulsifing wax NF ¦ cetearyl-alcohol-and-polysorbate-60|? ¦ 6
Phenoxyethenol ¦ phenoxyethanol|? ¦ 0.9
Lavander oil ¦ lavender-essential-oil|? ¦ 0.2
Tocoferol acetate ¦ tocopheryl-acetate|? ¦ 0.5
Alantoin ¦ allantoin-powder|? ¦ 1''')

xl('no_headings.xlsx', '''Water|58
Aloe vera juice|30
Glycerin|6
Panthenol 75 %|4
Sodium benzoate|0.5
Potassium sorbate|0.3
Xanthan gum|1.2''')
R('no headings', 'no_headings.xlsx', '''Water ¦ W ¦ 58
Aloe vera juice ¦ aloe-vera-juice ¦ 30
Glycerin ¦ G ¦ 6
Panthenol 75 % ¦ d-panthenol-75 ¦ 4
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Potassium sorbate ¦ potassium-sorbate ¦ 0.3
Xanthan gum ¦ xanthan-gum ¦ 1.2''')

cs('short_forms.csv', '''Mat,Lvl %,Ph
DI water,61.4,1
EDTA,0.1,1
SLES 28,22,1
CAPB,8,1
DSCADA,3,1
PQ-10,0.3,2
PEG-7 GC,1,2
EGDS,1.5,3
BHT,0.05,3
NaCl,1.8,4
MCI/MI 1.5 %,0.05,4
Frag.,0.8,4'''.replace(',', '|'), sep=',')
R('short forms', 'short_forms.csv', '''DI water ¦ /water-demineralised ¦ 61.4 ¦ A
EDTA ¦ ? ¦ 0.1 ¦ A
SLES 28 ¦ SLES28 ¦ 22 ¦ A
CAPB ¦ CB ¦ 8 ¦ A
DSCADA ¦ disodium-cocoamphodiacetate-solution-39-solids|? ¦ 3 ¦ A
PQ-10 ¦ polyquaternium-10-powder|? ¦ 0.3 ¦ B
PEG-7 GC ¦ peg-7-glyceryl-cocoate|? ¦ 1 ¦ B
EGDS ¦ glycol-distearate-flakes|? ¦ 1.5 ¦ C
BHT ¦ butylated-hydroxytoluene ¦ 0.05 ¦ C
NaCl ¦ sodium-chloride|?sodium-chloride ¦ 1.8 ¦ D
MCI/MI 1.5 % ¦ methylchloroisothiazolinone-and-methylisothiazolinone-3-1-1-5|? ¦ 0.05 ¦ D
Frag. ¦ FR ¦ 0.8 ¦ D''')

xl('percent_formatted_mix.xlsx', '''Ingredient|%|How
Water|p:78.5|
Glycerin|p:5|
Hydroxypropyl starch phosphate|p:3|sprinkle
C13-15 alkane|p:8|
Potassium cetyl phosphate|p:4|
Sodium benzoate|0.5|typed later
Citric acid|0.3|typed later
Rose absolute|0.2|typed later
Bisabolol|0.5|typed later''')
R('formatted percent beside plain', 'percent_formatted_mix.xlsx', '''Water ¦ W ¦ 78.5
Glycerin ¦ G ¦ 5
Hydroxypropyl starch phosphate ¦ hydroxypropyl-starch-phosphate ¦ 3
C13-15 alkane ¦ c13-15-alkane ¦ 8
Potassium cetyl phosphate ¦ potassium-cetyl-phosphate ¦ 4
Sodium benzoate ¦ /sodium-benzoate ¦ 0.5
Citric acid ¦ CA ¦ 0.3
Rose absolute ¦ /rose-absolute ¦ 0.2
Bisabolol ¦ /bisabolol ¦ 0.5''')

ht('savon_liste.html', '''<h1>Baume déodorant</h1><p>Pour un pot de 60 g :</p>
<ul><li>20 g d'huile de coco</li><li>15 g de bicarbonate de sodium</li><li>12 g de fécule de maïs</li><li>9 g de beurre de karité</li><li>3,4 g de cire d'abeille</li><li>0,6 g d'huile essentielle de palmarosa</li></ul>
<h2>Préparation</h2><ol><li>Fondre les corps gras.</li><li>Incorporer les poudres.</li><li>Couler.</li></ol>''')
R('html list', 'savon_liste.html', '''huile de coco ~ d'huile de coco ¦ coconut-oil ¦ 100/3
bicarbonate de sodium ~ de bicarbonate de sodium ¦ sodium-bicarbonate ¦ 25
fécule de maïs ~ de fécule de maïs ¦ corn-starch ¦ 20
beurre de karité ~ de beurre de karité ¦ shea-butter ¦ 15
cire d'abeille ~ de cire d'abeille ¦ beeswax-white ¦ 17/3
huile essentielle de palmarosa ~ d'huile essentielle de palmarosa ¦ palmarosa-essential-oil ¦ 1''', batch=60, steps=3)

tx('dotted.txt', '''
LIP BUTTER  (100 g)

Castor oil ................ 35
Shea butter ............... 25
Beeswax ................... 20
Lanolin, anhydrous ........ 18.5
Vitamin E acetate ......... 1
Vanilla absolute .......... 0.5
                    TOTAL  100
''')
R('dots', 'dotted.txt', '''Castor oil ¦ castor-oil ¦ 35
Shea butter ¦ shea-butter ¦ 25
Beeswax ¦ beeswax-white ¦ 20
Lanolin, anhydrous ¦ lanolin-anhydrous ¦ 18.5
Vitamin E acetate ¦ /tocopheryl-acetate ¦ 1
Vanilla absolute ¦ vanilla-absolute ¦ 0.5''', batch=100)

tx('checklist.md', '''
# Shaving soap, kitchen scale version

## Fats
- [x] Stearic acid: 450 g
- [x] Coconut oil: 200 g
- [x] Castor oil: 50 g

## Lye
- [x] Potassium hydroxide flakes 90 %: 115 g
- [x] Sodium hydroxide pellets: 35 g
- [ ] Distilled water: 350 g

## After the cook
- [ ] Glycerin 99.5 %: 80 g
- [ ] Bentonite: 20 g
''')
g = 1300
R('checklist', 'checklist.md', f'''Stearic acid ¦ stearic-acid ¦ 45000/{g} ¦ A
Coconut oil ¦ coconut-oil ¦ 20000/{g} ¦ A
Castor oil ¦ castor-oil ¦ 5000/{g} ¦ A
Potassium hydroxide flakes 90 % ¦ potassium-hydroxide-flakes-90 ¦ 11500/{g} ¦ B
Sodium hydroxide pellets ¦ sodium-hydroxide-pellets ¦ 3500/{g} ¦ B
Distilled water ¦ W ¦ 35000/{g} ¦ B
Glycerin 99.5 % ¦ G ¦ 8000/{g} ¦ C
Bentonite ¦ bentonite ¦ 2000/{g} ¦ C''', batch=1300)

tx('quoted.csv', '''"Ingredient","Amount (%)","Note"
"Water, demineralised","66,8","Aqua, of course"
"Tocopherol, mixed 70 % in sunflower oil","0,2",""
"Sunflower oil","18","or rapeseed, if cheaper"
"Cetearyl alcohol and ceteareth-20","6",""
"Glycerin 99.5 %","5","weigh, don't pour"
"Stearic acid","3",""
"Phenoxyethanol","1",""
''')
R('quotes and commas', 'quoted.csv', '''Water, demineralised ¦ W ¦ 66.8
Tocopherol, mixed 70 % in sunflower oil ¦ tocopherol-mixed-70-in-sunflower-oil ¦ 0.2
Sunflower oil ¦ sunflower-seed-oil ¦ 18
Cetearyl alcohol and ceteareth-20 ¦ CETE ¦ 6
Glycerin 99.5 % ¦ G ¦ 5
Stearic acid ¦ stearic-acid ¦ 3
Phenoxyethanol ¦ phenoxyethanol ¦ 1''')

xl('per_kilo.xlsx', '''Crema de manos – hoja de producción||||
||||
Fase|Materia prima|g/kg|5 kg (g)|Control
I|Agua desmineralizada|696|3480|
I|Glicerina 99,5 %|50|250|
I|Goma xantana|4|20|
II|Aceite de girasol|120|600|
II|Aceite de coco|40|200|
II|Alcohol cetílico|30|150|
II|Estearato de glicerilo SE|50|250|
III|Benzoato de sodio|5|25|
III|Ácido láctico 80 %|3|15|
III|Aceite esencial de limón|2|10|
|Total|1000|5000|''')
R('grams per kilogram', 'per_kilo.xlsx', '''Agua desmineralizada ¦ W ¦ 69.6 ¦ A
Glicerina 99,5 % ¦ G ¦ 5 ¦ A
Goma xantana ¦ xanthan-gum ¦ 0.4 ¦ A
Aceite de girasol ¦ sunflower-seed-oil ¦ 12 ¦ B
Aceite de coco ¦ coconut-oil ¦ 4 ¦ B
Alcohol cetílico ¦ cetyl-alcohol ¦ 3 ¦ B
Estearato de glicerilo SE ¦ glyceryl-stearate-se ¦ 5 ¦ B
Benzoato de sodio ¦ sodium-benzoate ¦ 0.5 ¦ C
Ácido láctico 80 % ¦ lactic-acid-80 ¦ 0.3 ¦ C
Aceite esencial de limón ¦ lemon-essential-oil-expressed|? ¦ 0.2 ¦ C''')

od('phase_merged_odf.ods', '''Conditioner bar, 90 g mould|||
Stage|Ingredient|grams|notes
melt|Behentrimonium methosulfate 25 % in cetearyl alcohol|54|smells fishy when hot
|Cetyl alcohol|13.5|
|Cocoa butter|13.5|
under 60 °C|Hydrolyzed oat protein 20 %|4.5|
|DL-panthenol powder|1.8|
|Dehydroacetic acid & benzyl alcohol|0.9|
|Rosemary essential oil (cineole)|1.8|''', merge={(3, 1): (3, 1), (6, 1): (4, 1), (1, 1): (1, 4)})
R('merged phases', 'phase_merged_odf.ods', '''Behentrimonium methosulfate 25 % in cetearyl alcohol ¦ behentrimonium-methosulfate-25-in-cetearyl-alcohol ¦ 60 ¦ A
Cetyl alcohol ¦ cetyl-alcohol ¦ 15 ¦ A
Cocoa butter ¦ cocoa-butter ¦ 15 ¦ A
Hydrolyzed oat protein 20 % ¦ hydrolyzed-oat-protein-20 ¦ 5 ¦ B
DL-panthenol powder ¦ dl-panthenol-powder ¦ 2 ¦ B
Dehydroacetic acid & benzyl alcohol ¦ benzyl-alcohol-and-dehydroacetic-acid-blend|? ¦ 1 ¦ B
Rosemary essential oil (cineole) ¦ rosemary-essential-oil-cineole-type|? ¦ 2 ¦ B''', batch=90)

xl('step_column.xlsx', '''Foaming face wash|||||
Step|Do|Ingredient|%|Temp|
1|Weigh into beaker|Distilled water|62.5|20 °C|
1|Disperse|Hydroxypropyl guar|0.5|20 °C|
2|Add|Disodium cocoyl glutamate 27 %|15|20 °C|
2|Add|Sodium cocoamphoacetate 37 % solids|10|20 °C|
2|Add|Lauryl glucoside|8|40 °C|
3|Add|Glycerin|3|20 °C|
3|Preserve|Sodium benzoate|0.5|20 °C|
3|Adjust|Lactic acid 80 %|0.5|20 °C|''')
R('action column', 'step_column.xlsx', '''Distilled water ¦ W ¦ 62.5 ¦
Hydroxypropyl guar ¦ hydroxypropyl-guar ¦ 0.5 ¦
Disodium cocoyl glutamate 27 % ¦ disodium-cocoyl-glutamate-solution-27 ¦ 15 ¦
Sodium cocoamphoacetate 37 % solids ¦ sodium-cocoamphoacetate-solution-37-solids ¦ 10 ¦
Lauryl glucoside ¦ LG ¦ 8 ¦
Glycerin ¦ G ¦ 3 ¦
Sodium benzoate ¦ sodium-benzoate ¦ 0.5 ¦
Lactic acid 80 % ¦ lactic-acid-80 ¦ 0.5 ¦''')

xl('bottle_costs.xlsx', '''Shampoo Mallow - what does a bottle cost?|||||||
Bottles of 250 g:|16||Batch:|4 kg|||
||||||||
Ingredient|Supplier|£ per kg|Recipe %|Grams needed|Cost £|In stock g|Order?
Water|tap still|0.10|57.7|2308|0.23||
Ammonium laureth sulfate 27 %|Harrow Chem|2.10|22|880|1.85|1500|no
Lauramidopropyl betaine 30 %|Harrow Chem|3.40|10|400|1.36|150|yes
Mallow extract in glycerin|Sorrel Scents|28.00|3|120|3.36|200|no
Sorbitol 70 %|Harrow Chem|2.80|4|160|0.45|900|no
Glycol distearate|Harrow Chem|7.50|2|80|0.60|75|yes
Sodium benzoate|Harrow Chem|5.90|0.5|20|0.12|210|no
Citric acid monohydrate|Harrow Chem|4.00|0.3|12|0.05|800|no
Perfume oil "Mallow"|Sorrel Scents|64.00|0.5|20|1.28|55|no
|||100|4000|9.30||
Bottle and cap|Tin & Glass|||16 pcs|7.20|40|no
Label||||16 pcs|1.92||yes
Per bottle|||||1.15||''')
R('costing columns', 'bottle_costs.xlsx', '''Water ¦ W ¦ 57.7
Ammonium laureth sulfate 27 % ¦ ammonium-laureth-sulfate-solution-27 ¦ 22
Lauramidopropyl betaine 30 % ¦ lauramidopropyl-betaine-solution-30 ¦ 10
Mallow extract in glycerin ¦ mallow-extract-in-glycerin ¦ 3
Sorbitol 70 % ¦ sorbitol-solution-70 ¦ 4
Glycol distearate ¦ /glycol-distearate-flakes ¦ 2
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid monohydrate ¦ citric-acid-monohydrate ¦ 0.3
Perfume oil "Mallow" ¦ FR ¦ 0.5''', batch=4000)

xl('balance_words.xlsx', '''Body splash||
Component|% m/m|Remark
Purified water|balance|
Ethanol 96 %, denatured|20|
Dipropylene glycol|3|
PEG-40 hydrogenated castor oil|1.5|
Bergamot oil FCF|0.7|no furocoumarins
Petitgrain oil|0.3|
Sodium hydroxide 10 %|as needed to pH 6|
Dye|trace|''')
R('balance', 'balance_words.xlsx', '''Purified water ¦ W ¦ 74.5
Ethanol 96 %, denatured ¦ ethanol-96-denatured ¦ 20
Dipropylene glycol ¦ dipropylene-glycol ¦ 3
PEG-40 hydrogenated castor oil ¦ peg-40-hydrogenated-castor-oil ¦ 1.5
Bergamot oil FCF ¦ bergamot-essential-oil-without-furocoumarins|? ¦ 0.7
Petitgrain oil ¦ petitgrain-essential-oil|?petitgrain-essential-oil ¦ 0.3
Sodium hydroxide 10 % ¦ ?sodium-hydroxide-solution-10 ¦ -
Dye ¦ ?|new ¦ -''')

cs('huile_corps.tsv.txt', '''Ingrédient\tINCI\tPourcentage\tPrix au kg
Huile de noyau d'abricot\tPrunus Armeniaca Kernel Oil\t45,00 %\t18,50 €
Huile de noisette\tCorylus Avellana Seed Oil\t30,00 %\t22,00 €
Triglycérides capryliques/capriques\tCaprylic/Capric Triglyceride\t23,80 %\t12,90 €
Vitamine E\tTocopherol, Helianthus Annuus Seed Oil\t0,20 %\t60,00 €
Huile essentielle d'ylang-ylang\tCananga Odorata Flower Oil\t1,00 %\t310,00 €'''.replace('\t', '|'), sep='\t')
R('languages', 'huile_corps.tsv.txt', '''Huile de noyau d'abricot ¦ apricot-kernel-oil ¦ 45
Huile de noisette ¦ hazelnut-oil ¦ 30
Triglycérides capryliques/capriques ¦ caprylic-capric-triglyceride ¦ 23.8
Vitamine E ¦ VE ¦ 0.2
Huile essentielle d'ylang-ylang ¦ ylang-ylang-essential-oil ¦ 1''')

od('szampon_koszty.ods', '''Szampon pokrzywowy – partia 1 kg|||||
Faza|Składnik|INCI|%|g|zł/kg
A|Woda demineralizowana|Aqua|60.3|603|1.2
A|Ekstrakt z pokrzywy|Propanediol, Aqua, Urtica Dioica Extract|3|30|85
B|SLES 28%|Sodium Laureth Sulfate|20|200|9.5
B|Kokoglukozyd|Coco-Glucoside|8|80|24
B|Betaina kokamidopropylowa 30%|Cocamidopropyl Betaine|6|60|14
C|Sól kuchenna|Sodium Chloride|1.5|15|2
C|Benzoesan sodu|Sodium Benzoate|0.5|5|22
C|Kwas mlekowy 80%|Lactic Acid|0.4|4|26
C|Olejek rozmarynowy|Rosmarinus Officinalis Leaf Oil|0.3|3|420
Razem|||100|1000|''')
R('languages', 'szampon_koszty.ods', '''Woda demineralizowana ¦ W ¦ 60.3 ¦ A
Ekstrakt z pokrzywy ¦ nettle-extract-in-propanediol|? ¦ 3 ¦ A
SLES 28% ¦ SLES28 ¦ 20 ¦ B
Kokoglukozyd ¦ CG ¦ 8 ¦ B
Betaina kokamidopropylowa 30% ¦ CAPB30 ¦ 6 ¦ B
Sól kuchenna ¦ sodium-chloride ¦ 1.5 ¦ C
Benzoesan sodu ¦ sodium-benzoate ¦ 0.5 ¦ C
Kwas mlekowy 80% ¦ lactic-acid-80 ¦ 0.4 ¦ C
Olejek rozmarynowy ¦ rosemary-essential-oil-cineole-type|? ¦ 0.3 ¦ C''', batch=1000)

xl('kit_sheet.xlsx', '''Workshop kit "make your own lip balm" - per person||||
||||
No.|In the bag|Grams|% of balm|Allergy?
1)|Beeswax, white|3.00|20|
2)|Castor oil|4.50|30|
3)|Coconut oil|4.50|30|
4)|Cocoa butter|2.85|19|nuts nearby
5)|Flavour oil (vanilla)|0.15|1|ask supplier
|Total weight|15.00|100|
||||
Also in the bag:||||
Tin 15 ml|1 pc|||
Wooden stick|1 pc|||
Recipe card|1 pc|||''', merge=['A1:E1'])
R('things that are no materials', 'kit_sheet.xlsx', '''Beeswax, white ¦ beeswax-white ¦ 20
Castor oil ¦ castor-oil ¦ 30
Coconut oil ¦ coconut-oil ¦ 30
Cocoa butter ¦ cocoa-butter ¦ 19
Flavour oil (vanilla) ¦ ?|new ¦ 1''', batch=15)

# ---------- price and stock lists
xl('two_suppliers.xlsx', '''Who is cheaper?|||||
All prices EUR per kg, net|||||
Material|Harrow Chem|Larkmoor Supplies|Cheapest|Remark|
Glycerin|2.95|3.10|Harrow Chem||
Stearic acid|4.40|4.15|Larkmoor||
Propanediol|7.80|7.95|Harrow Chem||''')
P('several suppliers', 'two_suppliers.xlsx', '''Glycerin ¦ G ¦ 2.95 EUR 1000; 3.1 EUR 1000
Stearic acid ¦ stearic-acid ¦ 4.4 EUR 1000; 4.15 EUR 1000
Propanediol ¦ propanediol ¦ 7.8 EUR 1000; 7.95 EUR 1000''')

cs('gebinde.csv', '''Nr;Bezeichnung;Gebinde;Preis/kg netto;Währung;Lieferzeit
7001;Rapsöl;25 kg;2,10;EUR;3 Tage
7002;Kokosöl;20 kg;4,35;EUR;3 Tage
7003;Bienenwachs, weiß;5 kg;14,80;EUR;1 Woche
7004;Lanolin, wasserfrei;1 kg;21,50;EUR;1 Woche
7005;Rizinusöl;10 kg;auf Anfrage;EUR;'''.replace(';', '|'), sep=';', enc='utf-8-sig')
P('price per kg beside a pack', 'gebinde.csv', '''Rapsöl ¦ rapeseed-oil ¦ 52.5 EUR 25000
Kokosöl ¦ coconut-oil ¦ 87 EUR 20000
Bienenwachs, weiß ¦ beeswax-white ¦ 74 EUR 5000
Lanolin, wasserfrei ¦ lanolin-anhydrous ¦ 21.5 EUR 1000''', spare=['Rizinusöl'])

xl('pounds_usd.xlsx', '''Item|Size|Price (USD)|Last ordered
Cocoa butter|2 lb|24.50|d:2026-02-11
Kaolin|5 lb|14.00|d:2026-02-11
Vanilla absolute|1 oz|38.75|d:2025-10-03
Beeswax|1 lb|13.25|d:2026-06-19''')
P('pounds and ounces', 'pounds_usd.xlsx', '''Cocoa butter ¦ cocoa-butter ¦ 24.5 USD 907.18474
Kaolin ¦ kaolin-white-clay ¦ 14 USD 2267.96185
Vanilla absolute ¦ vanilla-absolute ¦ 38.75 USD 28.349523125
Beeswax ¦ beeswax-white ¦ 13.25 USD 453.59237''')

xl('pack_in_name.xlsx', '''Order form Sorrel Scents|||
Article|Article no.|EUR|Qty
Lavender essential oil 100 g|SS-001|9.80|
Tea tree essential oil 100 g|SS-002|8.40|2
Sweet orange essential oil 500 g|SS-003|15.90|1
Rose absolute 10 g|SS-004|42.00|''')
P('pack in the name', 'pack_in_name.xlsx', '''Lavender essential oil 100 g ~ Lavender essential oil ¦ LAV ¦ 9.8 EUR 100
Tea tree essential oil 100 g ~ Tea tree essential oil ¦ tea-tree-essential-oil ¦ 8.4 EUR 100
Sweet orange essential oil 500 g ~ Sweet orange essential oil ¦ sweet-orange-essential-oil ¦ 15.9 EUR 500
Rose absolute 10 g ~ Rose absolute ¦ rose-absolute ¦ 42 EUR 10''')

od('prijslijst.ods', '''Prijslijst grondstoffen 2026|||
Grondstof|Verpakking|Prijs (€)|Voorraad
Sheaboter|1 kg|e:11.95|ja
Bijenwas|500 g|e:8.75|ja
Citroenzuur, watervrij|1 kg|e:5.20|nee
Natriumbenzoaat|250 g|e:3.60|ja
Zoete amandelolie|1 kg|e:14.40|ja''')
P('languages', 'prijslijst.ods', '''Sheaboter ¦ shea-butter ¦ 11.95 EUR 1000
Bijenwas ¦ beeswax-white ¦ 8.75 EUR 500
Citroenzuur, watervrij ¦ citric-acid-anhydrous ¦ 5.2 EUR 1000
Natriumbenzoaat ¦ sodium-benzoate ¦ 3.6 EUR 250
Zoete amandelolie ¦ sweet-almond-oil ¦ 14.4 EUR 1000''')

xl('net_gross.xlsx', '''Produkt|Menge|Netto €|MwSt.|Brutto €
Xanthan|250 g|6.30|19 %|7.50
Sheabutter|1 kg|9.24|19 %|11.00
Glycerin 99,5 %|1 kg|4.20|19 %|5.00''')
P('net and gross', 'net_gross.xlsx', '''Xanthan ¦ xanthan-gum ¦ 6.3 EUR 250
Sheabutter ¦ shea-butter ¦ 9.24 EUR 1000
Glycerin 99,5 % ¦ G ¦ 4.2 EUR 1000''', note='gross (7.50, 11.00, 5.00) is as good if the maker is told or asked')

xl('lots_and_prices.xlsx', '''Inventory 2026-11||||||
Material|INCI|Supplier|Lot/Batch|Qty (g)|Paid per kg (EUR)|Use by
Niacinamide|Niacinamide|Larkmoor Supplies|NIA-88|450|38.00|d:2028-03-31
Ectoin|Ectoin|Larkmoor Supplies|EC-3|25|410.00|d:2027-09-30
Sodium lactate 60 %|Sodium Lactate|Harrow Chem|SL/26/4|1900|6.10|d:2028-01-31
Propanediol|Propanediol|Harrow Chem|PD-1207|3200|7.80|d:2028-12-31''', fill={'E3': 'FFFF00'}, notes={'E3': 'reorder at 500 g'})
P('lots', 'lots_and_prices.xlsx', '''Niacinamide ¦ niacinamide ¦ 38 EUR 1000 ¦ NIA-88
Ectoin ¦ ectoin ¦ 410 EUR 1000 ¦ EC-3
Sodium lactate 60 % ¦ sodium-lactate-solution-60 ¦ 6.1 EUR 1000 ¦ SL/26/4
Propanediol ¦ propanediol ¦ 7.8 EUR 1000 ¦ PD-1207''')

tx('tarif.md', '''
# Tarif Larkmoor Supplies (HT)

| Matière première | Conditionnement | Prix |
|---|---|---|
| Beurre de cacao | 1 kg | 15,40 € |
| Acide stéarique | 5 kg | 22,00 € |
| Gomme guar | 500 g | 7,80 € |
| Huile de jojoba | 1 kg | 29,90 € |
''')
P('markdown', 'tarif.md', '''Beurre de cacao ¦ cocoa-butter ¦ 15.4 EUR 1000
Acide stéarique ¦ stearic-acid ¦ 22 EUR 5000
Gomme guar ¦ guar-gum ¦ 7.8 EUR 500
Huile de jojoba ¦ jojoba-oil ¦ 29.9 EUR 1000''')

# ---------- lists of materials
xl('percent_in_text.xlsx', '''Material|Composition|Supplier|Form
Harrow Foam 40|Sodium C14-16 Olefin Sulfonate (39 %), Aqua (60 %), Sodium Sulfate (1 %)|Harrow Chem|liquid
Harrow Pearl|Glycol Distearate 25-35 %, Cocamidopropyl Betaine 5-10 %, Aqua ad 100 %|Harrow Chem|paste
Sorbitol|Sorbitol (70 %), Aqua (30 %)|Harrow Chem|syrup''')
M('composition', 'percent_in_text.xlsx', '''Harrow Foam 40 ¦ sodium-c14-16-olefin-sulfonate-solution-39|?|new|own-harrow-foam-40
Harrow Pearl ¦ new|?|own-harrow-pearl
Sorbitol ¦ sorbitol-solution-70|?''')

xl('emulsifiers.xlsx', '''EMULSIFIERS IN THE DRAWER|||||
Name|INCI|HLB|Use %|Melts °C|Note
Olive emulsifier|Cetearyl Olivate, Sorbitan Olivate|9|3-5|70|waxy
GSC|Glyceryl Stearate Citrate|10-12|2-6|60|
Polysorbate 80|Polysorbate 80|15|1-5|liquid|
Sorbitan oleate|Sorbitan Oleate|4.3|1-5|liquid|
Emulsifying wax|Cetearyl Alcohol, Polysorbate 60|-|3-10|52|from the old shop''')
M('materials', 'emulsifiers.xlsx', '''Olive emulsifier ¦ cetearyl-olivate-and-sorbitan-olivate|?|new
GSC ¦ glyceryl-stearate-citrate|?
Polysorbate 80 ¦ polysorbate-80
Sorbitan oleate ¦ sorbitan-oleate
Emulsifying wax ¦ cetearyl-alcohol-and-polysorbate-60|?''')

cs('cas_list.csv', '''No,Substance,CAS,State,Hazard
1,Sodium hydroxide,1310-73-2,pellets,corrosive
2,Isopropyl alcohol,67-63-0,liquid,flammable
3,Salicylic acid,69-72-7,powder,
4,Triethyl citrate,77-93-0,liquid,
5,Limewater,1305-62-0,liquid,irritant'''.replace(',', '|'))
M('CAS', 'cas_list.csv', '''Sodium hydroxide ¦ sodium-hydroxide-pellets|?
Isopropyl alcohol ¦ isopropyl-alcohol
Salicylic acid ¦ salicylic-acid
Triethyl citrate ¦ triethyl-citrate
Limewater ¦ new''')

od('oli_lista.ods', '''Elenco oli e burri|||
Nome|INCI|Fornitore|Dose
Olio di vinaccioli|Vitis Vinifera Seed Oil|Larkmoor Supplies|fino al 100 %
Burro di mango|Mangifera Indica Seed Butter|Larkmoor Supplies|5-60 %
Olio di canapa|Cannabis Sativa Seed Oil|Harrow Chem|5-20 %
Burro di pistacchio|Pistacia Vera Seed Oil, Hydrogenated Vegetable Oil|Harrow Chem|5-50 %
Cera d'api bianca|Cera Alba|Harrow Chem|1-20 %''')
M('languages', 'oli_lista.ods', '''Olio di vinaccioli ¦ grape-seed-oil
Burro di mango ¦ mango-butter
Olio di canapa ¦ hemp-seed-oil
Burro di pistacchio ¦ new|?|own-burro-di-pistacchio
Cera d'api bianca ¦ beeswax-white''')

pdx('pigments.xlsx', '''Colour name|CI no.|INCI|Supplier code|Price band
Red oxide|77491|CI 77491|HC 7701|low
Ultramarine|77007|CI 77007|HC 7702|low
White|77891|CI 77891|HC 7703|low
Silver sparkle|-|Mica, CI 77891|HC 7810|mid
Blue 1|42090|CI 42090|HC 7900|mid''')
M('colours', 'pigments.xlsx', '''Red oxide ¦ iron-oxide-red|?
Ultramarine ¦ /ultramarine-blue
White ¦ ?|titanium-dioxide-pigment
Silver sparkle ¦ pearl-pigment-silver-mica-and-titanium-dioxide|?|new|own-silver-sparkle
Blue 1 ¦ brilliant-blue|?'''.replace('?|titanium-dioxide-pigment', 'titanium-dioxide-pigment|?'))

xl('actives.xlsx', '''Active|INCI|CAS|% from|% to|pH from|pH to|Bought from
Alpha arbutin|Alpha-Arbutin|84380-01-8|0.5|2|3.5|6.5|Larkmoor Supplies
Azelaic acid|Azelaic Acid|123-99-9|5|10|4|5|Larkmoor Supplies
Vitamin C glucoside|Ascorbyl Glucoside|129499-78-1|1|2|5|7|Larkmoor Supplies
Snow algae|Coenochloris Signiensis Extract, Maltodextrin, Lecithin, Aqua||0.5|2|4|7|Sorrel Scents''')
M('use range', 'actives.xlsx', '''Alpha arbutin ¦ alpha-arbutin
Azelaic acid ¦ azelaic-acid-powder|?azelaic-acid-powder
Vitamin C glucoside ¦ ascorbyl-glucoside|?
Snow algae ¦ new|?|own-snow-algae''')

cs('tensioactifs.csv', '''Nom commercial;Nom INCI;N° CAS;Matière active;Fournisseur
Douceline B;Coco-Betaine, Aqua, Sodium Chloride;68424-94-2;31 %;Larkmoor Supplies
Moussant SCS;Sodium Coco-Sulfate;97375-27-4;95 %;Larkmoor Supplies
Base lavante;Sodium Cocoyl Glycinate, Decyl Glucoside, Aqua;;28 %;Harrow Chem
SLES;Sodium Laureth Sulfate;68891-38-3;70 %;Harrow Chem'''.replace(';', '|'), sep=';', enc='cp1252')
M('strength in a column', 'tensioactifs.csv', '''Douceline B ¦ coco-betaine-solution-31|?|new|own-douceline-b
Moussant SCS ¦ sodium-coco-sulfate-granules|?|new|own-moussant-scs
Base lavante ¦ new|?|own-base-lavante
SLES ¦ sodium-laureth-sulfate-paste-70|?''')
end('sixth')
