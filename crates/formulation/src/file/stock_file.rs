//! The file of the stock and the workshop, `stock.ron`: lots, corrections, offers, reorder
//! levels, rates; scales, vessels, allowances, packaging, labour, overhead.

use std::collections::BTreeMap;
use std::path::Path;

use ron::ser::PrettyConfig;
use serde::{Deserialize, Serialize};

use super::FileError;
use super::formula_file::{check_header, parse};
use super::quantity_text::{
    BatchText, CurrencyText, DayText, DecimalText, LotText, MassText, PercentText,
};
use super::read_error::ReadError;
use super::record_entry::{ScaleEntry, UnitName, VesselEntry, millilitre_decimal};
use super::ron_place;
use super::store::{self, Expect, Stamp, StoreError};
use crate::batch::scale::Allowances;
use crate::batch::workshop::{Duty, DutyDone, Habit, Paper, ProductHabits, Workshop};
use crate::batch_code::CodeScheme;
use crate::cost::{CostInputs, Labour, Overhead, Packaging};
use crate::material::MaterialId;
use crate::notation::writer;
use crate::quantity::{Decimal, MassFraction, Percent, millilitres};
use crate::stock::packaging::{self, PackagingLot};
use crate::stock::{Adjustment, Lot, LotStatus, Offer, Stock, StockError};

const FORMAT: &str = "phasewright stock";
// Version 2 adds to the workshop paper, people, products and duties, and to the stock lots of
// packaging; all of them may be left out.
const VERSION: u32 = 2;

