//! What lies in the stock and does not count, because it must not be used.

use super::{Lot, LotId, LotStatus, LotUsage, Stock};
use crate::formula::Date;
use crate::mass::{ExactMass, MassUnit, shown};
use crate::material::MaterialId;

/// What is left of a lot that must not be used.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct UnusableLot {
    /// The lot.
    pub lot: LotId,
    /// What is left of it.
    pub left: ExactMass,
    /// Why it does not count, in words.
    pub why: String,
}

impl UnusableLot {
    /// That it lies there and does not count.
    fn words(&self, step: ExactMass, unit: MassUnit) -> String {
        let Self { lot, left, why } = self;
        format!("{} of lot {lot}, {why}", shown(*left, step, unit))
    }
}

/// Why a lot is not to be used on a day; `None` of one that may be.
fn why_not(lot: &Lot, day: Date) -> Option<String> {
    match lot.status {
        LotStatus::Quarantine => Some("in quarantine".to_owned()),
        LotStatus::Rejected => Some("rejected".to_owned()),
        LotStatus::Released => {
            let last = lot.last_day().filter(|last| day > *last)?;
            Some(format!("to be used by {last}"))
        }
    }
}

impl Stock {
    /// What is left of a material in lots that must not be used on a day, in their turn.
    pub fn set_aside(
        &self,
        material: &MaterialId,
        usage: &LotUsage,
        day: Date,
    ) -> Vec<UnusableLot> {
        let mut lots: Vec<(&Lot, String)> = self
            .lots_of(material)
            .filter_map(|lot| Some((lot, why_not(lot, day)?)))
            .collect();
        lots.sort_by_key(|(lot, _)| lot.turn());
        let left = lots.into_iter().map(|(lot, why)| UnusableLot {
            lot: lot.id.clone(),
            left: self.left(lot, usage),
            why,
        });
        left.filter(|s| s.left > ExactMass::ZERO).collect()
    }
}

/// What lies there and does not count, in words; `None` where there is nothing.
pub fn set_aside_words(all: &[UnusableLot], step: ExactMass, unit: MassUnit) -> Option<String> {
    let words: Vec<String> = all.iter().map(|s| s.words(step, unit)).collect();
    (!words.is_empty()).then(|| format!("not counted: {}", words.join("; ")))
}
