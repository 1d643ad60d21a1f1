"""Recipes by class: amounts, columns, layouts, identities."""
from kit import *
E=lambda x: x+'|?'+x
# ---- soap
text('ounces','soap_oz.txt','''Olive oil,1 lb 4 oz
Coconut oil,10 oz
Castor oil,2 oz
''',[('Olive oil',OL,62.5,'A'),('Coconut oil',CO,31.25,'A'),('Castor oil',CA,6.25,'A')])
xlsx('ounces','balm_oz.xlsx',[['Ingredient','Weight (oz)'],['Shea butter',8],['Beeswax',2],['Sweet almond oil',5.75],['Lavender EO','1/4']],[('Shea butter',SH,50,'A'),('Beeswax',BW,12.5,'A'),('Sweet almond oil',AL,35.9375,'A'),('Lavender EO',LAV,1.5625,'A')])
text('soap','soap_pc_oils.csv','''Soap recipe,,
Ingredient,% of oils,Grams
Olive oil,50,500
Coconut oil,30,300
Palm oil,20,200
Water,,330
Sodium hydroxide,,142
Superfat,5 %,
''',[('Olive oil',OL,500/14.72,'A'),('Coconut oil',CO,300/14.72,'A'),('Palm oil','palm-oil',200/14.72,'A'),('Water',W,330/14.72,'A'),('Sodium hydroxide',E('sodium-hydroxide-pellets')+'|?new|new',142/14.72,'A')])
# ---- drops, spoons
text('drops','drops.csv','''Ingredient,Amount
Jojoba oil,50 g
Castor oil,49.5 g
Lavender essential oil,10 drops
''',[('Jojoba oil',JO,50,'A'),('Castor oil',CA,49.5,'A'),('Lavender essential oil','?'+LAV,.5,'A')],tol=.3)
text('drops','spoons.txt','''2 tbsp shea butter
1 tsp beeswax
10 drops lavender essential oil
''',[('shea butter','?'+SH,None,'A'),('beeswax','?'+BW,None,'A'),('lavender essential oil','?'+LAV,None,'A')])
# ---- q.s.
xlsx('q.s.','qs_ph.xlsx',[['Phase','Ingredient','%'],['A','Aqua','q.s. 100'],['A','Glycerin',5],['B','Sodium benzoate',.5],['B','Citric acid solution 20 %','q.s. pH 5.0'],['B','Perfume','q.s.']],
 [('Aqua',W,94.5,'A'),('Glycerin',G,5,'A'),('Sodium benzoate',SB,.5,'B'),('Citric acid solution 20 %','?citric-acid-solution-20',0,'B'),('Perfume','?',0,'B')])
text('q.s.','qs_not_water.csv','''Ingredient,%
Olive oil,q.s. to 100
Beeswax,20
Lavender essential oil,1
''',[('Olive oil',E(OL),79,'A'),('Beeswax',BW,20,'A'),('Lavender essential oil',LAV,1,'A')])
text('q.s.','qs_lone_lye.csv','''Ingredient,%
Water,95
Glycerin,5
Sodium hydroxide solution 10 %,q.s.
''',[('Water',W,95,'A'),('Glycerin',G,5,'A'),('Sodium hydroxide solution 10 %','?sodium-hydroxide-solution-10',0,'A')])
for n,w in enumerate(['ad 100','q.s.p. 100 %','c.s.p. 100','balance','Rest','up to 100%','to make 100','auf 100 auffüllen','qsp','QS to 100%','make up to 100 %']):
    text('q.s.',f'qs_form_{n}.csv',f'Ingredient;%\nWater;{w}\nGlycerin;5\nXanthan gum;0.3\n',[('Water',W,94.7,'A'),('Glycerin',G,5,'A'),('Xanthan gum',XG,.3,'A')])
