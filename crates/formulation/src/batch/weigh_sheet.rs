//! The weigh sheet: everything that is done, in the order in which it is done, with the
//! cautions at the step where they matter.

use std::fmt::Write as _;
use std::sync::Arc;

use super::code::BatchCode;
use super::formula_state::state_of;
use super::mass::{ExactMass, MassUnit, shown};
use super::packaging_plan::PackagingPlan;
use super::plan::{BatchPlan, PlannedLine, TooSmall};
use super::precaution::{Caution, CautionKind, cautions};
use super::scale::Filling;
use super::weighing_scale::WeighingScale;
use crate::amount::measure::tidy;
use crate::amount::typed::shown_temperature;
use crate::chemistry::water_limits::NO_PH;
use crate::composition::Composition;
use crate::evaluation::Evaluation;
use crate::finding::Level;
use crate::formula::{Date, Formula, ItemId, Line, Phase, Step, Variant};
use crate::handling::{Wetting, is_too_hot, wetting_words};
use crate::material::{Material, PhaseKind, Role};
use crate::mixture::Mixture;
use crate::plain_words::sentence;
use crate::quantity::{Ph, PhRange, Temperature, in_celsius};
use crate::rules::practice::common_ph_window;
use crate::specification::Quality;
use crate::stock::{LotId, LotUsage, Stock, UnusableLot, set_aside_words};

/// What a sheet is headed with.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Heading {
    /// Batch code, if it is given already.
    pub code: Option<BatchCode>,
    /// The day of making, if it is fixed.
    pub day: Option<Date>,
    /// Vessel and tools.
    pub vessel: Arc<str>,
    /// Unit in which masses are printed.
    pub unit: MassUnit,
    /// What the checks call a breach, in words; such a batch is a trial and not for sale.
    pub breaches: Vec<String>,
    /// Readings of exactly this composition that go with the recipe, as label and value.
    pub readings: Vec<(String, String)>,
}

/// The breaches found in a formula, in words.
pub fn breaches(evaluation: &Evaluation) -> Vec<String> {
    let breaches = evaluation.findings.iter();
    let breaches = breaches.filter(|f| f.level == Level::Breach);
    breaches.map(|f| f.message.clone()).collect()
}

/// A line to weigh.
#[derive(Clone, PartialEq, Debug)]
pub struct Weighing {
    /// What and how much.
    pub planned: PlannedLine,
    /// INCI names of the material.
    pub inci: String,
    /// Name of the scale.
    pub scale: Arc<str>,
    /// Smallest step of the scale.
    pub resolution: ExactMass,
    /// Why the line is in the formula, in the maker's words.
    pub why: Arc<str>,
    /// From which lots to take it, first expired first; empty without stock.
    pub lots: Vec<(LotId, ExactMass)>,
    /// What usable lots lack; `None` if no stock was asked.
    pub short: Option<ExactMass>,
    /// What lies in lots that must not be used, and why.
    pub set_aside: Vec<UnusableLot>,
    /// It goes in little by little until the target is met, not all at once.
    pub by_portions: bool,
    /// What to mind, here and now.
    pub cautions: Vec<Caution>,
}

/// One thing to do.
#[derive(Clone, PartialEq, Debug)]
pub enum SheetEntry {
    /// Weigh a line.
    Weigh(Box<Weighing>),
    /// A step of work of the formula.
    Work {
        /// The step as the maker wrote it.
        step: Step,
        /// What to mind.
        cautions: Vec<Caution>,
    },
    /// Wait until the batch has cooled.
    Cool {
        /// To this or less: what the phase is worked at, else what its material bears.
        below: Temperature,
        /// On whose account.
        because: String,
    },
}

/// The entries of one phase.
#[derive(Clone, PartialEq, Debug)]
pub struct SheetPhase {
    /// The phase.
    pub id: ItemId,
    /// Its letter.
    pub letter: Arc<str>,
    /// Its kind.
    pub kind: PhaseKind,
    /// Its purpose.
    pub purpose: Arc<str>,
    /// Its working temperature.
    pub temperature: Option<Temperature>,
    /// What its lines add up to.
    pub mass: ExactMass,
    /// In working order.
    pub entries: Vec<SheetEntry>,
    /// The maker wrote no step for it.
    pub without_steps: bool,
}

