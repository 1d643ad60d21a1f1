//! From a pasted ingredient list back to percentages and to materials of the shelf.
//!
//! What comes out is an estimate of ranges for a composition that fits the list; many
//! compositions do. It is not the formula of the product the list stands on.

use std::collections::BTreeSet;
use std::str::FromStr;
use std::sync::Arc;

use crate::evaluation::{self, Context};
use crate::formula::{Formula, ItemId, Kinds, Line, Phase, Product};
use crate::inci::Inci;
use crate::inventory::inventory;
use crate::material::{Class, Material, MaterialId, PhaseKind};
use crate::mixture::{self, View};
use crate::naming::spelling::nearest;
use crate::progress::Progress;
use crate::quantity::Percent;
use crate::shelf::Shelf;

use super::deduce::{self, Centre, DeduceError, Facts, Narrowing, OpenFact, Ranges};
pub use super::pasted_list::{ListedName, PastedList, read};
use super::target::{Target, TargetError, TargetQuantity};
use crate::optimise::linear;
use crate::optimise::programme::{LinearDemand, Programme};

/// Most branches in the choice of materials.
const CHOICE_LIMIT: u64 = 400;
/// Share of a material below which a constituent does not count as one it is bought for.
const TRACE: f64 = 0.005;
/// Percentage below which a proposed material is left out.
const LEAST_PROPOSED: f64 = 0.0005;

/// Why a list or a fact cannot be used.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum ListError {
    /// The ranges cannot be computed.
    #[error(transparent)]
    Deduce(#[from] DeduceError),
    /// The facts contradict the order; each of those named does so by itself.
    #[error(
        "no composition fits the order of the list together with what is stated; one would without {}",
        .0.join(", or without ")
    )]
    Contradiction(Vec<String>),
    /// A percentage stated in the list that is none.
    #[error("{name} is stated as {value} %, which is outside 0 to 100")]
    NoPercentage {
        /// The ingredient.
        name: Arc<str>,
        /// The figure.
        value: f64,
    },
    /// A fact that cannot be read.
    #[error(transparent)]
    Fact(#[from] TargetError),
    /// A fact about something that is not in the list.
    #[error("“{fact}” speaks of “{name}”, which is not in the list{}", .near.as_ref().map_or(String::new(), |n| format!("; did you mean “{n}”?")))]
    NotListed {
        /// The fact.
        fact: String,
        /// The name.
        name: String,
        /// A similar name of the list.
        near: Option<String>,
    },
    /// A fact about a class of which the list has none.
    #[error("“{fact}” speaks of {what}, but no ingredient recognised in the list counts as that")]
    NoneListed {
        /// The fact.
        fact: String,
        /// The class.
        what: String,
    },
    /// Two exact percentages of one ingredient.
    #[error("{name} is stated as {one} % and as {other} %; leave one of them out")]
    TwoFigures {
        /// The ingredient.
        name: Arc<str>,
        /// The first.
        one: f64,
        /// The second.
        other: f64,
    },
    /// No name at all was recognised.
    #[error(
        "none of the {0} names is known to the shelf or to the inventory of INCI names; paste the ingredient list of a label, names separated by commas"
    )]
    NothingRecognised(usize),
    /// A fact about something a list says nothing about.
    #[error(
        "“{0}” cannot be used with a list; state amounts of ingredients, of active matter or of a class such as oil"
    )]
    NotAmount(String),
}

/// Something known about a list besides its order.
#[derive(Clone, PartialEq, Debug)]
pub enum Fact {
    /// An amount, in the words of a target.
    Amount(Target),
    /// The one-per-cent line stands after this ingredient.
    LineAfter(Arc<str>),
}

impl FromStr for Fact {
    type Err = TargetError;

    /// A target, or “line after NAME”.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let lower = text.trim().to_lowercase();
        for start in [
            "line after ",
            "1 % after ",
            "1% after ",
            "one per cent after ",
        ] {
            if lower.starts_with(start)
                && let Some(name) = text.trim().get(start.len()..)
            {
                return Ok(Self::LineAfter(name.trim().into()));
            }
        }
        text.parse().map(Self::Amount)
    }
}