mirror!(
    /// Whether a lot may be used.
    StatusName = LotStatus { Quarantine, Released, Rejected }
);

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StockEntry {
    format: String,
    version: u32,
    currency: CurrencyText,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    rates: BTreeMap<CurrencyText, DecimalText>,
    #[serde(default)]
    lots: Vec<LotEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    adjustments: Vec<AdjustmentEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    offers: Vec<OfferEntry>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    reorder: BTreeMap<String, MassText>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    packaging: Vec<PackagingLotEntry>,
    #[serde(default)]
    workshop: Option<WorkshopEntry>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LotEntry {
    lot: LotText,
    material: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    supplier: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    supplier_lot: String,
    received: DayText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    expiry: Option<DayText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    opened: Option<DayText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    days_once_opened: Option<u32>,
    pack: MassText,
    packs: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    price_per_pack: Option<DecimalText>,
    currency: CurrencyText,
    #[serde(default = "nothing")]
    freight_share: DecimalText,
    #[serde(default = "nothing")]
    tax_percent: DecimalText,
    #[serde(default = "released")]
    status: StatusName,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    made_in: Option<BatchText>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    certificate: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

const fn nothing() -> DecimalText {
    DecimalText(Decimal::ZERO)
}
const fn released() -> StatusName {
    StatusName::Released
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct AdjustmentEntry {
    lot: LotText,
    day: DayText,
    change: MassText,
    reason: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct OfferEntry {
    material: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    supplier: String,
    pack: MassText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    price: Option<DecimalText>,
    currency: CurrencyText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    day: Option<DayText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PackagingLotEntry {
    lot: LotText,
    what: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    supplier: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    supplier_lot: String,
    received: DayText,
    pieces: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    price_each: Option<DecimalText>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    low_below: Option<u32>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
}

impl From<&PackagingLot> for PackagingLotEntry {
    fn from(lot: &PackagingLot) -> Self {
        let PackagingLot {
            id,
            what,
            supplier,
            supplier_lot,
            received,
            pieces,
            price_each,
            low_below,
            note,
        } = lot;
        Self {
            lot: LotText(id.clone()),
            what: what.to_string(),
            supplier: supplier.to_string(),
            supplier_lot: supplier_lot.to_string(),
            received: DayText(*received),
            pieces: *pieces,
            price_each: price_each.map(DecimalText),
            low_below: *low_below,
            note: note.to_string(),
        }
    }
}

impl From<PackagingLotEntry> for PackagingLot {
    fn from(entry: PackagingLotEntry) -> Self {
        Self {
            id: entry.lot.0,
            what: entry.what.into(),
            supplier: entry.supplier.into(),
            supplier_lot: entry.supplier_lot.into(),
            received: entry.received.0,
            pieces: entry.pieces,
            price_each: entry.price_each.map(|p| p.0),
            low_below: entry.low_below,
            note: entry.note.into(),
        }
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WorkshopEntry {
    scales: Vec<ScaleEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    vessels: Vec<VesselEntry>,
    tolerance_percent: PercentText,
    unit: UnitName,
    overfill_percent: PercentText,
    transfer_loss_percent: PercentText,
    evaporation_percent: PercentText,
    batch_codes: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    packaging: Vec<PackagingEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    labour: Vec<LabourEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    overhead: Vec<OverheadEntry>,
    #[serde(default, skip_serializing_if = "is_usual_paper")]
    paper: PaperName,
    #[serde(default, skip_serializing_if = "is_false")]
    second_check: bool,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    people: Vec<String>,
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    products: BTreeMap<String, ProductEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    duties: Vec<DutyEntry>,
}

#[derive(Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
enum PaperName {
    #[default]
    A4,
    UsLetter,
}

impl From<Paper> for PaperName {
    fn from(paper: Paper) -> Self {
        match paper {
            Paper::A4 => Self::A4,
            Paper::UsLetter => Self::UsLetter,
        }
    }
}

impl From<PaperName> for Paper {
    fn from(name: PaperName) -> Self {
        match name {
            PaperName::A4 => Self::A4,
            PaperName::UsLetter => Self::UsLetter,
        }
    }
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands out a reference"
)]
fn is_usual_paper(paper: &PaperName) -> bool {
    *paper == PaperName::default()
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands out a reference"
)]
const fn is_false(value: &bool) -> bool {
    !*value
}

/// What a product was made with the last time.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ProductEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    costs: Option<CostsEntry>,
    /// How each person made it, the last first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    made: Vec<HabitEntry>,
    /// As the first program that kept habits wrote them: nobody's in particular.
    #[serde(default, skip_serializing)]
    vessel: String,
    #[serde(default, skip_serializing)]
    mass: Option<MassText>,
    #[serde(default, skip_serializing)]
    containers: Option<(u32, f64)>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HabitEntry {
    #[serde(default, skip_serializing_if = "String::is_empty")]
    by: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    vessel: String,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    idle_scales: Vec<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    paper: Option<PaperName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    mass: Option<MassText>,
    /// Number and contents in millilitres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    containers: Option<(u32, f64)>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CostsEntry {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    packaging: Vec<PackagingEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    labour: Vec<LabourEntry>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    overhead: Vec<OverheadEntry>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DutyEntry {
    thing: String,
    what: String,
    #[serde(default)]
    every_days: u32,
    /// Day, by whom, what was found.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    done: Vec<(DayText, String, String)>,
    /// The day from which it is not done any more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ended: Option<DayText>,
}

impl From<&CostInputs> for CostsEntry {
    fn from(costs: &CostInputs) -> Self {
        let packaging = costs.packaging.iter().map(|p| PackagingEntry {
            name: p.name.to_string(),
            per_container: p.per_container.map(DecimalText),
        });
        let labour = costs.labour.iter().map(|l| LabourEntry {
            name: l.name.to_string(),
            minutes: l.minutes,
            per_hour: l.per_hour.map(DecimalText),
        });
        let overhead = costs.overhead.iter().map(|o| OverheadEntry {
            name: o.name.to_string(),
            per_batch: o.per_batch.map(DecimalText),
        });
        Self {
            packaging: packaging.collect(),
            labour: labour.collect(),
            overhead: overhead.collect(),
        }
    }
}

impl From<CostsEntry> for CostInputs {
    fn from(entry: CostsEntry) -> Self {
        let packaging = entry.packaging.into_iter().map(|p| Packaging {
            name: p.name.into(),
            per_container: p.per_container.map(|d| d.0),
        });
        let labour = entry.labour.into_iter().map(|l| Labour {
            name: l.name.into(),
            minutes: l.minutes,
            per_hour: l.per_hour.map(|d| d.0),
        });
        let overhead = entry.overhead.into_iter().map(|o| Overhead {
            name: o.name.into(),
            per_batch: o.per_batch.map(|d| d.0),
        });
        Self {
            packaging: packaging.collect(),
            labour: labour.collect(),
            overhead: overhead.collect(),
        }
    }
}

impl From<&ProductHabits> for ProductEntry {
    fn from(habits: &ProductHabits) -> Self {
        Self {
            costs: habits.costs.as_ref().map(Into::into),
            made: habits.made.iter().map(Into::into).collect(),
            vessel: String::new(),
            mass: None,
            containers: None,
        }
    }
}

impl From<&Habit> for HabitEntry {
    fn from(habit: &Habit) -> Self {
        Self {
            by: habit.by.to_string(),
            vessel: habit.vessel.to_string(),
            idle_scales: habit.idle_scales.iter().map(ToString::to_string).collect(),
            paper: habit.paper.map(Into::into),
            mass: habit.mass.map(MassText),
            containers: habit
                .containers
                .map(|(count, volume)| (count, millilitre_decimal(volume))),
        }
    }
}

impl From<HabitEntry> for Habit {
    fn from(entry: HabitEntry) -> Self {
        Self {
            by: entry.by.into(),
            vessel: entry.vessel.into(),
            idle_scales: entry.idle_scales.into_iter().map(Into::into).collect(),
            paper: entry.paper.map(Into::into),
            mass: entry.mass.map(|m| m.0),
            containers: entry.containers.map(|(count, ml)| (count, millilitres(ml))),
        }
    }
}

impl From<ProductEntry> for ProductHabits {
    fn from(entry: ProductEntry) -> Self {
        let nobodys = entry.mass.is_some().then(|| HabitEntry {
            by: String::new(),
            vessel: entry.vessel,
            idle_scales: Vec::new(),
            paper: None,
            mass: entry.mass,
            containers: entry.containers,
        });
        let made = entry.made.into_iter().chain(nobodys);
        Self {
            costs: entry.costs.map(Into::into),
            made: made.map(Into::into).collect(),
        }
    }
}

impl From<&Duty> for DutyEntry {
    fn from(duty: &Duty) -> Self {
        let done = duty.done.iter();
        Self {
            thing: duty.thing.to_string(),
            what: duty.what.to_string(),
            every_days: duty.every_days,
            done: done
                .map(|d| (DayText(d.day), d.by.to_string(), d.found.to_string()))
                .collect(),
            ended: duty.ended.map(DayText),
        }
    }
}

impl From<DutyEntry> for Duty {
    fn from(entry: DutyEntry) -> Self {
        let done = entry.done.into_iter().map(|(day, by, found)| DutyDone {
            day: day.0,
            by: by.into(),
            found: found.into(),
        });
        Self {
            thing: entry.thing.into(),
            what: entry.what.into(),
            every_days: entry.every_days,
            done: done.collect(),
            ended: entry.ended.map(|day| day.0),
        }
    }
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PackagingEntry {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    per_container: Option<DecimalText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LabourEntry {
    name: String,
    minutes: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    per_hour: Option<DecimalText>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct OverheadEntry {
    name: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    per_batch: Option<DecimalText>,
}

impl From<&Lot> for LotEntry {
    fn from(lot: &Lot) -> Self {
        Self {
            lot: LotText(lot.id.clone()),
            material: lot.material.to_string(),
            supplier: lot.supplier.to_string(),
            supplier_lot: lot.supplier_lot.to_string(),
            received: DayText(lot.received),
            expiry: lot.expiry.map(DayText),
            opened: lot.opened.map(DayText),
            days_once_opened: lot.days_once_opened,
            pack: MassText(lot.pack),
            packs: lot.packs,
            price_per_pack: lot.price_per_pack.map(DecimalText),
            currency: CurrencyText(lot.currency),
            freight_share: DecimalText(lot.freight_share),
            tax_percent: DecimalText(lot.tax_percent),
            status: lot.status.into(),
            made_in: lot.made_in.clone().map(BatchText),
            certificate: lot.certificate.to_string(),
            note: lot.note.to_string(),
        }
    }
}

impl LotEntry {
    fn into_model(self) -> Lot {
        Lot {
            id: self.lot.0,
            material: MaterialId::from_name(&self.material),
            supplier: self.supplier.into(),
            supplier_lot: self.supplier_lot.into(),
            received: self.received.0,
            expiry: self.expiry.map(|d| d.0),
            opened: self.opened.map(|d| d.0),
            days_once_opened: self.days_once_opened,
            pack: self.pack.0,
            packs: self.packs,
            price_per_pack: self.price_per_pack.map(|p| p.0),
            currency: self.currency.0,
            freight_share: self.freight_share.0,
            tax_percent: self.tax_percent.0,
            status: LotStatus::from(self.status),
            made_in: self.made_in.map(|c| c.0),
            certificate: self.certificate.into(),
            note: self.note.into(),
        }
    }
}

impl From<&Workshop> for WorkshopEntry {
    fn from(workshop: &Workshop) -> Self {
        let percent = |f: MassFraction| Percent::nearest(f.as_percent()).unwrap_or_default();
        let costs = CostsEntry::from(&workshop.costs);
        Self {
            scales: workshop.scales.iter().map(Into::into).collect(),
            vessels: workshop.vessels.iter().map(Into::into).collect(),
            tolerance_percent: PercentText(percent(workshop.tolerance)),
            unit: workshop.unit.into(),
            overfill_percent: PercentText(workshop.allowances.overfill),
            transfer_loss_percent: PercentText(workshop.allowances.transfer_loss),
            evaporation_percent: PercentText(workshop.allowances.evaporation),
            batch_codes: workshop.codes.as_str().to_owned(),
            packaging: costs.packaging,
            labour: costs.labour,
            overhead: costs.overhead,
            paper: workshop.paper.into(),
            second_check: workshop.second_check,
            people: workshop.people.iter().map(ToString::to_string).collect(),
            products: workshop
                .products
                .iter()
                .map(|(name, habits)| (name.to_string(), habits.into()))
                .collect(),
            duties: workshop.duties.iter().map(Into::into).collect(),
        }
    }
}

impl WorkshopEntry {
    fn into_model(self) -> Result<Workshop, String> {
        if self.tolerance_percent.0 <= Percent::ZERO {
            return Err("the tolerance of weighing must be above 0 %".to_owned());
        }
        Ok(Workshop {
            scales: self
                .scales
                .into_iter()
                .map(ScaleEntry::into_model)
                .collect::<Result<_, _>>()?,
            vessels: self
                .vessels
                .into_iter()
                .map(VesselEntry::into_model)
                .collect::<Result<_, _>>()?,
            tolerance: self.tolerance_percent.0.fraction(),
            unit: self.unit.into(),
            allowances: Allowances {
                overfill: self.overfill_percent.0,
                transfer_loss: self.transfer_loss_percent.0,
                evaporation: self.evaporation_percent.0,
            },
            codes: CodeScheme::new(&self.batch_codes).map_err(|e| e.to_string())?,
            costs: CostInputs::from(CostsEntry {
                packaging: self.packaging,
                labour: self.labour,
                overhead: self.overhead,
            }),
            paper: self.paper.into(),
            second_check: self.second_check,
            people: self.people.into_iter().map(Into::into).collect(),
            products: self
                .products
                .into_iter()
                .map(|(name, entry)| (name.into(), entry.into()))
                .collect(),
            duties: self.duties.into_iter().map(Into::into).collect(),
        })
    }
}

/// The text of a stock file.
pub fn write(stock: &Stock, workshop: &Workshop) -> ron::Result<String> {
    let entry = StockEntry {
        format: FORMAT.to_owned(),
        version: VERSION,
        currency: CurrencyText(stock.home),
        rates: stock
            .rates
            .iter()
            .map(|(c, r)| (CurrencyText(*c), DecimalText(*r)))
            .collect(),
        lots: stock.lots.iter().map(Into::into).collect(),
        adjustments: stock
            .adjustments
            .iter()
            .map(|a| AdjustmentEntry {
                lot: LotText(a.lot.clone()),
                day: DayText(a.day),
                change: MassText(a.change),
                reason: a.reason.to_string(),
            })
            .collect(),
        offers: stock
            .offers
            .iter()
            .map(|o| OfferEntry {
                material: o.material.to_string(),
                supplier: o.supplier.to_string(),
                pack: MassText(o.pack),
                price: o.price.map(DecimalText),
                currency: CurrencyText(o.currency),
                day: o.day.map(DayText),
            })
            .collect(),
        reorder: stock
            .reorder
            .iter()
            .map(|(id, m)| (id.to_string(), MassText(*m)))
            .collect(),
        packaging: stock.packaging.iter().map(Into::into).collect(),
        workshop: Some(workshop.into()),
    };
    let style = PrettyConfig::new()
        .struct_names(false)
        .extensions(ron::extensions::Extensions::IMPLICIT_SOME);
    writer::ron(&entry, &ron::Options::default(), style).map(|text| text + "\n")
}

/// Reads the text of a stock file. `file` is its name for error messages.
pub fn read(text: &str, file: &str) -> Result<(Stock, Workshop), ReadError> {
    check_header(text, file, FORMAT, VERSION)?;
    let entry: StockEntry = parse(text, file)?;
    let wrong = |message: String| ReadError::whole(file, message);
    let mut stock = Stock::new(entry.currency.0);
    stock.rates = entry.rates.into_iter().map(|(c, r)| (c.0, r.0)).collect();
    if let Some((currency, _)) = stock.rates.iter().find(|(_, r)| **r <= Decimal::ZERO) {
        return Err(wrong(format!(
            "the rate of {currency} must be above zero; write what one {currency} is worth in {}",
            stock.home
        )));
    }
    for lot in entry.lots {
        stock
            .add(lot.into_model())
            .map_err(|e| wrong(e.to_string()))?;
    }
    for a in entry.adjustments {
        if stock.lot(&a.lot.0).is_none() {
            return Err(wrong(format!(
                "a correction names the lot “{}”, which is not listed; add the lot or correct the code",
                a.lot.0
            )));
        }
        stock.adjustments.push(Adjustment {
            lot: a.lot.0,
            day: a.day.0,
            change: a.change.0,
            reason: a.reason.into(),
        });
    }
    stock.offers = entry
        .offers
        .into_iter()
        .map(|o| Offer {
            material: MaterialId::from_name(&o.material),
            supplier: o.supplier.into(),
            pack: o.pack.0,
            price: o.price.map(|p| p.0),
            currency: o.currency.0,
            day: o.day.map(|d| d.0),
        })
        .collect();
    stock.reorder = entry
        .reorder
        .into_iter()
        .map(|(id, m)| (MaterialId::from_name(&id), m.0))
        .collect();
    for lot in entry.packaging {
        let lot = PackagingLot::from(lot);
        if stock.packaging.iter().any(|p| p.id == lot.id) {
            return Err(wrong(StockError::Taken(lot.id).to_string()));
        }
        packaging::put(&mut stock.packaging, lot).map_err(|e| wrong(e.to_string()))?;
    }
    let workshop = entry
        .workshop
        .map(WorkshopEntry::into_model)
        .transpose()
        .map_err(wrong)?
        .unwrap_or_default();
    Ok((stock, workshop))
}

/// Opens a stock file.
pub fn open(path: &Path) -> Result<(Stock, Workshop, Stamp), FileError> {
    let (text, stamp) = store::read_text(path)?;
    let (stock, workshop) = read(&text, &path.display().to_string())?;
    Ok((stock, workshop, stamp))
}

/// Saves a stock file atomically; see [`store::save`]. The text is read back before
/// anything is touched on disk. A file with comments, which are not written again, is kept
/// beside it as `stock.with-comments.ron`.
pub fn save(
    path: &Path,
    stock: &Stock,
    workshop: &Workshop,
    expect: Expect,
) -> Result<Stamp, FileError> {
    let file = path.display().to_string();
    let text = write(stock, workshop)
        .map_err(|e| ReadError::whole(&file, format!("the stock cannot be written: {e}")))?;
    read(&text, &file)?;
    match store::read_text(path) {
        Ok((before, _)) if !ron_place::comments(&before).is_empty() => {
            store::keep_aside(path, &before, store::WITH_COMMENTS)?;
        }
        Ok(_) | Err(StoreError::Missing { .. }) => {}
        Err(error) => return Err(error.into()),
    }
    Ok(store::save_text(path, &text, expect)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::scale::Vessel;
    use crate::batch::weighing_scale::WeighingScale;
    use crate::mass::{ExactMass, read_mass, read_volume};
    use crate::quantity::Currency;
    use crate::stock::LotId;
    use jiff::civil::date;

    fn sample() -> (Stock, Workshop) {
        let mass = |t| read_mass(t, None).unwrap();
        let eur = Currency::new("EUR").unwrap();
        let gbp = Currency::new("GBP").unwrap();
        let mut stock = Stock::new(eur);
        stock.rates.insert(gbp, Decimal::new(115, 2));
        stock.lots.push(Lot {
            id: LotId::new("GLY-26-3").unwrap(),
            material: MaterialId::from_name("Glycerin"),
            supplier: "Fellside Botanicals".into(),
            supplier_lot: "F/7741".into(),
            received: date(2026, 3, 4),
            expiry: Some(date(2028, 3, 1)),
            opened: Some(date(2026, 3, 10)),
            days_once_opened: Some(365),
            pack: mass("5 kg"),
            packs: 2,
            price_per_pack: Some(Decimal::new(2199, 2)),
            currency: gbp,
            freight_share: Decimal::new(350, 2),
            tax_percent: Decimal::from(20),
            status: LotStatus::Quarantine,
            made_in: None,
            certificate: "folder 3".into(),
            note: "".into(),
        });
        stock.adjustments.push(Adjustment {
            lot: LotId::new("GLY-26-3").unwrap(),
            day: date(2026, 4, 1),
            change: ExactMass::ZERO - mass("12.5 g"),
            reason: "spilled".into(),
        });
        stock.offers.push(Offer {
            material: MaterialId::from_name("Glycerin"),
            supplier: "".into(),
            pack: mass("16 oz"),
            price: None,
            currency: eur,
            day: Some(date(2026, 4, 2)),
        });
        stock
            .reorder
            .insert(MaterialId::from_name("Glycerin"), mass("1 kg"));
        stock.packaging.push(PackagingLot {
            id: LotId::new("B-1").unwrap(),
            what: "bottle 250 ml".into(),
            supplier: "Glen Glass".into(),
            supplier_lot: "L 88".into(),
            received: date(2026, 3, 5),
            pieces: 120,
            price_each: Some(Decimal::new(45, 2)),
            low_below: Some(20),
            note: "".into(),
        });
        let mut workshop = Workshop::default();
        workshop
            .scales
            .push(WeighingScale::new("pocket", mass("0.01 g"), Some(mass("200 g"))).unwrap());
        let pot = read_volume("10 l", None).unwrap();
        workshop
            .vessels
            .push(Vessel::new("pot", pot, "80".parse().unwrap()).unwrap());
        workshop.costs.packaging.push(Packaging {
            name: "bottle".into(),
            per_container: Some(Decimal::new(45, 2)),
        });
        workshop.costs.labour.push(Labour {
            name: "making".into(),
            minutes: 90,
            per_hour: None,
        });
        workshop.costs.overhead.push(Overhead {
            name: "energy".into(),
            per_batch: Some(Decimal::new(3, 0)),
        });
        let gel = workshop.products.entry("Gel".into()).or_default();
        gel.remember(Habit {
            by: "Wren".into(),
            vessel: "pot".into(),
            idle_scales: vec!["pocket".into()],
            paper: Some(Paper::UsLetter),
            mass: Some(mass("2 kg")),
            containers: Some((8, read_volume("250 ml", None).unwrap())),
        });
        (stock, workshop)
    }

    #[test]
    fn the_stock_is_read_back_as_written() {
        let (stock, workshop) = sample();
        let text = write(&stock, &workshop).unwrap();
        assert_eq!(
            read(&text, "stock.ron").unwrap(),
            (stock, workshop),
            "{text}"
        );
    }

    #[test]
    fn a_short_file_written_by_hand_will_do() {
        let text = r#"(
            format: "phasewright stock", version: 1, currency: "EUR",
            lots: [(lot: "U1", material: "Urea", received: "2026-01-02", pack: "1 kg", packs: 1, currency: "EUR")],
        )"#;
        let (stock, workshop) = read(text, "stock.ron").unwrap();
        assert_eq!(stock.lots[0].material.as_str(), "urea");
        assert_eq!(workshop, Workshop::default());
    }

    #[test]
    fn habits_that_were_nobodys_are_read_on() {
        let (stock, mut workshop) = sample();
        workshop.products.clear();
        workshop
            .products
            .insert("Gel".into(), ProductHabits::default());
        let text = write(&stock, &workshop).unwrap();
        assert!(text.contains("\"Gel\": ()"), "{text}");
        let habits = "\"Gel\": (vessel: \"pot\", mass: \"2 kg\", containers: (8, 250.0))";
        let old = text.replace("\"Gel\": ()", habits);
        let (_, workshop) = read(&old, "stock.ron").unwrap();
        let habit = workshop.habit("Gel", "Wren").unwrap();
        assert_eq!((&*habit.by, &*habit.vessel), ("", "pot"));
        assert_eq!(habit.containers.map(|c| c.0), Some(8));
    }

    #[test]
    fn what_is_wrong_is_named_with_its_place() {
        let (stock, workshop) = sample();
        let text = write(&stock, &workshop).unwrap();
        let fails = |from: &str, to: &str| {
            assert!(text.contains(from), "{from} in {text}");
            read(&text.replacen(from, to, 1), "stock.ron")
                .unwrap_err()
                .to_string()
        };
        let error = fails("\"5000 g\"", "\"5 stone\"");
        assert!(
            error.contains("no unit known") && error.contains("stock.ron"),
            "{error}"
        );
        assert!(fails("packs: 2", "packs: 0").contains("GLY-26-3"));
        assert!(fails("version: 2", "version: 9").contains("newer"));
        assert!(fails("\"1.15\"", "\"0\"").contains("above zero"));
    }
}
