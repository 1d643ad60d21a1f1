//! What speaks against the lot that an entry of a batch record takes from.

use super::{Event, Record};
use crate::composition::is_water;
use crate::formula::{Date, ItemId};
use crate::mass::ExactMass;
use crate::material::MaterialId;
use crate::stock::packaging;
use crate::stock::{LotFault, LotId, LotUsage, Stock};

/// An entry that takes from a lot from which it must not without a reason.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LotStop {
    /// The lot; none where what is taken is kept in the stock and no lot was noted.
    pub lot: Option<LotId>,
    /// What speaks against it, in words.
    pub against: Vec<String>,
}

/// What of a mass or a number is taken beyond what is in the books already; `None` if a
/// correction takes no more from the same lot than before.
fn beyond<L: PartialEq, T: Copy + Ord + std::ops::Sub<Output = T>>(
    now: (L, T),
    before: Option<(L, T)>,
) -> Option<T> {
    match before {
        Some((lot, had)) if lot == now.0 => (now.1 > had).then(|| now.1 - had),
        _ => Some(now.1),
    }
}

/// From which lot raw material is taken, if one was noted, and how much.
const fn of_material(event: &Event) -> Option<(Option<&LotId>, ExactMass)> {
    match event {
        Event::Weighed { mass, lot, .. } | Event::MadeUp { mass, lot } => {
            Some((lot.as_ref(), *mass))
        }
        _ => None,
    }
}

/// What water that was made up goes by.
pub(super) const MADE_UP: &str = "water made up";

/// What is said of a weighing without a lot of a material of which the stock has lots.
pub(super) fn lot_not_noted(name: &str) -> String {
    format!("{name}: no lot is noted, though the stock has lots of it")
}

/// What packaging is taken, from which lot, and how many pieces.
fn of_packaging(event: &Event) -> Option<(&str, &str, u64)> {
    match event {
        Event::Packed {
            what,
            lot,
            used,
            spoilt,
        } => Some((what, lot, u64::from(*used) + u64::from(*spoilt))),
        Event::Labelled {
            what, lot, printed, ..
        } => Some((what, lot, u64::from(*printed))),
        _ => None,
    }
}

/// The stock and what batches took from it, as it stands on a day.
#[derive(Clone, Copy)]
pub struct Lots<'a> {
    /// The lots.
    pub stock: &'a Stock,
    /// What was taken from them.
    pub usage: &'a LotUsage,
    /// The day.
    pub day: Date,
}

impl Record {
    /// What speaks against taking a mass for a line of a batch from a lot on a day, and was
    /// not excepted in its record, in words.
    pub fn lot_faults(
        &self,
        line: ItemId,
        lot: &LotId,
        mass: ExactMass,
        lots: Lots<'_>,
    ) -> Vec<String> {
        let opening = self.opening();
        let Some(of) = opening.variant().line(line) else {
            return Vec::new();
        };
        let name = opening.name_of(line);
        self.against((&of.material, &name), lot, mass, lots)
    }

    fn against(
        &self,
        (material, name): (&MaterialId, &str),
        lot: &LotId,
        mass: ExactMass,
        lots: Lots<'_>,
    ) -> Vec<String> {
        let formula = &self.opening().formula;
        let faults = lots.stock.faults(lot, material, mass, lots.usage, lots.day);
        let words = faults.into_iter().map(|fault| match &fault {
            // By its name, where it is one of this formula.
            LotFault::OtherMaterial(lot, id) if let Some(other) = formula.material(id) => {
                format!("{name}: lot {lot} is of another material, {}", other.name)
            }
            _ => format!("{name}: {fault}"),
        });
        words.filter(|w| !self.excepted(Some(lot), w)).collect()
    }

    /// What speaks on a day against the lot that an entry takes from, be it a weighing, water
    /// made up, packaging, a run of labels or the correction of one; `None` if nothing does or
    /// it was excepted. What a corrected entry had taken is in the books already.
    pub fn stop(&self, event: &Event, lots: Lots<'_>) -> Option<LotStop> {
        let corrected;
        let (event, before) = match event {
            Event::Amended { entry, change, .. } => {
                corrected = self.corrected(*entry, change)?;
                (&corrected, self.standing(*entry).map(|(event, _)| event))
            }
            event => (event, None),
        };
        if let Some((what, lot, pieces)) = of_packaging(event) {
            let had = before.and_then(of_packaging);
            let pieces = beyond((lot, pieces), had.map(|(_, lot, pieces)| (lot, pieces)))?;
            let fault = packaging::objection(&lots.stock.packaging, lot, pieces, lots.usage)?;
            let (lot, words) = (LotId::new(lot), format!("{what}: {fault}"));
            return (!self.excepted(lot.as_ref(), &words)).then(|| LotStop {
                lot,
                against: vec![words],
            });
        }
        let (lot, mass) = of_material(event)?;
        let mass = beyond((lot, mass), before.and_then(of_material))?;
        let Some(lot) = lot else {
            return self.without_lot_stop(event, lots.stock);
        };
        let against = if let Event::Weighed { line, .. } = event {
            self.lot_faults(*line, lot, mass, lots)
        } else {
            // Water made up is of no line; it may be any water of the formula.
            let waters = self.waters();
            let known = lots.stock.lot(lot).map(|l| &l.material);
            let of_lot = waters.iter().find(|water| known == Some(water));
            let material = of_lot.or(waters.first()).cloned();
            let material = material.unwrap_or_else(|| MaterialId::from_name("water"));
            self.against((&material, MADE_UP), lot, mass, lots)
        };
        (!against.is_empty()).then(|| LotStop {
            lot: Some(lot.clone()),
            against,
        })
    }

    /// The materials of the formula that are water.
    fn waters(&self) -> Vec<MaterialId> {
        let formula = &self.opening().formula;
        let lines = self.opening().variant().lines();
        let materials = lines.filter_map(|(_, line)| formula.material(&line.material));
        let waters = materials.filter(|material| is_water(material));
        waters.map(|material| material.id.clone()).collect()
    }

    /// That a material of which lots are kept is weighed and none is noted: what was taken would
    /// slip past all that speaks against its lots.
    fn without_lot_stop(&self, event: &Event, stock: &Stock) -> Option<LotStop> {
        let has_lots = |material: &MaterialId| stock.lots_of(material).next().is_some();
        let name = match event {
            Event::Weighed { line, .. } => {
                let of = self.opening().variant().line(*line)?;
                has_lots(&of.material).then(|| self.opening().name_of(*line))?
            }
            Event::MadeUp { .. } => self.waters().iter().any(has_lots).then(|| MADE_UP.into())?,
            _ => return None,
        };
        let words = lot_not_noted(&name);
        (!self.excepted(None, &words)).then(|| LotStop {
            lot: None,
            against: vec![words],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::beyond;

    /// What a correction puts in the place of an entry is counted beyond what that had taken.
    #[test]
    fn a_correction_takes_what_is_more_than_before() {
        assert_eq!(beyond(("L1", 5), None), Some(5));
        assert_eq!(beyond(("L1", 5), Some(("L1", 3))), Some(2));
        assert_eq!(beyond(("L1", 5), Some(("L1", 5))), None);
        assert_eq!(beyond(("L1", 5), Some(("L1", 8))), None);
        assert_eq!(beyond(("L1", 5), Some(("L2", 8))), Some(5));
    }
}
