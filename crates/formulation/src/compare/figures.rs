//! The figures of a variant as one list, so that each stands beside its twin.
//!
//! Every variant has the same figures in the same order; what is not known has no
//! value and says so.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::{Comparison, LineRelation};
use crate::amount::Digits;
use crate::amount::measure::{self, tidy};
use crate::chemistry::{Estimates, Figure as Estimate, work_out};
use crate::composition::Composition;
use crate::cost::price_per_kilogram;
use crate::evaluation::Evaluation;
use crate::finding::{Finding, Tally};
use crate::formula::{Formula, ItemId, Variant};
use crate::inci::{Inci, equal_as_spelt};
use crate::material::{Charge, Class};
use crate::quantity::{Decimal, MassFraction, Spread};
use crate::stock::Stock;
use crate::trial::book::Book;
use crate::trial::learn::Lessons;
use crate::trial::reading::Quantity as Reading;

/// How sure a figure is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Certainty {
    /// Counted or added up from what was entered.
    Counted,
    /// From the composition of the materials, as far as it is known.
    Composition,
    /// Estimated by a method with a range of validity.
    Estimated,
    /// Measured by the maker.
    Measured,
    /// Learnt from the maker's trials.
    Learnt,
}

impl Certainty {
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Counted => "counted",
            Self::Composition => "from composition",
            Self::Estimated => "estimate",
            Self::Measured => "measured",
            Self::Learnt => "learnt from trials",
        }
    }
}

/// One figure of a variant.
#[derive(Clone, PartialEq, Debug)]
pub struct ComparedFigure {
    /// Stable name, for JSON and settings.
    pub key: &'static str,
    /// The words shown for it.
    pub label: &'static str,
    /// Its unit or currency, empty for a plain number.
    pub unit: Cow<'static, str>,
    /// Digits shown after the point.
    pub digits: usize,
    /// The value; none if it is not known.
    pub value: Option<f64>,
    /// Lowest and highest it may be, where they differ from the value.
    pub range: Option<(f64, f64)>,
    /// How sure it is.
    pub ground: Certainty,
    /// Method and what is not known, in words; empty if there is nothing to say.
    pub remark: String,
}

impl ComparedFigure {
    fn counted(key: &'static str, label: &'static str, value: usize) -> Self {
        Self {
            key,
            label,
            unit: Cow::Borrowed(""),
            digits: 0,
            value: Some(value as f64),
            range: None,
            ground: Certainty::Counted,
            remark: String::new(),
        }
    }

    fn share(key: &'static str, label: &'static str, spread: Spread) -> Self {
        let percent = |share: MassFraction| tidy(share.as_percent(), 9);
        let (low, high) = (percent(spread.low), percent(spread.high));
        Self {
            key,
            label,
            unit: Cow::Borrowed("%"),
            digits: 2,
            value: Some(percent(spread.typical)),
            range: (low < high).then_some((low, high)),
            ground: Certainty::Composition,
            remark: String::new(),
        }
    }

    fn estimated(
        key: &'static str,
        label: &'static str,
        unit: &'static str,
        digits: usize,
        estimate: &Estimate,
        factor: f64,
    ) -> Self {
        let scaled = |value: f64| tidy(value * factor, 9);
        let mut remark = estimate.method.to_owned();
        if !estimate.in_range {
            remark.push_str("; outside the range of the method");
        }
        if !estimate.unknown.is_empty() {
            let names: Vec<&str> = estimate.unknown.iter().map(AsRef::as_ref).collect();
            remark.push_str("; not known: ");
            remark.push_str(&names.join(", "));
        }
        let range = match (estimate.measured, estimate.low, estimate.high) {
            (None, Some(low), Some(high)) if low < high => Some((scaled(low), scaled(high))),
            _ => None,
        };
        Self {
            key,
            label,
            unit: Cow::Borrowed(unit),
            digits,
            value: estimate.shown().map(scaled),
            range,
            ground: if estimate.measured.is_some() {
                Certainty::Measured
            } else {
                Certainty::Estimated
            },
            remark,
        }
    }

