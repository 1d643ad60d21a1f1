"""Further recipes and lists: words of headings, layouts, amounts, text, pages, prices."""
from kit import *
E=lambda x: x+'|?'+x
A3=[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'B')]
B3=[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')]
H=['Ingredient','%']
# headings of percent in many words
for n,h in enumerate(['Einsatzmenge %','Usage rate (%)','Use level','Dosage','Conc. %','M-%','Ma.-%','Anteil in %','Qté (%)','% p/p','Dose %','Wt %','%wt','% by weight','Percent by weight','Gew%','Gewicht %','Massen-%','Menge [%]','Zusammensetzung %','Formula %','Recipe %','% in formula','Amount in %','Level (% w/w)','Share of total','Procent wagowy','Ilość %','% poids','% m/m','Final %','Inclusion %','Content %']):
    text('heading words',f'h_{n}.csv',f'Ingredient;{h}\nWater;70\nGlycerin;5\nOlive oil;25\n',B3)
for n,h in enumerate(['INCI name / Trade name','Ingredients used','What goes in','Rohstoff/INCI','Zutaten','Matières premières','Materia prima','Składniki','Naam grondstof','RM','Raw mat.','Ingr.','Components (INCI)']):
    text('heading words',f'n_{n}.csv',f'{h};%\nWater;70\nGlycerin;5\nOlive oil;25\n',B3)
for n,h in enumerate(['Weight in g','gr','Gramm','Gewicht in Gramm','Einwaage [g]','Qty g','Menge/g','Poids en g','Peso (gramos)','Ilość (g)','Amount (grams)','per 100g','g/100g','for 100 g','Batch 100 g']):
    text('heading words',f'g_{n}.csv',f'Ingredient;{h}\nWater;70\nGlycerin;5\nOlive oil;25\n',B3)
xlsx('layouts','order_reversed.xlsx',[['%','Ingredient','Phase'],[70,'Water','A'],[5,'Glycerin','A'],[25,'Olive oil','B']],A3)
xlsx('layouts','name_inci_brackets.xlsx',[H,['Water (Aqua)',60],['Shea butter (Butyrospermum Parkii Butter)',20],['Sweet almond oil (Prunus Amygdalus Dulcis)',15],['Cetyl alcohol [Cetyl Alcohol]',5]],[('Water (Aqua)',W,60,'A'),('Shea butter (Butyrospermum Parkii Butter)',SH,20,'A'),('Sweet almond oil (Prunus Amygdalus Dulcis)',E(AL),15,'A'),('Cetyl alcohol [Cetyl Alcohol]',E(CEA),5,'A')])
xlsx('layouts','caps.xlsx',[['INGREDIENT','%'],['WATER',70],['GLYCERINE',5],['OLIVE OIL',25]],[('WATER',W,70,'A'),('GLYCERINE',G,5,'A'),('OLIVE OIL',OL,25,'A')])
xlsx('layouts','supplier_suffix.xlsx',[H,['Water',70],['Glycerin (Fell Supplies)',5],['Olive oil - organic',25]],[('Water',W,70,'A'),('Glycerin (Fell Supplies)',E(G),5,'A'),('Olive oil - organic',E(OL),25,'A')])
xlsx('layouts','active_in_name.xlsx',[H,['Water',60],['Cocamidopropyl betaine (30% active)',20],['Decyl glucoside (51 % active)',19],['Lactic acid (80%)',1]],[('Water',W,60,'A'),('Cocamidopropyl betaine (30% active)',E('cocamidopropyl-betaine-solution-30'),20,'A'),('Decyl glucoside (51 % active)',E(DG),19,'A'),('Lactic acid (80%)',E('lactic-acid-80'),1,'A')])
xlsx('layouts','cumulative.xlsx',[['Ingredient','%','Cumulative %'],['Water',70,70],['Glycerin',5,75],['Olive oil',25,100]],B3)
xlsx('layouts','min_max_used.xlsx',[['Ingredient','Min %','Max %','Used %'],['Water','','',70],['Glycerin',1,10,5],['Olive oil',5,40,25]],B3)
xlsx('layouts','target_actual.xlsx',[['Phase','Ingredient','Lot no.','Target %','Required (g)','Actual (g)','Weighed by'],['A','Water','',70,350,350.4,'JM'],['A','Glycerin','G-77',5,25,25.1,'JM'],['B','Olive oil','O-12',25,125,124.8,'JM']],A3)
xlsx('layouts','cost_right.xlsx',[['Phase','Ingredient','%','','Ingredient','Cost'],['A','Water',70,'','Water',.1],['A','Glycerin',5,'','Glycerin',.4],['B','Olive oil',25,'','Olive oil',2]],A3)
xlsx('layouts','one_cell.xlsx',[['Water 70%\nGlycerin 5%\nOlive oil 25%']],B3)
xlsx('layouts','phases_in_rows.xlsx',[['Phase A','Water 70 %','Glycerin 5 %'],['Phase B','Olive oil 25 %']],A3)
xlsx('layouts','block_left.xlsx',[['Name','Hand balm','','Ingredient','%'],['Author','Jo','','Water',70],['Date','2026-03-01','','Glycerin',5],['pH','5.5','','Olive oil',25]],B3)
xlsx('layouts','total_first.xlsx',[H,['Total',100],['Water',70],['Glycerin',5],['Olive oil',25]],B3)
xlsx('layouts','total_one_cell.xlsx',[H,['Water',70],['Glycerin',5],['Olive oil',25],['Total: 100 %','']],B3)
xlsx('layouts','steps_between.xlsx',[['Phase','Ingredient','%'],['A','Water',70],['A','Glycerin',5],['','Heat to 75 °C and stir',''],['B','Olive oil',25],['','Add B to A','']],A3)
xlsx('layouts','checkboxes.xlsx',[['✓','Ingredient','%','done'],['☐','Water',70,'x'],['☐','Glycerin',5,''],['☐','Olive oil',25,'']],B3)
xlsx('layouts','blank_between.xlsx',[H,['Water',70],[],['Glycerin',5],[],[],['Olive oil',25]],B3)
xlsx('layouts','title_batch.xlsx',[['Hand cream – 500 g'],['Ingredient','g'],['Water','350'],['Glycerin',25],['Olive oil',125]],B3,batch=500)
xlsx('layouts','nbsp.xlsx',[H,['Water\u00a0','70\u00a0'],['Glycerin','5\u00a0%'],['Olive oil',' 25 ']],B3)
xlsx('layouts','water_grams_qs.xlsx',[['Ingredient','%','g'],['Water','q.s.',350],['Glycerin',5,25],['Olive oil',25,125]],B3)
xlsx('layouts','qs_text_beside.xlsx',[['Ingredient','%',''],['Water',70,'q.s. to 100'],['Glycerin',5,''],['Olive oil',25,'']],B3)
xlsx('amounts','zero_optional.xlsx',[H,['Water',70],['Glycerin',5],['Olive oil',25],['Lavender EO','optional'],['Beeswax',0],['Shea butter','-']],B3+[('Lavender EO','?'+LAV,0,'A'),('Beeswax',E(BW),0,'A')],said=['Shea butter'])
xlsx('amounts','less_than.xlsx',[H,['Water',70],['Glycerin',5],['Olive oil','24.9'],['Lavender EO','< 0.1']],[('Water',W,70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,24.9,'A'),('Lavender EO','?'+LAV,None,'A')])
xlsx('amounts','ww_text.xlsx',[H,['Water','70 % w/w'],['Glycerin','5 % w/w'],['Olive oil','25 % (w/w)']],B3)
xlsx('amounts','fraction_total.xlsx',[H,['Water',.7],['Glycerin',.05],['Olive oil',.25],['Total',1]],B3)
xlsx('amounts','small_percent.xlsx',[['Ingredient','%'],['Water','q.s.'],['Sodium benzoate',.4],['Citric acid, monohydrate',.1],['Xanthan gum',.3]],[('Water',W,99.2,'A'),('Sodium benzoate',E(SB),.4,'A'),('Citric acid, monohydrate',E(CIT),.1,'A'),('Xanthan gum',E(XG),.3,'A')],assumed=True)
text('amounts','in_names.txt','Water 350g\nGlycerin 25g\nOlive oil 125g\n',B3,batch=500)
text('amounts','comma_quoted.csv','Ingredient,%\nWater,"70,5"\nGlycerin,"4,5"\nOlive oil,"25,0"\n',[('Water',W,70.5,'A'),('Glycerin',G,4.5,'A'),('Olive oil',OL,25,'A')])
text('amounts','mix_ml.csv','Ingredient,Amount\nWater,70 ml\nGlycerin,5 g\nOlive oil,25 g\n',[('Water',E(W),70,'A'),('Glycerin',G,5,'A'),('Olive oil',OL,25,'A')],tol=.2)
text('amounts','kg_batch.csv','Batch 25 kg;\nIngredient;kg\nWater;17.5\nGlycerin;1.25\nOlive oil;6.25\n',B3,batch=25000)
text('amounts','grains.csv','Ingredient,Amount\nOlive oil,8 oz\nBeeswax,2 oz\nLavender EO,20 drops\n',[('Olive oil',OL,79.7,'A'),('Beeswax',BW,19.9,'A'),('Lavender EO','?'+LAV,.35,'A')],tol=.4)
text('free text 2','dash_list.txt','Body butter\n\nShea butter - 60 g\nCoconut oil - 20 g\nSweet almond oil - 19 g\nLavender EO - 1 g\n\nMelt and whip.\n',[('Shea butter',SH,60,'A'),('Coconut oil',CO,20,'A'),('Sweet almond oil',AL,19,'A'),('Lavender EO',LAV,1,'A')])
text('free text 2','paren_phase.txt','(A) Water 70 %\n(A) Glycerin 5 %\n(B) Olive oil 25 %\n',A3)
text('free text 2','phase_colon.txt','Phase A:\nWater 70\nGlycerin 5\nPhase B:\nOlive oil 25\n',A3)
text('free text 2','eq.txt','Water = 70%\nGlycerin = 5%\nOlive oil = 25%\n',B3)
text('free text 2','fr.txt','Phase A\n70 g d\'eau\n5 g de glycérine\nPhase B\n25 g d\'huile d\'olive\n',[("eau",W,70,'A'),('glycérine',G,5,'A'),("huile d'olive",OL,25,'B')])
text('free text 2','tabs.txt','Water\t70\nGlycerin\t5\nOlive oil\t25\n',B3)
text('free text 2','trailing.txt','Water, 70%\nGlycerin, 5%\nOlive oil, 25%\n',B3)
text('free text 2','two.txt','Lip balm\nBeeswax 40%\nCastor oil 60%\n\nFoot balm\nShea butter 70%\nOlive oil 30%\n',[('Beeswax',BW,40,'A'),('Castor oil',CA,60,'A'),('Shea butter',SH,70,'A'),('Olive oil',OL,30,'A')],args=['--all'])
text('markdown 2','md_two.md','# A\n\n|Ingredient|%|\n|--|--|\n|Beeswax|40|\n|Castor oil|60|\n\n# B\n\n|Ingredient|%|\n|--|--|\n|Shea butter|70|\n|Olive oil|30|\n',[('Beeswax',BW,40,'A'),('Castor oil',CA,60,'A'),('Shea butter',SH,70,'A'),('Olive oil',OL,30,'A')],args=['--all'])
text('html 2','html_two.html','<h2>Lip balm</h2><table><tr><th>Ingredient</th><th>%</th></tr><tr><td>Beeswax</td><td>40</td></tr><tr><td>Castor oil</td><td>60</td></tr></table><h2>Foot balm</h2><table><tr><th>Ingredient</th><th>%</th></tr><tr><td>Shea butter</td><td>70</td></tr><tr><td>Olive oil</td><td>30</td></tr></table>',[('Beeswax',BW,40,'A'),('Castor oil',CA,60,'A'),('Shea butter',SH,70,'A'),('Olive oil',OL,30,'A')],args=['--all'])
text('html 2','html_dl.html','<html><body><p><b>Phase A</b></p><p>Water 70%<br>Glycerin 5%</p><p><b>Phase B</b></p><p>Olive oil 25%</p></body></html>',A3)
text('html 2','html_nested.html','<html><body><table><tr><td><table><tr><th>Ingredient</th><th>%</th></tr><tr><td>Water</td><td>70</td></tr><tr><td>Glycerin</td><td>5</td></tr><tr><td>Olive oil</td><td>25</td></tr></table></td></tr></table></body></html>',B3)
text('html 2','html_del.html','<table><tr><th>Ingredient</th><th>%</th></tr><tr><td>Water</td><td><del>65</del> 70</td></tr><tr><td><s>Honey</s></td><td><s>5</s></td></tr><tr><td>Glycerin</td><td>5</td></tr><tr><td>Olive oil</td><td>25</td></tr></table>',B3)
def t(b,s): s.auto_filter.ref='A1:B5'; s.row_dimensions[3].hidden=True
xlsx('layouts','filtered.xlsx',[H,['Water',75],['Honey',5],['Olive oil',25]],[('Water',W,75,'A'),('Olive oil',OL,25,'A')],tweak=t)
def b1(b):
    s=b.add_worksheet('x'); s.write_row(0,0,H); s.write(1,0,'Water'); s.write_formula(1,1,'=100-B3-B4',None,70); s.write_row(2,0,['Glycerin',5]); s.write_row(3,0,['Olive oil',25]); s.write(4,0,'Sum'); s.write_formula(4,1,'=SUM(B2:B4)',None,100)
xw('layouts','formula_water.xlsx',b1,B3)
def b2(b):
    s=b.add_worksheet('x'); s.write_row(0,0,H); s.merge_range(1,0,1,1,'Phase A'); s.write_row(2,0,['Water',70]); s.write_row(3,0,['Glycerin',5]); s.merge_range(4,0,4,1,'Phase B'); s.write_row(5,0,['Olive oil',25])
xw('layouts','merged_phase_rows.xlsx',b2,A3)
ods('layouts','ods_text_numbers.ods',[('R',[['Zutat','Menge'],['Wasser','70,0 g'],['Glycerin','5,0 g'],['Olivenöl','25,0 g']])],[('Wasser',W,70,'A'),('Glycerin',G,5,'A'),('Olivenöl',OL,25,'A')])
# price lists 2
def pl(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='price',**m)
def px(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='price',**m)
def money(fmt):
    def t(b,s):
        for r in range(2,s.max_row+1): s.cell(r,s.max_column).number_format=fmt
    return t
px('prices 2','p2_money_fmt.xlsx',[['Material','Pack','Price'],['Glycerin','1 kg',7.8],['Shea butter','500 g',9.9]],[('Glycerin',G,['7.80 GBP for 1000 g']),('Shea butter',SH,['9.90 GBP for 500 g'])],tweak=money('"£"#,##0.00'))
px('prices 2','p2_money_locale.xlsx',[['Material','Pack','Price'],['Glycerin','1 kg',7.8],['Shea butter','500 g',9.9]],[('Glycerin',G,['7.80 EUR for 1000 g']),('Shea butter',SH,['9.90 EUR for 500 g'])],tweak=money('#,##0.00\\ [$€-407]'))
pl('prices 2','p2_per_kg_pack.csv','Product;Pack size (kg);Price per kg (EUR)\nGlycerin;5;5,50\nShea butter;1;15,00\n',[('Glycerin',G,['27.50 EUR for 5000 g']),('Shea butter',SH,['15.00 EUR for 1000 g'])])
pl('prices 2','p2_moq.csv','Material;MOQ;Price/kg EUR\nGlycerin;25 kg;4,90\nShea butter;10 kg;12,00\n',[('Glycerin',G,['4.90 EUR for 1000 g']),('Shea butter',SH,['12.00 EUR for 1000 g'])])
pl('prices 2','p2_section_heads.csv','Item,Size,Price (EUR)\nOils,,\nOlive oil,1 l,8.50\nCastor oil,500 ml,6.20\nButters,,\nShea butter,500 g,9.90\n',[('Olive oil',OL,['8.50 EUR for 1000 ml']),('Castor oil',CA,['6.20 EUR for 500 ml']),('Shea butter',SH,['9.90 EUR for 500 g'])])
pl('prices 2','p2_vat_each.csv','Item;Size;Price net EUR;VAT %;Price gross EUR\nGlycerin;1 kg;6,00;19;7,14\nHoney;500 g;5,00;7;5,35\n',[('Glycerin',G,['6.00 EUR for 1000 g']),('Honey','honey',['5.00 EUR for 500 g'])])
pl('prices 2','p2_two_currencies.csv','Item;Size;EUR;USD\nGlycerin;1 kg;6,00;6,60\nShea butter;1 kg;15,00;16,50\n',[('Glycerin',G,['6.00 EUR for 1000 g']),('Shea butter',SH,['15.00 EUR for 1000 g'])],assumed=True)
pl('prices 2','p2_stock_only.csv','Material;Stock (g);Lot;Best before\nGlycerin;2400;G-77;31.05.2027\nShea butter;800;S-12;30.06.2027\n',[('Glycerin',G,[],'G-77'),('Shea butter',SH,[],'S-12')])
pl('prices 2','p2_sums.csv','Article;Quantity;Unit;Unit price;Amount\nGlycerin;5;kg;5,50;27,50\nShea butter;2;kg;15,00;30,00\n;;;Subtotal;57,50\n;;;Shipping;6,90\n;;;Total;64,40\n',[('Glycerin',G,['5.50 EUR for 1000 g']),('Shea butter',SH,['15.00 EUR for 1000 g'])],assumed=True)
pl('prices 2','p2_dot_thousand.csv','Artikel;Gebinde;Preis €\nGlycerin;200 kg;1.050,00\nSheabutter;25 kg;300,00\n',[('Glycerin',G,['1050.00 EUR for 200000 g']),('Sheabutter',SH,['300.00 EUR for 25000 g'])])
pl('prices 2','p2_discount.csv','Item,Size,List price (£),Discount %,Net price (£)\nGlycerin,1 kg,8.00,25,6.00\nShea butter,1 kg,20.00,25,15.00\n',[('Glycerin',G,['6.00 GBP for 1000 g']),('Shea butter',SH,['15.00 GBP for 1000 g'])])
pl('prices 2','p2_old_new.csv','Item,Size,Price 2025 (€),Price 2026 (€)\nGlycerin,1 kg,5.50,6.00\nShea butter,1 kg,14.00,15.00\n',[('Glycerin',G,['6.00 EUR for 1000 g']),('Shea butter',SH,['15.00 EUR for 1000 g'])],assumed=True)
pl('prices 2','p2_multipack.csv','Item,Pack,Price €\nGlycerin,4 x 250 g,12.00\nShea butter,2x1kg,28.00\n',[('Glycerin',E(G),['12.00 EUR for 1000 g']),('Shea butter',E(SH),['28.00 EUR for 2000 g'])])
