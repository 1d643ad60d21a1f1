#!/usr/bin/env python3
"""A fifth round, written down before the program had read any of it."""
from cells import *
begin('w1_')
def par(sp): return [(p[0].split('~')[0].strip(), (p[2] if len(p) > 2 else ''), (p[3] if len(p) > 3 else 'A')) for p in ([x.strip() for x in l.split('¦')] for l in sp.strip().split('\n'))]
def pc(x): return float(eval(x))
def ng(x): return f'{x:.10g}'

# ---------- recipes
sp = '''Olive oil ¦ olive-oil ¦ 50
Shea butter ¦ shea-butter ¦ 30
Beeswax ¦ beeswax-white ¦ 17.5
Vitamin E ¦ VE ¦ 2.5'''
xl('hand_balm_lbs.xlsx', '''Winter hand balm||
makes 2 1/2 lb||
||
Ingredient|Amount|Notes
Olive oil|1 lb 4 oz|infused if you have it
Shea butter|12 oz|
Beeswax|7 oz|the white pellets
Vitamin E|1 oz|goes in last''', bold=[1, 4])
R('pounds and ounces', 'hand_balm_lbs.xlsx', sp, batch=1133.98)

od('lippenpflege_teile.ods', '''Lippenpflege (Teile nach Gewicht)||
Zutat|Teile|Bemerkung
Bienenwachs|2 Teile|
Mandelöl|4 Teile|
Kakaobutter|1 Teil|
Sheabutter|1 Teil|unraffiniert''')
R('parts', 'lippenpflege_teile.ods', '''Bienenwachs ¦ beeswax-white ¦ 25
Mandelöl ¦ sweet-almond-oil ¦ 50
Kakaobutter ¦ cocoa-butter ¦ 12.5
Sheabutter ¦ shea-butter ¦ 12.5''')

sp = '''Wasser dest. ¦ W ¦ 58.2
Natriumlaurethsulfat 28 % ¦ SLES28 ¦ 25
Cocamidopropylbetain 30 % ¦ CAPB30 ¦ 10
Glycerin ¦ G ¦ 3
Kochsalz ¦ sodium-chloride ¦ 2
Natriumbenzoat ¦ sodium-benzoate ¦ 0.5
Kaliumsorbat ¦ potassium-sorbate ¦ 0.3
Zitronensäure ¦ CA ¦ 0.4
Parfümöl Waldrand ¦ FR ¦ 0.6'''
inci = ['Aqua', 'Sodium Laureth Sulfate', 'Cocamidopropyl Betaine', 'Glycerin', 'Sodium Chloride', 'Sodium Benzoate', 'Potassium Sorbate', 'Citric Acid', 'Parfum']
cost = [.12, 1.9, 2.6, 3.4, .8, 6.5, 9.8, 4.2, 58]
d = 'Duschgel Waldrand|||||\nAnsatz: 2 kg|||||\n\nRohstoff|INCI|%|g im Ansatz|€/kg|€ im Ansatz\n'
tot = 0
for i, (n, p, _) in enumerate(par(sp)):
    g = pc(p) * 20; c = round(g * cost[i] / 1000, 4); tot += c
    d += f'{n}|{inci[i]}|{p}|f:=C{i+5}*20;{ng(g)}|{cost[i]}|f:=D{i+5}/1000*E{i+5};{ng(c)}\n'
d += f'Summe||f:=SUM(C5:C13);100|f:=SUM(D5:D13);2000||f:=SUM(F5:F13);{ng(tot)}\nMaterial je 250-ml-Flasche|||||f:=F14/8;{ng(tot/8)}'
xw('duschgel_kalkulation.xlsx', d, freeze=4)
R('costing columns', 'duschgel_kalkulation.xlsx', sp, batch=2000)

xl('shampooing_doux.xlsx', '''Shampooing doux – essai n° 4|||
|||
Phase|Ingrédient|%|Rôle
A|Eau déminéralisée|q.s.p. 100|solvant
|Glycérine végétale|3|humectant
|Gomme xanthane|0.8|gélifiant
B|Coco-glucoside|14|tensioactif
|Décyl glucoside|10|tensioactif
|Bétaïne de coco 30 %|8|tensioactif
C|Acide citrique|0.4|pH
|Benzoate de sodium|0.5|conservateur
|Huile essentielle de romarin à cinéole|0.6|parfum''', merge=['A4:A6', 'A7:A9', 'A10:A12'], bold=[3])
R('merged phases', 'shampooing_doux.xlsx', '''Eau déminéralisée ¦ W ¦ 62.7 ¦ A
Glycérine végétale ¦ G ¦ 3 ¦ A
Gomme xanthane ¦ xanthan-gum ¦ 0.8 ¦ A
Coco-glucoside ¦ CG ¦ 14 ¦ B
Décyl glucoside ¦ DG ¦ 10 ¦ B
Bétaïne de coco 30 % ¦ cocamidopropyl-betaine-solution-30|? ¦ 8 ¦ B
Acide citrique ¦ CA ¦ 0.4 ¦ C
Benzoate de sodium ¦ sodium-benzoate ¦ 0.5 ¦ C
Huile essentielle de romarin à cinéole ¦ rosemary-essential-oil-cineole-type|? ¦ 0.6 ¦ C''')

od('leche_corporal.ods', '''Leche corporal de almendras|||
Fase|Componente|INCI|Cantidad (g)
A (agua)|Agua destilada|Aqua|c.s.p. 100 g
A (agua)|Glicerina|Glycerin|4
B (grasa)|Aceite de almendras dulces|Prunus Amygdalus Dulcis Oil|12
B (grasa)|Alcohol cetearílico y ceteareth-20|Cetearyl Alcohol (and) Ceteareth-20|6
B (grasa)|Manteca de cacao|Theobroma Cacao Seed Butter|3
C (< 40 °C)|Vitamina E|Tocopherol|0.5
C (< 40 °C)|Fenoxietanol|Phenoxyethanol|0.9
C (< 40 °C)|Aceite esencial de naranja dulce|Citrus Aurantium Dulcis Peel Oil|0.3''')
R('languages', 'leche_corporal.ods', '''Agua destilada ¦ W ¦ 73.3 ¦ A
Glicerina ¦ G ¦ 4 ¦ A
Aceite de almendras dulces ¦ sweet-almond-oil ¦ 12 ¦ B
Alcohol cetearílico y ceteareth-20 ¦ cetearyl-alcohol-and-ceteareth-20 ¦ 6 ¦ B
Manteca de cacao ¦ cocoa-butter ¦ 3 ¦ B
Vitamina E ¦ VE ¦ 0.5 ¦ C
Fenoxietanol ¦ phenoxyethanol ¦ 0.9 ¦ C
Aceite esencial de naranja dulce ¦ sweet-orange-essential-oil ¦ 0.3 ¦ C''')

