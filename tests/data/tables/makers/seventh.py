#!/usr/bin/env python3
"""A seventh round, written down before the program had read any of it."""
from cells import *
begin('w3_')
ng = lambda x: f'{x:.10g}'

# ---------- recipes
xl('transposed.xlsx', '''Student project: foam height, mixtures in %|||||||
Mixture|Water|Sodium laureth sulfate 28 %|Decyl glucoside|Cocamidopropyl betaine 30 %|Sodium chloride|Sum|Foam mm
M1|60|28|0|10|2|100|172
M2|58|20|10|10|2|100|165
M3|56|12|20|10|2|100|151''')
mm = lambda *a: '\n'.join(f'{n} ¦ {i} ¦ {v}' for n, i, v in zip(['Water', 'Sodium laureth sulfate 28 %', 'Decyl glucoside', 'Cocamidopropyl betaine 30 %', 'Sodium chloride'], ['W', 'SLES28', 'DG', 'CAPB30', 'sodium-chloride'], a) if v)
R('transposed', 'transposed.xlsx', '\n'.join([mm(60, 28, 0, 10, 2), mm(58, 20, 10, 10, 2), mm(56, 12, 20, 10, 2)]), all=True)

xl('scaled_columns.xlsx', '''Body butter, whipped||||
Ingredient|100 g|250 g|1 kg|Tip
Shea butter|50|125|500|soft, not melted
Coconut oil|20|50|200|
Rice bran oil|18|45|180|
Tapioca starch|10|25|100|takes the greasiness
Vitamin E|1|2.5|10|
Mandarin oil|1|2.5|10|''')
R('scaled columns', 'scaled_columns.xlsx', '''Shea butter ¦ shea-butter ¦ 50
Coconut oil ¦ coconut-oil ¦ 20
Rice bran oil ¦ rice-bran-oil ¦ 18
Tapioca starch ¦ tapioca-starch ¦ 10
Vitamin E ¦ VE ¦ 1
Mandarin oil ¦ mandarin-essential-oil|? ¦ 1''')

xl('two_level_header.xlsx', '''Ph.|Raw material||Amount||Cost|
|Name|INCI|%|g / 3 kg|€/kg|€
A|Water, demineralised|Aqua|71.1|2133|0.08|0.17
A|Sorbitol solution 70 %|Sorbitol, Aqua|4|120|2.40|0.29
A|Diutan gum|Diutan Gum|0.3|9|62|0.56
B|Sweet almond oil|Prunus Amygdalus Dulcis Oil|12|360|9.80|3.53
B|Polyglyceryl-3 methylglucose distearate|Polyglyceryl-3 Methylglucose Distearate|4|120|24|2.88
B|Myristyl myristate|Myristyl Myristate|3|90|13|1.17
B|Cetyl alcohol|Cetyl Alcohol|2|60|7|0.42
C|Oat extract in glycerin|Glycerin, Aqua, Avena Sativa Kernel Extract|2.5|75|19|1.43
C|Phenoxyethanol and caprylyl glycol|Phenoxyethanol, Caprylyl Glycol|1|30|26|0.78
C|Allantoin|Allantoin|0.1|3|28|0.08
|||100|3000||11.31''', merge=['B1:C1', 'D1:E1', 'F1:G1', 'A1:A2'], bold=[1, 2])
R('two-level heading', 'two_level_header.xlsx', '''Water, demineralised ¦ W ¦ 71.1 ¦ A
Sorbitol solution 70 % ¦ sorbitol-solution-70 ¦ 4 ¦ A
Diutan gum ¦ diutan-gum ¦ 0.3 ¦ A
Sweet almond oil ¦ sweet-almond-oil ¦ 12 ¦ B
Polyglyceryl-3 methylglucose distearate ¦ polyglyceryl-3-methylglucose-distearate ¦ 4 ¦ B
Myristyl myristate ¦ myristyl-myristate ¦ 3 ¦ B
Cetyl alcohol ¦ cetyl-alcohol ¦ 2 ¦ B
Oat extract in glycerin ¦ oat-extract-in-glycerin ¦ 2.5 ¦ C
Phenoxyethanol and caprylyl glycol ¦ phenoxyethanol-and-caprylyl-glycol-blend ¦ 1 ¦ C
Allantoin ¦ allantoin-powder ¦ 0.1 ¦ C''', batch=3000)

xl('notes_between.xlsx', '''Mascarilla de arcilla|||
Ingrediente|%|Observaciones|
>> mezclar en frío|||
Agua de rosas|45|recién abierta|
Glicerina vegetal|8||
Goma xantana|0,6||
>> tamizar las arcillas|||
Caolín|30||
Arcilla verde|10||
>> al final|||
Aceite de argán|5||
Alcohol bencílico y ácido dehidroacético|0,9||
Aceite esencial de romero|0,5|quimiotipo cineol|'''.replace('|0,6|', "|'0,6|").replace('|0,9|', "|'0,9|").replace('|0,5|', "|'0,5|"))
R('notes between', 'notes_between.xlsx', '''Agua de rosas ¦ rose-water ¦ 45 ¦
Glicerina vegetal ¦ G ¦ 8 ¦
Goma xantana ¦ xanthan-gum ¦ 0.6 ¦
Caolín ¦ kaolin-white-clay ¦ 30 ¦
Arcilla verde ¦ french-green-clay|? ¦ 10 ¦
Aceite de argán ¦ argan-oil ¦ 5 ¦
Alcohol bencílico y ácido dehidroacético ¦ benzyl-alcohol-and-dehydroacetic-acid-blend|? ¦ 0.9 ¦
Aceite esencial de romero ¦ rosemary-essential-oil-cineole-type|? ¦ 0.5 ¦''')

xl('water_twice.xlsx', '''Carbomer gel with salicylic acid|||
Part|Component|%|note
I|Water|60|
I|Carbomer|0.6|sprinkle, wait 1 h
II|Isopropyl alcohol|20|
II|Salicylic acid|1.5|
II|Propylene glycol|5|
III|Water|11.5|dissolve TEA in it
III|Triethanolamine 99 %|0.9|
IV|Menthol crystals|0.2|
IV|Polysorbate 20|0.3|''')
R('a material twice', 'water_twice.xlsx', '''Water ¦ W ¦ 60 ¦ A
Carbomer ¦ carbomer-powder ¦ 0.6 ¦ A
Isopropyl alcohol ¦ isopropyl-alcohol ¦ 20 ¦ B
Salicylic acid ¦ salicylic-acid ¦ 1.5 ¦ B
Propylene glycol ¦ propylene-glycol ¦ 5 ¦ B
Water ¦ W ¦ 11.5 ¦ C
Triethanolamine 99 % ¦ triethanolamine-99 ¦ 0.9 ¦ C
Menthol crystals ¦ menthol-crystals ¦ 0.2 ¦ D
Polysorbate 20 ¦ polysorbate-20 ¦ 0.3 ¦ D''')