# ---- ranges
text('ranges','ranges.csv','''Ingredient,%
Water,to 100
Glycerin,3-5
Xanthan gum,0.2 – 0.4 %
''',[('Water',W,95.7,'A'),('Glycerin','?'+G,4,'A'),('Xanthan gum','?'+XG,.3,'A')])
# ---- grams with stated batch
xlsx('stated batch','batch_grams.xlsx',[['Oat shower gel'],['Batch size:','2 kg'],['Ingredient','g'],['Water','q.s.'],['Glycerin',60],['Decyl glucoside solution 51 %',500],['Sodium benzoate',10]],[('Water',W,71.5,'A'),('Glycerin',G,3,'A'),('Decyl glucoside solution 51 %',DG,25,'A'),('Sodium benzoate',SB,.5,'A')],batch=2000)
xlsx('stated batch','batch_num.xlsx',[['Batch size (g)',1500],[],['Ingredient','Weight (g)'],['Water','to 1500'],['Glycerin',75],['Sodium benzoate',7.5]],[('Water',W,94.5,'A'),('Glycerin',G,5,'A'),('Sodium benzoate',SB,.5,'A')],batch=1500)
text('stated batch','batch_heading.csv','''Rohstoff;Menge (g) für 500 g
Wasser;ad 500
Glycerin;25
Natriumbenzoat;2,5
''',[('Wasser',W,94.5,'A'),('Glycerin',G,5,'A'),('Natriumbenzoat',SB,.5,'A')],batch=500)
# ---- several recipes
xlsx('several on a sheet','two_below.xlsx',[['Balm A'],['Ingredient','%'],['Shea butter',60],['Olive oil',40],[],['Balm B'],['Ingredient','%'],['Shea butter',50],['Beeswax',50]],[('Shea butter',SH,60,'A'),('Olive oil',OL,40,'A'),('Shea butter',SH,50,'A'),('Beeswax',BW,50,'A')],args=['--all'])
xlsx('several on a sheet','two_below_nohead.xlsx',[['Recipe','','' ],['Ingredient','%',''],['Lip balm','',''],['Beeswax',40,''],['Castor oil',60,''],['Total',100,''],['','',''],['Foot balm','',''],['Shea butter',70,''],['Olive oil',30,''],['Total',100,'']],[('Beeswax',BW,40,'A'),('Castor oil',CA,60,'A'),('Shea butter',SH,70,'A'),('Olive oil',OL,30,'A')],args=['--all'])
xlsx('several on a sheet','two_beside.xlsx',[['Balm A','','','Balm B',''],['Ingredient','%','','Ingredient','%'],['Shea butter',60,'','Shea butter',50],['Olive oil',40,'','Beeswax',50]],[('Shea butter',SH,60,'A'),('Olive oil',OL,40,'A'),('Shea butter',SH,50,'A'),('Beeswax',BW,50,'A')],args=['--all'])
def t(b,s):
    for n,rows in [('Gel',[['Ingredient','%'],['Water',80],['Glycerin',20]]),('Balm',[['Ingredient','%'],['Olive oil',75],['Beeswax',25]])]:
        x=b.create_sheet(n)
        for r in rows: x.append(r)
    b.active=2