cs('crema_mani.csv', '''Crema mani al burro di karité;;
Fase;Materia prima;%
A;Acqua demineralizzata;q.b. a 100
A;Glicerina;5,0
A;Allantoina;0,2
B;Burro di karité;6,0
B;Olio di girasole;8,0
B;Alcool cetilico;3,0
B;Gliceril stearato SE;5,0
C;Sorbato di potassio;0,3
C;Benzoato di sodio;0,5
C;Acido lattico 80%;0,5
C;Olio essenziale di limone;0,2'''.replace(';', '|'), sep=';', enc='cp1252')
R('languages', 'crema_mani.csv', '''Acqua demineralizzata ¦ W ¦ 71.3 ¦ A
Glicerina ¦ G ¦ 5 ¦ A
Allantoina ¦ allantoin-powder ¦ 0.2 ¦ A
Burro di karité ¦ shea-butter ¦ 6 ¦ B
Olio di girasole ¦ sunflower-seed-oil ¦ 8 ¦ B
Alcool cetilico ¦ cetyl-alcohol ¦ 3 ¦ B
Gliceril stearato SE ¦ glyceryl-stearate-se ¦ 5 ¦ B
Sorbato di potassio ¦ potassium-sorbate ¦ 0.3 ¦ C
Benzoato di sodio ¦ sodium-benzoate ¦ 0.5 ¦ C
Acido lattico 80% ¦ lactic-acid-80 ¦ 0.5 ¦ C
Olio essenziale di limone ¦ lemon-essential-oil-expressed|? ¦ 0.2 ¦ C''')

xl('bodylotion_nl.xlsx', '''Bodylotion voor droge huid||
gemaakt voor: 400 g||
||
grondstof|hoeveelheid|waarom
Gedemineraliseerd water|aanvullen tot 400 g|basis
Glycerine|16 g|vocht
Zonnebloemolie|48 g|huidverzorgend
Sheaboter|12 g|
Cetearylalcohol|8 g|dikker
Glycerylstearaatcitraat|20 g|emulgator
Fenoxyethanol|3,6 g|conservering
Lavendelolie|1,2 g|geur''')
R('languages', 'bodylotion_nl.xlsx', '''Gedemineraliseerd water ¦ W ¦ (400-108.8)/4
Glycerine ¦ G ¦ 4
Zonnebloemolie ¦ sunflower-seed-oil ¦ 12
Sheaboter ¦ shea-butter ¦ 3
Cetearylalcohol ¦ cetearyl-alcohol ¦ 2
Glycerylstearaatcitraat ¦ glyceryl-stearate-citrate ¦ 5
Fenoxyethanol ¦ phenoxyethanol ¦ 0.9
Lavendelolie ¦ LAV ¦ 0.3''', batch=400)

od('zel_pod_prysznic.ods', '''Żel pod prysznic – przepis domowy|||
Lp.|Surowiec|Ilość [%]|Uwagi
1.|Woda destylowana|do 100|
2.|Gliceryna roślinna|2.5|
3.|Kokamidopropylobetaina 38%|12|
4.|Glukozyd decylowy|20|
5.|Guma ksantanowa|1|rozprowadzić w glicerynie
6.|Benzoesan sodu|0.5|
7.|Sorbinian potasu|0.3|
8.|Kwas cytrynowy|0.5|do pH 5
9.|Olejek lawendowy|0.4|''')
R('languages', 'zel_pod_prysznic.ods', '''Woda destylowana ¦ W ¦ 62.8
Gliceryna roślinna ¦ G ¦ 2.5
Kokamidopropylobetaina 38% ¦ CAPB38 ¦ 12
Glukozyd decylowy ¦ DG ¦ 20
Guma ksantanowa ¦ xanthan-gum ¦ 1
Benzoesan sodu ¦ sodium-benzoate ¦ 0.5
Sorbinian potasu ¦ potassium-sorbate ¦ 0.3
Kwas cytrynowy ¦ CA ¦ 0.5
Olejek lawendowy ¦ LAV ¦ 0.4''')

# studio costing with subtotals per phase, formulas with values
sp = '''Demineralised water ¦ W ¦ 64.3 ¦ A
Propanediol ¦ propanediol ¦ 4 ¦ A
Hydroxyethylcellulose ¦ hydroxyethylcellulose ¦ 0.4 ¦ A
Grapeseed oil ¦ grape-seed-oil ¦ 10 ¦ B
Caprylic/capric triglyceride ¦ caprylic-capric-triglyceride ¦ 8 ¦ B
Cetearyl olivate / sorbitan olivate ¦ cetearyl-olivate-and-sorbitan-olivate ¦ 5 ¦ B
Mango butter ¦ mango-butter ¦ 6 ¦ B
Benzyl alcohol & dehydroacetic acid ¦ BADHA ¦ 0.9 ¦ C
Niacinamide ¦ niacinamide ¦ 1 ¦ C
Sweet orange EO ¦ sweet-orange-essential-oil ¦ 0.4 ¦ C'''
P_ = par(sp); d = 'LOTION BASE 07 - costing, batch 5 kg|||||\n\nPh.|Raw material|% w/w|kg per batch|Cost per kg|Cost per batch\n'
kg = [.15, 7.2, 31, 6.8, 9.5, 28, 14, 26, 22, 35]; r = 4; at = {'A': 'PHASE A WATER', 'B': 'PHASE B OIL', 'C': 'PHASE C COOL DOWN'}
for ph in 'ABC':
    d += f'{at[ph]}|||||\n'; r += 1; a = r; s = c = 0
    for (n, p, q), k in zip(P_, kg):
        if q == ph:
            w = pc(p) / 20; s += pc(p); c += w * k
            d += f'|{n}|{p}|f:=C{r}/100*5;{ng(w)}|{k}|f:=D{r}*E{r};{ng(w*k)}\n'; r += 1
    d += f'|subtotal {ph}|f:=SUM(C{a}:C{r-1});{ng(s)}|f:=SUM(D{a}:D{r-1});{ng(s/20)}||f:=SUM(F{a}:F{r-1});{ng(c)}\n'; r += 1
