//! A formula: product, phases in working order, lines, and the variants of one file.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub use jiff::civil::Date;

use crate::finding::SetAside;
pub use crate::ids::{ItemId, VariantId};
pub use crate::kinds::Kinds;
use crate::label_info::LabelInfo;
use crate::material::{Material, MaterialId, PhaseKind, ProductKind};
pub use crate::measured::Measured;
pub use crate::product_type::{BodySite, ProductType};
use crate::purpose::Purpose;
use crate::quantity::{Mass, Percent, Ph, Temperature};
use crate::specification::{Characteristic, Specification};

/// Where a product is placed on the market.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Market {
    /// European Union.
    Eu,
    /// United Kingdom.
    Uk,
    /// United States.
    Us,
}

impl Market {
    /// All markets.
    pub const ALL: [Self; 3] = [Self::Eu, Self::Uk, Self::Us];
    /// The usual letters.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Eu => "EU",
            Self::Uk => "UK",
            Self::Us => "US",
        }
    }
}

/// What the product is, for whom, and where it is sold: everything a rule may ask.
#[derive(Clone, PartialEq, Debug)]
pub struct Product {
    /// Washed off, left on, or both.
    pub kinds: Kinds,
    /// Its type, if stated; limits often differ by type.
    pub product_type: Option<ProductType>,
    /// Where it is used.
    pub places: Vec<BodySite>,
    /// Where it is sold; empty means that no market's law is checked.
    pub markets: Vec<Market>,
    /// Made for children under three years.
    pub under_three: bool,
    /// Sprayed as an aerosol or fine mist.
    pub spray: bool,
    /// For professional use only.
    pub professional: bool,
    /// Reached by wet hands or water in use, for example a jar in the shower.
    pub wet_use: bool,
    /// Day of placing on the market; the day of evaluation counts if none is stated.
    pub market_date: Option<Date>,
    /// Category of the fragrance trade association ("1" to "12", "5A" …).
    pub fragrance_category: Option<Arc<str>>,
}

impl Product {
    /// Makes it a product of a type, or of none that is stated. Where no product of that type
    /// is used on any of the places stated, its usual places are taken in their stead.
    pub fn become_type(&mut self, of: Option<ProductType>) {
        self.product_type = of;
        let possible = of.map_or(&[][..], ProductType::places);
        if !possible.is_empty() && !self.places.iter().any(|p| possible.contains(p)) {
            self.places = of.map_or(&[][..], ProductType::usual_places).to_vec();
        }
    }
}

impl Default for Product {
    fn default() -> Self {
        Self {
            kinds: Kinds::Only(ProductKind::RinseOff),
            product_type: None,
            places: vec![BodySite::Body],
            markets: vec![Market::Eu],
            under_three: false,
            spray: false,
            professional: false,
            wet_use: false,
            market_date: None,
            fragrance_category: None,
        }
    }
}

/// One raw material at one percentage in one phase.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    /// Identity.
    pub id: ItemId,
    /// Which material.
    pub material: MaterialId,
    /// Percentage by weight of the whole formula.
    pub percent: Percent,
    /// Why it is here, in the maker's words.
    pub why: Arc<str>,
    /// No automatic step may change it.
    pub held: bool,
    /// The maker's own lowest percentage.
    pub min: Option<Percent>,
    /// The maker's own highest percentage.
    pub max: Option<Percent>,
    /// What it is there for in the sense of the law; none lets it be proposed.
    pub purpose: Option<Purpose>,
}

/// One step of work in a phase.
#[derive(Clone, PartialEq, Debug)]
pub struct Step {
    /// Identity.
    pub id: ItemId,
    /// What to do.
    pub text: Arc<str>,
    /// Temperature to reach or keep.
    pub temperature: Option<Temperature>,
    /// How long, in minutes.
    pub minutes: Option<u32>,
    /// Vessel, tool or speed.
    pub tool: Arc<str>,
    /// What to check before going on.
    pub check: Arc<str>,
}

/// A phase: lines that are weighed and worked together.
#[derive(Clone, PartialEq, Debug)]
pub struct Phase {
    /// Identity.
    pub id: ItemId,
    /// Letter shown, "A", "B" …
    pub letter: Arc<str>,
    /// What kind of phase it is.
    pub kind: PhaseKind,
    /// Its purpose in the maker's words.
    pub purpose: Arc<str>,
    /// Working temperature; none means room temperature is not stated.
    pub temperature: Option<Temperature>,
    /// Lines in the order in which they go in.
    pub lines: Vec<Line>,
    /// Steps in the order in which they are done.
    pub steps: Vec<Step>,
}