impl Weighing {
    /// How to add it, where it does not go in all at once.
    pub fn manner(&self) -> Option<&'static str> {
        self.by_portions.then_some(IN_PORTIONS)
    }
}

/// How to add what goes in little by little.
pub const IN_PORTIONS: &str =
    "Add in portions until the target is met; note what was really added.";

/// Whether the lines of a phase go in little by little until the target is met.
pub fn goes_in_by_portions(phase: &Phase) -> bool {
    phase.kind == PhaseKind::Adjust
}

impl SheetPhase {
    /// Its kind and temperature in words: "oil phase, 75 °C".
    pub fn words(&self) -> String {
        let warm = self.temperature.map(shown_temperature);
        let words = [Some(self.kind.label().to_owned()), warm];
        words.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// What a step says besides its text and its check: temperature, time, tool.
pub fn step_facts(step: &Step) -> Vec<String> {
    let tool = (!step.tool.is_empty()).then(|| step.tool.to_string());
    let minutes = step.minutes.map(|m| format!("{m} min"));
    [step.temperature.map(shown_temperature), minutes, tool]
        .into_iter()
        .flatten()
        .collect()
}

/// The wait for a temperature in words.
pub fn cool_words(below: Temperature) -> String {
    format!("Let it cool to {}", shown_temperature(below))
}

/// A check while or after working, with what is acceptable.
#[derive(Clone, PartialEq, Debug)]
pub struct ProcessCheck {
    /// What is looked at.
    pub what: String,
    /// What is acceptable; empty if the maker has to judge.
    pub accept: String,
}

/// The weigh sheet of a batch.
#[derive(Clone, PartialEq, Debug)]
pub struct WeighSheet {
    /// Name of the formula.
    pub formula: Arc<str>,
    /// Name of the variant.
    pub variant: Arc<str>,
    /// Mark of the state of the formula.
    pub state: String,
    /// Rinse-off or leave-on.
    pub product: &'static str,
    /// How long the product keeps, as stated for the label; `None` if it is not stated.
    pub expiry: Option<String>,
    /// Code, day, vessel, unit.
    pub heading: Heading,
    /// The plan it prints.
    pub plan: BatchPlan,
    /// What to see to before the first weighing.
    pub before: Vec<&'static str>,
    /// Phases in working order.
    pub phases: Vec<SheetPhase>,
    /// pH to reach.
    pub target_ph: Option<Ph>,
    /// pH at which every material of the batch is stable and works, as far as stated;
    /// `Err` names two that exclude each other.
    pub ph_window: Result<Option<PhRange>, String>,
    /// Names of the acids and bases of the batch, to adjust with.
    pub adjust_with: Vec<Arc<str>>,
    /// Checks after the last phase.
    pub checks: Vec<ProcessCheck>,
    /// How to fill.
    pub filling: Option<Filling>,
    /// Packaging from the stock for the containers; nothing until it is looked for.
    pub packaging: PackagingPlan,
}

/// Before weighing: documents, place, equipment and materials at hand and clean. Restated
/// from the headings of good manufacturing practice for cosmetics (ISO 22716).
const BEFORE: [&str; 4] = [
    "Nothing of an earlier batch is left on table, scale or equipment, and no earlier label",
    "Vessel, tools and containers are clean and sanitised",
    "Scales stand level and show their test weight",
    "Every material is at hand, released, within its last day of use, and its lot is noted",
];

/// What a sheet of a formula in breach says on top.
pub const TRIAL_NOTICE: &str =
    "Not for sale: the formula is in breach, so a batch of it is a trial only";

/// What every sheet says at its foot.
pub const NOTICE: &str = "Masses are rounded to the scales named. Cautions restate common practice; read the supplier's safety data sheet of every material before handling it. This sheet does not replace the assessment of the product by a qualified safety assessor.";

impl WeighSheet {
    /// A mass as this sheet prints it.
    pub fn shown(&self, mass: ExactMass, resolution: ExactMass) -> String {
        shown(mass, resolution, self.heading.unit)
    }

    /// What stands on top where the formula is in breach.
    pub fn trial_notice(&self) -> Option<&'static str> {
        (!self.heading.breaches.is_empty()).then_some(TRIAL_NOTICE)
    }

    /// The finest step among the lines, in which the batch is printed.
    pub fn finest(&self) -> ExactMass {
        self.weighings()
            .map(|w| w.resolution)
            .min()
            .unwrap_or_default()
    }

    /// What to say where usable lots do not suffice for a weighing.
    pub fn stock_caution(&self, weighing: &Weighing) -> Option<String> {
        let short = weighing.short.filter(|s| !s.is_zero())?;
        let short = self.shown(short, weighing.resolution);
        let unit = self.heading.unit;
        let aside = set_aside_words(&weighing.set_aside, weighing.resolution, unit);
        let aside = aside.map(|words| format!(", {words}"));
        Some(format!("Stock lacks {short}{}", aside.unwrap_or_default()))
    }

    /// How to bring the pH to its target; `None` where nothing of the batch does so or no pH is
    /// aimed at.
    pub fn adjust_words(&self) -> Option<String> {
        let names: Vec<&str> = self.adjust_with.iter().map(AsRef::as_ref).collect();
        let is_asked = !names.is_empty() && self.target_ph.is_some();
        is_asked.then(|| {
            format!(
                "Adjust the pH with {} in small portions; stir, wait, measure again, and note what was added.",
                names.join(" or ")
            )
        })
    }

    /// What to say on top: of the size, and of packaging of which there is too little.
    pub fn cautions(&self) -> Vec<String> {
        let packaging = self.packaging.lacking.iter().cloned();
        self.plan
            .sized
            .cautions()
            .into_iter()
            .chain(packaging)
            .collect()
    }

    /// All weighings in working order.
    pub fn weighings(&self) -> impl Iterator<Item = &Weighing> {
        self.phases
            .iter()
            .flat_map(|p| p.entries.iter())
            .filter_map(|e| match e {
                SheetEntry::Weigh(w) => Some(w.as_ref()),
                _ => None,
            })
    }
}

/// A line of a phase with what belongs to it.
struct SheetLine<'a> {
    line: &'a Line,
    planned: &'a PlannedLine,
    material: Option<&'a Material>,
}

