//! The workshop: scales, vessels and habits that every batch starts from.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::code::CodeScheme;
use super::cost_inputs::CostInputs;
use super::mass::{ExactMass, MassUnit};
use super::plan::PlanRequest;
use super::scale::{Allowances, Vessel};
use super::weighing_scale::WeighingScale;
use crate::formula::Date;
use crate::quantity::{MassFraction, Volume};

/// Size of the sheet of paper.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 by 11 inches (ANSI/ASME Y14.1 size A).
    UsLetter,
}

impl Paper {
    /// Both sizes.
    pub const ALL: [Self; 2] = [Self::A4, Self::UsLetter];
    /// The name shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::UsLetter => "US Letter",
        }
    }
    /// Width and height in points.
    pub const fn size(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::UsLetter => (612.0, 792.0),
        }
    }
}

/// How a person made a product the last time.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Habit {
    /// Who; empty if it was not noted.
    pub by: Arc<str>,
    /// Name of the vessel; may be empty.
    pub vessel: Arc<str>,
    /// Names of the scales that were left aside; one bought since is used.
    pub idle_scales: Vec<Arc<str>>,
    /// Paper of sheet and record; that of the workshop if it was not noted.
    pub paper: Option<Paper>,
    /// Mass of the batch.
    pub mass: Option<ExactMass>,
    /// Containers filled, and the contents of one.
    pub containers: Option<(u32, Volume)>,
}

/// How a product was made, and what it costs besides its materials.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct ProductHabits {
    /// Packaging, labour and overhead of this product; `None` takes those of the workshop.
    pub costs: Option<CostInputs>,
    /// How each person made it, the last first.
    pub made: Vec<Habit>,
}

impl ProductHabits {
    /// How a person made it the last time; of one who never did, how it was made last.
    pub fn of(&self, by: &str) -> Option<&Habit> {
        let own = self.made.iter().find(|h| h.by.as_ref() == by.trim());
        own.or(self.made.first())
    }

    /// Keeps how it was made, in place of how the same person made it before.
    pub fn remember(&mut self, habit: Habit) {
        self.made.retain(|h| h.by != habit.by);
        self.made.insert(0, habit);
    }
}

/// Something that is done to a thing of the workshop again and again: a scale is checked, a
/// meter calibrated, a vessel cleaned.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Duty {
    /// The thing.
    pub thing: Arc<str>,
    /// What is done to it.
    pub what: Arc<str>,
    /// Every so many days; 0 if only noted when done.
    pub every_days: u32,
    /// When it was done, by whom, and what was found; oldest first.
    pub done: Vec<DutyDone>,
    /// The day from which it is not done any more, as of a scale that was sold; what was done
    /// stays in the books.
    pub ended: Option<Date>,
}

/// One time a duty was done.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct DutyDone {
    /// The day.
    pub day: Date,
    /// By whom.
    pub by: Arc<str>,
    /// What was found; may be empty.
    pub found: Arc<str>,
}

/// What the maker has set up once.
#[derive(Clone, PartialEq, Debug)]
pub struct Workshop {
    /// Scales.
    pub scales: Vec<WeighingScale>,
    /// Vessels.
    pub vessels: Vec<Vessel>,
    /// How far a weighing may be off, as a share of the line.
    pub tolerance: MassFraction,
    /// Unit of mass.
    pub unit: MassUnit,
    /// What is added for losses.
    pub allowances: Allowances,
    /// How batch codes are made.
    pub codes: CodeScheme,
    /// Packaging, labour and overhead of products that have none of their own.
    pub costs: CostInputs,
    /// Paper of sheets and records.
    pub paper: Paper,
    /// Whether a second person checks weighings and records.
    pub second_check: bool,
    /// Who works here, the last first.
    pub people: Vec<Arc<str>>,
    /// By what tells the product, see [`crate::formula::Formula::product`].
    pub products: BTreeMap<Arc<str>, ProductHabits>,
    /// What is done again and again.
    pub duties: Vec<Duty>,
}

impl Workshop {
    /// Packaging, labour and overhead of a product.
    pub fn costs_of(&self, product: &str) -> &CostInputs {
        let own = self.products.get(product).and_then(|p| p.costs.as_ref());
        own.unwrap_or(&self.costs)
    }

    /// How a person made a product the last time.
    pub fn habit(&self, product: &str, by: &str) -> Option<&Habit> {
        self.products.get(product)?.of(by)
    }