d += '|GRAND TOTAL|100|5||'
xw('lotion_costing_subtotals.xlsx', d)
R('subtotals', 'lotion_costing_subtotals.xlsx', sp, batch=5000)

xl('two_on_a_sheet.xlsx', '''Massage oil no. 1|||
Oil|%||
Sweet almond oil|60||
Jojoba oil|39||
Lavender oil|1||
Total|100||
|||
|||
Massage oil no. 2|||
Oil|%||
Apricot kernel oil|55||
Rice bran oil|44.2||
Sweet orange essential oil|0.8||
Total|100||''', bold=[1, 9])
R('several recipes', 'two_on_a_sheet.xlsx', '''Sweet almond oil ¦ sweet-almond-oil ¦ 60
Jojoba oil ¦ jojoba-oil ¦ 39
Lavender oil ¦ LAV ¦ 1
Apricot kernel oil ¦ apricot-kernel-oil ¦ 55
Rice bran oil ¦ rice-bran-oil ¦ 44.2
Sweet orange essential oil ¦ sweet-orange-essential-oil ¦ 0.8''', all=True)

xl('conditioner_trials.xlsx', '''Conditioner trials|||||
Ingredient|INCI|Trial 1|Trial 2|Trial 3|Comment
Water|Aqua|88.5|86.5|85|
Cetearyl alcohol|Cetearyl Alcohol|4|5|5|thicker in 2
BTMS-50|Behentrimonium Methosulfate, Cetyl Alcohol, Butylene Glycol|3|4|4|
Broccoli seed oil|Brassica Oleracea Italica Seed Oil|2|2|3|
Hydrolyzed wheat protein 20 %|Hydrolyzed Wheat Protein, Aqua|1.5|1.5|2|
Phenoxyethanol|Phenoxyethanol|1|1|1|
Sum||100|100|100|''')
one = lambda a: '\n'.join(f'{n} ¦ {i} ¦ {v}' for n, i, v in zip(['Water', 'Cetearyl alcohol', 'BTMS-50', 'Broccoli seed oil', 'Hydrolyzed wheat protein 20 %', 'Phenoxyethanol'], ['W', 'cetearyl-alcohol', 'behentrimonium-methosulfate-50-in-cetyl-alcohol-and-butylene-glycol', 'broccoli-seed-oil', 'hydrolyzed-wheat-protein-20', 'phenoxyethanol'], a))
R('versions', 'conditioner_trials.xlsx', '\n'.join([one([88.5, 4, 3, 2, 1.5, 1]), one([86.5, 5, 4, 2, 1.5, 1]), one([85, 5, 4, 3, 2, 1])]), all=True)

xl('gel_with_hidden.xlsx', '''Face gel (oily skin)|||
Ingredient|%|Supplier|Remarks
Distilled water|91.3|-|
Witch hazel extract|3|Larkmoor Supplies|old idea, hidden
Glycerin|4|Larkmoor Supplies|
Menthol|0.2|Larkmoor Supplies|stings - struck out
Xanthan gum|1|Tarn & Beck|
Zinc PCA|2.7|Tarn & Beck|
Phenoxyethanol|1|Tarn & Beck|''', hide=[4], strike=[6])
R('hidden and struck out', 'gel_with_hidden.xlsx', '''Distilled water ¦ W ¦ 91.3
Glycerin ¦ G ¦ 4
Xanthan gum ¦ xanthan-gum ¦ 1
Zinc PCA ¦ /zinc-pca-powder ¦ 2.7
Phenoxyethanol ¦ phenoxyethanol ¦ 1''')

pdx('hair_mist_ranges.xlsx', '''Material|Level %|Function
Water|to 100|carrier
Rose water|20|scent
D-Panthenol 75 %|0.5 - 1.0|conditioner
Polysorbate 20|1.5|solubiliser
Sodium benzoate|0.4|preservative
Citric acid|q.s. to pH 5.0|adjuster''')
R('ranges', 'hair_mist_ranges.xlsx', '''Water ¦ W ¦ - ¦ A
Rose water ¦ rose-water ¦ 20 ¦ A
D-Panthenol 75 % ¦ ?d-panthenol-75 ¦ - ¦ A
Polysorbate 20 ¦ polysorbate-20 ¦ 1.5 ¦ A
Sodium benzoate ¦ sodium-benzoate ¦ 0.4 ¦ A
Citric acid ¦ CA ¦ - ¦ A''', sums=False)

xl('face_oil_drops.xlsx', '''My face oil|
makes 50 g|
What|How much
Jojoba oil|30 g
Rosehip oil|18 g
Vitamin E (T70)|2 g
Lavender essential oil|10 drops
Frankincense EO|5 drops''')
R('drops', 'face_oil_drops.xlsx', '''Jojoba oil ¦ jojoba-oil ¦ 60
Rosehip oil ¦ /rosehip-seed-oil ¦ 36
Vitamin E (T70) ¦ tocopherol-mixed-70-in-sunflower-oil|? ¦ 4
Lavender essential oil ¦ ?lavender-essential-oil ¦ - ¦ A
Frankincense EO ¦ ?frankincense-essential-oil ¦ - ¦ A''', tol=1.2, sums=False)