/// Writes the weigh sheet of a plan. With a stock and a day, lots are proposed first
/// expired first out.
pub fn weigh_sheet(
    formula: &Formula,
    variant: &Variant,
    plan: BatchPlan,
    heading: Heading,
    stock: Option<(&Stock, &LotUsage, Date)>,
) -> WeighSheet {
    let mut usage = stock.map(|(_, usage, _)| usage.clone()).unwrap_or_default();
    let mut hottest: Option<Temperature> = None;
    let mut phases = Vec::with_capacity(variant.phases.len());
    for phase in &variant.phases {
        let laid: Vec<SheetLine<'_>> = phase
            .lines
            .iter()
            .filter_map(|l| {
                Some(SheetLine {
                    line: l,
                    planned: plan.line(l.id)?,
                    material: formula.material(&l.material).map(AsRef::as_ref),
                })
            })
            .collect();
        if laid.is_empty() && phase.steps.is_empty() {
            continue;
        }
        let mut entries = Vec::new();
        let materials: Vec<&Material> = laid.iter().filter_map(|l| l.material).collect();
        if let Some(cool) = cool_down(phase, &materials, hottest) {
            entries.push(cool);
        }
        for here in &laid {
            let SheetLine {
                line,
                planned,
                material,
            } = *here;
            let scale = plan.scales.get(planned.scale);
            let set_aside = stock.map(|(s, usage, day)| s.set_aside(&line.material, usage, day));
            let (lots, short) = match stock {
                Some((stock, _, day)) => {
                    let draw = stock.draw(&line.material, planned.mass, &usage, day);
                    for (lot, mass) in &draw.parts {
                        usage.add(lot.clone(), *mass);
                    }
                    let tap = material.is_some_and(|m| stock.is_from_the_tap(m));
                    (draw.parts, (!tap).then_some(draw.short))
                }
                None => (Vec::new(), None),
            };
            entries.push(SheetEntry::Weigh(Box::new(Weighing {
                planned: planned.clone(),
                inci: material.map(Material::inci_line).unwrap_or_default(),
                scale: scale.map_or_else(|| "".into(), |s| s.name().clone()),
                resolution: scale.map_or(ExactMass::ZERO, WeighingScale::resolution),
                why: line.why.clone(),
                lots,
                short,
                set_aside: set_aside.unwrap_or_default(),
                by_portions: goes_in_by_portions(phase),
                cautions: line_cautions(phase, &laid, here, heading.unit, &plan),
            })));
        }
        for step in &phase.steps {
            entries.push(SheetEntry::Work {
                step: step.clone(),
                cautions: step_cautions(step, &materials),
            });
        }
        hottest = hotter(hottest, phase.hottest());
        phases.push(SheetPhase {
            id: phase.id,
            letter: phase.letter.clone(),
            kind: phase.kind,
            purpose: phase.purpose.clone(),
            temperature: phase.temperature,
            mass: laid.iter().map(|l| l.planned.mass).sum(),
            entries,
            without_steps: phase.steps.is_empty(),
        });
    }
    let ph_window = common_ph_window(formula, variant);
    let adjust_with = variant
        .lines()
        .filter_map(|(_, l)| formula.material(&l.material))
        .filter(|m| m.has_role(Role::Acid) || m.has_role(Role::Base))
        .map(|m| m.name.clone())
        .collect();
    let has_ph = may_have_ph(formula, variant);
    let checks = checks(variant, &plan, (has_ph, &ph_window), heading.unit);
    WeighSheet {
        formula: formula.name.clone(),
        variant: variant.name.clone(),
        state: state_of(formula, variant),
        product: variant.product.kinds.label(),
        expiry: variant.label.durability.words(),
        filling: plan.sized.filling,
        packaging: PackagingPlan::default(),
        heading,
        before: BEFORE.to_vec(),
        phases,
        target_ph: variant.target_ph,
        ph_window,
        adjust_with,
        checks,
        plan,
    }
}