/// What to take for known besides the order.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Knowledge {
    /// Facts of the maker.
    pub facts: Vec<Fact>,
    /// Take the usual levels of the shelf for this kind of product as upper limits.
    pub usual: Option<Kinds>,
    /// Take the limits of law and practice for this product as upper limits.
    pub legal: Option<Product>,
}

/// A limit that was taken from the shelf or from a rule.
#[derive(Clone, PartialEq, Debug)]
pub struct TakenLimit {
    /// Place of the ingredient.
    pub ingredient: usize,
    /// Highest percentage.
    pub most: f64,
    /// On what ground.
    pub ground: String,
}

/// The ranges and the central estimate of a list.
#[derive(Clone, PartialEq, Debug)]
pub struct Deduction {
    /// The list.
    pub list: PastedList,
    /// Least and greatest percentage of each ingredient.
    pub ranges: Ranges,
    /// A composition in the middle.
    pub centre: Centre,
    /// Limits taken.
    pub limits: Vec<TakenLimit>,
    /// What else is to be said.
    pub notes: Vec<String>,
    facts: Facts,
    groups: Vec<(String, Vec<usize>)>,
}

/// Works back from a list to ranges and a central estimate.
pub fn deduce(
    list: PastedList,
    knowledge: &Knowledge,
    shelf: &Shelf,
    context: &Context,
) -> Result<Deduction, ListError> {
    deduce_with(list, knowledge, shelf, context, &Progress::default())
}

/// As [`deduce()`]; it ends early where `progress` was stopped.
pub fn deduce_with(
    list: PastedList,
    knowledge: &Knowledge,
    shelf: &Shelf,
    context: &Context,
    progress: &Progress,
) -> Result<Deduction, ListError> {
    let n = list.names.len();
    if n > 0 && !list.names.iter().any(|name| name.known) {
        return Err(ListError::NothingRecognised(n));
    }
    let statements = statements(&list, knowledge);
    let facts = facts_of(&list, &statements)?;
    let mut notes = Vec::new();
    for name in list.names.iter().filter(|name| !name.known) {
        notes.push(format!(
            "“{}” is neither on the shelf nor in the inventory; its class is not known",
            name.text
        ));
    }
    if !list.may_contain.is_empty() {
        notes.push(format!(
            "what the list only may contain is left out: {}",
            list.may_contain.join(", ")
        ));
    }
    if !list.repeated.is_empty() {
        notes.push(format!(
            "named more than once, of which the first place counts: {}",
            list.repeated.join(", ")
        ));
    }
    let mut limits = Vec::new();
    if let Some(kind) = knowledge.usual {
        limits.extend(usual_limits(&list, shelf, kind));
    }
    if let Some(product) = &knowledge.legal {
        limits.extend(legal_limits(&list, product, context));
    }
    let mut with = facts.clone();
    for limit in &limits {
        let free = !with.known.contains_key(&limit.ingredient);
        if free {
            let most = with.most.entry(limit.ingredient).or_insert(limit.most);
            *most = most.min(limit.most);
        }
    }
    let mut ranges = deduce::ranges_with(n, &with, progress);
    if ranges == Err(DeduceError::Contradiction) && !limits.is_empty() {
        notes
            .push("the list does not fit the usual and legal limits, so they were left out".into());
        limits.clear();
        with = facts;
        ranges = deduce::ranges_with(n, &with, progress);
    }
    if ranges == Err(DeduceError::Contradiction) {
        let culprits = culprits(&list, &statements, progress);
        if !culprits.is_empty() {
            return Err(ListError::Contradiction(culprits));
        }
    }
    let ranges = ranges?;
    let centre = deduce::centre(n, &with)?;
    let group = |words: &str, pick: fn(Class) -> bool| {
        let members: Vec<usize> = (0..n).filter(|&i| pick(list.names[i].class)).collect();
        (members.len() > 1).then(|| (words.to_owned(), members))
    };
    let groups = [
        group("the total active matter", |c| {
            matches!(c, Class::Surfactant(_))
        }),
        group("the total of the oils", |c| c == Class::Oil),
        group("the total of the humectants", |c| c == Class::Humectant),
    ];
    let groups = groups.into_iter().flatten().collect();
    Ok(Deduction {
        list,
        ranges,
        centre,
        limits,
        notes,
        facts: with,
        groups,
    })
}