tx('grandmas_scrub.txt', '''
Grandma's sugar scrub

2 tbsp coconut oil
1 cup granulated sugar
1 tsp honey
6 drops lemon essential oil

Mix it all in a bowl and keep in a jar.
''')
R('spoons', 'grandmas_scrub.txt', '''coconut oil ¦ ?coconut-oil ¦ - ¦ A
granulated sugar ¦ ?sugar-granulated ¦ - ¦ A
honey ¦ ?honey ¦ - ¦ A
lemon essential oil ¦ ?lemon-essential-oil-expressed ¦ - ¦ A''', sums=False)

xl('shower_contradictions.xlsx', '''Ingredient|INCI name|CAS no.|% by weight
Purified water|Aqua|7732-18-5|56.4
Betaine 31 %|Coco-Betaine|68424-94-2|12
SLES 70|Sodium Laureth Sulfate|68891-38-3|14
Sodium hydroxide 20 %|Sodium Hydroxide|1310-73-2|0.6
Glycerine|Propanediol|504-63-2|5
Vitamin E|Tocopheryl Acetate|7695-91-2|0.5
Coconut betaine|Cocamidopropyl Betaine|61789-40-0|9
Table salt|Sodium Chloride|7647-14-5|1.5
Phenoxyethanol|Phenoxyethanol|122-99-6|1''')
R('contradiction', 'shower_contradictions.xlsx', '''Purified water ¦ W ¦ 56.4
Betaine 31 % ¦ coco-betaine-solution-31|? ¦ 12
SLES 70 ¦ SLES70 ¦ 14
Sodium hydroxide 20 % ¦ sodium-hydroxide-solution-20 ¦ 0.6
Glycerine ¦ ? ¦ 5
Vitamin E ¦ ? ¦ 0.5
Coconut betaine ¦ ? ¦ 9
Table salt ¦ sodium-chloride ¦ 1.5
Phenoxyethanol ¦ phenoxyethanol ¦ 1'''.replace('Coconut betaine ¦ ?', 'Coconut betaine ¦ CB'))

tx('aligned_lotion.txt', '''
LIGHT LOTION, third try                       17 May

                          %
Water phase
  Distilled water         75.0
  Glycerin                 3.0
Oil phase
  Sunflower oil           14.0
  Cetyl alcohol            2.0
  Glyceryl stearate citrate 5.0
Cool down
  Phenoxyethanol           0.8
  Lavender EO              0.2
                         -----
                         100.0
''')
R('text, aligned', 'aligned_lotion.txt', '''Distilled water ¦ W ¦ 75 ¦ A
Glycerin ¦ G ¦ 3 ¦ A
Sunflower oil ¦ sunflower-seed-oil ¦ 14 ¦ B
Cetyl alcohol ¦ cetyl-alcohol ¦ 2 ¦ B
Glyceryl stearate citrate ¦ glyceryl-stearate-citrate ¦ 5 ¦ B
Phenoxyethanol ¦ phenoxyethanol ¦ 0.8 ¦ C
Lavender EO ¦ LAV ¦ 0.2 ¦ C''')

tx('deo_cream.md', '''
# Deodorant cream

| Ingredient | Grams | What it does |
|:-----------|------:|--------------|
| Shea butter | 60 | base |
| Coconut oil | 50 | base |
| Beeswax | 20 | sets it |
| Sodium bicarbonate | 30 | odour |
| Arrowroot powder | 38 | dry feel |
| Tea tree essential oil | 2 | |
| **Total** | **200** | |

Notes: keep below 30 °C.
''')
R('markdown', 'deo_cream.md', '''Shea butter ¦ shea-butter ¦ 30
Coconut oil ¦ coconut-oil ¦ 25
Beeswax ¦ beeswax-white ¦ 10
Sodium bicarbonate ¦ sodium-bicarbonate ¦ 15
Arrowroot powder ¦ arrowroot-powder ¦ 19
Tea tree essential oil ¦ tea-tree-essential-oil ¦ 1''', batch=200)

tx('toner_bullets.md', '''
## Chamomile toner

- 70 % chamomile water
- 24.3 % distilled water
- 4 % propanediol
- 1 % niacinamide
- 0.4 % sodium benzoate
- 0.3 % potassium sorbate

Adjust pH to 5 with lactic acid.
''')
R('bullets', 'toner_bullets.md', '''chamomile water ¦ chamomile-water ¦ 70
distilled water ¦ W ¦ 24.3
propanediol ¦ propanediol ¦ 4
niacinamide ¦ niacinamide ¦ 1
sodium benzoate ¦ sodium-benzoate ¦ 0.4
potassium sorbate ¦ potassium-sorbate ¦ 0.3''')

ht('creme_phases.html', '<h1>Crème de nuit</h1><p>Pour 100 g</p><h3>Phase A</h3>' + tab('''Ingrédient|Quantité (g)
Eau distillée|66,5
Glycérine|4''') + '<h3>Phase B</h3>' + tab('''Ingrédient|Quantité (g)
Huile d'avocat|12
Beurre de cacao|6
Alcool cétéarylique|3
Olivate de cétéaryle et olivate de sorbitan|6''') + '<h3>Phase C</h3>' + tab('''Ingrédient|Quantité (g)
Vitamine E|0,5
Alcool benzylique et acide déhydroacétique|1
Huile essentielle de géranium|1''') + '<p>Chauffer A et B à 70 °C.</p>', 'Crème de nuit')
R('html', 'creme_phases.html', '''Eau distillée ¦ W ¦ 66.5 ¦ A
Glycérine ¦ G ¦ 4 ¦ A
Huile d'avocat ¦ avocado-oil ¦ 12 ¦ B
Beurre de cacao ¦ cocoa-butter ¦ 6 ¦ B
Alcool cétéarylique ¦ cetearyl-alcohol ¦ 3 ¦ B
Olivate de cétéaryle et olivate de sorbitan ¦ /cetearyl-olivate-and-sorbitan-olivate|?|new ¦ 6 ¦ B
Vitamine E ¦ VE ¦ 0.5 ¦ C
Alcool benzylique et acide déhydroacétique ¦ benzyl-alcohol-and-dehydroacetic-acid-blend|?|new ¦ 1 ¦ C
Huile essentielle de géranium ¦ geranium-essential-oil ¦ 1 ¦ C''')

