"""Price lists, invoices, stock lists and lists of materials."""
from kit import *
E=lambda x: x+'|?'+x
def pl(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='price',**m)
def px(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='price',**m)
# line: (written, ids, [ "price CUR for amount unit", ...], lot text or None)
px('packs','p_packs.xlsx',[['Fell Supplies, price list 2026 (invented)'],[],['Product','Pack','Price EUR'],['Glycerin 99.5 %','1 kg',7.8],['Shea butter','500 g',9.9],['Olive oil','5 l',49.5],['Beeswax, white','250 g',6.25]],[('Glycerin 99.5 %',G,['7.80 EUR for 1000 g']),('Shea butter',SH,['9.90 EUR for 500 g']),('Olive oil',OL,['49.50 EUR for 5000 ml']),('Beeswax, white',BW,['6.25 EUR for 250 g'])])
pl('per 100 g','p_per100.csv','Rohstoff;Preis je 100 g (€)\nSheabutter;1,98\nBienenwachs;2,50\n',[('Sheabutter',SH,['1.98 EUR for 100 g']),('Bienenwachs',BW,['2.50 EUR for 100 g'])])
pl('per 100 g','p_basis_col.csv','Rohstoff;Preis;pro\nSheabutter;1,98 €;100 g\nBienenwachs;12,50 €;kg\nGlycerin;4,20 €;500 g\n',[('Sheabutter',SH,['1.98 EUR for 100 g']),('Bienenwachs',BW,['12.50 EUR for 1000 g']),('Glycerin',G,['4.20 EUR for 500 g'])])
pl('per 100 g','p_in_cell.csv','Material,Price\nShea butter,€1.98/100 g\nBeeswax,12.50 €/kg\nGlycerin,4.20 EUR per 500 g\n',[('Shea butter',SH,['1.98 EUR for 100 g']),('Beeswax',BW,['12.50 EUR for 1000 g']),('Glycerin',G,['4.20 EUR for 500 g'])])
px('tiers','p_tiers_size.xlsx',[['Material','100 g','500 g','1 kg'],['Shea butter',2.5,10.9,19.9],['Beeswax',3.1,13.5,24]],[('Shea butter',SH,['2.50 EUR for 100 g','10.90 EUR for 500 g','19.90 EUR for 1000 g']),('Beeswax',BW,['3.10 EUR for 100 g','13.50 EUR for 500 g','24.00 EUR for 1000 g'])],assumed=True)
px('tiers','p_tiers_qty.xlsx',[['Material','1-4 kg €/kg','5-24 kg €/kg','25+ kg €/kg'],['Shea butter',19.9,17.5,15],['Glycerin',6,5.5,4.9]],[('Shea butter',SH,['19.90 EUR for 1000 g','87.50 EUR for 5000 g','375.00 EUR for 25000 g']),('Glycerin',G,['6.00 EUR for 1000 g','27.50 EUR for 5000 g','122.50 EUR for 25000 g'])],assumed=True)
px('tiers','p_rows_per_size.xlsx',[['Material','Size','Price (£)'],['Shea butter','100 g',2.5],[None,'500 g',10.9],[None,'1 kg',19.9],['Beeswax','100 g',3.1],[None,'1 kg',24]],[('Shea butter',SH,['2.50 GBP for 100 g']),('Shea butter',SH,['10.90 GBP for 500 g']),('Shea butter',SH,['19.90 GBP for 1000 g']),('Beeswax',BW,['3.10 GBP for 100 g']),('Beeswax',BW,['24.00 GBP for 1000 g'])])
px('net and gross','p_net_gross.xlsx',[['Artikel','Gebinde','Netto €','MwSt','Brutto €'],['Glycerin','1 kg',6,'19 %',7.14],['Sheabutter','1 kg',15,'19 %',17.85]],[('Glycerin',G,['6.00 EUR for 1000 g']),('Sheabutter',SH,['15.00 EUR for 1000 g'])])
px('net and gross','p_gross_only.xlsx',[['Price list, all prices incl. 20 % VAT'],['Item','Size','Price incl. VAT (£)'],['Glycerin','1 kg',7.2],['Shea butter','1 kg',18]],[('Glycerin',G,['6.00 GBP for 1000 g']),('Shea butter',SH,['15.00 GBP for 1000 g'])],assumed=True)
pl('invoice','p_invoice.csv','''Fell Supplies Ltd;;;;;
Invoice no. 2026-117;;;;;
Date;12/03/2026;;;;
Supplier: Fell Supplies;;;;;
Pos;Article no;Description;Qty;Unit price;Total
1;FS-100;Glycerin 99.5 % 5 kg;2;27.50;55.00
2;FS-220;Shea butter 1 kg;3;15.00;45.00
3;FS-901;Shipping;1;9.90;9.90
;;;;Net;109.90
;;;;VAT 19 %;20.88
;;;;Total;130.78
''',[('Glycerin 99.5 %',G,['27.50 EUR for 5000 g']),('Shea butter',SH,['15.00 EUR for 1000 g'])],assumed=True)
pl('invoice','p_invoice_kg.csv','''Description,Qty,Unit,Price,Amount,Lot
Glycerin,10,kg,5.50,55.00,G-881
Shea butter,5,kg,15.00,75.00,S-12
''',[('Glycerin',G,['5.50 EUR for 1000 g'],'G-881'),('Shea butter',SH,['15.00 EUR for 1000 g'],'S-12')],assumed=True)
pl('lots','p_lots_ambiguous.csv','''Material,In stock,Lot,Expiry
Glycerin,2.4 kg,G-77,03/04/2027
Shea butter,800 g,S-12,05/06/2027
''',[('Glycerin',G,[],'G-77'),('Shea butter',SH,[],'S-12')],assumed=True,dates=True)
pl('lots','p_lots_clear.csv','''Material,In stock,Lot,Expiry
Glycerin,2.4 kg,G-77,2027-04-03
Shea butter,800 g,S-12,31/05/2027
''',[('Glycerin',G,[],'G-77'),('Shea butter',SH,[],'S-12')])
px('packs','p_packs_count.xlsx',[['Material','Packs','Pack size','Price','Currency','Lot'],['Glycerin',2,'5 kg',27.5,'EUR','G-77'],['Shea butter',3,'1 kg',15,'EUR','S-12']],[('Glycerin',G,['27.50 EUR for 5000 g'],'2 packs'),('Shea butter',SH,['15.00 EUR for 1000 g'],'3 packs')])
px('units','p_qty_unit.xlsx',[['Material','Quantity','Unit','Price £'],['Glycerin',1,'kg',7.8],['Shea butter',500,'g',9.9],['Olive oil',1,'L',8.5]],[('Glycerin',G,['7.80 GBP for 1000 g']),('Shea butter',SH,['9.90 GBP for 500 g']),('Olive oil',OL,['8.50 GBP for 1000 ml'])])
pl('units','p_lb.csv','Item,Size,Price\nShea Butter,1 lb,$14.50\nBeeswax,8 oz,$9.25\nOlive Oil,1 gal,$39.00\n',[('Shea Butter',E(SH),['14.50 USD for 453.59237 g']),('Beeswax',E(BW),['9.25 USD for 226.796185 g']),('Olive Oil',E(OL),['39.00 USD for 3785.411784 ml'])])
pl('languages','p_fr.csv','Produit;Conditionnement;Prix HT;Prix TTC\nGlycérine végétale;1 kg;6,00 €;7,20 €\nBeurre de karité;500 g;7,50 €;9,00 €\n',[('Glycérine végétale',G,['6.00 EUR for 1000 g']),('Beurre de karité',SH,['7.50 EUR for 500 g'])])
pl('languages','p_es.csv','Producto;Formato;Precio (€)\nGlicerina;1 kg;6,00\nManteca de karité;500 g;7,50\n',[('Glicerina',G,['6.00 EUR for 1000 g']),('Manteca de karité',SH,['7.50 EUR for 500 g'])])
pl('languages','p_pl.csv','Produkt;Opakowanie;Cena netto (PLN)\nGliceryna;1 kg;25,00\nMasło shea;500 g;32,50\n',[('Gliceryna',G,['25.00 PLN for 1000 g']),('Masło shea',SH,['32.50 PLN for 500 g'])])
pl('languages','p_nl.csv','Artikel;Inhoud;Prijs excl. btw\nGlycerine;1 kg;€ 6,00\nSheaboter;500 g;€ 7,50\n',[('Glycerine',G,['6.00 EUR for 1000 g']),('Sheaboter',SH,['7.50 EUR for 500 g'])])
pl('bad rows','p_bad_row.csv','Material,Pack,Price\nGlycerin,1 kg,7.80\nShea butter,1 kg,ask\nOlive oil,,8\nBeeswax,250 g,6.25\n',[('Glycerin',G,['7.80 EUR for 1000 g']),('Beeswax',BW,['6.25 EUR for 250 g'])],assumed=True,spare=['Shea butter','Olive oil'])
px('pack beside price per kg','p_pack_per_kg.xlsx',[['Material','Gebinde','€/kg'],['Glycerin','5 kg',5.5],['Sheabutter','25 kg',12]],[('Glycerin',G,['27.50 EUR for 5000 g']),('Sheabutter',SH,['300.00 EUR for 25000 g'])])
px('price per g','p_per_g.xlsx',[['Material','Cost per g'],['Glycerin',.006],['Shea butter',.015]],[('Glycerin',G,['0.006 EUR for 1 g']),('Shea butter',SH,['0.015 EUR for 1 g'])],assumed=True)
px('bought for','p_purchase_log.xlsx',[['Date','Ingredient','Supplier','Amount bought (g)','Paid (€)','€/g'],[datetime.date(2026,1,5),'Glycerin','Fell',1000,7.8,.0078],[datetime.date(2026,2,7),'Shea butter','Fell',500,9.9,.0198]],[('Glycerin',G,['7.80 EUR for 1000 g']),('Shea butter',SH,['9.90 EUR for 500 g'])])
pl('html','p_html.html','<table><tr><th>Product</th><th>Net weight</th><th>Price</th></tr><tr><td>Shea butter</td><td>1kg</td><td>£15.00</td></tr><tr><td>Glycerin</td><td>1kg</td><td>£6.00</td></tr></table>',[('Shea butter',SH,['15.00 GBP for 1000 g']),('Glycerin',G,['6.00 GBP for 1000 g'])])
pl('name with pack','p_name_pack.csv','Artikel;Preis\nGlycerin 1 kg;7,80 €\nSheabutter, 500 g;9,90 €\nOlivenöl 1 Liter;8,50 €\n',[('Glycerin',G,['7.80 EUR for 1000 g']),('Sheabutter',SH,['9.90 EUR for 500 g']),('Olivenöl',OL,['8.50 EUR for 1000 ml'])])
# ---- material lists: (name, ids, about fragments)
def ml(cls,name,rows,lines,**m): xlsx(cls,name,rows,lines,kind='materials',**m)
ml('material list','m_trade.xlsx',[['Trade name','INCI','Supplier','Function','Use level'],['Mossguard PE','Phenoxyethanol, Ethylhexylglycerin','Fell Supplies','Preservative','0.5-1 %'],['Dewglyc','Glycerin','Fell Supplies','Humectant','1-10 %']],[('Mossguard PE',E(PHE),['trade|own']),('Dewglyc',E(G),[''])])
ml('material list','m_comp_cell.xlsx',[['Name','Composition','Supplier'],['Fell wash base','Aqua 60-65 %; Sodium Laureth Sulfate 27-29 %; Sodium Chloride 1-2 %','Fell Supplies'],['Moor extract','Glycerin 50 %, Aqua 45 %, Calluna Vulgaris Flower Extract 5 %','Fell Supplies']],[('Fell wash base','new|?new|?',[]),('Moor extract','new|?new|?',[])])
ml('material list','m_comp_cols.xlsx',[['Name','INCI 1','% 1','INCI 2','% 2'],['Mossguard PE','Phenoxyethanol',90,'Ethylhexylglycerin',10],['Moor extract','Glycerin',60,'Aqua',40]],[('Mossguard PE',E(PHE)+'|new|?new',[]),('Moor extract','new|?new|?',[])])
ml('material list','m_comp_rows.xlsx',[['Material','INCI','CAS','%'],['Mossguard PE','Phenoxyethanol','122-99-6',90],[None,'Ethylhexylglycerin','70445-33-9',10],['Moor extract','Glycerin','56-81-5',60],[None,'Aqua','7732-18-5',40]],[('Mossguard PE',E(PHE)+'|new|?new',[]),('Moor extract','new|?new|?',[])])
ml('material list','m_inci_cas.xlsx',[['INCI name','CAS no.'],['Glycerin','56-81-5'],['Sodium Benzoate','532-32-1'],['Citric Acid','77-92-9']],[('Glycerin',E(G),[]),('Sodium Benzoate',E(SB),[]),('Citric Acid',E(CIT)+'|'+E(CIA),[])])
def mt(cls,name,body,lines,enc='utf-8',**m): text(cls,name,body,lines,enc=enc,kind='materials',**m)
mt('material list','m_de.csv','Handelsname;INCI;Lieferant;Funktion;Einsatzkonzentration\nMoosfett;Butyrospermum Parkii Butter;Heidehof;Emollient;2-20 %\nTaugel;Sodium Hyaluronate;Heidehof;Feuchthaltemittel;0,1-0,5 %\n',[('Moosfett',E(SH),[]),('Taugel',E('sodium-hyaluronate-powder')+'|?',[])],enc='cp1252')
mt('material list','m_fr.csv','Nom commercial;INCI;Fournisseur\nKaritelle;Butyrospermum Parkii Butter;Fournil\nDouceol;Prunus Amygdalus Dulcis Oil;Fournil\n',[('Karitelle',E(SH),[]),('Douceol',E(AL),[])],enc='utf-8-sig')
mt('material list','m_numbers.csv','RM code,Material,INCI,CAS\nRM-1,Glycerin,Glycerin,56-81-5\nRM-2,Shea,Butyrospermum Parkii Butter,194043-92-0\n',[('Glycerin',E(G),[]),('Shea',E(SH),[])])
mt('material list','m_md.md','| Material | INCI | Supplier |\n|---|---|---|\n| Glycerin | Glycerin | Fell |\n| Shea butter | Butyrospermum Parkii Butter | Fell |\n',[('Glycerin',E(G),[]),('Shea butter',E(SH),[])])
mt('material list','m_contra.csv','Name,INCI,CAS\nVitamin E,Tocopheryl Acetate,7695-91-2\nBetaine,Betaine,107-43-7\n',[('Vitamin E',E('tocopheryl-acetate'),[]),('Betaine',E('betaine-trimethylglycine-powder'),[])])