/// What is stated: in the list itself, then as facts.
fn statements(list: &PastedList, knowledge: &Knowledge) -> Vec<Fact> {
    let in_list = list.names.iter().filter_map(|name| {
        Some(Fact::Amount(Target {
            quantity: TargetQuantity::Constituent(name.inci.clone().into()),
            relation: name.stated?,
        }))
    });
    in_list.chain(knowledge.facts.iter().cloned()).collect()
}

/// The order of the list and what is stated, in numbers.
fn facts_of(list: &PastedList, statements: &[Fact]) -> Result<Facts, ListError> {
    let mut facts = Facts::default();
    for (i, name) in list.names.iter().enumerate() {
        if is_colour_number(name.inci.spelling()) {
            // Colourants may follow in any order (Regulation (EC) No 1223/2009,
            // Article 19(1)(g)).
            facts.anywhere.insert(i);
        }
    }
    for fact in statements {
        state(fact, list, &mut facts)?;
    }
    Ok(facts)
}

/// The statements of which each, left out, leaves the others possible.
fn culprits(list: &PastedList, statements: &[Fact], progress: &Progress) -> Vec<String> {
    let possible_without = |k: usize| {
        let mut rest = statements.to_vec();
        rest.remove(k);
        let facts = facts_of(list, &rest).ok()?;
        deduce::ranges_with(list.names.len(), &facts, progress).ok()
    };
    let named = statements.iter().enumerate();
    named
        .filter(|(k, _)| possible_without(*k).is_some())
        .map(|(_, fact)| match fact {
            Fact::Amount(target) => format!("“{}”", target.words()),
            Fact::LineAfter(name) => format!("“line after {name}”"),
        })
        .collect()
}

fn is_colour_number(name: &str) -> bool {
    let lower = name.to_ascii_lowercase();
    lower
        .strip_prefix("ci ")
        .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
}

/// Puts a fact of the maker into numbers.
fn state(fact: &Fact, list: &PastedList, facts: &mut Facts) -> Result<(), ListError> {
    let place = |name: &str, words: &str| {
        let wanted = Inci::from(name);
        list.names
            .iter()
            .position(|l| wanted.same_as(&l.inci) || wanted.is(&l.text))
            .ok_or_else(|| {
                let names = list.names.iter().map(|l| l.inci.spelling());
                let near = nearest(name, names, 1).first().map(ToString::to_string);
                ListError::NotListed {
                    fact: words.to_owned(),
                    name: name.to_owned(),
                    near,
                }
            })
    };
    let target = match fact {
        Fact::LineAfter(name) => {
            facts.line = Some(place(name, &format!("line after {name}"))? + 1);
            return Ok(());
        }
        Fact::Amount(target) => target,
    };
    let words = target.to_string();
    let of_class = |pick: &dyn Fn(Class) -> bool| -> Vec<usize> {
        (0..list.names.len())
            .filter(|&i| pick(list.names[i].class))
            .collect()
    };
    let members_of = |quantity: &TargetQuantity| match quantity {
        TargetQuantity::Active(None) => Ok(of_class(&|c| matches!(c, Class::Surfactant(_)))),
        TargetQuantity::Active(Some(charge)) => Ok(of_class(&|c| c == Class::Surfactant(*charge))),
        TargetQuantity::Class(class) => Ok(of_class(&|c| c == *class)),
        TargetQuantity::Constituent(name) | TargetQuantity::Named(name) => {
            Ok(vec![place(name, &words)?])
        }
        _ => Err(ListError::NotAmount(words.clone())),
    };
    let members: Vec<usize> = match &target.quantity {
        TargetQuantity::Sum(parts) => {
            let parts = parts.iter().map(members_of);
            let mut members = parts.collect::<Result<Vec<_>, _>>()?.concat();
            members.sort_unstable();
            members.dedup();
            members
        }
        quantity => members_of(quantity)?,
    };
    let Some((low, high)) = target.relation.limits() else {
        return Err(ListError::NotAmount(words));
    };
    match members.as_slice() {
        [] => Err(ListError::NoneListed {
            fact: words,
            what: target.quantity.words(),
        }),
        [one] => bound(facts, list, *one, low, high),
        _ => {
            facts.sums.push(LinearDemand {
                terms: members.into_iter().map(|i| (i, 1.0)).collect(),
                low,
                high,
            });
            Ok(())
        }
    }
}

