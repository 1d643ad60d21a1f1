//! What raw materials bring in unlisted, learnt: every measured pH of a known composition says
//! what acid or base the materials with an unknown share of it bring together, and over all
//! trials that share a material or a lot the share of each is narrowed.
//!
//! The unlisted base of a material is taken as the same amount of charge (mmol per gram) at
//! the pH of all readings; it is shown with the pH it was learnt at.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::book::Book;
use super::fit::Interval;
use super::narrow::{SumBound, narrow};
use super::reading::{Quantity, ReadingValue, time_words};
use super::settling::of_quantity;
use crate::chemistry;
use crate::chemistry::acidity::titrated_base_mmol_g;
use crate::formula::Formula;
use crate::lot_values::LotValues;
use crate::material::{Alkalinity, Basis, Material, MaterialId, Source, Sourced, Titration};
use crate::quantity::{Ph, PhRange};
use crate::stock::LotId;

/// Uncertainty of a pH meter in daily use, either way: common practice, no source.
pub const METER: f64 = 0.1;
/// Sample temperatures whose pH is taken as that at 25 °C; others are left out.
pub const TEMPERATURES: (f64, f64) = (18.0, 32.0);
/// What a material may bring either way, mmol per gram, where it states nothing: our
/// assumption, no source; as for the estimate of pH.
const UNSTATED: f64 = 0.05;
/// Halvings of the search for the base that a pH needs.
const HALVINGS: u32 = 26;
/// Weakest unlisted acid that the estimate of pH reckons with, as pKa.
const ACID: f64 = 3.5;

/// Which material, and which lot of it if a batch record names one.
pub type Key = (MaterialId, Option<String>);

/// What was learnt of one material.
#[derive(Clone, PartialEq, Debug)]
pub struct LearntContent {
    /// Which.
    pub key: Key,
    /// Its name.
    pub name: Arc<str>,
    /// What it may bring as stated, mmol base per gram; acid is negative.
    pub before: Interval,
    /// What is left of it.
    pub after: Interval,
    /// The readings that narrowed it, in words.
    pub from: Vec<String>,
    /// Lowest and highest pH of these.
    pub ph: Interval,
}

/// What all trials say.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct BroughtIn {
    /// Materials that were narrowed.
    pub learnt: Vec<LearntContent>,
    /// Readings that contradict what is stated or each other, with those they contradict; they
    /// narrow nothing.
    pub contradictions: Vec<(String, Vec<String>)>,
    /// Readings that could not be used, with the reason.
    pub left_out: Vec<(String, String)>,
}

/// The range that a material states, if its acids and bases are not all listed.
fn stated(material: &Material) -> Option<Interval> {
    match &material.alkalinity {
        Alkalinity::Unknown {
            base_mmol_per_gram, ..
        } => {
            let (low, high) = base_mmol_per_gram.unwrap_or((-UNSTATED, UNSTATED));
            Some([low.min(high), low.max(high)])
        }
        Alkalinity::Neutral | Alkalinity::Titrated(_) => None,
    }
}

/// The formula with each of some materials bringing exactly so much base, mmol per gram.
fn with_base(formula: &Formula, base: &BTreeMap<MaterialId, f64>) -> Option<Formula> {
    let mut out = formula.clone();
    let to_ph = Ph::new(7.0)?;
    for (id, wanted) in base {
        let material = out.materials.get_mut(id)?;
        let titration = |mmol_acid_per_gram: f64| Titration {
            mmol_acid_per_gram,
            to_ph,
        };
        // What a titration without any acid would say is what the constituents bring.
        let none = titrated_base_mmol_g(material, titration(0.0));
        let mut changed = (**material).clone();
        changed.alkalinity = Alkalinity::Titrated(Sourced {
            value: titration(wanted - none),
            source: source("assumed in a search"),
        });
        *material = Arc::new(changed);
    }
    Some(out)
}

fn source(words: &str) -> Source {
    Source {
        basis: Basis::Measured,
        text: words.into(),
    }
}

/// The estimated pH of the variant worked on, measured values not counted.
fn range_of(formula: &Formula) -> Option<PhRange> {
    let mut variant = (**formula.active()).clone();
    variant.measured.ph = None;
    chemistry::estimate(formula, &variant).ph.range()
}

/// Shares (0 to 1) of the materials of a variant whose acids and bases are not all listed.
fn unlisted(formula: &Formula) -> BTreeMap<MaterialId, f64> {
    let mut out = BTreeMap::new();
    for (_, line) in formula.active().lines() {
        let material = formula.material(&line.material);
        if line.percent.units() > 0 && material.and_then(|m| stated(m)).is_some() {
            *out.entry(line.material.clone()).or_default() += line.percent.as_percent() / 100.0;
        }
    }
    out
}