xl('ref_numbers.xlsx', '''Ref|Material|w/w %|Function
A1|Aqua|70.45|solvent
A2|Disodium EDTA dihydrate|0.1|chelator
A3|Glycerin 99.5 %|3|humectant
B1|Cetearyl alcohol|4.5|structurant
B2|Cetrimonium chloride 29 %|4|conditioner
B3|Dimethicone 350|2|gloss
B4|Coco-caprylate/caprate|3|emollient
C1|Hydrolyzed rice protein 20 %|2|film
C2|Coconut milk powder|10|marketing
C3|DMDM hydantoin 55 %|0.3|preservative
C4|Perfume (free of allergens)|0.5|scent
C5|Citric acid solution 20 %|0.15|pH 4.5''')
R('phase in the number', 'ref_numbers.xlsx', '''Aqua ¦ W ¦ 70.45 ¦ A
Disodium EDTA dihydrate ¦ disodium-edta-dihydrate ¦ 0.1 ¦ A
Glycerin 99.5 % ¦ G ¦ 3 ¦ A
Cetearyl alcohol ¦ cetearyl-alcohol ¦ 4.5 ¦ B
Cetrimonium chloride 29 % ¦ cetrimonium-chloride-29 ¦ 4 ¦ B
Dimethicone 350 ¦ dimethicone-350 ¦ 2 ¦ B
Coco-caprylate/caprate ¦ coco-caprylate-caprate ¦ 3 ¦ B
Hydrolyzed rice protein 20 % ¦ hydrolyzed-rice-protein-20 ¦ 2 ¦ C
Coconut milk powder ¦ coconut-milk-powder ¦ 10 ¦ C
DMDM hydantoin 55 % ¦ dmdm-hydantoin-55 ¦ 0.3 ¦ C
Perfume (free of allergens) ¦ perfume-free-of-labelled-allergens-placeholder|?|new ¦ 0.5 ¦ C
Citric acid solution 20 % ¦ citric-acid-solution-20 ¦ 0.15 ¦ C''')

tx('mail_quote.txt', '''
> Hello again,
> here is what I use for the foot soak, for 1 kg:
>
> Epsom salt        700 g
> Sea salt          200 g
> Sodium bicarbonate 80 g
> Peppermint oil     10 g
> Tea tree oil       10 g
>
> Store dry!
''')
R('mail', 'mail_quote.txt', '''Epsom salt ¦ magnesium-sulfate-heptahydrate ¦ 70
Sea salt ¦ sea-salt ¦ 20
Sodium bicarbonate ¦ sodium-bicarbonate ¦ 8
Peppermint oil ¦ peppermint-essential-oil|? ¦ 1
Tea tree oil ¦ /tea-tree-essential-oil ¦ 1''', batch=1000)

tx('web_post.txt', '''
🌿 Solid conditioner — my best one yet! 🌿

You need:
✔ 55 % BTMS-25
✔ 15 % cocoa butter
✔ 12 % cetyl alcohol
✔ 10 % jojoba oil
✔ 5 % glycerin
✔ 2 % panthenol 75 %
✔ 1 % bergamot essential oil, without furocoumarins

How to:
1) Melt everything but the last two.
2) Stir in the panthenol and the scent below 60 °C.
3) Pour and wait for a day.

Like and share 💚
''')
R('web post', 'web_post.txt', '''BTMS-25 ¦ behentrimonium-methosulfate-25-in-cetearyl-alcohol ¦ 55
cocoa butter ¦ cocoa-butter ¦ 15
cetyl alcohol ¦ cetyl-alcohol ¦ 12
jojoba oil ¦ jojoba-oil ¦ 10
glycerin ¦ G ¦ 5
panthenol 75 % ¦ d-panthenol-75 ¦ 2
bergamot essential oil, without furocoumarins ~ bergamot essential oil ¦ bergamot-essential-oil-without-furocoumarins|? ¦ 1''', steps=3)

ht('page_with_junk.html', '''<nav>''' + tab('''Home|Recipes|Shop|About''', head=False) + '''</nav>
<h1>Gesichtsgel Gurke</h1><p>Schwierigkeit: leicht. Dauer: 20 Minuten.</p>
<table border="1"><tr><th colspan="2">Rohstoff</th><th>Menge in %</th></tr>
<tr><td>1</td><td>Gurkenwasser</td><td>60,0</td></tr>
<tr><td>2</td><td>Wasser</td><td>31,6</td></tr>
<tr><td>3</td><td>Propandiol</td><td>5,0</td></tr>
<tr><td>4</td><td>Sclerotium Gum</td><td>1,4</td></tr>
<tr><td>5</td><td>Betain (Trimethylglycin)</td><td>1,0</td></tr>
<tr><td>6</td><td>Natriumbenzoat</td><td>0,5</td></tr>
<tr><td>7</td><td>Milchs&auml;ure 80&nbsp;%</td><td>0,5</td></tr>
<tr><td></td><td><b>Summe</b></td><td><b>100,0</b></td></tr></table>
<h3>Kommentare</h3>''' + tab('''Wer|Wann|Was
Gast|3. Mai|Klappt super
Gast|9. Mai|Geht auch Hyaluron?'''))
R('web page', 'page_with_junk.html', '''Gurkenwasser ¦ cucumber-water|? ¦ 60
Wasser ¦ W ¦ 31.6
Propandiol ¦ propanediol|? ¦ 5
Sclerotium Gum ¦ sclerotium-gum ¦ 1.4
Betain (Trimethylglycin) ¦ betaine-trimethylglycine-powder|? ¦ 1
Natriumbenzoat ¦ sodium-benzoate ¦ 0.5
Milchsäure 80 % ¦ lactic-acid-80 ¦ 0.5''')