/// Bounds one ingredient, besides what is known of it already.
fn bound(
    facts: &mut Facts,
    list: &PastedList,
    i: usize,
    low: f64,
    high: f64,
) -> Result<(), ListError> {
    let figures = [low, high].into_iter().filter(|v| v.is_finite());
    if let Some(value) = figures.into_iter().find(|v| !(0.0..=100.0).contains(v)) {
        return Err(ListError::NoPercentage {
            name: list.names[i].inci.clone().into(),
            value,
        });
    }
    if low == high {
        return match facts.known.insert(i, low) {
            Some(other) if other != low => Err(ListError::TwoFigures {
                name: list.names[i].inci.clone().into(),
                one: other,
                other: low,
            }),
            _ => Ok(()),
        };
    }
    if low.is_finite() {
        let least = facts.least.entry(i).or_insert(low);
        *least = least.max(low);
    }
    if high.is_finite() {
        let most = facts.most.entry(i).or_insert(high);
        *most = most.min(high);
    }
    Ok(())
}

/// Typical share of an ingredient in a material, 0 to 1, as a label counts it.
fn declared(material: &Material, inci: &Inci) -> f64 {
    mixture::share_of(material, View::AsDeclared, |c| {
        c.constituent.inci.same_as(inci)
    })
}

/// The highest usual level of each ingredient over the materials that bring it in.
/// Water has none.
fn usual_limits(list: &PastedList, shelf: &Shelf, kinds: Kinds) -> Vec<TakenLimit> {
    let mut limits = Vec::new();
    for (ingredient, name) in list.names.iter().enumerate() {
        if name.class == Class::Water {
            continue;
        }
        let mut most: Option<(f64, &Arc<str>)> = None;
        let mut all_known = true;
        for material in shelf.iter() {
            let share = declared(material, &name.inci);
            if share < TRACE {
                continue;
            }
            let Some(range) = material.strictest_range(kinds) else {
                all_known = false;
                break;
            };
            let level = range.high.as_percent() * share;
            if most.is_none_or(|(m, _)| level > m) {
                most = Some((level, &material.name));
            }
        }
        if let Some((most, material)) = most.filter(|_| all_known) {
            limits.push(TakenLimit {
                ingredient,
                most,
                ground: format!("usual highest level, as {material}"),
            });
        }
    }
    limits
}

/// What law and practice allow of each ingredient taken as a pure substance.
fn legal_limits(list: &PastedList, product: &Product, context: &Context) -> Vec<TakenLimit> {
    let mut formula = Formula::new("List");
    let mut variant = formula.active().as_ref().clone();
    variant.product = product.clone();
    let mut lines = Vec::new();
    for name in &list.names {
        let id = MaterialId::from_name(name.inci.spelling());
        let cas = inventory()
            .by_name(name.inci.spelling())
            .and_then(|e| e.cas);
        let pure = Material::pure(
            id.clone(),
            name.inci.shared().clone(),
            name.inci.clone(),
            cas,
            name.class,
        );
        formula.materials.insert(id.clone(), Arc::new(pure));
        lines.push(new_line(ItemId(formula.take_id()), id, Percent::STEP));
    }
    let ids: Vec<ItemId> = lines.iter().map(|l| l.id).collect();
    if let Some(phase) = variant.phases.first_mut() {
        Arc::make_mut(phase).lines = lines;
    }
    evaluation::evaluate(&formula, &variant, context)
        .limits
        .into_iter()
        .filter_map(|limit| {
            Some(TakenLimit {
                ingredient: ids.iter().position(|id| *id == limit.line)?,
                most: limit.most.as_percent(),
                ground: format!("{}: {}", limit.rule, limit.message),
            })
        })
        .collect()
}