tx('chat_message.txt', '''
hi! here is the shampoo bar as promised :)

SCI powder 45 g
sodium coco sulfate 20 g
cetyl alcohol 8 g
cocoa butter 5 g
kaolin 10 g
BTMS-25 6 g
d-panthenol 75% 2 g
water 3 g
lavender oil 1 g

melt the butters first, tell me how it goes!
''')
R('chat', 'chat_message.txt', '''SCI powder ¦ sodium-cocoyl-isethionate-powder-85 ¦ 45
sodium coco sulfate ¦ /sodium-coco-sulfate-granules ¦ 20
cetyl alcohol ¦ cetyl-alcohol ¦ 8
cocoa butter ¦ cocoa-butter ¦ 5
kaolin ¦ kaolin-white-clay ¦ 10
BTMS-25 ¦ behentrimonium-methosulfate-25-in-cetearyl-alcohol ¦ 6
d-panthenol 75% ¦ d-panthenol-75 ¦ 2
water ¦ W ¦ 3
lavender oil ¦ LAV ¦ 1''')

xl('batch_sheet_checked.xlsx', '''BATCH RECORD||||||
Product:|Hand wash Meadow|||Batch no.|HW-031|
Batch size:|10 kg|||Made:|d:2026-09-14|
||||||
Done|Material|Lot|Target %|Target g|Weighed g|Initials
☑|Deionised water|-|66.7|6670|6671|kt
☑|Sodium laureth sulfate 28 %|S-220|18|1800|1799.5|kt
☑|Coco glucoside|C-17|8|800|800|kt
☑|Glycerin 99.5 %|G-5|3|300|301|kt
☑|Sodium chloride|-|2.5|250|250|kt
☑|Sodium benzoate|B-09|0.5|50|50.1|kt
☑|Citric acid monohydrate|-|0.3|30|30|kt
☐|Perfume Meadow|P-3|1|100||
||Total|100|10000||''')
R('batch record', 'batch_sheet_checked.xlsx', '''Deionised water ¦ W ¦ 66.7
Sodium laureth sulfate 28 % ¦ SLES28 ¦ 18
Coco glucoside ¦ CG ¦ 8
Glycerin 99.5 % ¦ G ¦ 3
Sodium chloride ¦ sodium-chloride ¦ 2.5
Sodium benzoate ¦ sodium-benzoate ¦ 0.5
Citric acid monohydrate ¦ citric-acid-monohydrate ¦ 0.3
Perfume Meadow ¦ FR ¦ 1''', batch=10000)

pdx('max_use_first.ods', '''Ingredient|Max. use %|Active %|% in recipe|Why
Water|||78.2|
Propanediol|20|100|5|humectant
Niacinamide|5|100|4|skin tone
Tranexamic acid|5|100|2|skin tone
Saccharide isomerate solution 55 %|5|55|3|moisture
Xanthan gum|2|100|0.5|body
Polyglyceryl-10 laurate|10|100|6|
Phenoxyethanol|1|100|0.9|preservative
Ethylhexylglycerin|1|100|0.4|booster''', ods=True)
R('several percent columns', 'max_use_first.ods', '''Water ¦ W ¦ 78.2
Propanediol ¦ propanediol ¦ 5
Niacinamide ¦ niacinamide ¦ 4
Tranexamic acid ¦ tranexamic-acid ¦ 2
Saccharide isomerate solution 55 % ¦ saccharide-isomerate-solution-55 ¦ 3
Xanthan gum ¦ xanthan-gum ¦ 0.5
Polyglyceryl-10 laurate ¦ polyglyceryl-10-laurate ¦ 6
Phenoxyethanol ¦ phenoxyethanol ¦ 0.9
Ethylhexylglycerin ¦ ethylhexylglycerin ¦ 0.4''')

xl('soap_bastille.xlsx', '''Bastille soap|||
|grams|% of oils|SAP
Olive oil|700|70|0.135
Coconut oil|200|20|0.183
Castor oil|100|10|0.128
Oils together|1000|100|
|||
NaOH|136|5 % superfat|
Water|272|2 : 1|
Lavender oil|30|3 % of oils|
|||
Everything|1438||''')
R('soap', 'soap_bastille.xlsx', '''Olive oil ¦ olive-oil ¦ 70000/1438
Coconut oil ¦ coconut-oil ¦ 20000/1438
Castor oil ¦ castor-oil ¦ 10000/1438
NaOH ¦ NAOH ¦ 13600/1438
Water ¦ W ¦ 27200/1438
Lavender oil ¦ LAV ¦ 3000/1438''', batch=1438)

cs('reinigungsmilch.txt', '''Nr.\tBestandteil\tAnteil\tPhase
1\tWasser, entmineralisiert\t70,25 %\tI
2\tPropandiol\t4 %\tI
3\tNatrium-PCA 50 %\t2 %\tI
4\tTraubenkernöl\t10 %\tII
5\tNeutralöl (Caprylic/Capric Triglyceride)\t6 %\tII
6\tCetylalkohol\t2 %\tII
7\tGlycerylstearat\t4,5 %\tII
8\tKaliumsorbat\t0,3 %\tIII
9\tNatriumbenzoat\t0,5 %\tIII
10\tMilchsäure 90 %\t0,45 %\tIII'''.replace('\t', '|'), sep='\t', enc='utf-16')
R('utf-16', 'reinigungsmilch.txt', '''Wasser, entmineralisiert ¦ W ¦ 70.25 ¦ A
Propandiol ¦ propanediol|? ¦ 4 ¦ A
Natrium-PCA 50 % ¦ sodium-pca-solution-50 ¦ 2 ¦ A
Traubenkernöl ¦ grape-seed-oil ¦ 10 ¦ B
Neutralöl (Caprylic/Capric Triglyceride) ¦ caprylic-capric-triglyceride ¦ 6 ¦ B
Cetylalkohol ¦ cetyl-alcohol ¦ 2 ¦ B
Glycerylstearat ¦ glyceryl-stearate ¦ 4.5 ¦ B
Kaliumsorbat ¦ potassium-sorbate ¦ 0.3 ¦ C
Natriumbenzoat ¦ sodium-benzoate ¦ 0.5 ¦ C
Milchsäure 90 % ¦ lactic-acid-90 ¦ 0.45 ¦ C''')