tx('dash_lines.txt', '''
Sun-kissed body oil (leave on)

Sunflower oil (Helianthus Annuus Seed Oil) – 48.0 %
Coconut alkanes & coco-caprylate/caprate – 25.0 %
Sesame oil (Sesamum Indicum Seed Oil) – 20.0 %
Sea buckthorn fruit oil – 1.5 %
Isoamyl laurate – 5.0 %
Rosemary extract, antioxidant, in sunflower oil – 0.2 %
Monoi fragrance – 0.3 %
''')
R('dash lines', 'dash_lines.txt', '''Sunflower oil (Helianthus Annuus Seed Oil) ~ Sunflower oil ¦ sunflower-seed-oil ¦ 48
Coconut alkanes & coco-caprylate/caprate ¦ coconut-alkanes-and-coco-caprylate-caprate ¦ 25
Sesame oil (Sesamum Indicum Seed Oil) ~ Sesame oil ¦ sesame-oil ¦ 20
Sea buckthorn fruit oil ¦ sea-buckthorn-fruit-oil ¦ 1.5
Isoamyl laurate ¦ isoamyl-laurate ¦ 5
Rosemary extract, antioxidant, in sunflower oil ¦ rosemary-extract-antioxidant-in-sunflower-oil ¦ 0.2
Monoi fragrance ¦ FR ¦ 0.3''')

xl('base_and_product.xlsx', '''GEL BASE||
Ingredient|%|
Water|94.6|
Glycerin|3|
Hydroxyethylcellulose|1.5|
Sodium benzoate|0.5|
Citric acid monohydrate|0.4|
||
AFTER SUN GEL||
Ingredient|%|
Gel base (see above)|88|
Aloe vera powder 200:1|0.5|
Aloe vera juice|10|
Peppermint water|1.5|''', bold=[1, 9])
R('recipe within a recipe', 'base_and_product.xlsx', '''Water ¦ W ¦ 94.6
Glycerin ¦ G ¦ 3
Hydroxyethylcellulose ¦ hydroxyethylcellulose ¦ 1.5
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid monohydrate ¦ citric-acid-monohydrate ¦ 0.4
Gel base (see above) ¦ ?|new ¦ 88
Aloe vera powder 200:1 ¦ aloe-vera-powder-200-1 ¦ 0.5
Aloe vera juice ¦ aloe-vera-juice ¦ 10
Peppermint water ¦ peppermint-water ¦ 1.5''', all=True)

xl('lumped.xlsx', '''Ingredient|Amount %|Remark
Dist. water|66.2|
SCI noodles|10|65 or 85? ask the shop
Betaine surfactant|12|label says 30
Sodium benzoate + potassium sorbate|0.8|half each
Panthenol|1|
Glycerine veg.|5|
Silicone oil|2|
Oils (almond, olive)|3|"'''.replace('|"', ''), notes={'A4': 'the yellow one'})
R('a person would ask', 'lumped.xlsx', '''Dist. water ¦ water-demineralised|?water-demineralised ¦ 66.2
SCI noodles ¦ ? ¦ 10
Betaine surfactant ¦ ?|new ¦ 12
Sodium benzoate + potassium sorbate ¦ ?|new ¦ 0.8
Panthenol ¦ ? ¦ 1
Glycerine veg. ¦ glycerin-99-5|?glycerin-99-5 ¦ 5
Silicone oil ¦ ?|new ¦ 2
Oils (almond, olive) ¦ ?|new ¦ 3''')

xl('per_100_ml_mg.xlsx', '''Haarwasser Birke, für 1000 g||
Stoff|Menge|Einheit
Ethanol 96 %, vergällt|300|g
Wasser, dest.|652.9|g
Birkensaft|40|g
Coffein|2000|mg
D-Panthenol 75 %|5|g
Biotin|100|mg''')
R('unit column', 'per_100_ml_mg.xlsx', '''Ethanol 96 %, vergällt ¦ ethanol-96-denatured ¦ 30
Wasser, dest. ¦ W ¦ 65.29
Birkensaft ¦ birch-sap|? ¦ 4
Coffein ¦ caffeine-powder|? ¦ 0.2
D-Panthenol 75 % ¦ d-panthenol-75 ¦ 0.5
Biotin ¦ biotin ¦ 0.01''', batch=1000)

xl('versions_with_dashes.xlsx', '''Syndet bar|||
Raw material|v1 %|v2 %|v3 %
Sodium cocoyl isethionate powder 85 %|50|45|45
Sodium coco-sulfate granules|20|20|15
Stearic acid|10|12|12
Corn starch|10|10|10
Cocoa butter|–|5|5
Water|9|7|7
Sodium lactate 60 %|–|–|5
Perfume oil|1|1|1
Total|100|100|100''')
R('versions', 'versions_with_dashes.xlsx', '\n'.join('\n'.join(f'{n} ¦ {i} ¦ {a[k]}' for n, i, a in [('Sodium cocoyl isethionate powder 85 %', 'sodium-cocoyl-isethionate-powder-85', (50, 45, 45)), ('Sodium coco-sulfate granules', 'sodium-coco-sulfate-granules', (20, 20, 15)), ('Stearic acid', 'stearic-acid', (10, 12, 12)), ('Corn starch', 'corn-starch', (10, 10, 10)), ('Cocoa butter', 'cocoa-butter', (0, 5, 5)), ('Water', 'W', (9, 7, 7)), ('Sodium lactate 60 %', 'sodium-lactate-solution-60', (0, 0, 5)), ('Perfume oil', '?|new|perfume-with-typical-allergens-placeholder', (1, 1, 1))] if a[k]) for k in range(3)), all=True)

od('laborprotokoll.ods', '''Praktikum Kosmetik, Versuch 7: O/W-Emulsion||||
Datum|n:2026-06-11|||
||||
Phase|Stoff|Einwaage Soll [g]|Einwaage Ist [g]|Abweichung %
Wasser|Wasser dem.|135|135.12|0.09
Wasser|Glycerin 86 %|10|10.05|0.5
Wasser|Magnesiumsulfat-Heptahydrat|1|1.00|0
Öl|Dickflüssiges Paraffin|30|29.87|-0.43
Öl|Cetylalkohol|8|8.02|0.25
Öl|Ceteareth-20|6|6.00|0
Öl|Glycerylstearat|8|7.96|-0.5
Kalt|Phenoxyethanol|2|2.01|0.5
|Summe|200|200.03|
||||
Beobachtung: weiß, glänzend, pH 6,1||||''')
R('target and actual', 'laborprotokoll.ods', '''Wasser dem. ¦ W ¦ 67.5 ¦ A
Glycerin 86 % ¦ glycerin-86 ¦ 5 ¦ A
Magnesiumsulfat-Heptahydrat ¦ magnesium-sulfate-heptahydrate ¦ 0.5 ¦ A
Dickflüssiges Paraffin ¦ mineral-oil|?|new ¦ 15 ¦ B
Cetylalkohol ¦ cetyl-alcohol ¦ 4 ¦ B
Ceteareth-20 ¦ ceteareth-20 ¦ 3 ¦ B
Glycerylstearat ¦ glyceryl-stearate ¦ 4 ¦ B
Phenoxyethanol ¦ phenoxyethanol ¦ 1 ¦ C''', batch=200)