/// Base that all unlisted materials together bring so that the pH is between two values, mmol
/// per gram of formula: the ends go over everything else that is not known. None if the
/// formula has no pH.
fn base_for(
    formula: &Formula,
    shares: &BTreeMap<MaterialId, f64>,
    ph: Interval,
) -> Option<Interval> {
    let whole: f64 = shares.values().sum();
    let at = |total: f64| {
        let each: BTreeMap<MaterialId, f64> = shares
            .keys()
            .map(|id| (id.clone(), total / whole))
            .collect();
        range_of(&with_base(formula, &each)?)
    };
    let reach = |end: usize| -> f64 {
        shares
            .iter()
            .filter_map(|(id, share)| Some(stated(formula.material(id)?)?[end] * share))
            .sum()
    };
    // Beyond what is stated, so that a contradiction is seen as one.
    let slack = (reach(1) - reach(0)).max(UNSTATED * whole);
    let (least, most) = (reach(0) - slack, reach(1) + slack);
    let search = |reached: &dyn Fn(PhRange) -> bool| -> Option<f64> {
        let (mut low, mut high) = (least, most);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if reached(at(middle)?) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(f64::midpoint(low, high))
    };
    Some([
        search(&|r| r.high.value() >= ph[0])?,
        search(&|r| r.low.value() > ph[1])?,
    ])
}

/// Narrows what all materials bring in, over the trials of some formulas.
#[must_use]
pub fn learn(books: &[&Book]) -> BroughtIn {
    let mut out = BroughtIn::default();
    let mut keys: Vec<(Key, Arc<str>, Interval)> = Vec::new();
    let mut constraints = Vec::new();
    let mut measured: Vec<f64> = Vec::new();
    for book in books {
        for (trial, kept) in book.readings_of(Quantity::Ph) {
            let Some(made) = trial.formula_at(kept.step) else {
                continue;
            };
            let (ReadingValue::Numbers(_), Some(ph)) = (&kept.reading.value, kept.reading.mean())
            else {
                continue;
            };
            let name = format!(
                "reading {} of trial {} of {} (pH {ph:.2})",
                kept.number, trial.number, made.name
            );
            let (cold, hot) = TEMPERATURES;
            if kept
                .reading
                .celsius
                .is_some_and(|t| !(cold..=hot).contains(&t))
            {
                out.left_out.push((
                    name,
                    format!("read outside {cold} to {hot} °C; the estimate holds at 25 °C"),
                ));
                continue;
            }
            if let Some(settling) = of_quantity(book, Quantity::Ph)
                && let Some(hours) = kept.reading.hours.filter(|h| *h < settling.hours)
            {
                out.left_out.push((
                    name,
                    format!(
                        "read after {}, before it had settled ({})",
                        time_words(hours),
                        settling.words()
                    ),
                ));
                continue;
            }
            let shares = unlisted(&made);
            if shares.is_empty() {
                continue;
            }
            let Some(sum) = base_for(&made, &shares, [ph - METER, ph + METER]) else {
                out.left_out.push((
                    name,
                    "there is no estimate of the pH of its composition".to_owned(),
                ));
                continue;
            };
            let mut terms = Vec::new();
            for (id, share) in &shares {
                let lots = trial.opening.lots.iter().filter(|(of, _)| of == id);
                let lot = lots.map(|(_, lot)| lot.clone()).next();
                let key = (id.clone(), lot);
                let Some(material) = made.material(id) else {
                    continue;
                };
                let Some(range) = stated(material) else {
                    continue;
                };
                let place = keys.iter().position(|k| k.0 == key).unwrap_or_else(|| {
                    keys.push((key, material.name.clone(), range));
                    keys.len() - 1
                });
                terms.push((place, *share));
            }
            measured.push(ph);
            constraints.push(SumBound { name, terms, sum });
        }
    }
    let ranges: Vec<Interval> = keys.iter().map(|k| k.2).collect();
    let narrowed = narrow(&ranges, &constraints);
    let words = |which: &[usize]| -> Vec<String> {
        which
            .iter()
            .filter_map(|c| constraints.get(*c))
            .map(|c| c.name.clone())
            .collect()
    };
    for (i, (key, name, before)) in keys.into_iter().enumerate() {
        let (Some(after), Some(by)) = (narrowed.ends.get(i), narrowed.by.get(i)) else {
            continue;
        };
        if by.is_empty() {
            continue;
        }
        let ph = by
            .iter()
            .filter_map(|c| measured.get(*c))
            .fold([f64::INFINITY, f64::NEG_INFINITY], |ends, v| {
                [ends[0].min(*v), ends[1].max(*v)]
            });
        out.learnt.push(LearntContent {
            key,
            name,
            before,
            after: *after,
            from: words(by),
            ph,
        });
    }
    out.contradictions = narrowed
        .contradictions
        .iter()
        .filter_map(|(c, against)| Some((constraints.get(*c)?.name.clone(), words(against))))
        .collect();
    out
}