xl('bath_bomb_fractions.xlsx', '''Bath bombs|Share|
Ingredient|of 1|for 800 g
Baking soda|0.5|400
Citric acid, anhydrous|0.25|200
Corn starch|0.15|120
Epsom salt|0.07|56
Sweet almond oil|0.02|16
Lavender oil|0.01|8''')
R('fractions', 'bath_bomb_fractions.xlsx', '''Baking soda ¦ sodium-bicarbonate|?sodium-bicarbonate ¦ 50
Citric acid, anhydrous ¦ citric-acid-anhydrous ¦ 25
Corn starch ¦ corn-starch ¦ 15
Epsom salt ¦ magnesium-sulfate-heptahydrate ¦ 7
Sweet almond oil ¦ sweet-almond-oil ¦ 2
Lavender oil ¦ LAV ¦ 1''')

xl('cream_with_properties.xlsx', '''Barrier cream 12 B|||
Phase|Item|wt%|
1|Water, purified|67.6|
1|Pentylene glycol|3|
1|Magnesium sulfate heptahydrate|0.7|
2|Squalane|9|
2|Polyglyceryl-3 diisostearate|4|
2|Isoamyl laurate|12|
2|Beeswax, white|2|
2|Cera bellina|1|
3|Bisabolol|0.2|
3|Tocopherol 50 % in sunflower oil|0.5|
|||
pH|5.5 - 6.0||
Viscosity|45,000 mPa s (spindle 6, 20 rpm)||
Colour|ivory||
Density|0.96 g/ml||
Stability|3 months at 40 °C passed||''')
R('properties below', 'cream_with_properties.xlsx', '''Water, purified ¦ W ¦ 67.6 ¦ A
Pentylene glycol ¦ pentylene-glycol ¦ 3 ¦ A
Magnesium sulfate heptahydrate ¦ magnesium-sulfate-heptahydrate ¦ 0.7 ¦ A
Squalane ¦ squalane-from-olive-or-sugar-cane ¦ 9 ¦ B
Polyglyceryl-3 diisostearate ¦ polyglyceryl-3-diisostearate ¦ 4 ¦ B
Isoamyl laurate ¦ isoamyl-laurate ¦ 12 ¦ B
Beeswax, white ¦ beeswax-white ¦ 2 ¦ B
Cera bellina ¦ cera-bellina-polyglyceryl-3-beeswax ¦ 1 ¦ B
Bisabolol ¦ bisabolol ¦ 0.2 ¦ C
Tocopherol 50 % in sunflower oil ¦ tocopherol-mixed-50-in-sunflower-oil ¦ 0.5 ¦ C''')

tx('one_liners.txt', '''
Balm stick
Phase A: 30 % candelilla wax, 25 % castor oil, 24.5 % jojoba oil
Phase B: 20 % cocoa butter
Phase C: 0.5 % peppermint oil
''')
R('one line per phase', 'one_liners.txt', '''candelilla wax ¦ candelilla-wax ¦ 30 ¦ A
castor oil ¦ castor-oil ¦ 25 ¦ A
jojoba oil ¦ jojoba-oil ¦ 24.5 ¦ A
cocoa butter ¦ cocoa-butter ¦ 20 ¦ B
peppermint oil ¦ peppermint-essential-oil|? ¦ 0.5 ¦ C''')

xl('micellar_steps.xlsx', '''Micellar water||
||
Ingredient|Percent|
Water|p:92.2|
Caprylyl/capryl glucoside 60 %|p:3|
Glycerin|p:3|
Sodium citrate|p:0.4|
Citric acid|p:0.4|
Phenoxyethanol/ethylhexylglycerin|p:1|
||
Method||
1. Warm the water to 40 °C.||
2. Stir in the glucoside and glycerin slowly.||
3. Add the rest, check pH 5.5.||
4. Fill next day.||''')
R('procedure', 'micellar_steps.xlsx', '''Water ¦ W ¦ 92.2
Caprylyl/capryl glucoside 60 % ¦ caprylyl-capryl-glucoside-solution-60 ¦ 3
Glycerin ¦ G ¦ 3
Sodium citrate ¦ /sodium-citrate-dihydrate ¦ 0.4
Citric acid ¦ CA ¦ 0.4
Phenoxyethanol/ethylhexylglycerin ¦ PE ¦ 1''', steps=4)

xl('code_column.xlsx', '''Item no.|Description|Unit|Qty|Sum %
40012|Sodium cocoyl glutamate 25 %|g|300|20
40077|Cocamidopropyl hydroxysultaine 42 %|g|150|10
10001|Water dem.|g|949.5|63.3
20310|PEG-120 methyl glucose dioleate|g|30|2
20555|Glycerin 86 %|g|60|4
30218|Hydroxyacetophenone|g|7.5|0.5
30219|1,2-Hexanediol|g|3|0.2''')
R('codes', 'code_column.xlsx', '''Sodium cocoyl glutamate 25 % ¦ sodium-cocoyl-glutamate-solution-25 ¦ 20
Cocamidopropyl hydroxysultaine 42 % ¦ cocamidopropyl-hydroxysultaine-solution-42 ¦ 10
Water dem. ¦ W ¦ 63.3
PEG-120 methyl glucose dioleate ¦ /peg-120-methyl-glucose-dioleate-flakes ¦ 2
Glycerin 86 % ¦ glycerin-86 ¦ 4
Hydroxyacetophenone ¦ hydroxyacetophenone ¦ 0.5
1,2-Hexanediol ¦ 1-2-hexanediol ¦ 0.2''', batch=1500)

# ---------- price and stock lists
xl('prices_larkmoor.xlsx', '''Larkmoor Supplies - trade list spring||||
Art.|Product|Pack|Price per pack (EUR)|per kg
LM-100|Shea butter|5 kg|41.50|8.30
LM-104|Cocoa butter|1 kg|13.90|13.90
LM-210|Glycerin 99.5 %|10 kg|29.00|2.90
LM-305|Xanthan gum|500 g|11.20|22.40
LM-411|SLES 28|25 kg|36.25|1.45''')
P('price lists', 'prices_larkmoor.xlsx', '''Shea butter ¦ shea-butter ¦ 41.5 EUR 5000
Cocoa butter ¦ cocoa-butter ¦ 13.9 EUR 1000
Glycerin 99.5 % ¦ G ¦ 29 EUR 10000
Xanthan gum ¦ xanthan-gum ¦ 11.2 EUR 500
SLES 28 ¦ SLES28 ¦ 36.25 EUR 25000''')