cs('magistral.csv', '''Rp.;g
Vaselinum album;250,0
Adeps lanae;150,0
Paraffinum liquidum;150,0
Cera alba;50,0
Ureum;50,0
Acidum lacticum 90 %;10,0
Glycerolum 85 %;40,0
Aqua purificata;ad 1000,0'''.replace(';', '|'), sep=';', enc='cp1252')
R('old pharmacy', 'magistral.csv', '''Vaselinum album ¦ petrolatum|? ¦ 25
Adeps lanae ¦ lanolin-anhydrous|? ¦ 15
Paraffinum liquidum ¦ mineral-oil ¦ 15
Cera alba ¦ beeswax-white ¦ 5
Ureum ¦ urea|? ¦ 5
Acidum lacticum 90 % ¦ lactic-acid-90|? ¦ 1
Glycerolum 85 % ¦ glycerin-86|? ¦ 4
Aqua purificata ¦ water-demineralised|?water-demineralised ¦ 30''', batch=1000)

tx('phases_and_steps.md', '''
# Rich foot cream

**Phase A**
- 61.5 % water
- 5 % glycerin 99.5 %
- 10 % urea

**Phase B**
- 6 % cetearyl olivate and sorbitan olivate
- 8 % sunflower oil
- 5 % shea butter
- 3 % cetyl alcohol

**Phase C**
- 1 % phenoxyethanol and ethylhexylglycerin 90:10
- 0.5 % peppermint essential oil

**Procedure**
1. Heat A and B to 75 °C.
2. Pour B into A, homogenise 3 minutes.
3. Cool to 40 °C, add C.
''')
R('markdown phases', 'phases_and_steps.md', '''water ¦ W ¦ 61.5 ¦ A
glycerin 99.5 % ¦ G ¦ 5 ¦ A
urea ¦ urea ¦ 10 ¦ A
cetearyl olivate and sorbitan olivate ¦ cetearyl-olivate-and-sorbitan-olivate ¦ 6 ¦ B
sunflower oil ¦ sunflower-seed-oil ¦ 8 ¦ B
shea butter ¦ shea-butter ¦ 5 ¦ B
cetyl alcohol ¦ cetyl-alcohol ¦ 3 ¦ B
phenoxyethanol and ethylhexylglycerin 90:10 ¦ PE ¦ 1 ¦ C
peppermint essential oil ¦ peppermint-essential-oil ¦ 0.5 ¦ C''', steps=3)

xl('soap_ounces.xlsx', '''Goat milk soap, 3 lb loaf|||
Oils|oz|% of oils|
Olive oil|14|43.75|
Coconut oil|8|25|
Palm oil|8|25|
Castor oil|2|6.25|
|||
Lye|4.5||
Distilled water|9||
Goat milk powder|1||at trace
Lavender essential oil|1.5||at trace
|||
Total|48||''')
R('soap', 'soap_ounces.xlsx', '''Olive oil ¦ olive-oil ¦ 1400/48
Coconut oil ¦ coconut-oil ¦ 800/48
Palm oil ¦ palm-oil ¦ 800/48
Castor oil ¦ castor-oil ¦ 200/48
Lye ¦ NAOH ¦ 450/48
Distilled water ¦ W ¦ 900/48
Goat milk powder ¦ milk-powder ¦ 100/48
Lavender essential oil ¦ LAV ¦ 150/48''', batch=1360.777)

xl('spoon_with_grams.xlsx', '''Kids' bath paint|
What|How much
Corn starch|6 tbsp (48 g)
Liquid coconut soap|1/2 cup (110 g)
Water|40 ml = 40 g
Glycerin|1 tsp (6 g)
Sodium benzoate|a pinch (1 g)''')
R('spoons with grams', 'spoon_with_grams.xlsx', '''Corn starch ¦ /corn-starch ¦ 4800/205
Liquid coconut soap ¦ /potassium-cocoate-soap-solution-40 ¦ 11000/205
Water ¦ /water-demineralised ¦ 4000/205
Glycerin ¦ /glycerin-99-5 ¦ 600/205
Sodium benzoate ¦ /sodium-benzoate ¦ 100/205''')

tx('percent_first.txt', '''
BEARD OIL
40% apricot kernel oil
30% argan oil - the cheap one is fine
20% grape seed oil
9.3% jojoba oil
0.4% cedarwood Virginia essential oil
0.3% sweet orange essential oil
''')
R('text', 'percent_first.txt', '''apricot kernel oil ¦ apricot-kernel-oil ¦ 40
argan oil ~ argan oil - the cheap one is fine ¦ argan-oil ¦ 30
grape seed oil ¦ grape-seed-oil ¦ 20
jojoba oil ¦ jojoba-oil ¦ 9.3
cedarwood Virginia essential oil ¦ cedarwood-virginia-essential-oil ¦ 0.4
sweet orange essential oil ¦ sweet-orange-essential-oil ¦ 0.3''')

xl('starts_at_c5.xlsx', '''|||||
|||||
||||Latte detergente|
|||||
||Ingrediente||Quantità|Unità
||Acqua distillata||284|g
||Glicerina vegetale||16|g
||Olio di mandorle dolci||60|g
||Glyceryl stearate citrate||16|g
||Alcool cetilico||8|g
||Burro di karité||8|g
||Gomma xantana||1.2|g
||Fenossietanolo||3.6|g
||Acido lattico 80 %||1.2|g
||Olio essenziale di lavanda||2|g
|||||
||Totale||400|g''')
R('starts somewhere', 'starts_at_c5.xlsx', '''Acqua distillata ¦ W ¦ 71
Glicerina vegetale ¦ G ¦ 4
Olio di mandorle dolci ¦ sweet-almond-oil ¦ 15
Glyceryl stearate citrate ¦ glyceryl-stearate-citrate ¦ 4
Alcool cetilico ¦ cetyl-alcohol ¦ 2
Burro di karité ¦ shea-butter ¦ 2
Gomma xantana ¦ xanthan-gum ¦ 0.3
Fenossietanolo ¦ phenoxyethanol ¦ 0.9
Acido lattico 80 % ¦ lactic-acid-80 ¦ 0.3
Olio essenziale di lavanda ¦ LAV ¦ 0.5''', batch=400)