/// What a formula gains.
#[derive(Clone, PartialEq, Debug)]
pub struct Gain {
    /// The pH as estimated without trials; none where what is not known leaves no range.
    pub before: Option<PhRange>,
    /// The narrower pH.
    pub after: PhRange,
    /// Materials narrowed, with the material as it would be kept.
    pub materials: Vec<(LearntContent, Arc<Material>)>,
}

impl Gain {
    /// The readings it comes from, each once.
    #[must_use]
    pub fn from(&self) -> Vec<&str> {
        let mut all: Vec<&str> = self
            .materials
            .iter()
            .flat_map(|(l, _)| l.from.iter().map(String::as_str))
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    }
}

impl BroughtIn {
    /// What is learnt of a material whose lot is not known: what any lot tried may bring.
    fn of(&self, id: &MaterialId) -> Option<LearntContent> {
        let mut of = self.learnt.iter().filter(|l| l.key.0 == *id);
        let first = of.next()?.clone();
        Some(of.fold(first, |mut all, one| {
            all.key.1 = None;
            all.after = [
                all.after[0].min(one.after[0]),
                all.after[1].max(one.after[1]),
            ];
            all.ph = [all.ph[0].min(one.ph[0]), all.ph[1].max(one.ph[1])];
            all.from.extend(one.from.iter().cloned());
            all
        }))
    }

    /// The narrower pH of a formula; none if nothing that it holds was narrowed, or its pH
    /// gains nothing.
    #[must_use]
    pub fn gain(&self, formula: &Formula) -> Option<Gain> {
        let mut changed = formula.clone();
        let mut materials = Vec::new();
        for id in unlisted(formula).keys() {
            let Some(learnt) = self.of(id) else { continue };
            let kept = keep(formula.material(id)?, &learnt);
            changed.materials.insert(id.clone(), kept.clone());
            materials.push((learnt, kept));
        }
        let (before, after) = (range_of(formula), range_of(&changed)?);
        let width = |r: PhRange| r.high.value() - r.low.value();
        let narrower = before.is_none_or(|b| width(after) < width(b) - 0.01);
        (!materials.is_empty() && narrower).then_some(Gain {
            before,
            after,
            materials,
        })
    }
}

impl LearntContent {
    /// The range to be kept at a material or lot, mmol base per gram.
    fn kept(&self) -> (f64, f64) {
        // The estimate of pH lets an unlisted acid give up its proton in part only.
        let given_up = 1.0 - 1.0 / (1.0 + 10.0_f64.powf(self.ph[0] - ACID));
        let [low, high] = self.after;
        (if low < 0.0 { low / given_up } else { low }, high)
    }

    /// From which readings, in words.
    fn words(&self) -> String {
        format!(
            "learnt at pH {:.1} to {:.1} from {}",
            self.ph[0],
            self.ph[1],
            self.from.join("; ")
        )
    }

    /// The values of the lot it was learnt of, added to those that are known of it; none if
    /// it was not learnt of a lot.
    #[must_use]
    pub fn at_lot(&self, known: Option<&LotValues>) -> Option<LotValues> {
        let lot = LotId::new(self.key.1.as_deref()?)?;
        let mut values = known.cloned().unwrap_or_else(|| LotValues {
            lot,
            material: self.key.0.clone(),
            shares: Vec::new(),
            density: None,
            ph: None,
            base_mmol_per_gram: None,
            certificate: self.words().into(),
        });
        values.base_mmol_per_gram = Some(self.kept());
        Some(values)
    }
}