    fn worked_out(figure: work_out::DerivedFigure) -> Self {
        Self {
            key: figure.key,
            label: figure.label,
            unit: Cow::Borrowed(figure.unit),
            digits: figure.digits,
            value: figure.value.map(|value| tidy(value, 9)),
            range: None,
            ground: Certainty::Estimated,
            remark: figure.ground.method.to_owned(),
        }
    }

    /// The value with its digits and unit, the range if only that is known, or “unknown”.
    pub fn shown(&self) -> String {
        let number = self.number();
        if self.unit.is_empty() || self.spread().is_none() {
            number
        } else {
            format!("{number} {}", self.unit)
        }
    }

    /// As [`Self::shown`], without the unit.
    pub fn number(&self) -> String {
        match (self.value, self.range) {
            (Some(value), _) => self.written_with_digits(value),
            (None, Some((low, high))) => {
                format!(
                    "{} to {}",
                    self.written_with_digits(low),
                    self.written_with_digits(high)
                )
            }
            (None, None) => "unknown".to_owned(),
        }
    }

    fn written_with_digits(&self, value: f64) -> String {
        let number = format!("{value:.*}", self.digits);
        // What was counted is exact, so that noughts at its end say nothing.
        if self.ground == Certainty::Counted && self.digits > 2 {
            number
                .trim_end_matches('0')
                .trim_end_matches('.')
                .to_owned()
        } else {
            number
        }
    }

    /// Lowest and highest it may be, the same for a value without a range; none if
    /// nothing is known.
    pub fn spread(&self) -> Option<(f64, f64)> {
        self.range.or(self.value.map(|value| (value, value)))
    }

    /// The value, or the middle of the range if only that is known.
    pub fn middle(&self) -> Option<f64> {
        self.value
            .or_else(|| self.range.map(|(low, high)| f64::midpoint(low, high)))
    }

    /// The difference of the twin to this one, if both are known.
    pub fn difference(&self, twin: &Self) -> Option<f64> {
        Some(tidy(twin.value? - self.value?, 9))
    }

    /// The difference of the twin to this one as it is shown beside both.
    pub fn difference_shown(&self, twin: &Self) -> Option<String> {
        Some(measure::difference(self.value?, twin.value?, twin.digits))
    }

    /// Whether the twin shows something else.
    pub fn differs(&self, twin: &Self) -> bool {
        self.shown() != twin.shown()
    }
}

/// Shares that differ by less than this many percent are drawn as equal: half of the second
/// decimal, which is what charts show of a share.
pub const SAME_SHARE: f64 = 0.005;

/// What trials tell of a variant.
#[derive(Clone, Copy, Debug, Default)]
pub struct Readings<'a> {
    /// The trials of its formula, and what they have taught.
    pub trials: Option<(&'a Book, &'a Lessons)>,
    /// The readings listed, the same for every variant that stands beside another.
    pub listed: &'a [Reading],
}

/// The readings to list for variants that stand beside each other.
pub fn listed<'b>(books: impl IntoIterator<Item = &'b Book>) -> Vec<Reading> {
    let read: BTreeSet<Reading> = books.into_iter().flat_map(Book::quantities).collect();
    read.into_iter().collect()
}

/// Key and label of a reading that is a number; none for what is judged in words.
const fn reading_name(reading: Reading) -> Option<(&'static str, &'static str)> {
    Some(match reading {
        Reading::Ph => ("read_ph", "pH read"),
        Reading::Viscosity => ("read_viscosity", "viscosity read"),
        Reading::Density => ("read_density", "density read"),
        Reading::Conductivity => ("read_conductivity", "conductivity read"),
        Reading::WaterActivity => ("read_water_activity", "water activity read"),
        Reading::MassLoss => ("read_mass_loss", "loss of mass read"),
        Reading::FoamHeight => ("read_foam_height", "foam height read"),
        Reading::FoamDrain => ("read_foam_drain", "foam drained in half, read"),
        Reading::Panel => ("read_panel_score", "panel score"),
        Reading::ColonyCount => ("read_colony_count", "colony count read"),
        Reading::LogReduction => ("read_log_reduction", "log reduction read"),
        Reading::Colour
        | Reading::Clarity
        | Reading::Smell
        | Reading::Feel
        | Reading::Separation => return None,
    })
}