xl('date_headings.xlsx', '''Roll-on, trials||||
Ingredient|INCI|d:2026-02-03|d:2026-02-17|result
Water|Aqua|75.5|73|
Potassium alum|Potassium Alum|5|5|
Glycerin|Glycerin|5|5|sticky
Ethanol 96 %, denatured|Alcohol Denat.|10|12|
Hydroxyethylcellulose|Hydroxyethylcellulose|0.7|0.8|
Polysorbate 20|Polysorbate 20|3|3|
Sage oil|Salvia Officinalis Oil|0.8|1.2|''')
dd = lambda k: '\n'.join(f'{n} ¦ {i} ¦ {a[k]}' for n, i, a in [('Water', 'W', (75.5, 73)), ('Potassium alum', 'potassium-alum', (5, 5)), ('Glycerin', 'G', (5, 5)), ('Ethanol 96 %, denatured', 'ethanol-96-denatured', (10, 12)), ('Hydroxyethylcellulose', 'hydroxyethylcellulose', (.7, .8)), ('Polysorbate 20', 'polysorbate-20', (3, 3)), ('Sage oil', 'sage-essential-oil|?', (.8, 1.2))])
R('versions by date', 'date_headings.xlsx', dd(0) + '\n' + dd(1), all=True)

xl('inci_in_brackets.xlsx', '''Huile démaquillante – version du dimanche||
Ingrédient [INCI]|Pourcentage|Origine
Huile de tournesol [Helianthus Annuus Seed Oil]|'55,0|bio
Huile de pépins de raisin [Vitis Vinifera Seed Oil]|'24,5|
Oléate de polyglycéryle-4 [Polyglyceryl-4 Oleate]|'20,0|
Tocophérol 70 % [Tocopherol]|'0,2|
Huile essentielle de pamplemousse [Citrus Paradisi Peel Oil]|'0,3|''')
R('INCI in brackets', 'inci_in_brackets.xlsx', '''Huile de tournesol [Helianthus Annuus Seed Oil] ~ Huile de tournesol ¦ sunflower-seed-oil ¦ 55
Huile de pépins de raisin [Vitis Vinifera Seed Oil] ~ Huile de pépins de raisin ¦ grape-seed-oil ¦ 24.5
Oléate de polyglycéryle-4 [Polyglyceryl-4 Oleate] ~ Oléate de polyglycéryle-4 ¦ polyglyceryl-4-oleate ¦ 20
Tocophérol 70 % [Tocopherol] ~ Tocophérol 70 % ¦ tocopherol-mixed-70-in-sunflower-oil|? ¦ 0.2
Huile essentielle de pamplemousse [Citrus Paradisi Peel Oil] ~ Huile essentielle de pamplemousse ¦ grapefruit-essential-oil ¦ 0.3''')

d = 'Wash gel, surfactant blend worked out by active matter||||||\nPh|Ingredient|Active of raw %|Raw in formula %|Active in formula %|Share of actives|\n'
act = [('1', 'Water', '', 52.3), ('1', 'Glycerin 99.5 %', '', 3), ('2', 'Ammonium lauryl sulfate 28 %', 28, 20), ('2', 'Sodium lauroyl sarcosinate solution 30 %', 30, 15), ('2', 'Babassuamidopropyl betaine 30 %', 30, 8), ('3', 'Potassium sorbate', '', 0.4), ('3', 'Citric acid, anhydrous', '', 0.5), ('3', 'Clary sage oil', '', 0.8)]
T = sum(x[2] / 100 * x[3] for x in act if x[2])
for i, (p, n, a, v) in enumerate(act):
    r = i + 3; d += f'{p}|{n}|{a}|{ng(v)}|' + (f'f:=C{r}*D{r}/100;{ng(round(a*v/100, 4))}|f:=E{r}/E11;{ng(round(a*v/100/T, 4))}|' if a else '||') + '\n'
d += f'||Total|f:=SUM(D3:D10);100|f:=SUM(E3:E10);{ng(round(T, 4))}|1|'
xw('active_matter.xlsx', d)
R('several percent columns', 'active_matter.xlsx', '''Water ¦ W ¦ 52.3 ¦ A
Glycerin 99.5 % ¦ G ¦ 3 ¦ A
Ammonium lauryl sulfate 28 % ¦ ammonium-lauryl-sulfate-solution-28 ¦ 20 ¦ B
Sodium lauroyl sarcosinate solution 30 % ¦ sodium-lauroyl-sarcosinate-solution-30 ¦ 15 ¦ B
Babassuamidopropyl betaine 30 % ¦ babassuamidopropyl-betaine-solution-30 ¦ 8 ¦ B
Potassium sorbate ¦ potassium-sorbate ¦ 0.4 ¦ C
Citric acid, anhydrous ¦ citric-acid-anhydrous ¦ 0.5 ¦ C
Clary sage oil ¦ /clary-sage-essential-oil ¦ 0.8 ¦ C''')

od('hidden_odf.ods', '''Nagelriemolie|||
Ingrediënt|Gram|Opmerking|
Jojobaolie|40|
Ricinusolie|15|
Tarwekiemolie|10|te sterk, vervallen
Abrikozenpitolie|44|
Citroenolie|1|
Mandelolie (oud)|20|verborgen, vorig jaar''', hide=[8], strike=[5])
R('hidden and struck out', 'hidden_odf.ods', '''Jojobaolie ¦ jojoba-oil ¦ 40
Ricinusolie ¦ castor-oil ¦ 15
Abrikozenpitolie ¦ apricot-kernel-oil ¦ 44
Citroenolie ¦ lemon-essential-oil-expressed|? ¦ 1''')

xl('with_procedure_sheet.xlsx', {'Formula': '''PRODUCT|Baby wash||
BATCH|2500 g||
||||
PHASE|INGREDIENT|%|GRAMS
A|Water|63.2|1580
A|PEG-80 sorbitan laurate 72 %|10|250
A|Disodium cocoamphodiacetate|12|300
A|Sodium trideceth sulfate 30 %|10|250
B|PEG-150 distearate|1.5|37.5
B|Glycerin|2|50
C|Sodium benzoate|0.5|12.5
C|Citric acid|0.6|15
C|Perfume, allergen free|0.2|5''', 'Procedure': '''Step|What to do|°C
1|Mix A slowly|20
2|Melt PEG-150 distearate in glycerin, add|70
3|Cool, add C|35'''})
R('procedure sheet', 'with_procedure_sheet.xlsx', '''Water ¦ W ¦ 63.2 ¦ A
PEG-80 sorbitan laurate 72 % ¦ peg-80-sorbitan-laurate-solution-72 ¦ 10 ¦ A
Disodium cocoamphodiacetate ¦ disodium-cocoamphodiacetate-solution-39-solids|? ¦ 12 ¦ A
Sodium trideceth sulfate 30 % ¦ sodium-trideceth-sulfate-solution-30 ¦ 10 ¦ A
PEG-150 distearate ¦ /peg-150-distearate-flakes ¦ 1.5 ¦ B
Glycerin ¦ G ¦ 2 ¦ B
Sodium benzoate ¦ sodium-benzoate ¦ 0.5 ¦ C
Citric acid ¦ CA ¦ 0.6 ¦ C
Perfume, allergen free ¦ perfume-free-of-labelled-allergens-placeholder|?|new ¦ 0.2 ¦ C''', batch=2500)