/// A material with what was learnt of it.
fn keep(material: &Arc<Material>, learnt: &LearntContent) -> Arc<Material> {
    let mut kept = (**material).clone();
    kept.alkalinity = Alkalinity::Unknown {
        ph_as_sold: None,
        base_mmol_per_gram: Some(learnt.kept()),
        source: source(&learnt.words()),
    };
    Arc::new(kept)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::mass::ExactMass;
    use crate::material::Class;
    use crate::trial::book::{TrialEntry, TrialEvent, TrialOpening};
    use crate::trial::reading::Reading;

    /// A wash of water, a buffer and a base whose unlisted acid is not known.
    fn wash(percent: u32, base: f64) -> Formula {
        let neutral = |material: Arc<Material>| {
            let mut material = (*material).clone();
            material.alkalinity = Alkalinity::Neutral;
            Arc::new(material)
        };
        let water = neutral(fixture::material("Water", &[("Aqua", 100.0, Class::Water)]));
        let acid = [("Citric Acid", 100.0, Class::AcidBase)];
        let acid = neutral(fixture::material("Acid", &acid));
        let plain = fixture::material("Surfactant", &[("Aqua", 100.0, Class::Water)]);
        let mut unknown = (*plain).clone();
        unknown.alkalinity = Alkalinity::Unknown {
            ph_as_sold: None,
            base_mmol_per_gram: Some((base - 0.1, base + 0.1)),
            source: source("a test"),
        };
        let unknown = Arc::new(unknown);
        let text = |p: f64| format!("{p}");
        fixture::formula(vec![
            fixture::line(&water, &text(99.8 - f64::from(percent))),
            fixture::line(&acid, "0.2"),
            fixture::line(&unknown, &text(f64::from(percent))),
        ])
    }

    fn book(formula: &Formula, ph: f64) -> Book {
        let mass = ExactMass::from_femtograms(100_000_000_000_000_000);
        let opening = TrialOpening::of(formula, "pH", "2026-05-01".parse().unwrap(), mass);
        let mut book = Book::default();
        for event in [
            TrialEvent::Begin(Box::new(opening)),
            TrialEvent::Read {
                trial: 1,
                step: 0,
                reading: Reading::of(Quantity::Ph, vec![ph]),
            },
        ] {
            let entry = TrialEntry {
                at: String::new(),
                by: String::new(),
                event,
            };
            book.add(&entry).unwrap();
        }
        book
    }

    /// The pH that a known amount of base gives, read back, narrows to around that amount.
    #[test]
    fn what_was_put_in_is_found_again() {
        let formula = wash(20, 0.05);
        let id = formula.active().lines().nth(2).unwrap().1.material.clone();
        let truth = 0.08;
        let exact = with_base(&formula, &[(id, truth)].into()).unwrap();
        let ph = range_of(&exact).unwrap();
        let read = f64::midpoint(ph.low.value(), ph.high.value());
        let first = book(&formula, read);
        let found = learn(&[&first]);
        assert!(found.contradictions.is_empty(), "{found:?}");
        let [low, high] = found.learnt[0].after;
        assert!(low <= truth && truth <= high, "{low} {high}");
        assert!(high - low < 0.1);
        let gain = found.gain(&formula).unwrap();
        assert!(gain.after.low.value() <= read && read <= gain.after.high.value());
        assert!(gain.from()[0].contains("reading 1 of trial 1"));
        // Another formula with the same material gains as well.
        assert!(found.gain(&wash(10, 0.05)).is_some());
        // A pH that no amount stated can give is named and averages nothing.
        let odd = book(&formula, 11.0);
        let both = learn(&[&first, &odd]);
        assert_eq!(both.contradictions.len(), 1);
        assert_eq!(both.learnt[0].after, found.learnt[0].after);
    }

    /// What was learnt of a lot is kept at the lot, beside its certificate, and counts where
    /// that lot is weighed.
    #[test]
    fn what_was_learnt_of_a_lot_is_kept_there() {
        let formula = wash(20, 0.05);
        let id = formula.active().lines().nth(2).unwrap().1.material.clone();
        let exact = with_base(&formula, &[(id.clone(), 0.08)].into()).unwrap();
        let ph = range_of(&exact).unwrap();
        let mut first = book(&formula, f64::midpoint(ph.low.value(), ph.high.value()));
        let found = learn(&[&first]);
        assert_eq!(found.learnt[0].at_lot(None), None);
        first.trials[0]
            .opening
            .lots
            .push((id.clone(), "S-7".into()));
        let found = learn(&[&first]);
        let values = found.learnt[0].at_lot(None).unwrap();
        assert_eq!((values.lot.as_str(), &values.material), ("S-7", &id));
        let material = formula.material(&id).unwrap();
        let of_lot = values.applied_to(material).unwrap();
        let Alkalinity::Unknown {
            base_mmol_per_gram: Some((low, high)),
            ..
        } = of_lot.alkalinity
        else {
            panic!("{:?}", of_lot.alkalinity);
        };
        assert_eq!([low, high], found.learnt[0].after);
        // A certificate that is there already stays.
        let certificate = LotValues {
            certificate: "folder 7".into(),
            ..values
        };
        let kept = found.learnt[0].at_lot(Some(&certificate)).unwrap();
        assert_eq!(kept, certificate);
    }

    #[test]
    fn a_reading_of_a_hot_sample_is_left_out() {
        let formula = wash(20, 0.0);
        let mut hot = book(&formula, 4.0);
        hot.readings[0].reading.celsius = Some(60.0);
        let found = learn(&[&hot]);
        assert_eq!((found.learnt.len(), found.left_out.len()), (0, 1));
    }
}