    /// The paper a person takes for a product.
    pub fn paper_of(&self, product: &str, by: &str) -> Paper {
        let own = self.habit(product, by).and_then(|h| h.paper);
        own.unwrap_or(self.paper)
    }

    /// Puts a scale in the place of another; the products that left it aside go on doing so.
    pub fn replace_scale(&mut self, place: usize, scale: WeighingScale) {
        let Some(known) = self.scales.get_mut(place) else {
            return;
        };
        let (old, new) = (known.name().clone(), scale.name().clone());
        *known = scale;
        for idle in self.habits_mut().flat_map(|h| &mut h.idle_scales) {
            if *idle == old {
                *idle = new.clone();
            }
        }
    }

    /// Puts a vessel in the place of another; the products that were made in it go on being so.
    pub fn replace_vessel(&mut self, place: usize, vessel: Vessel) {
        let Some(known) = self.vessels.get_mut(place) else {
            return;
        };
        let (old, new) = (known.name().clone(), vessel.name().clone());
        *known = vessel;
        for habit in self.habits_mut().filter(|h| h.vessel == old) {
            habit.vessel = new.clone();
        }
    }

    fn habits_mut(&mut self) -> impl Iterator<Item = &mut Habit> {
        self.products.values_mut().flat_map(|p| &mut p.made)
    }

    /// Puts a person first.
    pub fn remember_person(&mut self, name: &str) {
        let name = name.trim();
        if !name.is_empty() {
            self.people.retain(|p| p.as_ref() != name);
            self.people.insert(0, name.into());
        }
    }
}

impl Default for Workshop {
    /// One scale of 0.1 g without a stated range, grams, one percent tolerance, no losses.
    fn default() -> Self {
        let tenth = ExactMass::from_femtograms(100_000_000_000_000);
        Self {
            scales: WeighingScale::new("scale", tenth, None)
                .into_iter()
                .collect(),
            vessels: Vec::new(),
            tolerance: PlanRequest::TOLERANCE,
            unit: MassUnit::Gram,
            allowances: Allowances::default(),
            codes: CodeScheme::default(),
            costs: CostInputs::default(),
            paper: Paper::default(),
            second_check: false,
            people: Vec::new(),
            products: BTreeMap::new(),
            duties: Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_person_finds_the_product_as_it_was_made_by_them() {
        let made = |by: &str, vessel: &str| Habit {
            by: by.into(),
            vessel: vessel.into(),
            ..Habit::default()
        };
        let mut workshop = Workshop::default();
        let gel = workshop.products.entry("Gel".into()).or_default();
        gel.remember(made("Wren", "pot"));
        gel.remember(made("Ash", "kettle"));
        let vessel = |w: &Workshop, by: &str| w.habit("Gel", by).map(|h| h.vessel.to_string());
        assert_eq!(vessel(&workshop, "Wren "), Some("pot".to_owned()));
        // Who never made it begins as it was made last.
        assert_eq!(vessel(&workshop, "Rowan"), Some("kettle".to_owned()));
        assert_eq!(workshop.habit("Balm", "Wren"), None);
        let gel = workshop.products.entry("Gel".into()).or_default();
        gel.remember(made("Wren", "beaker"));
        assert_eq!(gel.made.len(), 2);
        assert_eq!(vessel(&workshop, "Wren"), Some("beaker".to_owned()));
        assert_eq!(workshop.paper_of("Gel", "Wren"), Paper::A4);
    }

    #[test]
    fn what_gets_another_name_is_still_the_one_used() {
        let volume = crate::quantity::millilitres(2000.0);
        let vessel = |name: &str| Vessel::new(name, volume, crate::quantity::Percent::HUNDRED);
        let mut workshop = Workshop::default();
        workshop.vessels.push(vessel("pot").unwrap());
        let gel = workshop.products.entry("Gel".into()).or_default();
        gel.remember(Habit {
            vessel: "pot".into(),
            idle_scales: vec!["scale".into()],
            ..Habit::default()
        });
        workshop.replace_vessel(0, vessel("kettle").unwrap());
        let fine = workshop.scales[0].resolution();
        workshop.replace_scale(0, WeighingScale::new("bench scale", fine, None).unwrap());
        let habit = workshop.habit("Gel", "").unwrap();
        assert_eq!(habit.vessel.as_ref(), "kettle");
        assert_eq!(habit.idle_scales, ["bench scale".into()]);
    }
}