/// The hotter of two temperatures, where they are known.
fn hotter(a: Option<Temperature>, b: Option<Temperature>) -> Option<Temperature> {
    a.into_iter()
        .chain(b)
        .max_by(|a, b| a.value.total_cmp(&b.value))
}

/// What to mind at one line on the bench, where nobody sees the rest of the sheet: to what it
/// must cool first, what to wear, how to handle it, what to wet it with.
pub fn at_the_bench(formula: &Formula, variant: &Variant, line: ItemId) -> Vec<Caution> {
    let mut hottest = None;
    for phase in &variant.phases {
        let of = |l: &Line| formula.material(&l.material).map(AsRef::as_ref);
        if let Some(here) = phase.lines.iter().find(|l| l.id == line) {
            let Some(material) = of(here) else {
                return Vec::new();
            };
            let cool = match cool_down(phase, &[material], hottest) {
                Some(SheetEntry::Cool { below, because }) => Some(Caution::new(
                    CautionKind::Cool,
                    format!("to {}; {because}", shown_temperature(below)),
                )),
                _ => None,
            };
            let beside = phase
                .lines
                .iter()
                .filter_map(|l| Some((l.id, &*of(l)?.name, of(l)?)));
            let wet = wet_first(beside, line, material);
            let wet = wet.map(|text| Caution::new(CautionKind::Wet, text));
            return cool
                .into_iter()
                .chain(wet)
                .chain(cautions(material))
                .collect();
        }
        hottest = hotter(hottest, phase.hottest());
    }
    Vec::new()
}