fn new_line(id: ItemId, material: MaterialId, percent: Percent) -> Line {
    Line {
        id,
        material,
        percent,
        why: "".into(),
        held: false,
        min: None,
        max: None,
        purpose: None,
    }
}

/// A material of the shelf that the list leaves possible.
#[derive(Clone, PartialEq, Debug)]
pub struct PossibleMaterial {
    /// The material.
    pub material: Arc<Material>,
    /// Places of the ingredients it would bring in.
    pub brings: Vec<usize>,
    /// Whether it is a blend: several ingredients besides water.
    pub blend: bool,
    /// The most of it that fits the ranges, % w/w of the raw material.
    pub most: f64,
}

/// A raw material of the proposed reconstruction.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedMaterial {
    /// The material; made up as a pure substance where the shelf has none.
    pub material: Arc<Material>,
    /// Its percentage.
    pub percent: f64,
    /// Whether it is on the shelf.
    pub on_shelf: bool,
}

impl Deduction {
    /// Which further fact would narrow the ranges most, in words, best first. Takes
    /// some hundred linear programmes; `progress` counts the facts tried.
    pub fn narrowing(&self, progress: &Progress) -> Result<Vec<(String, f64)>, ListError> {
        let groups: Vec<Vec<usize>> = self.groups.iter().map(|(_, g)| g.clone()).collect();
        let found = deduce::narrowing(
            self.list.names.len(),
            &self.facts,
            &groups,
            &self.ranges,
            &self.centre,
            progress,
        )?;
        Ok(found
            .into_iter()
            .map(|Narrowing { fact, gain }| {
                let words = match fact {
                    OpenFact::Percentage(i) => {
                        format!("the percentage of {}", self.list.names[i].inci)
                    }
                    OpenFact::Line => "the place of the one-per-cent line".to_owned(),
                    OpenFact::Sum(g) => self.groups[g].0.clone(),
                };
                (words, gain)
            })
            .collect())
    }

    /// The materials of the shelf all of whose ingredients stand in the list, blends
    /// first, then those that bring in most.
    pub fn materials(&self, shelf: &Shelf) -> Vec<PossibleMaterial> {
        let mut found: Vec<PossibleMaterial> = shelf
            .iter()
            .filter_map(|material| self.possible(material))
            .collect();
        found.sort_by(|a, b| {
            b.blend
                .cmp(&a.blend)
                .then(b.brings.len().cmp(&a.brings.len()))
                .then(a.brings.cmp(&b.brings))
                .then(a.material.name.cmp(&b.material.name))
        });
        found
    }

    fn possible(&self, material: &Arc<Material>) -> Option<PossibleMaterial> {
        let mut brings = BTreeSet::new();
        let mut besides_water = 0;
        // No more than anybody uses of it, where that is known.
        let usual = material.use_ranges.iter().map(|r| r.high.as_percent());
        let mut most = usual.reduce(f64::max).unwrap_or(100.0);
        let counted = mixture::contents(material)
            .map(|c| (c.constituent, c.share(View::AsDeclared)))
            // A preservative acts in traces, so it is declared.
            .filter(|(c, share)| share.typical.value() >= TRACE || c.class == Class::Preservative)
            .filter(|(c, _)| c.incidental.is_none());
        for (constituent, share) in counted {
            let i = self
                .list
                .names
                .iter()
                .position(|l| l.inci.same_as(&constituent.inci))?;
            brings.insert(i);
            if constituent.class != Class::Water {
                besides_water += 1;
            }
            let low = share.low.value();
            if low > 0.0 {
                most = most.min(self.ranges.high[i] / low);
            }
        }
        (!brings.is_empty() && most > 0.0).then(|| PossibleMaterial {
            material: material.clone(),
            brings: brings.into_iter().collect(),
            blend: besides_water > 1,
            most,
        })
    }