xl('tiers.xlsx', '''Tarn & Beck, oils and waxes|||
Name|1 kg|5 kg|25 kg
Jojoba oil|e:24.90|e:112.00|e:510.00
Castor oil|e:6.40|e:27.50|e:118.00
Candelilla wax|e:16.80|e:76.00|
Sunflower oil|e:3.20|e:13.50|e:55.00
Prices in EUR per pack, without VAT|||''')
P('tiers', 'tiers.xlsx', '''Jojoba oil ¦ jojoba-oil ¦ 24.9 EUR 1000; 112 EUR 5000; 510 EUR 25000
Castor oil ¦ castor-oil ¦ 6.4 EUR 1000; 27.5 EUR 5000; 118 EUR 25000
Candelilla wax ¦ candelilla-wax ¦ 16.8 EUR 1000; 76 EUR 5000
Sunflower oil ¦ sunflower-seed-oil ¦ 3.2 EUR 1000; 13.5 EUR 5000; 55 EUR 25000''')

cs('preisliste_100g.csv', '''Artikel-Nr.;Rohstoff;INCI;Preis je 100 g (€)
2201;Allantoin;Allantoin;2,80
2202;Niacinamid;Niacinamide;4,35
2203;Kaliumsorbat;Potassium Sorbate;1,10
2204;Koffein;Caffeine;5,60
2205;Bisabolol;Bisabolol;12,40'''.replace(';', '|'), sep=';', enc='cp1252')
P('price per 100 g', 'preisliste_100g.csv', '''Allantoin ¦ allantoin-powder ¦ 2.8 EUR 100
Niacinamid ¦ niacinamide ¦ 4.35 EUR 100
Kaliumsorbat ¦ potassium-sorbate ¦ 1.1 EUR 100
Koffein ¦ caffeine-powder ¦ 5.6 EUR 100
Bisabolol ¦ bisabolol ¦ 12.4 EUR 100''')

od('stock_lots.ods', '''Stock in the cupboard, counted 1 November||||
Material|In stock|Lot|Best before|Shelf
Glycerin|2.4 kg|GL-7781|d:2028-05-31|B2
Cetyl alcohol|850 g|CA-19|d:2029-01-31|B1
Sodium benzoate|300 g|SB-0442|d:2027-11-30|C4
Rosehip seed oil|400 g|RH-5|d:2027-02-28|fridge''')
P('lots', 'stock_lots.ods', '''Glycerin ¦ G ¦  ¦ GL-7781
Cetyl alcohol ¦ cetyl-alcohol ¦  ¦ CA-19
Sodium benzoate ¦ sodium-benzoate ¦  ¦ SB-0442
Rosehip seed oil ¦ rosehip-seed-oil ¦  ¦ RH-5''')

xl('invoice_4471.xlsx', '''Larkmoor Supplies||||||
INVOICE 4471|||Date|d:2026-10-02||
||||||
Pos|Code|Description|Qty|Unit|Unit price EUR|Amount EUR
1|LM-22|Kaolin, white clay|2|1 kg bag|4.60|9.20
2|LM-31|Cetearyl alcohol|1|1 kg bag|8.90|8.90
3|LM-57|Polysorbate 20|3|500 g bottle|7.10|21.30
|||||Subtotal|39.40
|||||Shipping|6.90
|||||VAT 21 %|9.72
|||||Total|56.02''')
P('invoice', 'invoice_4471.xlsx', '''Kaolin, white clay ¦ kaolin-white-clay ¦ 4.6 EUR 1000
Cetearyl alcohol ¦ cetearyl-alcohol ¦ 8.9 EUR 1000
Polysorbate 20 ¦ polysorbate-20 ¦ 7.1 EUR 500''')

ht('webshop_prices.html', '<h2>Your wish list</h2>' + tab('''Product|Size|Price
Sodium cocoyl isethionate powder 85 %|500 g|£9.80
Citric acid monohydrate|1 kg|£4.25
Menthol crystals|100 g|£6.50
Lavender essential oil|100 g|£12.95''') + '<p>Prices include VAT.</p>')
P('web page', 'webshop_prices.html', '''Sodium cocoyl isethionate powder 85 % ¦ sodium-cocoyl-isethionate-powder-85 ¦ 9.8 GBP 500
Citric acid monohydrate ¦ citric-acid-monohydrate ¦ 4.25 GBP 1000
Menthol crystals ¦ menthol-crystals ¦ 6.5 GBP 100
Lavender essential oil ¦ LAV ¦ 12.95 GBP 100''')

xl('ambiguous_dates.xlsx', '''Material|Supplier|Bought|Expires|Lot no.|kg|Price/kg USD
Shea butter|Larkmoor Supplies|'03/04/2026|'03/04/2028|L-0304|2|11.5
Coconut oil|Larkmoor Supplies|'05/06/2026|'05/06/2028|L-0506|5|6.2
Stearic acid|Tarn & Beck|'07/08/2026|'07/08/2029|L-0708|1|5.4''')
P('dates', 'ambiguous_dates.xlsx', '''Shea butter ¦ shea-butter ¦ 11.5 USD 1000 ¦ L-0304
Coconut oil ¦ coconut-oil ¦ 6.2 USD 1000 ¦ L-0506
Stearic acid ¦ stearic-acid ¦ 5.4 USD 1000 ¦ L-0708''', dates=True)

cs('cennik.csv', '''Surowiec\tOpakowanie\tCena brutto (zł)
Masło shea\t500 g\t32,00
Olej rycynowy\t1 kg\t24,50
Gliceryna\t5 kg\t61,00
Kwas stearynowy\t1 kg\t19,90'''.replace('\t', '|'), sep='\t', enc='utf-16')
P('price lists', 'cennik.csv', '''Masło shea ¦ shea-butter ¦ 32 PLN 500
Olej rycynowy ¦ castor-oil ¦ 24.5 PLN 1000
Gliceryna ¦ G ¦ 61 PLN 5000
Kwas stearynowy ¦ stearic-acid ¦ 19.9 PLN 1000''')