/// The wait before materials that bear less heat than the batch has seen.
fn cool_down(
    phase: &Phase,
    materials: &[&Material],
    hottest: Option<Temperature>,
) -> Option<SheetEntry> {
    let (material, limit) = materials
        .iter()
        .filter_map(|m| Some((*m, m.max_temperature.as_ref()?)))
        .min_by(|a, b| a.1.value.value.total_cmp(&b.1.value.value))?;
    let name = &material.name;
    // Worked hotter than that, the phase is told so at the line; waiting would not help.
    if phase
        .hottest_of_lines()
        .is_some_and(|t| is_too_hot(material, t))
    {
        return None;
    }
    let hot_before = hottest.is_some_and(|h| is_too_hot(material, h));
    // What the phase is worked at says more than what its material would bear.
    let below = phase.temperature.unwrap_or(limit.value);
    (hot_before || phase.kind == PhaseKind::CoolDown).then(|| SheetEntry::Cool {
        below,
        because: format!(
            "{name} bears at most {} ({})",
            shown_temperature(limit.value),
            limit.source
        ),
    })
}

fn line_cautions(
    phase: &Phase,
    laid: &[SheetLine<'_>],
    here: &SheetLine<'_>,
    unit: MassUnit,
    plan: &BatchPlan,
) -> Vec<Caution> {
    let planned = here.planned;
    let mut found = Vec::new();
    if let Some(material) = here.material {
        found.extend(cautions(material));
        let beside = laid
            .iter()
            .filter_map(|l| Some((l.line.id, &*l.planned.name, l.material?)));
        if let Some(text) = wet_first(beside, here.line.id, material) {
            found.push(Caution::new(CautionKind::Wet, text));
        }
        if let (Some(bears), Some(worked)) = (&material.max_temperature, phase.hottest_of_lines())
            && is_too_hot(material, worked)
        {
            found.push(Caution::new(
                CautionKind::Process,
                format!(
                    "this phase is worked at {}, but {} bears only {} ({})",
                    shown_temperature(worked),
                    material.name,
                    shown_temperature(bears.value),
                    bears.source
                ),
            ));
        }
    } else {
        found.push(Caution::new(
            CautionKind::Process,
            "nothing is known of this material; read its safety data sheet first",
        ));
    }
    if planned.portions > 1 {
        found.push(Caution::new(
            CautionKind::Handle,
            format!(
                "no scale bears it at once; weigh in {} portions",
                planned.portions
            ),
        ));
    }
    if let Some(small) = &planned.too_small {
        let resolution = plan
            .scales
            .get(planned.scale)
            .map_or(ExactMass::ZERO, WeighingScale::resolution);
        found.push(Caution::new(
            CautionKind::Weigh,
            too_small_words(small, resolution, unit),
        ));
    }
    found
}

/// What to do about a line too small for its scale, in words.
fn too_small_words(small: &TooSmall, resolution: ExactMass, unit: MassUnit) -> String {
    let show = |m| shown(m, resolution, unit);
    let error = small.reading_error.as_percent();
    let mut text = if error < 10.0 {
        // Such as 1.01 %, where 1 % is allowed.
        format!("the reading may be {} % off", tidy(error, 2))
    } else if error < 100.0 {
        format!("the reading may be {error:.0} % off")
    } else {
        "the scale hardly shows it".to_owned()
    };
    let _ = write!(
        text,
        ". Use a scale with steps of {} or less, or make at least {}: this scale weighs within the tolerance from {} on.",
        step_words(small.step_needed, unit),
        without_zeros(&show(small.batch_needed)),
        without_zeros(&show(small.least)),
    );
    if let Some(premix) = &small.premix {
        let carrier = &premix.carrier;
        // Writing into a string does not fail.
        let _ = write!(
            text,
            " Or pre-mix 1 in {}: mix {} of it into {} of {carrier}; take {} of that instead, and {} less {carrier} ({} left over). Try first whether it dissolves or spreads evenly in {carrier}.",
            premix.times,
            show(premix.weigh),
            show(premix.weigh_carrier),
            show(premix.take),
            show(premix.carrier_less),
            show(premix.left_over),
        );
    }
    text
}

/// A mass that is not weighed, without the zeros behind the point that a scale would show.
fn without_zeros(shown: &str) -> String {
    let Some((number, unit)) = shown.split_once(' ') else {
        return shown.to_owned();
    };
    let number = if number.contains('.') {
        number.trim_end_matches('0').trim_end_matches('.')
    } else {
        number
    };
    format!("{number} {unit}")
}

/// A step of a scale in the series 1, 2, 5 that is not above what is needed.
fn step_words(needed: ExactMass, unit: MassUnit) -> String {
    let size = needed.as_grams() / (unit.femtograms() as f64 / 1e15);
    let ten = 10_f64.powf(size.log10().floor());
    let lead = [5.0, 2.0, 1.0]
        .into_iter()
        .find(|lead| lead * ten <= size * (1.0 + 1e-9))
        .unwrap_or(1.0);
    let step = lead * ten;
    let digits = (-size.log10().floor()).clamp(0.0, 9.0) as usize;
    format!("{step:.digits$} {}", unit.symbol())
}

/// What a gum or powder is to be wetted with, and whether the phase allows it. Of each line of
/// the phase its name and material.
fn wet_first<'m>(
    beside: impl Iterator<Item = (ItemId, &'m str, &'m Material)>,
    line: ItemId,
    material: &Material,
) -> Option<String> {
    let beside: Vec<_> = beside.collect();
    let lines = beside.iter().map(|(id, _, material)| (*id, *material));
    let name_of = |medium: ItemId| {
        let found = beside.iter().find(|(id, _, _)| *id == medium);
        found.map_or("", |(_, name, _)| name)
    };
    let name = &material.name;
    Some(match Wetting::of(lines, line)? {
        Wetting::Before(medium) => format!(
            "stir {name} into {} until no dry lump is left, before any water goes in",
            name_of(medium)
        ),
        Wetting::After(medium) => format!(
            "{name} lumps in water, which goes in before it is wetted; stir it into {} by itself first",
            name_of(medium)
        ),
        Wetting::Missing => format!(
            "{name} lumps in water; wet it with {}, of which this phase has none",
            wetting_words(&material.wet_with)
        ),
    })
}