pdx('pandas_index.xlsx', '''|Składnik|Procent|Uwagi
0|Masło kakaowe|35|
1|Masło shea|25|
2|Olej kokosowy|20|
3|Wosk pszczeli|12|
4|Lanolina|7.5|bezwodna
5|Olejek pomarańczowy|0.5|''', sheet='balsam')
R('languages', 'pandas_index.xlsx', '''Masło kakaowe ¦ cocoa-butter ¦ 35
Masło shea ¦ shea-butter ¦ 25
Olej kokosowy ¦ coconut-oil ¦ 20
Wosk pszczeli ¦ beeswax-white ¦ 12
Lanolina ¦ /lanolin-anhydrous ¦ 7.5
Olejek pomarańczowy ¦ sweet-orange-essential-oil|? ¦ 0.5''')

cs('champu_ratios.csv', '''Componente\tPartes\tNota
Agua destilada\t60\t
Lauril éter sulfato sódico 70 %\t15\tpasta
Cocamidopropil betaína 30 %\t15\t
Glicerina\t6\t
Sal\t3\tpara espesar
Benzoato sódico\t1\t
Colorante\tc.s.\t
Ácido cítrico\tc.s.p. pH 5,5\t'''.replace('\t', '|'), sep='\t', enc='utf-16')
R('parts with q.s.', 'champu_ratios.csv', '''Agua destilada ¦ W ¦ 60
Lauril éter sulfato sódico 70 % ¦ SLES70 ¦ 15
Cocamidopropil betaína 30 % ¦ CAPB30 ¦ 15
Glicerina ¦ G ¦ 6
Sal ¦ sodium-chloride ¦ 3
Benzoato sódico ¦ sodium-benzoate ¦ 1
Colorante ¦ ?|new ¦ -
Ácido cítrico ¦ ? ¦ -''')

xl('retinol_night.xlsx', '''Night cream, W/O||||
Fase / phase|Grondstof / raw material|INCI|% |Opm.
Vet|Polyglyceryl-2 dipolyhydroxystearate|Polyglyceryl-2 Dipolyhydroxystearate|3,00|
Vet|Polyglyceryl-3 diisostearaat|Polyglyceryl-3 Diisostearate|2,00|
Vet|Squalaan|Squalane|10,00|
Vet|Lichte ester|Dicaprylyl Carbonate|8,00|
Vet|Bijenwas, wit|Cera Alba|1,50|
Water|Demiwater|Aqua|tot 100|
Water|Glycerine|Glycerin|5,00|
Water|Bitterzout|Magnesium Sulfate|0,70|
Nawerk|Retinol|Retinol, Caprylic/Capric Triglyceride|1,00|donker!
Nawerk|Vitamine E|Tocopherol|0,50|
Nawerk|Conservering|Phenoxyethanol, Ethylhexylglycerin|1,00|'''.replace('|3,00', "|'3,00").replace('|2,00', "|'2,00"))
R('two languages', 'retinol_night.xlsx', '''Polyglyceryl-2 dipolyhydroxystearate ¦ polyglyceryl-2-dipolyhydroxystearate ¦ 3 ¦ A
Polyglyceryl-3 diisostearaat ¦ polyglyceryl-3-diisostearate ¦ 2 ¦ A
Squalaan ¦ squalane-from-olive-or-sugar-cane ¦ 10 ¦ A
Lichte ester ¦ /dicaprylyl-carbonate ¦ 8 ¦ A
Bijenwas, wit ¦ beeswax-white ¦ 1.5 ¦ A
Demiwater ¦ W ¦ 67.3 ¦ B
Glycerine ¦ G ¦ 5 ¦ B
Bitterzout ¦ magnesium-sulfate-heptahydrate|? ¦ 0.7 ¦ B
Retinol ¦ retinol-10-in-caprylic-capric-triglyceride|? ¦ 1 ¦ C
Vitamine E ¦ VE ¦ 0.5 ¦ C
Conservering ¦ phenoxyethanol-and-ethylhexylglycerin-90-10|? ¦ 1 ¦ C''')

xl('unknown_trade.xlsx', '''Material|INCI|Dosage % m/m|Source
Water|Aqua|80.7|tap, boiled
Larkmoor GelMaker 3|Acrylates/Vinyl Isodecanoate Crosspolymer|0.8|Larkmoor Supplies
Sorrel Calm Complex|Glycerin, Aqua, Avena Strigosa Seed Extract, Lecithin|3|Sorrel Scents
Hydrolyzed hyaluronic acid powder|Hydrolyzed Hyaluronic Acid|0.2|Larkmoor Supplies
Cica powder|Centella Asiatica Leaf Powder|0.3|Sorrel Scents
Triheptanoin|Triheptanoin|13|Larkmoor Supplies
Pentylene glycol|Pentylene Glycol|2|Larkmoor Supplies''')
R('unknown materials', 'unknown_trade.xlsx', '''Water ¦ W ¦ 80.7
Larkmoor GelMaker 3 ¦ new|?|own-larkmoor-gelmaker-3 ¦ 0.8
Sorrel Calm Complex ¦ new|?|own-sorrel-calm-complex ¦ 3
Hydrolyzed hyaluronic acid powder ¦ hydrolyzed-hyaluronic-acid-powder ¦ 0.2
Cica powder ¦ new|?|own-cica-powder ¦ 0.3
Triheptanoin ¦ triheptanoin ¦ 13
Pentylene glycol ¦ pentylene-glycol ¦ 2''')

# ---------- price and stock lists
xl('price_history.xlsx', '''Prices paid, £ per kg||||
Material|2024|2025|2026|note
Olive oil|7.10|8.40|8.95|
Coconut oil|3.20|3.90|4.60|
Stearic acid|3.80|3.80|4.05|
Sodium hydroxide pellets|2.90|3.10|3.10|''')
P('price history', 'price_history.xlsx', '''Olive oil ¦ olive-oil ¦ 8.95 GBP 1000
Coconut oil ¦ coconut-oil ¦ 4.6 GBP 1000
Stearic acid ¦ stearic-acid ¦ 4.05 GBP 1000
Sodium hydroxide pellets ¦ sodium-hydroxide-pellets ¦ 3.1 GBP 1000''', note='the columns are years; the newest is the price of today')