    /// Raw materials that together come close to the central estimate: few of them,
    /// from the shelf where it has them.
    pub fn proposal(&self, shelf: &Shelf) -> Vec<ProposedMaterial> {
        let n = self.list.names.len();
        struct Choice {
            material: Arc<Material>,
            on_shelf: bool,
            most: f64,
        }
        let mut choices: Vec<Choice> = self
            .materials(shelf)
            .into_iter()
            .map(|p| Choice {
                material: p.material,
                on_shelf: true,
                most: p.most,
            })
            .collect();
        for name in &self.list.names {
            let covered = choices.iter().any(|choice| {
                let constituents = &choice.material.constituents;
                constituents.iter().any(|c| c.inci.same_as(&name.inci))
            });
            if !covered || name.class == Class::Water {
                let id = MaterialId::from_name(name.inci.spelling());
                let cas = inventory()
                    .by_name(name.inci.spelling())
                    .and_then(|e| e.cas);
                let pure = Material::pure(
                    id,
                    name.inci.shared().clone(),
                    name.inci.clone(),
                    cas,
                    name.class,
                );
                choices.push(Choice {
                    material: Arc::new(pure),
                    on_shelf: false,
                    most: 100.0,
                });
            }
        }
        let share = |m: &Material, i: usize| declared(m, &self.list.names[i].inci);
        // Least difference from the estimate, in proportion; then fewest materials.
        let mut programme = Programme::new();
        let mut cost = vec![0.0; choices.len()];
        let mut flags = Vec::new();
        for choice in &choices {
            programme.unknown(0.0, choice.most.min(100.0));
        }
        for (k, choice) in choices.iter().enumerate() {
            let flag = programme.unknown(0.0, 1.0);
            // Among equally many those of the shelf, and the purer ones.
            let parts = choice.material.constituents.len() as f64;
            cost.push(if choice.on_shelf { 1.0 } else { 1.5 } + 0.02 * parts);
            programme
                .rows
                .push(LinearDemand::at_most(vec![(k, 1.0), (flag, -100.0)], 0.0));
            flags.push(flag);
        }
        for i in 0..n {
            let centre = self.centre.percent[i];
            let mut terms: Vec<(usize, f64)> = choices
                .iter()
                .enumerate()
                .map(|(k, choice)| (k, share(&choice.material, i)))
                .filter(|(_, w)| *w > 0.0)
                .collect();
            let (over, under) = (programme.unknown(0.0, 100.0), programme.unknown(0.0, 100.0));
            let weight = 10.0 / centre.max(0.05);
            cost.extend([weight, weight]);
            terms.extend([(over, -1.0), (under, 1.0)]);
            programme.rows.push(LinearDemand::equal(terms, centre));
        }
        let total = (0..choices.len()).map(|k| (k, 1.0)).collect();
        programme.rows.push(LinearDemand::equal(total, 100.0));
        let found = linear::minimise_within(&programme, &cost, &flags, CHOICE_LIMIT)
            .point()
            .or_else(|| linear::minimise(&programme, &cost).point());
        let Some(point) = found else {
            return Vec::new();
        };
        let mut proposed: Vec<ProposedMaterial> = choices
            .into_iter()
            .zip(point.x)
            .filter(|(_, percent)| *percent > LEAST_PROPOSED)
            .map(|(choice, percent)| ProposedMaterial {
                material: choice.material,
                percent,
                on_shelf: choice.on_shelf,
            })
            .collect();
        proposed.sort_by(|a, b| b.percent.total_cmp(&a.percent));
        proposed
    }