fn step_cautions(step: &Step, materials: &[&Material]) -> Vec<Caution> {
    let Some(temperature) = step.temperature else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for material in materials {
        if let Some(bears) = &material.max_temperature
            && is_too_hot(material, temperature)
        {
            found.push(Caution::new(
                CautionKind::Process,
                format!(
                    "{} bears only {} ({})",
                    material.name,
                    shown_temperature(bears.value),
                    bears.source
                ),
            ));
        }
    }
    // Burns come easily from hot vessels from about 60 °C on; common practice, no source.
    if in_celsius(temperature) >= 60.0 {
        found.push(Caution::new(CautionKind::Wear, "heat-resistant gloves"));
    }
    found
}

/// Whether there may be a water phase whose pH could be measured, what is not known of the
/// materials counted in.
fn may_have_ph(formula: &Formula, variant: &Variant) -> bool {
    let composition = Composition::of(&Mixture::of(formula, variant));
    composition.water().high.value() + composition.unknown.value() >= NO_PH
}

fn checks(
    variant: &Variant,
    plan: &BatchPlan,
    (has_ph, ph_window): (bool, &Result<Option<PhRange>, String>),
    unit: MassUnit,
) -> Vec<ProcessCheck> {
    let mut checks = Vec::new();
    let mut check = |what: &str, accept: String| {
        checks.push(ProcessCheck {
            what: what.to_owned(),
            accept,
        });
    };
    let finest = plan
        .scales
        .iter()
        .map(WeighingScale::resolution)
        .min()
        .unwrap_or_default();
    if !plan.sized.evaporation.is_zero() {
        check(
            "Make up what has evaporated with water",
            format!(
                "to {} in all; about {} expected",
                shown(plan.sized.batch, finest, unit),
                shown(plan.sized.evaporation, finest, unit)
            ),
        );
    }
    let window = match ph_window {
        Ok(Some(range)) => format!("within {:.1} to {:.1}", range.low, range.high),
        Ok(None) => String::new(),
        Err(clash) => clash.clone(),
    };
    for wanted in variant.must_measure() {
        let mut accept = wanted.asked_words();
        let what = match wanted.quality {
            Quality::Ph => {
                if !window.is_empty() {
                    let sep = if accept.is_empty() { "" } else { "; " };
                    accept = format!("{accept}{sep}materials bear and work {window}");
                }
                "pH at 25 °C, as is".to_owned()
            }
            Quality::Appearance => "Appearance and colour".to_owned(),
            Quality::Odour => "Odour".to_owned(),
            _ => sentence(wanted.name()),
        };
        let what = if wanted.method.is_empty() {
            what
        } else {
            format!("{what} ({})", wanted.method)
        };
        check(&what, accept);
    }
    let stated = |quality| variant.must_measure().iter().any(|w| w.quality == quality);
    if has_ph && !stated(Quality::Ph) {
        check("pH at 25 °C, as is", window);
    }
    if !stated(Quality::Viscosity) {
        let viscosity = match &variant.measured.viscosity_mpa_s {
            Some((value, method)) => {
                format!("about {value:.0} mPa·s as measured before ({method})")
            }
            None => String::new(),
        };
        check("Viscosity, with spindle, speed and temperature", viscosity);
    }
    if let Some(fill) = &plan.sized.filling {
        check(
            "Filled mass, net, of at least the first, middle and last container",
            fill.each_words(),
        );
    }
    checks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::plan::{PlanRequest, plan};
    use crate::batch::scale::SizeRequest;
    use crate::batch::weighing_scale::WeighingScale;
    use crate::fixture;
    use crate::mass::read_mass;
    use crate::material::{Basis, Class, Hazard, Source, Sourced, WettingMedium};
    use crate::quantity::celsius;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }

    fn with(material: &Arc<Material>, change: impl FnOnce(&mut Material)) -> Arc<Material> {
        let mut m = material.as_ref().clone();
        change(&mut m);
        Arc::new(m)
    }

    fn sheet(formula: &Formula) -> WeighSheet {
        let scale = WeighingScale::new("kitchen", mass("0.1 g"), None).unwrap();
        let request = PlanRequest {
            size: SizeRequest::mass(mass("1 kg")),
            scales: vec![scale],
            tolerance: PlanRequest::TOLERANCE,
        };
        let variant = formula.active();
        let plan = plan(formula, variant, &request).unwrap();
        weigh_sheet(formula, variant, plan, Heading::default(), None)
    }

    fn lotion() -> Formula {
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let glycerin = fixture::material("Glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
        let gum = with(
            &fixture::material("Gum", &[("Xanthan Gum", 100.0, Class::Thickener)]),
            |m| {
                m.wet_with = vec![WettingMedium::Humectant];
                m.hazards = vec![Hazard::Dust];
            },
        );
        let scent = with(
            &fixture::material("Scent", &[("Parfum", 100.0, Class::Fragrance)]),
            |m| {
                m.max_temperature = Some(Sourced::new(
                    celsius(40.0),
                    Source::new(Basis::Practice, ""),
                ));
            },
        );
        let mut formula = fixture::phased(vec![
            vec![
                fixture::line(&glycerin, "5"),
                fixture::line(&gum, "0.3"),
                fixture::line(&water, "94.2"),
            ],
            vec![fixture::line(&scent, "0.5")],
        ]);
        let mut variant = formula.active().as_ref().clone();
        let mut first = variant.phases[0].as_ref().clone();
        first.temperature = Some(celsius(75.0));
        variant.phases[0] = Arc::new(first);
        variant.target_ph = Ph::new(5.2);
        formula.variants = vec![Arc::new(variant)];
        formula
    }

    #[test]
    fn at_the_bench_nothing_of_the_sheet_is_missing() {
        let formula = lotion();
        let variant = formula.active();
        let ids: Vec<ItemId> = variant.lines().map(|(_, l)| l.id).collect();
        let told = |i: usize| -> Vec<String> {
            let cautions = at_the_bench(&formula, variant, ids[i]);
            cautions.iter().map(ToString::to_string).collect()
        };
        assert!(told(1)[0].starts_with("Wet first: stir"), "{:?}", told(1));
        assert!(told(1).iter().any(|c| c.contains("dust mask")));
        assert!(
            told(3)[0].starts_with("Cool first: to 40 °C"),
            "{:?}",
            told(3)
        );
        assert!(told(2).is_empty());
    }

    #[test]
    fn cautions_stand_where_they_matter() {
        let sheet = sheet(&lotion());
        let weighings: Vec<&Weighing> = sheet.weighings().collect();
        let kinds = |i: usize| -> Vec<CautionKind> {
            weighings[i].cautions.iter().map(|c| c.kind).collect()
        };
        assert!(kinds(0).is_empty());
        assert_eq!(
            kinds(1),
            [
                CautionKind::Wear,
                CautionKind::Handle,
                CautionKind::Wet,
                CautionKind::Weigh
            ]
        );
        assert!(weighings[1].cautions[2].text.contains("into Glycerin"));
        // The scent bears 40 °C, and the batch has been at 75.
        let SheetEntry::Cool { below, because } = &sheet.phases[1].entries[0] else {
            panic!("no cool-down: {:?}", sheet.phases[1].entries[0]);
        };
        assert!((in_celsius(*below) - 40.0).abs() < 1e-9);
        assert!(because.contains("Scent"));
    }

    #[test]
    fn a_phase_waits_for_the_temperature_it_is_worked_at() {
        let mut formula = lotion();
        let mut variant = formula.active().as_ref().clone();
        let mut last = variant.phases[1].as_ref().clone();
        last.temperature = Some(celsius(25.0));
        let scent = last.lines[0].id;
        variant.phases[1] = Arc::new(last);
        formula.variants = vec![Arc::new(variant)];
        let sheet = sheet(&formula);
        let SheetEntry::Cool { below, because } = &sheet.phases[1].entries[0] else {
            panic!("no cool-down: {:?}", sheet.phases[1].entries[0]);
        };
        assert!((in_celsius(*below) - 25.0).abs() < 1e-9);
        assert!(because.contains("at most 40 °C"), "{because}");
        let at_line = at_the_bench(&formula, formula.active(), scent);
        assert!(at_line[0].to_string().starts_with("Cool first: to 25 °C"));
        let words = |degrees| {
            let mut phase = sheet.phases[1].clone();
            phase.temperature = Some(celsius(degrees));
            phase.words()
        };
        assert!(words(72.5).ends_with(", 72.5 °C"), "{}", words(72.5));
        assert!(cool_words(celsius(72.5)).ends_with(" 72.5 °C"));
    }

    #[test]
    fn the_sheet_totals_the_batch() {
        let sheet = sheet(&lotion());
        let sum: ExactMass = sheet.phases.iter().map(|p| p.mass).sum();
        assert_eq!(sum, mass("1 kg"));
        assert_eq!(sheet.plan.sized.batch, sum);
        assert_eq!(sheet.checks[0].accept, "5.20 (4.90 to 5.50)");
    }

    #[test]
    fn masses_show_the_digits_of_their_scale() {
        let show = |m: &str, step: &str, unit| shown(mass(m), mass(step), unit);
        assert_eq!(show("250 g", "0.1 g", MassUnit::Gram), "250.0 g");
        assert_eq!(show("250 g", "5 g", MassUnit::Gram), "250 g");
        assert_eq!(show("250 g", "0.1 g", MassUnit::Kilogram), "0.2500 kg");
        assert_eq!(show("8 oz", "0.05 oz", MassUnit::Ounce), "8.00 oz");
        // 0.1 g is 0.0035 oz: four digits show every step.
        assert_eq!(show("250 g", "0.1 g", MassUnit::Ounce), "8.8185 oz");
        assert_eq!(step_words(mass("0.03 g"), MassUnit::Gram), "0.02 g");
        assert_eq!(step_words(mass("0.1 g"), MassUnit::Gram), "0.1 g");
    }
}