cs('staffelpreise.csv', '''Artikel;Rohstoff;je 500 g;je 1 kg;je 5 kg
A-11;Kokosglucosid;;6,90 €;31,00 €
A-12;Betain (Cocamidopropylbetain 30 %);;4,20 €;18,50 €
A-13;Xanthan;12,80 €;23,50 €;
A-14;Sheabutter;6,20 €;11,00 €;49,00 €'''.replace(';', '|'), sep=';', enc='cp1252')
P('tiers', 'staffelpreise.csv', '''Kokosglucosid ¦ CG ¦ 6.9 EUR 1000; 31 EUR 5000
Betain (Cocamidopropylbetain 30 %) ¦ cocamidopropyl-betaine-solution-30|? ¦ 4.2 EUR 1000; 18.5 EUR 5000
Xanthan ¦ xanthan-gum ¦ 12.8 EUR 500; 23.5 EUR 1000
Sheabutter ¦ shea-butter ¦ 6.2 EUR 500; 11 EUR 1000; 49 EUR 5000''')

xl('drums.xlsx', '''Harrow Chem - wholesale offer, valid to 31.12.2026|||||
Code|Product|Packaging|Net weight kg|EUR/drum|Min. order
90-1|Sodium laureth sulfate paste 70 %|drum|220|'1.150,00|1
90-2|Glycerin 99.5 %|IBC|1250|'2.312,50|1
90-3|Caprylic/capric triglyceride|can|30|'174,00|2
90-4|Cetyl alcohol|bag|25|'121,25|4''')
P('thousands marks', 'drums.xlsx', '''Sodium laureth sulfate paste 70 % ¦ SLES70 ¦ 1150 EUR 220000
Glycerin 99.5 % ¦ G ¦ 2312.5 EUR 1250000
Caprylic/capric triglyceride ¦ caprylic-capric-triglyceride ¦ 174 EUR 30000
Cetyl alcohol ¦ cetyl-alcohol ¦ 121.25 EUR 25000''')

od('bestand_charge.ods', '''Rohstofflager||||||
Rohstoff|INCI|Charge|MHD|Bestand g|EK €/kg|Lagerort
Bisabolol|Bisabolol|BI-0925|n:2028-09-30|85|142.00|Kühlschrank
Kakaobutter|Theobroma Cacao Seed Butter|KB-77|n:2027-12-31|2300|13.20|Regal 2
Xanthan|Xanthan Gum|X-2604|n:2029-04-30|640|22.00|Regal 1
Milchsäure 80 %|Lactic Acid|MS-12|n:2027-10-31|410|9.60|Säuren''')
P('lots', 'bestand_charge.ods', '''Bisabolol ¦ bisabolol ¦ 142 EUR 1000 ¦ BI-0925
Kakaobutter ¦ cocoa-butter ¦ 13.2 EUR 1000 ¦ KB-77
Xanthan ¦ xanthan-gum ¦ 22 EUR 1000 ¦ X-2604
Milchsäure 80 % ¦ lactic-acid-80 ¦ 9.6 EUR 1000 ¦ MS-12''')

xl('discount.xlsx', '''Offer for the studio|||||
Material|Size|List price €|Discount|Your price €|Available
Squalane|1 kg|38.00|10 %|34.20|now
Argan oil|500 g|24.00|5 %|22.80|now
Bakuchiol|100 g|96.00|-|96.00|2 weeks
Hyaluronic acid powder (sodium hyaluronate)|50 g|41.00|10 %|36.90|now''')
P('discount', 'discount.xlsx', '''Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 34.2 EUR 1000
Argan oil ¦ argan-oil ¦ 22.8 EUR 500
Bakuchiol ¦ bakuchiol ¦ 96 EUR 100
Hyaluronic acid powder (sodium hyaluronate) ¦ sodium-hyaluronate-powder|? ¦ 36.9 EUR 50''')

xl('currencies.xlsx', '''Raw material|Vendor|Pack size (g)|Price|Currency|Date of price
Lauryl glucoside paste 51 %|Larkmoor Supplies|1000|7.40|EUR|d:2026-08-01
Sodium lauroyl glutamate powder|Tarn & Beck|500|31.00|USD|d:2026-05-20
Betaine (trimethylglycine) powder|Larkmoor Supplies|250|6.10|EUR|d:2026-08-01
Zinc oxide pigment|Tarn & Beck|500|12.60|GBP|d:2026-01-15''')
P('currency column', 'currencies.xlsx', '''Lauryl glucoside paste 51 % ¦ lauryl-glucoside-paste-51 ¦ 7.4 EUR 1000
Sodium lauroyl glutamate powder ¦ sodium-lauroyl-glutamate-powder ¦ 31 USD 500
Betaine (trimethylglycine) powder ¦ betaine-trimethylglycine-powder ¦ 6.1 EUR 250
Zinc oxide pigment ¦ zinc-oxide-pigment ¦ 12.6 GBP 500''')

ht('facture.html', '<h2>Facture n° 318</h2><p>Larkmoor Supplies</p>' + tab('''Désignation|Conditionnement|Qté|P.U. €|Montant €
Alcool cétylique|1 kg|1|8,90|8,90
Acide citrique monohydraté|1 kg|2|4,10|8,20
Huile de ricin|500 g|3|3,80|11,40
Port||1|6,50|6,50
Total TTC||||35,00'''))
P('invoice', 'facture.html', '''Alcool cétylique ¦ cetyl-alcohol ¦ 8.9 EUR 1000
Acide citrique monohydraté ¦ citric-acid-monohydrate ¦ 4.1 EUR 1000
Huile de ricin ¦ castor-oil ¦ 3.8 EUR 500''')

od('price_per_500g.ods', '''Ceny hurtowe|||
Surowiec|Cena za 500 g (PLN)|Cena za 100 g (PLN)|Uwagi
Kwas cytrynowy bezwodny|9.5|2.4|
Guma ksantanowa|38|9.2|
Alantoina|44|10.5|
Niacynamid|52|12|''')
P('price per 500 g', 'price_per_500g.ods', '''Kwas cytrynowy bezwodny ¦ citric-acid-anhydrous ¦ 9.5 PLN 500; 2.4 PLN 100
Guma ksantanowa ¦ xanthan-gum ¦ 38 PLN 500; 9.2 PLN 100
Alantoina ¦ allantoin-powder ¦ 44 PLN 500; 10.5 PLN 100
Niacynamid ¦ niacinamide ¦ 52 PLN 500; 12 PLN 100''')