/// A reading of exactly this composition, else what trials have taught of it.
fn reading(
    variant: &Variant,
    quantity: Reading,
    readings: &Readings<'_>,
) -> Option<ComparedFigure> {
    let (key, label) = reading_name(quantity)?;
    let measure = quantity.measure();
    let digits = match measure.digits {
        Digits::Fixed(digits) | Digits::UpTo(digits) => digits,
        Digits::Significant(_) => 0,
    };
    let mut figure = ComparedFigure {
        key,
        label,
        unit: Cow::Borrowed(measure.unit),
        digits,
        value: None,
        range: None,
        ground: Certainty::Measured,
        remark: "not read".to_owned(),
    };
    let Some((book, lessons)) = readings.trials else {
        return Some(figure);
    };
    if let Some(kept) = book.measured(variant, quantity) {
        figure.value = kept.reading.mean();
        figure.remark = kept.source();
    } else if let Some(learnt) = lessons.on(quantity)
        && learnt.from.strange(variant).is_empty()
    {
        let expected = learnt.at(&learnt.from.place(variant));
        let [low, high] = expected.range;
        figure.range = Some((low, high));
        figure.ground = Certainty::Learnt;
        figure.remark = if expected.inside {
            learnt.source()
        } else {
            format!("{}; outside of what was tried", learnt.source())
        };
    }
    Some(figure)
}

/// All figures of a variant. Cost needs the maker's stock with its prices.
pub fn figures(
    formula: &Formula,
    variant: &Variant,
    evaluation: &Evaluation,
    stock: Option<&Stock>,
    readings: &Readings<'_>,
) -> Vec<ComparedFigure> {
    let mut out = Vec::with_capacity(40);
    of_composition(&evaluation.composition, &mut out);
    of_estimates(&evaluation.estimates, &mut out);
    let worked_out = work_out::derived(&evaluation.estimates, &evaluation.composition);
    out.extend(
        worked_out
            .figures()
            .into_iter()
            .map(ComparedFigure::worked_out),
    );
    let listed = readings.listed.iter();
    out.extend(listed.filter_map(|quantity| reading(variant, *quantity, readings)));
    out.push(cost(formula, variant, stock));
    let tally = Tally::of(&evaluation.findings);
    out.push(ComparedFigure::counted(
        "lines",
        "lines",
        variant.lines().count(),
    ));
    let listed = evaluation.composition.constituents.iter();
    let listed = listed.filter(|c| !c.incidental).count();
    out.push(ComparedFigure::counted(
        "ingredients",
        "ingredients",
        listed,
    ));
    out.push(ComparedFigure::counted(
        "breaches",
        "breaches",
        tally.breaches,
    ));
    out.push(ComparedFigure::counted(
        "cautions",
        "cautions",
        tally.cautions,
    ));
    out.push(ComparedFigure::counted(
        "notes",
        "findings to know",
        tally.to_know,
    ));
    out
}

fn of_composition(composition: &Composition, out: &mut Vec<ComparedFigure>) {
    let exact = |share: MassFraction| Spread::exact(share);
    out.push(ComparedFigure {
        ground: Certainty::Counted,
        digits: 4,
        ..ComparedFigure::share("total", "total", exact(composition.total.fraction()))
    });
    let mut add = |key, label, spread| out.push(ComparedFigure::share(key, label, spread));
    add("water", "water", composition.water());
    add("water_added", "water added", exact(composition.water_added));
    add(
        "water_from_materials",
        "water brought in",
        composition.water_from_materials,
    );
    add(
        "active_total",
        "surfactant active",
        composition.active_total(),
    );
    for (key, label, charge) in [
        ("active_anionic", "anionic active", Charge::Anionic),
        ("active_amphoteric", "amphoteric active", Charge::Amphoteric),
        ("active_non_ionic", "non-ionic active", Charge::NonIonic),
        ("active_cationic", "cationic active", Charge::Cationic),
    ] {
        add(key, label, composition.active(charge));
    }
    for (key, label, class) in [
        ("humectant", "humectants", Class::Humectant),
        ("oil", "oils", Class::Oil),
        ("emulsifier", "emulsifiers", Class::Emulsifier),
        ("thickener", "thickeners", Class::Thickener),
        ("conditioner", "conditioners", Class::Conditioner),
        ("electrolyte", "electrolyte", Class::Electrolyte),
        ("preservative", "preservatives", Class::Preservative),
        ("fragrance", "fragrance", Class::Fragrance),
    ] {
        add(key, label, composition.class(class));
    }
    let volatile = composition.volatile();
    add("volatile", "water and volatile solvents", volatile);
    let solids = composition.total.fraction() - volatile.typical - composition.unknown;
    add("solids", "solids", exact(solids));
    add("unknown", "unknown composition", exact(composition.unknown));
}