impl Phase {
    /// Sum of the lines.
    pub fn total(&self) -> Percent {
        self.lines.iter().map(|l| l.percent).sum()
    }

    /// The highest temperature at which it is worked, by itself or in a step, if any is told.
    pub fn hottest(&self) -> Option<Temperature> {
        let steps = self.steps.iter().filter_map(|s| s.temperature);
        let all = steps.chain(self.temperature);
        all.max_by(|a, b| a.value.total_cmp(&b.value))
    }

    /// The highest temperature that its lines meet, if any is told.
    ///
    /// A cool-down phase may begin with steps of the mix that it goes into: as long as they are
    /// hotter than the temperature stated for the phase, its own lines are not in it yet.
    pub fn hottest_of_lines(&self) -> Option<Temperature> {
        let waits_for = (self.temperature).filter(|_| self.kind == PhaseKind::CoolDown);
        let is_before = |step: &&Step| {
            let hotter = |at: Temperature| waits_for.is_some_and(|t| at.value > t.value);
            step.temperature.is_some_and(hotter)
        };
        let met = self.steps.iter().skip_while(is_before);
        let all = met.filter_map(|s| s.temperature).chain(self.temperature);
        all.max_by(|a, b| a.value.total_cmp(&b.value))
    }
}

/// One version of a formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Variant {
    /// Identity within the file.
    pub id: VariantId,
    /// Name shown.
    pub name: Arc<str>,
    /// The maker's note.
    pub note: Arc<str>,
    /// The variant it was branched from.
    pub parent: Option<VariantId>,
    /// The day it was made.
    pub created: Option<Date>,
    /// No longer used, not deleted.
    pub archived: bool,
    /// What the product is.
    pub product: Product,
    /// Phases in working order.
    pub phases: Vec<Arc<Phase>>,
    /// The line that takes up the rest to 100, q.s.
    pub filler: Option<ItemId>,
    /// pH the maker aims at.
    pub target_ph: Option<Ph>,
    /// Batch mass shown beside the percentages.
    pub batch: Mass,
    /// What was measured.
    pub measured: Measured,
    /// What the maker states for the label.
    pub label: Arc<LabelInfo>,
    /// What it must measure before it may leave.
    pub specification: Arc<Specification>,
}

impl Variant {
    /// What it must measure before it may leave, with what follows where nothing is stated.
    pub fn must_measure(&self) -> Vec<Characteristic> {
        self.specification.with_usual(self.target_ph)
    }

    /// A line, to be changed.
    pub fn line_mut(&mut self, id: ItemId) -> Option<&mut Line> {
        let phase = self
            .phases
            .iter_mut()
            .find(|p| p.lines.iter().any(|l| l.id == id))?;
        Arc::make_mut(phase).lines.iter_mut().find(|l| l.id == id)
    }

    /// All lines with their phases, in working order.
    pub fn lines(&self) -> impl Iterator<Item = (&Arc<Phase>, &Line)> {
        self.phases
            .iter()
            .flat_map(|p| p.lines.iter().map(move |l| (p, l)))
    }
    /// A line by its id.
    pub fn line(&self, id: ItemId) -> Option<&Line> {
        self.lines().map(|(_, l)| l).find(|l| l.id == id)
    }
    /// A phase by its id.
    pub fn phase(&self, id: ItemId) -> Option<&Arc<Phase>> {
        self.phases.iter().find(|p| p.id == id)
    }
    /// The phase that holds a line.
    pub fn phase_of(&self, line: ItemId) -> Option<&Arc<Phase>> {
        self.phases
            .iter()
            .find(|p| p.lines.iter().any(|l| l.id == line))
    }
    /// The phase that a new material goes into: the first of the kind it usually goes into,
    /// else of the kind that comes nearest, else the last. Formula, Aim and commands all ask
    /// here; a remedy too, unless the material states a kind of phase that is missing, which it
    /// makes.
    pub fn phase_for(&self, material: &Material) -> Option<&Arc<Phase>> {
        use PhaseKind::{Adjust, CoolDown, Slurry, Surfactant, Water};
        // What a formula has no phase for goes along with what is worked in a like way;
        // common practice, no source.
        let nearest: &[PhaseKind] = match material.phase {
            Some(Water) => &[Slurry, Surfactant],
            Some(Slurry) => &[Water, Surfactant],
            Some(Surfactant) => &[Water, Slurry],
            Some(Adjust) => &[CoolDown],
            _ => &[],
        };
        let of_kind = |kind: PhaseKind| self.phases.iter().find(|p| p.kind == kind);
        material
            .phase
            .into_iter()
            .chain(nearest.iter().copied())
            .find_map(of_kind)
            .or_else(|| self.phases.last())
    }
    /// Sum of all lines.
    pub fn total(&self) -> Percent {
        self.phases.iter().map(|p| p.total()).sum()
    }
    /// Whether a line is the filler.
    pub fn is_filler(&self, line: ItemId) -> bool {
        self.filler == Some(line)
    }
}