# ---------- lists of materials
xl('composition_lines.xlsx', '''Material|Contains (INCI)|CAS|% min|% max
Tarn Silk Base|Aqua|7732-18-5|60|70
|Sodium Cocoyl Glutamate|68187-32-6|15|20
|Cocamidopropyl Betaine|61789-40-0|10|12
|Sodium Benzoate|532-32-1|0.4|0.6
Beck Soft Wax|Cetearyl Alcohol|67762-27-0|70|80
|Sodium Cetearyl Sulfate|59186-41-3|20|30''', merge=['A2:A5', 'A6:A7'])
M('composition', 'composition_lines.xlsx', '''Tarn Silk Base ¦ new|?|own-tarn-silk-base
Beck Soft Wax ¦ cetearyl-alcohol-and-sodium-cetearyl-sulfate|?|new|own-beck-soft-wax''')

xl('hydrosols.xlsx', '''Waters and extracts in the fridge|||
Name|INCI|Supplier|Opened?
Cornflower water|Centaurea Cyanus Flower Water|Sorrel Scents|yes
Orange blossom water|Citrus Aurantium Amara Flower Water|Sorrel Scents|no
Elder flower water|Sambucus Nigra Flower Water|Sorrel Scents|no
Green tea extract|Glycerin, Aqua, Camellia Sinensis Leaf Extract|Larkmoor Supplies|yes
Ginkgo extract|Propylene Glycol, Aqua, Ginkgo Biloba Leaf Extract|Larkmoor Supplies|no''')
M('materials', 'hydrosols.xlsx', '''Cornflower water ¦ cornflower-water
Orange blossom water ¦ orange-blossom-water
Elder flower water ¦ new|?|own-elder-flower-water
Green tea extract ¦ green-tea-extract-in-glycerin|?
Ginkgo extract ¦ new|?|own-ginkgo-extract''')

cs('essential_oils.csv', '''Oil;Botanical / INCI;CAS;Note;Max leave-on
Lavender;Lavandula Angustifolia Oil;8000-28-0;middle;2 %
Lavandin;Lavandula Hybrida Oil;8022-15-9;middle;2 %
Sweet orange;Citrus Aurantium Dulcis Peel Oil;8008-57-9;top;1 %
Vetiver;Vetiveria Zizanoides Root Oil;8016-96-4;base;1 %
Yuzu;Citrus Junos Peel Oil;233683-84-6;top;0,5 %'''.replace(';', '|'), sep=';')
M('oils', 'essential_oils.csv', '''Lavender ¦ lavender-essential-oil
Lavandin ¦ lavandin-essential-oil
Sweet orange ¦ sweet-orange-essential-oil
Vetiver ¦ vetiver-essential-oil
Yuzu ¦ new''')

od('grondstoffen.ods', '''Code|Grondstof|INCI-naam|CAS|Leverancier|Toepassing
G01|Zonnebloemlecithine|Lecithin|8002-43-5|Larkmoor Supplies|emulgator
G02|Ureum|Urea|57-13-6|Larkmoor Supplies|vochtbinder
G03|Zinkoxide|Zinc Oxide|1314-13-2|Harrow Chem|?
G04|Natronloog 30 %|Sodium Hydroxide, Aqua|1310-73-2|Harrow Chem|pH
G05|Haverolie|Avena Sativa Kernel Oil|84012-26-0|Harrow Chem|olie''')
M('languages', 'grondstoffen.ods', '''Zonnebloemlecithine ¦ lecithin-soy-or-sunflower-liquid|?
Ureum ¦ urea
Zinkoxide ¦ ?
Natronloog 30 % ¦ sodium-hydroxide-solution-30
Haverolie ¦ oat-oil''')

xl('silicones.xlsx', '''Silicones, leftover from the old lab|||||
Label on the can|INCI|Viscosity cSt|Amount left|Use %|
Silicone fluid 350|Dimethicone|350|400 g|1-5|
Silicone fluid 5|Dimethicone|5|150 g|1-10|
Silicone fluid|Dimethicone||90 g||
Cyclo 5|Cyclopentasiloxane|4|1 kg|1-30|''')
M('family INCI', 'silicones.xlsx', '''Silicone fluid 350 ¦ dimethicone-350|?
Silicone fluid 5 ¦ dimethicone-5|?
Silicone fluid ¦ ?
Cyclo 5 ¦ cyclopentasiloxane|?''')

pdx('natural_list.xlsx', '''Product|INCI|Natural origin %|Active %|pH 10 %|Supplier|Use
Mild foam A|Caprylyl/Capryl Glucoside, Aqua|100|60|6.5|Tarn & Beck|5-20
Glutamate K|Disodium Cocoyl Glutamate, Sodium Cocoyl Glutamate, Aqua|98|27|9|Tarn & Beck|5-30
Sulfo S|Sodium Methyl 2-Sulfolaurate, Disodium 2-Sulfolaurate, Aqua, Sodium Sulfate|95|38|6|Harrow Chem|5-30
Sugar wax|Sucrose Polystearate, Cetyl Palmitate|100|100|-|Harrow Chem|2-6''')
M('properties', 'natural_list.xlsx', '''Mild foam A ¦ caprylyl-capryl-glucoside-solution-60|?|new|own-mild-foam-a
Glutamate K ¦ disodium-cocoyl-glutamate-solution-27|?|new|own-glutamate-k
Sulfo S ¦ sodium-methyl-2-sulfolaurate-and-disodium-2-sulfolaurate-solution|?|new|own-sulfo-s
Sugar wax ¦ sucrose-polystearate-and-cetyl-palmitate|?|new|own-sugar-wax''')

tx('cupboard.md', '''
## What is in the cupboard

| Name | INCI | From | For |
|------|------|------|-----|
| Potash lye 20 % | Potassium Hydroxide, Aqua | Larkmoor Supplies | soap |
| Sugar | Sucrose | kitchen | scrub |
| Lactic acid | Lactic Acid 80 %, Aqua | Larkmoor Supplies | pH |
| Magic powder | | ? | ? |
''')
M('markdown', 'cupboard.md', '''Potash lye 20 % ¦ potassium-hydroxide-solution-20
Sugar ¦ sugar-granulated|?
Lactic acid ¦ lactic-acid-80|?
Magic powder ¦ new|?''')
end('seventh')