xlsx('several sheets','three_sheets.xlsx',[['My recipes'],['see the other sheets']],[('Olive oil',OL,75,'A'),('Beeswax',BW,25,'A')],tweak=t,sheet='Index')
# ---- versions
xlsx('versions','versions.xlsx',[['Phase','Ingredient','V1 %','V2 %','V3 %'],['A','Water',80,75,70],['A','Glycerin',5,10,10],['B','Olive oil',15,15,20]],[('Water',W,80,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,15,'B'),('Water',W,75,'A'),('Glycerin',G,10,'A'),('Olive oil',OL,15,'B'),('Water',W,70,'A'),('Glycerin',G,10,'A'),('Olive oil',OL,20,'B')])
xlsx('versions','trial_numbers.xlsx',[['Ingredient','Trial 1','Trial 2'],['Water',80,75],['Glycerin',5,10],['Olive oil',15,15]],[('Water',W,80,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,15,'A'),('Water',W,75,'A'),('Glycerin',G,10,'A'),('Olive oil',OL,15,'A')])
xlsx('versions','old_new.xlsx',[['Ingredient','Old %','New %'],['Water',80,75],['Glycerin',5,10],['Olive oil',15,15]],[('Water',W,75,'A'),('Glycerin',G,10,'A'),('Olive oil',OL,15,'A')])
xlsx('versions','dates_as_versions.xlsx',[['Ingredient','2026-01-05','2026-02-11'],['Water',80,75],['Glycerin',5,10],['Olive oil',15,15]],[('Water',W,80,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,15,'A'),('Water',W,75,'A'),('Glycerin',G,10,'A'),('Olive oil',OL,15,'A')])
# ---- several columns
xlsx('batch columns','sizes.xlsx',[['Phase','Ingredient','%','100 g','250 g','1 kg'],['A','Water',70,70,175,700],['A','Glycerin',5,5,12.5,50],['B','Olive oil',25,25,62.5,250]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'B')])
xlsx('batch columns','sizes_only.xlsx',[['Ingredient','100 g','250 g','1 kg'],['Water',70,175,700],['Glycerin',5,12.5,50],['Olive oil',25,62.5,250]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
xlsx('percent columns','phase_pc.xlsx',[['Phase','Ingredient','% in phase','% total'],['A','Water',93.3,70],['A','Glycerin',6.7,5],['B','Olive oil',80,20],['B','Beeswax',20,5]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Beeswax',BW,5,'B')])
xlsx('percent columns','max_use.xlsx',[['Ingredient','Max %','%'],['Water','',93],['Glycerin',10,5.5],['Sodium benzoate',.5,.5],['Perfume','',1]],[('Water',W,93,'A'),('Glycerin',G,5.5,'A'),('Sodium benzoate',SB,.5,'A'),('Perfume','?',1,'A')])
xlsx('percent columns','active.xlsx',[['Raw material','Active %','Input %','Active in formula %'],['Water','',61,0],['Sodium laureth sulfate',28,30,8.4],['Cocamidopropyl betaine',30,8,2.4],['Sodium chloride',100,1,1]],[('Water',W,61,'A'),('Sodium laureth sulfate',SLES28,30,'A'),('Cocamidopropyl betaine','cocamidopropyl-betaine-solution-30',8,'A'),('Sodium chloride',NACL,1,'A')])
xlsx('percent columns','cost.xlsx',[['Ingredient','Price per kg','%','Cost'],['Water',.1,70,.07],['Glycerin',6,5,.3],['Olive oil',9.5,25,2.375]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
xlsx('percent columns','disagree.xlsx',[['Ingredient','%','g (500 g)'],['Water',70,350],['Glycerin',5,50],['Olive oil',25,125]],[('Water',W,70,'A'),('Glycerin','?'+G,5,'A'),('Olive oil',OL,25,'A')])
text('percent columns','text_two.csv','''Ingredient;Percent;Batch
Water;70 %;350 g
Glycerin;5 %;25 g
Olive oil;25 %;125 g
''',[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
# ---- codes
xlsx('codes','codes.xlsx',[['Item no','Description','Phase','%'],['RM-001','Water','A',70],['RM-017','Glycerin','A',5],['RM-102','Olive oil','B',25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'B')])
xlsx('codes','codes_de.xlsx',[['Artikel-Nr.','Bezeichnung','Menge'],[10021,'Wasser',70],[10033,'Glycerin',5],[10177,'Olivenöl',25]],[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Olivenöl',OL,25,'A')])
xlsx('codes','numbered_rows.xlsx',[['#','Ingredient','Phase','%'],[1,'Water','A',70],[2,'Glycerin','A',5],[3,'Olive oil','B',25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'B')])
xlsx('codes','phase_items.xlsx',[['Pos','Ingredient','%'],['A1','Water',70],['A2','Glycerin',5],['B1','Olive oil',20],['B2','Beeswax',5]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Beeswax',BW,5,'B')])
# ---- subtotals
xlsx('subtotals','subtotals.xlsx',[['Phase','Ingredient','%'],['A','Water',70],['A','Glycerin',5],['','Subtotal A',75],['B','Olive oil',20],['B','Beeswax',5],['','Subtotal B',25],['','TOTAL',100]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Beeswax',BW,5,'B')])
xlsx('subtotals','phase_sum_rows.xlsx',[['Ingredient','%'],['Phase A',75],['Water',70],['Glycerin',5],['Phase B – oil phase',25],['Olive oil',20],['Beeswax',5]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Beeswax',BW,5,'B')])
xlsx('subtotals','wordless_sum.xlsx',[['Ingredient','%'],['Water',70],['Glycerin',5],['',75],['Olive oil',20],['Beeswax',5],['',25],['',100]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'A'),('Beeswax',BW,5,'A')])
xlsx('subtotals','oil_total_word.xlsx',[['Ingredient','%'],['Olive oil',60],['Coconut oil',39],['Oils total',99],['Lavender EO',1],['Everything',100]],[('Olive oil',OL,60,'A'),('Coconut oil',CO,39,'A'),('Lavender EO',LAV,1,'A')])
# ---- headings repeated
xlsx('headings repeated','repeat_heads.xlsx',[['Lotion'],['PHASE A'],['Ingredient','INCI','%'],['Water','Aqua',70],['Glycerin','Glycerin',5],['PHASE B'],['Ingredient','INCI','%'],['Olive oil','Olea Europaea Fruit Oil',20],['Cetearyl alcohol','Cetearyl Alcohol',5]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Cetearyl alcohol',CAL,5,'B')])
def t(b,s): s.merge_cells('A2:C2'); s.merge_cells('A5:C5')
xlsx('headings of phases','phase_merged_rows.xlsx',[['Ingredient','%','Function'],['Water phase (A)',None,None],['Water',70,'solvent'],['Glycerin',5,'humectant'],['Oil phase (B) 75 °C',None,None],['Olive oil',20,'oil'],['Beeswax',5,'wax']],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Beeswax',BW,5,'B')],tweak=t)
xlsx('headings of phases','roman.xlsx',[['Phase','Ingredient','%'],['I','Water',70],['I','Glycerin',5],['II','Olive oil',20],['III','Lavender EO',5]],[('Water',W,70,'I'),('Glycerin',G,5,'I'),('Olive oil',OL,20,'II'),('Lavender EO',LAV,5,'III')])
xlsx('headings of phases','words_phase.xlsx',[['Phase','Ingredient','%'],['Wasserphase','Wasser',70],['','Glycerin',5],['Fettphase','Olivenöl',20],['','Bienenwachs',4],['Wirkstoffphase','Lavendelöl',1]],[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Olivenöl',OL,20,'B'),('Bienenwachs',BW,4,'B'),('Lavendelöl',LAV,1,'C')])
xlsx('headings of phases','phase_last.xlsx',[['Ingredient','%','Phase'],['Water',70,'A'],['Olive oil',20,'B'],['Glycerin',5,'A'],['Beeswax',5,'B']],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Beeswax',BW,5,'B')])
# ---- units
xlsx('units','unit_col.xlsx',[['Ingredient','Qty','Unit'],['Olive oil',1,'kg'],['Beeswax',250,'g'],['Shea butter',0.75,'kg']],[('Olive oil',OL,50,'A'),('Beeswax',BW,12.5,'A'),('Shea butter',SH,37.5,'A')])
text('units','mixed_units.csv','Ingredient,Amount\nOlive oil,1 kg\nBeeswax,250g\nShea butter,"0,75 kg"\n',[('Olive oil',OL,50,'A'),('Beeswax',BW,12.5,'A'),('Shea butter',SH,37.5,'A')])
text('units','thousands.csv','Rohstoff;Menge (g)\nWasser;1.400,0\nGlycerin;100,0\nOlivenöl;500,0\n',[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Olivenöl',OL,25,'A')],batch=2000)
text('units','swiss.csv',"Rohstoff;Menge (g)\nWasser;1'400.00\nGlycerin;100.00\nOlivenöl;500.00\n",[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Olivenöl',OL,25,'A')],batch=2000)
text('units','parts.txt','3 parts olive oil\n1 part beeswax\n',[('olive oil',OL,75,'A'),('beeswax',BW,25,'A')])
text('units','parts_col.csv','Zutat;Teile\nOlivenöl;3\nBienenwachs;1\n',[('Olivenöl',OL,75,'A'),('Bienenwachs',BW,25,'A')])
# ---- fractions
def t(b,s):
    for r in (2,4): s.cell(r,2).number_format='0.00%'
xlsx('fractions','mixed_fraction.xlsx',[['Ingredient','%'],['Water',.705],['Glycerin',5],['Olive oil',.245]],[('Water',W,70.5,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,24.5,'A')],tweak=t)
xlsx('fractions','fraction_balance.xlsx',[['Ingredient','%'],['Water','balance'],['Glycerin',.05],['Olive oil',.25]],[('Water',W,70,'A'),('Glycerin',E(G),5,'A'),('Olive oil',E(OL),25,'A')],assumed=True)
xlsx('fractions','plain_fraction.xlsx',[['Ingredient','Share'],['Water',.7],['Glycerin',.05],['Olive oil',.25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
# ---- footnotes
xlsx('footnotes','footnotes.xlsx',[['Ingredient','%'],['Water*',70],['Glycerin','5.0**'],['Olive oil (organic)¹','25 % (max)'],['* or hydrosol'],['** vegetable'],['¹ certified']],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil (organic)',E(OL),25,'A')])
xlsx('footnotes','approx.xlsx',[['Ingredient','%'],['Water','approx 70'],['Glycerin','ca. 5'],['Olive oil','25']],[('Water','?'+W,70,'A'),('Glycerin','?'+G,5,'A'),('Olive oil',OL,25,'A')])
# ---- hidden and struck
def t(b,s):
    s.row_dimensions[4].hidden=True
xlsx('hidden','hidden_row.xlsx',[['Ingredient','%'],['Water',75],['Olive oil',25],['Beeswax',5]],[('Water',W,75,'A'),('Olive oil',OL,25,'A')],tweak=t,said=['Beeswax'])
def t(b,s):
    for c in 'AB': s[f'{c}4'].font=Font(strike=True)
xlsx('hidden','struck_row.xlsx',[['Ingredient','%'],['Water',75],['Olive oil',25],['Beeswax',5]],[('Water',W,75,'A'),('Olive oil',OL,25,'A')],tweak=t,said=['Beeswax'])
def t(b,s): s.column_dimensions['B'].hidden=True
xlsx('hidden','hidden_col.xlsx',[['Ingredient','%','% new'],['Water',70,75],['Olive oil',30,25]],[('Water',W,75,'A'),('Olive oil',OL,25,'A')],tweak=t)
def b5(b):
    s=b.add_worksheet('R'); st=b.add_format({'font_strikeout':True}); s.write_row(0,0,['Ingredient','%']); s.write(1,0,'Water'); s.write(1,1,75)
    s.write_rich_string(2,0,st,'Sunflower oil ',b.add_format({}),'Olive oil'); s.write(2,1,25)
xw('hidden','partial_strike.xlsx',b5,[('Olive oil',E(OL),25,'A'),('Water',W,75,'A')])
def b6(b):
    s=b.add_worksheet('R'); st=b.add_format({'font_strikeout':True}); s.write_row(0,0,['Ingredient','%']); s.write_row(1,0,['Water',75]); s.write(2,0,'Olive oil'); s.write_rich_string(2,1,st,'20',b.add_format({}),' 25')
xw('hidden','partial_strike_amount.xlsx',b6,[('Water',W,75,'A'),('Olive oil',E(OL),25,'A')])
def b7(b):
    s=b.add_worksheet('R'); st=b.add_format({'font_strikeout':True}); s.write_row(0,0,['Ingredient','%']); s.write_row(1,0,['Water',75]); s.write(2,0,'Olive oil'); s.write(2,1,20,st); s.write_row(3,0,['Beeswax',25])
xw('hidden','strike_amount_only.xlsx',b7,[('Water',W,75,'A'),('Beeswax',BW,25,'A')],said=['Olive oil'])
# ---- procedure beside
def t(b,s): s.merge_cells('D2:D3')
xlsx('procedure','beside.xlsx',[['Phase','Ingredient','%','Procedure'],['A','Water',70,'Heat A to 75 °C.'],['A','Glycerin',5,None],['B','Olive oil',20,'Heat B, add to A while stirring.'],['B','Cetearyl alcohol',5,None]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,20,'B'),('Cetearyl alcohol',CAL,5,'B')],tweak=t,steps=2)
xlsx('procedure','below.xlsx',[['Ingredient','%'],['Water',75],['Olive oil',25],[],['pH',5.5],['Viscosity (mPa s)',4500],[],['Procedure'],['1. Heat the water to 75 °C.'],['2. Add the oil and stir for 5 min.']],[('Water',W,75,'A'),('Olive oil',OL,25,'A')],steps=2)
# ---- two-row headings, unit row
xlsx('headings','unit_row.xlsx',[['Phase','Ingredient','Amount','Amount'],['','','%','g'],['A','Water',75,375],['B','Olive oil',25,125]],[('Water',W,75,'A'),('Olive oil',OL,25,'B')])
xlsx('headings','none.xlsx',[['A','Water',70],['A','Glycerin',5],['B','Olive oil',25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'B')])
xlsx('headings','misspelt.xlsx',[['Phaze','Ingrediant','Percentige'],['A','Water',70],['A','Glycerin',5],['B','Olive oil',25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'B')])
xlsx('headings','unknown.xlsx',[['Stuff in it','How much I take','Why'],['Water',70,''],['Glycerin',5,'moist'],['Olive oil',25,'']],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
xlsx('headings','far_right.xlsx',[[None]*5,[None]*3+['Ingredient','%'],[None]*3+['Water',70],[None]*3+['Olive oil',30]],[('Water',W,70,'A'),('Olive oil',OL,30,'A')])
xlsx('headings','transposed.xlsx',[['','Water','Glycerin','Olive oil'],['%',70,5,25]],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')])
xlsx('headings','inci_only.xlsx',[['INCI','% w/w'],['Aqua',60],['Glycerin',5],['Olea Europaea Fruit Oil',20],['Cetearyl Alcohol',5],['Butyrospermum Parkii Butter',10]],[('Aqua',W,60,'A'),('Glycerin',G,5,'A'),('Olea Europaea Fruit Oil',OL,20,'A'),('Cetearyl Alcohol',CAL,5,'A'),('Butyrospermum Parkii Butter',SH,10,'A')])
# ---- identities
xlsx('identities','contradict.xlsx',[['Name','INCI','CAS','%'],['Vitamin E','Tocopheryl Acetate','',.5],['Betaine','Betaine','107-43-7',3],['Emulsifying wax NF','Ceteareth-20, Cetearyl Alcohol','',4],['Lye solution 30 %','Sodium Hydroxide','1310-73-2',.3],['Water','Aqua','7732-18-5',92.2]],
 [('Vitamin E',E('tocopheryl-acetate'),.5,'A'),('Betaine',E('betaine-trimethylglycine-powder'),3,'A'),('Emulsifying wax NF',E('cetearyl-alcohol-and-ceteareth-20'),4,'A'),('Lye solution 30 %','sodium-hydroxide-solution-30',.3,'A'),('Water',W,92.2,'A')])
xlsx('identities','blends.xlsx',[['Ingredient','%'],['Cetearyl alcohol (and) ceteareth-20',5],['Benzyl alcohol (and) dehydroacetic acid',.8],['Glyceryl stearate (and) PEG-100 stearate',4],['Cetearyl Olivate, Sorbitan Olivate',3],['Aqua (Water) (Eau)',87.2]],
 [('Cetearyl alcohol (and) ceteareth-20','cetearyl-alcohol-and-ceteareth-20',5,'A'),('Benzyl alcohol (and) dehydroacetic acid','benzyl-alcohol-and-dehydroacetic-acid-blend',.8,'A'),('Glyceryl stearate (and) PEG-100 stearate','glyceryl-stearate-and-peg-100-stearate',4,'A'),('Cetearyl Olivate, Sorbitan Olivate','cetearyl-olivate-and-sorbitan-olivate',3,'A'),('Aqua (Water) (Eau)',W,87.2,'A')])
xlsx('identities','strengths.xlsx',[['Ingredient','%'],['SLES 28 %',30],['SLES 70%',5],['Lactic acid 80%',1],['Urea 40 % paste',2],['AOS liquid 40 %',10],['NaOH 20% solution',.5],['SLES',3],['D-panthenol 75%',1],['Water',47.5]],
 [('SLES 28 %',SLES28,30,'A'),('SLES 70%',SLES70,5,'A'),('Lactic acid 80%','lactic-acid-80',1,'A'),('Urea 40 % paste','?new|?urea',2,'A'),('AOS liquid 40 %',E('sodium-c14-16-olefin-sulfonate-solution-39'),10,'A'),('NaOH 20% solution',E('sodium-hydroxide-solution-20'),.5,'A'),('SLES','?'+SLES28+'|'+SLES70+'|new',3,'A'),('D-panthenol 75%','d-panthenol-75',1,'A'),('Water',W,47.5,'A')])
xlsx('identities','trade_inci.xlsx',[['Trade name','INCI','Supplier','%'],['Fellwax OE','Cetearyl Olivate (and) Sorbitan Olivate','Fell Supplies',5],['Mossguard','Phenoxyethanol, Ethylhexylglycerin','Fell Supplies',1],['Dewcap HA','Sodium Hyaluronate','Fell Supplies',.1],['Fellcap XY','Aqua, Glycerin, Calluna Vulgaris Flower Extract','Fell Supplies',3],['Water','Aqua','',90.9]],
 [('Fellwax OE',E('cetearyl-olivate-and-sorbitan-olivate'),5,'A'),('Mossguard',E(PHE)+'|?new',1,'A'),('Dewcap HA',E('sodium-hyaluronate-powder'),.1,'A'),('Fellcap XY','new|?new|?heather-extract-in-glycerin',3,'A'),('Water',W,90.9,'A')])
xlsx('identities','informal.xlsx',[['Ingredient','%'],['BTMS-50',5],['Capric caprylic',10],['Vit E',.5],['Aloe juice',20],['Panthenol powder',1],['Hydrolysed silk',2],['Tea tree EO',.5],['Rose hydrosol',10],['Water',51]],
 [('BTMS-50',E('behentrimonium-methosulfate-50-in-cetyl-alcohol-and-butylene-glycol'),5,'A'),('Capric caprylic',E(CCT)+'|new',10,'A'),('Vit E',TOC,.5,'A'),('Aloe juice',E('aloe-vera-juice'),20,'A'),('Panthenol powder',E('dl-panthenol-powder'),1,'A'),('Hydrolysed silk',E('hydrolyzed-silk-10'),2,'A'),('Tea tree EO','tea-tree-essential-oil',.5,'A'),('Rose hydrosol',E('rose-water'),10,'A'),('Water',W,51,'A')])
# ---- kind
text('kind','leaveon.txt','Leave-on body balm,\nIngredient,%\nShea butter,60\nOlive oil,40\n',[('Shea butter',SH,60,'A'),('Olive oil',OL,40,'A')],leave_on=True)
# ---- LibreOffice conversions
for src in ['hidden_row.xlsx','struck_row.xlsx','shampoo_formulas.xlsx','lotion_merged.xlsx','balm_fmt_g.xlsx','partial_strike.xlsx','subtotals.xlsx','beside.xlsx']:
    o=[c for c in CASES if c['file']==src][0]
    for f in ['ods']+(['html'] if src in('lotion_merged.xlsx','subtotals.xlsx','shampoo_formulas.xlsx') else [])+(['csv'] if src in('subtotals.xlsx','lotion_merged.xlsx') else []):
        m={k:v for k,v in o.items() if k not in('cls','file','lines')}
        lo('libreoffice',f"lo_{src[:-5]}.{f}",src,f,o['lines'],**m)