fn of_estimates(estimates: &Estimates, out: &mut Vec<ComparedFigure>) {
    // Taken apart in full, so that a new estimate does not compile until it stands here.
    let Estimates {
        ph,
        preservation,
        water_activity,
        density,
        emulsion,
        electrolyte,
        natural_origin: natural,
        // What it comes to is among the figures worked out.
        soap: _,
        unvalued_fats: _,
    } = estimates;
    let mut add = |key, label, unit, digits, estimate: &Estimate, factor: f64| {
        out.push(ComparedFigure::estimated(
            key, label, unit, digits, estimate, factor,
        ));
    };
    add("ph", "pH", "", 2, &ph.figure, 1.0);
    add(
        "water_activity",
        "water activity",
        "",
        3,
        water_activity,
        1.0,
    );
    add("density", "density", "g/ml", 3, density, 0.001);
    add(
        "hlb_required",
        "required HLB",
        "",
        1,
        &emulsion.required,
        1.0,
    );
    add(
        "hlb_provided",
        "HLB of the emulsifiers",
        "",
        1,
        &emulsion.provided,
        1.0,
    );
    add(
        "salt",
        "salt as sodium chloride",
        "%",
        2,
        &electrolyte.nacl_percent,
        1.0,
    );
    add(
        "natural_origin",
        "natural origin index, water counted",
        "",
        3,
        &natural.with_water,
        1.0,
    );
    add(
        "natural_origin_dry",
        "natural origin index, water not counted",
        "",
        3,
        &natural.without_water,
        1.0,
    );
    let leading = preservation.leading();
    out.push(ComparedFigure {
        key: "undissociated_acid",
        label: "preservative acid, undissociated",
        unit: Cow::Borrowed("%"),
        digits: 3,
        value: leading.map(|acid| tidy(acid.effective_percent, 9)),
        range: None,
        ground: Certainty::Estimated,
        remark: leading.map_or_else(
            || "no preservative acid of known constants, or no pH".to_owned(),
            |acid| {
                format!(
                    "{} at pH {:.2}, {}",
                    acid.acid.inci,
                    acid.at.ph,
                    acid.at.basis.label()
                )
            },
        ),
    });
}

/// What the materials of a kilogram cost; unknown if a price is.
fn cost(formula: &Formula, variant: &Variant, stock: Option<&Stock>) -> ComparedFigure {
    let mut figure = ComparedFigure {
        key: "material_cost_per_kg",
        label: "material cost of a kilogram",
        unit: Cow::Borrowed(""),
        digits: 2,
        value: None,
        range: None,
        ground: Certainty::Counted,
        remark: "no prices are known".to_owned(),
    };
    let Some(stock) = stock else { return figure };
    figure.unit = Cow::Owned(stock.home.to_string());
    let mut sum = Decimal::ZERO;
    let mut missing: Vec<String> = Vec::new();
    for (_, line) in variant.lines() {
        let share = Decimal::new(line.percent.units(), 8);
        let price = price_per_kilogram(&line.material, stock).ok();
        match price.and_then(|p| p.amount.checked_mul(share)) {
            Some(part) => sum = sum.saturating_add(part),
            None if line.percent.units() == 0 => {}
            None => missing.push(
                formula
                    .material(&line.material)
                    .map_or_else(|| line.material.to_string(), |m| m.name.to_string()),
            ),
        }
    }
    if missing.is_empty() {
        figure.value = rust_decimal::prelude::ToPrimitive::to_f64(&sum);
        "by the latest prices".clone_into(&mut figure.remark);
    } else {
        figure.remark = format!("no price of {}", missing.join(", "));
    }
    figure
}