# ---------- lists of materials
xl('materials_studio.xlsx', '''Trade name|Supplier|INCI|CAS|Function|Use level
Larkspur Soft Base|Tarn & Beck|Decyl Glucoside, Aqua|68515-73-1|mild surfactant|5-30 %
Panthenol DL|Tarn & Beck|Panthenol|81-13-0|conditioner|0.5-2 %
Vellum Wax 20|Larkmoor Supplies|Cetearyl Alcohol, Ceteareth-20|67762-27-0, 68439-49-6|emulsifier|2-8 %
Niacinamide|Larkmoor Supplies|Niacinamide|98-92-0|active|2-5 %''')
M('trade names', 'materials_studio.xlsx', '''Larkspur Soft Base ¦ decyl-glucoside-solution-51|?|new|own-larkspur-soft-base
Panthenol DL ¦ dl-panthenol-powder|?
Vellum Wax 20 ¦ cetearyl-alcohol-and-ceteareth-20|?|new|own-vellum-wax-20
Niacinamide ¦ niacinamide''')

cs('rohstoffe_schrank.csv', '''Rohstoff;INCI;CAS-Nr.;Funktion;Einsatz
Xanthan;Xanthan Gum;11138-66-2;Verdicker;0,2-1 %
Sheabutter;Butyrospermum Parkii Butter;194043-92-0;Fett;2-100 %
Zetylalkohol;Cetyl Alcohol;36653-82-4;Konsistenz;1-5 %
Squalan;Squalane;111-01-3;Öl;2-100 %
Weizenprotein 20 %;Hydrolyzed Wheat Protein;94350-06-8;Pflege;1-5 %'''.replace(';', '|'), sep=';')
M('materials', 'rohstoffe_schrank.csv', '''Xanthan ¦ xanthan-gum|?
Sheabutter ¦ shea-butter
Zetylalkohol ¦ cetyl-alcohol
Squalan ¦ squalane-from-olive-or-sugar-cane
Weizenprotein 20 % ¦ hydrolyzed-wheat-protein-20''')

xl('composition_columns.xlsx', '''Blend|Component 1|%|Component 2|%|Component 3|%
Moor Mild Mix|Cocamidopropyl Betaine|15|Decyl Glucoside|20|Aqua|65
Tarn Pearl|Glycol Distearate|30|Laureth-4|10|Aqua|60''')
M('composition', 'composition_columns.xlsx', '''Moor Mild Mix ¦ new|?|own-moor-mild-mix
Tarn Pearl ¦ new|?|own-tarn-pearl''')

od('mat_codes.ods', '''Code|Name|INCI (EU)|Origin|State
R-001|Water, demineralised|Aqua|own plant|liquid
R-002|Sodium hydroxide solution 30 %|Sodium Hydroxide, Aqua|Larkmoor Supplies|liquid
R-003|Lactic acid|Lactic Acid, Aqua|Larkmoor Supplies|liquid
R-004|Guar HPTC|Guar Hydroxypropyltrimonium Chloride|Tarn & Beck|powder
R-005|PQ-7|Polyquaternium-7, Aqua, Sodium Benzoate|Tarn & Beck|liquid''')
M('codes', 'mat_codes.ods', '''Water, demineralised ¦ W
Sodium hydroxide solution 30 % ¦ sodium-hydroxide-solution-30
Lactic acid ¦ ?
Guar HPTC ¦ /guar-hydroxypropyltrimonium-chloride
PQ-7 ¦ /polyquaternium-7-solution-9''')

pdx('materias_primas.xlsx', '''Materia prima|Nombre INCI|Proveedor|Función|Dosis
Aceite de jojoba|Simmondsia Chinensis Seed Oil|Tarn & Beck|emoliente|1-100 %
Goma guar|Cyamopsis Tetragonoloba Gum|Tarn & Beck|espesante|0,5-2 %
Cera de candelilla|Euphorbia Cerifera Cera|Larkmoor Supplies|cera|1-30 %
Extracto de yuca|Yucca Schidigera Leaf Extract|Larkmoor Supplies|activo|1-5 %''', sheet='Hoja1')
M('languages', 'materias_primas.xlsx', '''Aceite de jojoba ¦ jojoba-oil
Goma guar ¦ guar-gum
Cera de candelilla ¦ candelilla-wax
Extracto de yuca ¦ new|?|own-extracto-de-yuca''')

ht('ingredient_cards.html', tab('''Ingredient|INCI|Typical use|Solubility
Caprylyl glycol|Caprylyl Glycol|0.3-1 %|oil
SLSA|Sodium Lauryl Sulfoacetate|5-50 %|water
Green clay|Illite|5-50 %|insoluble
Orris butter|Iris Pallida Root Extract|0.1 %|oil'''))
M('web page', 'ingredient_cards.html', '''Caprylyl glycol ¦ caprylyl-glycol
SLSA ¦ sodium-lauryl-sulfoacetate-powder
Green clay ¦ /french-green-clay
Orris butter ¦ new|?|own-orris-butter''')

xl('pres_list.xlsx', '''Preservatives we have|||
Name|INCI|Max %|pH
Broad Guard P|Phenoxyethanol, Caprylyl Glycol|1.1|3-10
Soft Guard L|Levulinic Acid, Sodium Levulinate, Glycerin, Aqua|3|4-5.5
Sorbic acid|Sorbic Acid|0.6|<5.5
Benzyl alcohol|Benzyl Alcohol|1|3-8''')
M('trade names', 'pres_list.xlsx', '''Broad Guard P ¦ phenoxyethanol-and-caprylyl-glycol-blend|?|new|own-broad-guard-p
Soft Guard L ¦ new|?|own-soft-guard-l
Sorbic acid ¦ sorbic-acid
Benzyl alcohol ¦ benzyl-alcohol''')
end('fifth')