/// An earlier state of a variant kept in the file.
#[derive(Clone, PartialEq, Debug)]
pub struct EarlierState {
    /// When, as the clock of the machine said: RFC 3339.
    pub at: Arc<str>,
    /// What was done, in words.
    pub what: Arc<str>,
    /// The variant as it was.
    pub variant: Arc<Variant>,
}

/// A formula file: variants of one formula and the materials they use.
#[derive(Clone, PartialEq, Debug)]
pub struct Formula {
    /// Name of the formula.
    pub name: Arc<str>,
    /// Under what the workshop keeps the product and batch records know it, see
    /// [`Formula::product`]; none in files that never said.
    pub kept_as: Option<Arc<str>>,
    /// The maker's notes.
    pub notes: Arc<str>,
    /// Who wrote it.
    pub author: Arc<str>,
    /// Variants, oldest first; at least one.
    pub variants: Vec<Arc<Variant>>,
    /// The variant that is worked on.
    pub active: VariantId,
    /// The materials the variants use, as they were when taken from the shelf.
    pub materials: BTreeMap<MaterialId, Arc<Material>>,
    /// Findings that the maker has read and set aside.
    pub set_aside: BTreeSet<SetAside>,
    /// Earlier states, oldest first.
    pub history: Vec<Arc<EarlierState>>,
    /// The next free id for lines, phases, steps and variants.
    pub next_id: u64,
}

impl Formula {
    /// What tells the product from all others, whatever the formula is called now: the
    /// workshop keeps its costs and habits under it, and batches are of it.
    ///
    /// A formula that was never given one is told by its name, and once renamed by the name
    /// it had first.
    pub fn product(&self) -> &Arc<str> {
        self.kept_as.as_ref().unwrap_or(&self.name)
    }

    /// Renames it; it stays the product it was.
    pub fn rename(&mut self, name: Arc<str>) {
        if self.kept_as.is_none() && self.name != name {
            self.kept_as = Some(self.name.clone());
        }
        self.name = name;
    }

    /// Takes care that ids which came with a variant are never given again.
    pub fn keep_ids_free(&mut self, of: &Variant) {
        let ids = of.phases.iter().flat_map(|p| {
            let lines = p.lines.iter().map(|l| l.id.0);
            let steps = p.steps.iter().map(|s| s.id.0);
            [p.id.0].into_iter().chain(lines).chain(steps)
        });
        let highest = ids.max().unwrap_or(0);
        self.next_id = self.next_id.max(highest + 1);
    }