/// Findings that only one of two variants has.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct FindingChanges<'e> {
    /// Those that only the right variant has.
    pub gained: Vec<&'e Finding>,
    /// Those that only the left variant has.
    pub lost: Vec<&'e Finding>,
}

/// Which findings came and which went.
///
/// A finding that is still there about the same lines stays, although its words may
/// differ: a figure in them changed, or a material was renamed. About a material put in
/// the place of another it is a finding of its own.
pub fn finding_changes<'e>(
    comparison: &Comparison,
    left: &'e Evaluation,
    right: &'e Evaluation,
) -> FindingChanges<'e> {
    let twin_of = |line: &ItemId| {
        let mut rows = comparison.rows.iter();
        let row = rows.find(|r| r.left == Some(*line) && r.relation != LineRelation::Swapped);
        row.and_then(|r| r.right)
    };
    let about_the_same = |a: &Finding, b: &Finding| {
        let twins: BTreeSet<Option<ItemId>> = a.lines.iter().map(twin_of).collect();
        twins == b.lines.iter().copied().map(Some).collect()
    };
    let mut changes = FindingChanges {
        gained: right.findings.iter().collect(),
        lost: left.findings.iter().collect(),
    };
    // Those that read alike are paired first, so that of two about one line the right
    // one stays.
    changes.drop_pairs(|a, b| a.message == b.message);
    changes.drop_pairs(about_the_same);
    changes
}

impl FindingChanges<'_> {
    /// Takes out each finding of the left with one of the right that is of the same rule
    /// and level and fits it.
    fn drop_pairs(&mut self, fits: impl Fn(&Finding, &Finding) -> bool) {
        let gained = &mut self.gained;
        self.lost.retain(|a| {
            let same = |b: &&Finding| a.rule == b.rule && a.level == b.level && fits(a, b);
            match gained.iter().position(same) {
                Some(place) => {
                    gained.remove(place);
                    false
                }
                None => true,
            }
        });
    }
}

/// A change of place among the ingredients.
#[derive(Clone, Debug)]
pub struct OrderChange {
    /// INCI name.
    pub inci: Inci,
    /// Place on the left, counted from 1; none if it is not there.
    pub left: Option<usize>,
    /// Place on the right.
    pub right: Option<usize>,
}

equal_as_spelt!(OrderChange: names inci; rest left, right);

/// How the order of ingredients by amount changes, which is the order on a label
/// above 1 %. Where one ingredient came or went, only those that others overtook are
/// listed, not all that moved up or down with it.
pub fn order_changes(left: &Composition, right: &Composition) -> Vec<OrderChange> {
    let listed = |c: &Composition| -> Vec<Inci> {
        let all = c.constituents.iter().filter(|a| !a.incidental);
        all.map(|a| a.inci.clone()).collect()
    };
    let (a, b) = (listed(left), listed(right));
    let place = |all: &[Inci], inci: &Inci| all.iter().position(|i| i.same_as(inci));
    // Places among those that both sides have.
    let common = |all: &[Inci], other: &[Inci]| -> Vec<Inci> {
        let both = all.iter().filter(|i| place(other, i).is_some());
        both.cloned().collect()
    };
    let (of_a, of_b) = (common(&a, &b), common(&b, &a));
    let mut out = Vec::new();
    for inci in &b {
        let overtaken = place(&of_a, inci) != place(&of_b, inci);
        let new = place(&a, inci).is_none();
        let (from, to) = (place(&a, inci), place(&b, inci));
        if new || overtaken && from != to {
            out.push(OrderChange {
                inci: inci.clone(),
                left: from.map(|p| p + 1),
                right: to.map(|p| p + 1),
            });
        }
    }
    for inci in a.iter().filter(|i| place(&b, i).is_none()) {
        out.push(OrderChange {
            inci: inci.clone(),
            left: place(&a, inci).map(|p| p + 1),
            right: None,
        });
    }
    out
}