    /// The proposed materials as a formula to start from, in phases by kind, on steps
    /// of 0.01 %, with the largest line as the filler.
    pub fn formula(&self, name: &str, proposed: &[ProposedMaterial]) -> Formula {
        let mut formula = Formula::new(name);
        let mut variant = formula.active().as_ref().clone();
        variant.name = "Estimate from a list".into();
        variant.note = "Worked back from an ingredient list: one composition of many that fit it, not the formula of the product.".into();
        let step = 10_000;
        let mut phases: Vec<Phase> = Vec::new();
        let mut filler: Option<(Percent, ItemId)> = None;
        for p in proposed {
            let kind = p.material.phase.unwrap_or(PhaseKind::Water);
            let units = (p.percent * Percent::UNITS as f64 / f64::from(step)).round() as i64;
            let percent = Percent::from_units(units.max(1) * i64::from(step));
            let id = ItemId(formula.take_id());
            if filler.is_none_or(|(most, _)| percent > most) {
                filler = Some((percent, id));
            }
            formula
                .materials
                .insert(p.material.id.clone(), p.material.clone());
            let line = new_line(id, p.material.id.clone(), percent);
            if let Some(phase) = phases.iter_mut().find(|f| f.kind == kind) {
                phase.lines.push(line);
            } else {
                phases.push(Phase {
                    id: ItemId(formula.take_id()),
                    letter: "".into(),
                    kind,
                    purpose: "".into(),
                    temperature: None,
                    lines: vec![line],
                    steps: Vec::new(),
                });
            }
        }
        phases.sort_by_key(|p| p.kind);
        for (letter, phase) in ('A'..='Z').zip(&mut phases) {
            phase.letter = letter.to_string().into();
        }
        if let Some((_, filler)) = filler {
            let others: Percent = phases
                .iter()
                .flat_map(|p| &p.lines)
                .filter(|l| l.id != filler)
                .map(|l| l.percent)
                .sum();
            for line in phases.iter_mut().flat_map(|p| &mut p.lines) {
                if line.id == filler {
                    line.percent = Percent::HUNDRED - others;
                }
            }
            variant.filler = Some(filler);
        }
        variant.phases = phases.into_iter().map(Arc::new).collect();
        formula.variants = vec![Arc::new(variant)];
        formula
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Date;
    use crate::shelf::built_in;

    fn context() -> Context {
        Context::new(Date::constant(2026, 1, 15))
    }

    #[test]
    fn what_is_stated_twice_or_of_nothing_is_refused() {
        let told = |text: &str, facts: &[&str]| {
            let knowledge = Knowledge {
                facts: facts.iter().map(|f| f.parse().unwrap()).collect(),
                ..Knowledge::default()
            };
            deduce(read(text, built_in()), &knowledge, built_in(), &context())
        };
        let error = |text: &str, facts: &[&str]| told(text, facts).unwrap_err().to_string();
        let list = "Aqua, Niacinamide 5 %, Glycerin";
        let twice = error(list, &["niacinamide = 4"]);
        assert!(twice.contains("5 % and as 4 %"), "{twice}");
        let none = error(list, &["active >= 3"]);
        assert!(none.contains("active matter"), "{none}");
        let garbage = error("lorem ipsum, dolor sit", &[]);
        assert!(garbage.contains("none of the 2 names"), "{garbage}");
        // The narrower of two bounds counts.
        let narrow = told(list, &["Glycerin <= 2", "Glycerin <= 4"]).unwrap();
        assert!((narrow.ranges.high[2] - 2.0).abs() < 1e-6);
        let beyond = error(list, &["niacinamide <= 4", "glycerin <= 3"]);
        assert!(
            beyond.ends_with(
                "without “exactly 5 % Niacinamide”, or without “at most 4 % niacinamide”"
            ),
            "{beyond}"
        );
        let more = error("Aqua, Niacinamide 120 %", &[]);
        assert!(more.contains("120 %"), "{more}");
    }

    #[test]
    fn facts_narrow_and_wrong_names_get_a_hint() {
        let list = read("Aqua, Glycerin, Xanthan Gum, Phenoxyethanol", built_in());
        let open = deduce(list.clone(), &Knowledge::default(), built_in(), &context()).unwrap();
        let knowledge = Knowledge {
            facts: vec![
                "line after Glycerin".parse().unwrap(),
                "Glycerin = 5".parse().unwrap(),
            ],
            ..Knowledge::default()
        };
        let told = deduce(list.clone(), &knowledge, built_in(), &context()).unwrap();
        assert!(told.ranges.width() < open.ranges.width());
        assert!((told.ranges.low[0] - 93.0).abs() < 1e-6);
        assert!((told.ranges.high[0] - 95.0).abs() < 1e-6);
        let knowledge = Knowledge {
            facts: vec!["Glycerine <= 5".parse().unwrap()],
            ..Knowledge::default()
        };
        let error = deduce(list, &knowledge, built_in(), &context()).unwrap_err();
        assert!(
            error.to_string().contains("did you mean “Glycerin”"),
            "{error}"
        );
    }

    #[test]
    fn usual_levels_bound_and_the_best_question_is_named() {
        let list = read(
            "Aqua, Sodium Laureth Sulfate, Cocamidopropyl Betaine, Glycerin, Sodium Chloride, Phenoxyethanol, Parfum",
            built_in(),
        );
        let knowledge = Knowledge {
            usual: Some(Kinds::Only(crate::material::ProductKind::RinseOff)),
            ..Knowledge::default()
        };
        let d = deduce(list, &knowledge, built_in(), &context()).unwrap();
        assert!(!d.limits.is_empty());
        let preservative = d.limits.iter().find(|l| l.ingredient == 5).unwrap();
        assert!(preservative.most <= 1.0 + 1e-9, "{preservative:?}");
        let asked = d.narrowing(&Progress::default()).unwrap();
        assert!(asked[0].1 >= asked.last().unwrap().1);
        let total: f64 = d.centre.percent.iter().sum();
        assert!((total - 100.0).abs() < 1e-5);
    }

    #[test]
    fn blends_of_the_shelf_are_recognised_and_a_formula_is_proposed() {
        let list = read(
            "Aqua, Sodium Laureth Sulfate, Glycerin, Phenoxyethanol, Ethylhexylglycerin, Citric Acid",
            built_in(),
        );
        let d = deduce(list, &Knowledge::default(), built_in(), &context()).unwrap();
        let materials = d.materials(built_in());
        assert!(
            materials.iter().any(|m| m.blend && m.brings == vec![3, 4]),
            "{:?}",
            materials
                .iter()
                .map(|m| &m.material.name)
                .collect::<Vec<_>>()
        );
        let proposed = d.proposal(built_in());
        let sum: f64 = proposed.iter().map(|p| p.percent).sum();
        assert!((sum - 100.0).abs() < 1e-4, "{sum}");
        let f = d.formula("Estimate", &proposed);
        assert_eq!(f.active().total(), Percent::HUNDRED);
        // Its composition is close to the estimate.
        let c = crate::composition::compose(&f, f.active());
        for (name, centre) in d.list.names.iter().zip(&d.centre.percent) {
            let got = c
                .constituents
                .iter()
                .find(|a| a.inci.same_as(&name.inci))
                .map_or(0.0, |a| a.share.typical.as_percent());
            assert!(
                (got - centre).abs() < 0.1 * centre + 0.5,
                "{} {got} {centre}",
                name.inci
            );
        }
    }

    /// Most of the shelf's essential oils state components; on a list they stand whole.
    #[test]
    fn an_essential_oil_is_brought_in_whole() {
        let inci = "Lavandula Angustifolia Oil";
        let oils = built_in().iter().filter(|m| {
            let is = |c: &crate::material::Constituent| c.inci.is(inci);
            m.constituents.iter().any(is) && m.constituents.len() > 1
        });
        let shares: Vec<f64> = oils.map(|m| declared(m, &inci.into())).collect();
        assert!(!shares.is_empty());
        assert!(shares.iter().all(|share| *share > 0.99), "{shares:?}");
    }
}