    /// A new formula with one empty variant of one phase.
    pub fn new(name: impl Into<Arc<str>>) -> Self {
        let variant = Variant {
            id: VariantId(1),
            name: "First".into(),
            note: "".into(),
            parent: None,
            created: None,
            archived: false,
            product: Product::default(),
            phases: vec![Arc::new(Phase {
                id: ItemId(2),
                letter: "A".into(),
                kind: PhaseKind::Water,
                purpose: "".into(),
                temperature: None,
                lines: Vec::new(),
                steps: Vec::new(),
            })],
            filler: None,
            target_ph: None,
            batch: crate::quantity::grams(1000.0),
            measured: Measured::default(),
            label: Arc::default(),
            specification: Arc::default(),
        };
        Self {
            name: name.into(),
            kept_as: None,
            notes: "".into(),
            author: "".into(),
            active: variant.id,
            variants: vec![Arc::new(variant)],
            materials: BTreeMap::new(),
            set_aside: BTreeSet::new(),
            history: Vec::new(),
            next_id: 3,
        }
    }
    /// A variant by its id.
    pub fn variant(&self, id: VariantId) -> Option<&Arc<Variant>> {
        self.variants.iter().find(|v| v.id == id)
    }
    /// The variant that is worked on. A formula always has at least one variant.
    pub fn active(&self) -> &Arc<Variant> {
        self.variant(self.active).unwrap_or(&self.variants[0])
    }
    /// The material of a line, as carried in the file.
    pub fn material(&self, id: &MaterialId) -> Option<&Arc<Material>> {
        self.materials.get(id)
    }
    /// Takes the next free id.
    pub fn take_id(&mut self) -> u64 {
        let id = self.next_id;
        self.next_id += 1;
        id
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{celsius, in_celsius};

    /// A phase at a temperature with steps, each at one or at none told.
    fn phase(kind: PhaseKind, at: Option<f64>, steps: &[Option<f64>]) -> Phase {
        let step = |(n, at): (usize, &Option<f64>)| Step {
            id: ItemId(n as u64 + 2),
            text: "work it".into(),
            temperature: at.map(celsius),
            minutes: None,
            tool: "".into(),
            check: "".into(),
        };
        Phase {
            id: ItemId(1),
            letter: "A".into(),
            kind,
            purpose: "".into(),
            temperature: at.map(celsius),
            lines: Vec::new(),
            steps: steps.iter().enumerate().map(step).collect(),
        }
    }

    #[test]
    fn the_lines_of_a_cool_down_phase_wait_until_the_mix_has_cooled() {
        use PhaseKind::{CoolDown, Water};
        let met = |kind, at, steps: &[Option<f64>]| {
            let hottest = phase(kind, at, steps).hottest_of_lines();
            hottest.map(|t| in_celsius(t).round())
        };
        let forty = Some(40.0);
        assert_eq!(
            met(CoolDown, forty, &[Some(75.0), Some(60.0), forty]),
            forty
        );
        assert_eq!(met(CoolDown, forty, &[Some(75.0)]), forty);
        // Heated again once they may be in it, they meet that.
        assert_eq!(met(CoolDown, forty, &[forty, Some(75.0)]), Some(75.0));
        assert_eq!(met(CoolDown, forty, &[None, Some(75.0)]), Some(75.0));
        // Where nothing tells when they go in, and in every other phase, all steps count.
        assert_eq!(met(CoolDown, None, &[Some(75.0), forty]), Some(75.0));
        assert_eq!(met(Water, forty, &[Some(75.0), forty]), Some(75.0));
        assert_eq!(met(Water, None, &[None]), None);
    }

    /// Formula, Aim and commands all ask here, so they cannot differ.
    #[test]
    fn a_new_material_goes_into_the_first_phase_of_its_kind_or_the_nearest() {
        use PhaseKind::{Adjust, CoolDown, Oil, Slurry, Surfactant, Water};
        let of = |kinds: &[PhaseKind], wanted: Option<PhaseKind>| {
            let mut variant = Formula::new("test").active().as_ref().clone();
            let made = kinds.iter().zip(10..).map(|(&kind, id)| {
                let mut phase = phase(kind, None, &[]);
                phase.id = ItemId(id);
                Arc::new(phase)
            });
            variant.phases = made.collect();
            let mut material = Material::unknown(MaterialId::from_name("new"), "New");
            material.phase = wanted;
            variant.phase_for(&material).map(|p| p.id.0 - 10)
        };
        // Of two oil phases the first.
        let two = [Water, Oil, Oil, CoolDown];
        assert_eq!(of(&two, Some(Oil)), Some(1));
        assert_eq!(of(&two, Some(CoolDown)), Some(3));
        // Without one of its kind: what is worked in a like way, in the order of likeness.
        assert_eq!(of(&two, Some(Slurry)), Some(0));
        assert_eq!(of(&[Oil, Surfactant, Slurry], Some(Water)), Some(2));
        assert_eq!(of(&[Oil, Surfactant, CoolDown], Some(Water)), Some(1));
        assert_eq!(of(&[Slurry, Water, Oil], Some(Surfactant)), Some(1));
        assert_eq!(of(&[Oil, CoolDown, Water], Some(Adjust)), Some(1));
        // Nothing is like an oil phase, and a material may state none: the last.
        assert_eq!(of(&[Water, CoolDown], Some(Oil)), Some(1));
        assert_eq!(of(&two, None), Some(3));
        assert_eq!(of(&[], Some(Oil)), None);
    }
}
