//! Swap: another material, or a blend, in place of a line, at equal active matter;
//! and suggestions from the shelf for a line that runs out.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::composition;
use crate::edit::Edit;
use crate::evaluation::{self, Context, Evaluation};
use crate::finding::{self, Finding, Level};
use crate::formula::{Formula, ItemId, Line, Variant};
use crate::material::{Class, Material, MaterialId, ProductKind, Role};
use crate::quantity::Percent;
use crate::shelf::Shelf;

use super::demand::FigureStyle;
use super::subject::{Subject, Supply};

/// Change of a share of the formula, % w/w, that is worth a word.
const WORTH_A_WORD: f64 = 0.05;
/// Change of pH that is worth a word and a correction.
const PH_WORTH: f64 = 0.05;

/// What stays equal when a material is replaced.
#[derive(Clone, PartialEq, Debug)]
pub enum Equal {
    /// Constituents of the class the old material is bought for: its largest besides
    /// water and solvents. For a surfactant that is its active matter.
    Active,
    /// A constituent by INCI name.
    Constituent(Arc<str>),
    /// The percentage as weighed.
    Weight,
}

/// A part of the replacement.
#[derive(Clone, PartialEq, Debug)]
pub struct Part {
    /// The material.
    pub material: Arc<Material>,
    /// Its share of what stays equal; shares are taken in proportion to their sum.
    pub share: f64,
}

/// Why a swap cannot be done.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum SwapError {
    /// The line is not in the variant, or its material is not carried.
    #[error("this line is no longer in the formula")]
    NoSuchLine,
    /// No part, or shares that are not above 0.
    #[error("a replacement needs at least one material with a share above 0")]
    NoParts,
    /// Neither old nor new contains what should stay equal.
    #[error("{material} contains no {what}; choose something that both contain, or equal weight")]
    NothingEqual {
        /// The material.
        material: String,
        /// What should stay equal.
        what: String,
    },
    /// The replacement takes more than there is room for.
    #[error("{needed} % would be needed, but the other lines leave {room} %")]
    NoRoom {
        /// Percentage of the replacement.
        needed: Percent,
        /// What the old line and the filler leave.
        room: Percent,
    },
    /// No filler to take the difference.
    #[error(
        "the formula has no filler line to take up the difference; choose one, or swap at equal weight"
    )]
    NoFiller,
}

/// A figure before and after.
#[derive(Clone, PartialEq, Debug)]
pub struct Shift {
    /// What.
    pub name: String,
    /// Before; `None` if not known.
    pub before: Option<f64>,
    /// After.
    pub after: Option<f64>,
    /// How figures are written.
    pub figure: FigureStyle,
}

/// A swap worked out.
#[derive(Clone, Debug)]
pub struct Swapped {
    /// The variant with the replacement.
    pub variant: Variant,
    /// The formula with the materials it needs.
    pub formula: Formula,
    /// Percentage of each part.
    pub parts: Vec<(Arc<Material>, Percent)>,
    /// Figures that change.
    pub shifts: Vec<Shift>,
    /// What was adjusted besides, and what could not be.
    pub notes: Vec<String>,
    /// Everything that follows.
    pub evaluation: Box<Evaluation>,
}

impl Swapped {
    /// The one edit that takes it over.
    pub fn edit(&self) -> Edit {
        let materials = self
            .variant
            .lines()
            .filter_map(|(_, line)| self.formula.material(&line.material).cloned())
            .collect();
        Edit::ReplaceContent {
            variant: Arc::new(self.variant.clone()),
            materials,
        }
    }
}

/// The class a material is bought for: its largest besides water and solvents.
pub fn leading_class(material: &Material) -> Option<Class> {
    Class::ALL
        .into_iter()
        .filter(|c| !matches!(c, Class::Water | Class::Solvent))
        .map(|c| (c, material.share_of(c).value()))
        .filter(|(_, share)| *share > 0.0)
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(c, _)| c)
        .or_else(|| (!material.constituents.is_empty()).then_some(Class::Water))
}

/// How much of what stays equal a material contains, 0 to 1. All surfactants count as
/// one kind, so that an anionic may replace an amphoteric.
fn content(material: &Material, equal: &Equal, class: Option<Class>) -> f64 {
    let sum = |pick: &dyn Fn(&crate::material::Constituent) -> bool| -> f64 {
        material
            .constituents
            .iter()
            .filter(|c| pick(c))
            .map(|c| c.share.typical.value())
            .sum()
    };
    match (equal, class) {
        (Equal::Weight, _) => 1.0,
        (Equal::Constituent(name), _) => sum(&|c| c.inci.eq_ignore_ascii_case(name)),
        (Equal::Active, Some(Class::Surfactant(_))) => {
            sum(&|c| matches!(c.class, Class::Surfactant(_)))
        }
        (Equal::Active, Some(class)) => sum(&|c| c.class == class),
        (Equal::Active, None) => 0.0,
    }
}

/// Puts a replacement in place of a line. The filler takes the difference of weight, so
/// the total stays; a free salt line gives way to the salt that comes or goes; a free
/// acid or base line brings the pH back, where it can.
pub fn swap(
    formula: &Formula,
    variant: &Variant,
    context: &Context,
    supply: &Supply,
    line: ItemId,
    parts: &[Part],
    equal: &Equal,
) -> Result<Swapped, SwapError> {
    let old_line = variant.line(line).ok_or(SwapError::NoSuchLine)?;
    let old = formula
        .material(&old_line.material)
        .ok_or(SwapError::NoSuchLine)?;
    let class = leading_class(old);
    let what = match (equal, class) {
        (Equal::Constituent(name), _) => name.to_string(),
        (_, Some(Class::Surfactant(_))) => "active matter".to_owned(),
        (_, Some(class)) => class.label().to_owned(),
        (_, None) => "known constituent".to_owned(),
    };
    let contained = content(old, equal, class);
    let shares: f64 = parts.iter().map(|p| p.share).sum();
    let usable = |p: &Part| p.share.is_finite() && p.share >= 0.0;
    if parts.is_empty() || !parts.iter().all(usable) || shares <= 0.0 {
        return Err(SwapError::NoParts);
    }
    let missing = |material: &Material| SwapError::NothingEqual {
        material: material.name.to_string(),
        what: what.clone(),
    };
    if contained <= 0.0 {
        return Err(missing(old));
    }
    let mut new_parts: Vec<(Arc<Material>, Percent)> = Vec::new();
    for part in parts {
        let holds = content(&part.material, equal, class);
        if holds <= 0.0 {
            return Err(missing(&part.material));
        }
        let percent = old_line
            .percent
            .scaled(part.share / shares * contained / holds);
        new_parts.push((part.material.clone(), percent));
    }
    let mut formula = formula.clone();
    let mut variant = variant.clone();
    let before = Subject::new(&formula, &variant, context, supply, &[]);
    let before_evaluation = before.evaluate_present();

    // The parts take the place of the line; the first keeps its identity and reason.
    for (material, _) in &new_parts {
        formula
            .materials
            .insert(material.id.clone(), material.clone());
    }
    let was_filler = variant.is_filler(line);
    let ids: Vec<ItemId> = new_parts
        .iter()
        .enumerate()
        .map(|(k, _)| {
            if k == 0 {
                line
            } else {
                ItemId(formula.take_id())
            }
        })
        .collect();
    for phase in &mut variant.phases {
        let Some(place) = phase.lines.iter().position(|l| l.id == line) else {
            continue;
        };
        let lines = &mut Arc::make_mut(phase).lines;
        let template = lines.remove(place);
        for (k, ((material, percent), id)) in new_parts.iter().zip(&ids).enumerate() {
            lines.insert(
                place + k,
                Line {
                    id: *id,
                    material: material.id.clone(),
                    percent: *percent,
                    // The maker's bounds were meant for the old material.
                    min: None,
                    max: None,
                    ..template.clone()
                },
            );
        }
    }
    let mut notes = Vec::new();
    if let Some(old_line) = before.variant().line(line)
        && (old_line.min.is_some() || old_line.max.is_some())
        && *equal != Equal::Weight
    {
        notes.push(format!(
            "your bounds on {} were taken off, because they were meant for that material",
            old.name
        ));
    }
    if was_filler {
        notes
            .push("the replaced line was the filler; its replacement is the filler now".to_owned());
    }
    settle(&mut variant, &before)?;

    keep_salt(&formula, &mut variant, &before_evaluation, &ids, &mut notes);
    let restored = keep_ph(
        &formula,
        &mut variant,
        context,
        supply,
        &before_evaluation,
        &ids,
    );
    notes.extend(restored);
    let after = Subject::new(&formula, &variant, context, supply, &[]);
    let evaluation = after.evaluate_present();
    let shifts = shifts(&before, &before_evaluation, &after, &evaluation);
    let new_parts = new_parts
        .into_iter()
        .zip(&ids)
        .map(|((material, percent), id)| {
            let percent = variant.line(*id).map_or(percent, |l| l.percent);
            (material, percent)
        })
        .collect();
    Ok(Swapped {
        variant,
        formula,
        parts: new_parts,
        shifts,
        notes,
        evaluation: Box::new(evaluation),
    })
}

/// Gives the filler what keeps the total as it was.
fn settle(variant: &mut Variant, before: &Subject<'_>) -> Result<(), SwapError> {
    let total = before.variant().total();
    let difference = variant.total() - total;
    if difference == Percent::ZERO {
        return Ok(());
    }
    let filler = variant.filler.ok_or(SwapError::NoFiller)?;
    let there = variant.line(filler).map_or(Percent::ZERO, |l| l.percent);
    if there < difference {
        let needed = variant.total() - total + there;
        return Err(SwapError::NoRoom {
            needed,
            room: there,
        });
    }
    change_line(variant, filler, |l| l.percent -= difference);
    Ok(())
}

fn change_line(variant: &mut Variant, id: ItemId, change: impl FnOnce(&mut Line)) {
    for phase in &mut variant.phases {
        if let Some(place) = phase.lines.iter().position(|l| l.id == id) {
            if let Some(line) = Arc::make_mut(phase).lines.get_mut(place) {
                change(line);
            }
            return;
        }
    }
}

/// Lets a free salt line make up for the salt that comes or goes with the materials.
fn keep_salt(
    formula: &Formula,
    variant: &mut Variant,
    before: &Evaluation,
    new_lines: &[ItemId],
    notes: &mut Vec<String>,
) {
    let wanted = before
        .composition
        .class(Class::Electrolyte)
        .typical
        .as_percent();
    let there = composition::compose(formula, variant)
        .class(Class::Electrolyte)
        .typical
        .as_percent();
    let excess = there - wanted;
    if excess.abs() < WORTH_A_WORD {
        return;
    }
    let salt = variant.lines().find_map(|(_, line)| {
        let material = formula.material(&line.material)?;
        let share = material.share_of(Class::Electrolyte).value();
        let free = !line.held && !variant.is_filler(line.id) && !new_lines.contains(&line.id);
        (free && material.has_role(Role::Salt) && share > 0.5).then_some((line.clone(), share))
    });
    let said = |what: &str| {
        format!(
            "salt goes from {} to {} with the materials{what}",
            FigureStyle::PERCENT.write(wanted),
            FigureStyle::PERCENT.write(there)
        )
    };
    let Some((line, share)) = salt else {
        notes.push(said("; no free salt line can make up for it"));
        return;
    };
    let change = Percent::nearest(-excess / share).unwrap_or_default();
    let target = (line.percent + change).clamp_to(
        line.min.unwrap_or(Percent::ZERO),
        line.max.unwrap_or(Percent::HUNDRED),
    );
    let difference = target - line.percent;
    let filler_room = variant
        .filler
        .and_then(|f| variant.line(f))
        .map_or(Percent::ZERO, |f| f.percent);
    let Some(filler) = variant.filler.filter(|_| difference <= filler_room) else {
        notes.push(said("; there is no filler with room to make up for it"));
        return;
    };
    change_line(variant, line.id, |l| l.percent = target);
    change_line(variant, filler, |f| f.percent -= difference);
    let name = formula
        .material(&line.material)
        .map_or_else(|| line.material.as_str().to_owned(), |m| m.name.to_string());
    notes.push(said(&format!(
        "; {name} was set from {} to {target} % to keep it",
        line.percent
    )));
}

/// Brings the pH back to what it was, by a free acid or base line; says what was done.
fn keep_ph(
    formula: &Formula,
    variant: &mut Variant,
    context: &Context,
    supply: &Supply,
    before: &Evaluation,
    new_lines: &[ItemId],
) -> Option<String> {
    let wanted = super::fixed_point::ph_of(before)?;
    let subject = Subject::new(formula, variant, context, supply, &[]);
    let there = super::fixed_point::ph_of(&subject.evaluate_present())?;
    if (there - wanted).abs() < PH_WORTH {
        return None;
    }
    let said = format!("the estimated pH goes from {wanted:.2} to {there:.2} with the materials");
    match super::fixed_point::dose_to(&subject, wanted, new_lines) {
        Ok((line, percent)) => {
            let dosed = subject.unknowns().iter().find(|u| u.line == line)?;
            let words = format!(
                "{said}; {} was set from {} to {percent} % to bring it back",
                dosed.name, dosed.present
            );
            let difference = percent - dosed.present;
            let filler = variant.filler?;
            change_line(variant, line, |l| l.percent = percent);
            change_line(variant, filler, |f| f.percent -= difference);
            Some(words)
        }
        Err(why) => Some(format!("{said} and was not brought back: {why}")),
    }
}

/// The figures that a swap changes.
fn shifts(
    before: &Subject<'_>,
    before_evaluation: &Evaluation,
    after: &Subject<'_>,
    after_evaluation: &Evaluation,
) -> Vec<Shift> {
    let quantities = [
        "active",
        "anionic",
        "amphoteric",
        "non-ionic",
        "cationic",
        "water",
        "oil",
        "salt",
        "ph",
        "hlb",
        "natural origin",
        "cost",
    ];
    quantities
        .into_iter()
        .filter_map(|words| {
            let quantity: super::target::Quantity = words.parse().ok()?;
            let value = |subject: &Subject<'_>, evaluation: &Evaluation| {
                super::fixed_point::value_of(subject, &quantity, &subject.present(), evaluation)
            };
            let (old, new) = (
                value(before, before_evaluation),
                value(after, after_evaluation),
            );
            let figure = super::aim::figure_of(&quantity);
            let shown = |value: Option<f64>| value.map(|v| figure.write(v));
            (shown(old) != shown(new)).then(|| Shift {
                name: quantity.words(),
                before: old,
                after: new,
                figure,
            })
        })
        .collect()
}

/// A material that could take the place of a line.
#[derive(Clone, Debug)]
pub struct Suggestion {
    /// The material.
    pub material: Arc<Material>,
    /// Its percentage at equal active matter.
    pub percent: Percent,
    /// Closeness, 0 to 1; our own weighing, see [`Likeness`].
    pub closeness: f64,
    /// What makes up the closeness, in the order of weight.
    pub likenesses: Vec<(Likeness, f64)>,
    /// What would be different, in words; the gravest first.
    pub differences: Vec<String>,
    /// Price of the line in a kilogram of the formula, new less old.
    pub cost_change: Option<f64>,
}

/// What closeness is made of. The weights are our own choice and add up to 1: whether it
/// works at the pH and what it does count most, its price least. What is not known counts
/// half.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Likeness {
    /// Works at the pH of the formula, and nothing is breached by it.
    Fits,
    /// Does the same.
    Roles,
    /// Is of the same chemical kind, by the words of the INCI names.
    Kind,
    /// Has the same charge.
    Charge,
    /// Is used at this level.
    Level,
    /// Brings as much water and salt.
    BringsIn,
    /// Has the same HLB.
    Hlb,
    /// Is as natural.
    Origin,
    /// Costs no more.
    Price,
}

impl Likeness {
    /// All, in the order of weight.
    pub const ALL: [Self; 9] = [
        Self::Fits,
        Self::Roles,
        Self::Kind,
        Self::Charge,
        Self::Level,
        Self::BringsIn,
        Self::Hlb,
        Self::Origin,
        Self::Price,
    ];
    /// Its part of the closeness.
    pub const fn weight(self) -> f64 {
        match self {
            Self::Fits => 0.25,
            Self::Roles => 0.2,
            Self::Kind => 0.15,
            Self::Charge => 0.12,
            Self::Level => 0.1,
            Self::BringsIn => 0.06,
            Self::Hlb | Self::Origin | Self::Price => 0.04,
        }
    }
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Fits => "fits pH and limits",
            Self::Roles => "does the same",
            Self::Kind => "chemical kind",
            Self::Charge => "charge",
            Self::Level => "level of use",
            Self::BringsIn => "water and salt brought in",
            Self::Hlb => "HLB",
            Self::Origin => "natural origin",
            Self::Price => "price",
        }
    }
}

impl Suggestion {
    /// What closeness is made of, in words: “does the same 80 %, charge 100 %, …”.
    pub fn reasons(&self) -> String {
        let part =
            |(what, like): &(Likeness, f64)| format!("{} {:.0} %", what.label(), 100.0 * like);
        self.likenesses
            .iter()
            .map(part)
            .collect::<Vec<_>>()
            .join(", ")
    }
}

/// Suggestions from a shelf for a line, closest first; those that cannot work in this formula
/// stand last. Materials that share neither a role nor the leading class are left out.
pub fn suggestions(
    formula: &Formula,
    variant: &Variant,
    context: &Context,
    supply: &Supply,
    shelf: &Shelf,
    line: ItemId,
    most: usize,
) -> Result<Vec<Suggestion>, SwapError> {
    let old_line = variant.line(line).ok_or(SwapError::NoSuchLine)?;
    let old = formula
        .material(&old_line.material)
        .ok_or(SwapError::NoSuchLine)?;
    let class = leading_class(old);
    let contained = content(old, &Equal::Active, class);
    let present = evaluation::evaluate(formula, variant, context);
    let ph = known_ph(variant, &present);
    let mut found: Vec<(bool, Suggestion)> = shelf
        .iter()
        .filter(|m| m.id != old.id)
        .filter_map(|material| {
            let holds = content(material, &Equal::Active, class);
            let same =
                leading_class(material) == class || old.roles.iter().any(|r| material.has_role(*r));
            if holds <= 0.0 || contained <= 0.0 || !same {
                return None;
            }
            let percent = old_line.percent.scaled(contained / holds);
            let swapped = replaced(formula, variant, line, material, percent);
            let evaluation = evaluation::evaluate(&swapped.0, &swapped.1, context);
            let arisen: Vec<&Finding> = finding::arisen(&present.findings, &evaluation.findings)
                .filter(|f| f.counts())
                .collect();
            let pair = Pair {
                kind: variant.product.kind,
                supply,
                old,
                old_percent: old_line.percent,
                new: material,
                percent,
            };
            Some(pair.suggestion(ph, &arisen))
        })
        .collect();
    found.sort_by(|(works_a, a), (works_b, b)| {
        works_b
            .cmp(works_a)
            .then_with(|| b.closeness.total_cmp(&a.closeness))
            .then_with(|| a.material.name.cmp(&b.material.name))
    });
    found.truncate(most);
    Ok(found.into_iter().map(|(_, s)| s).collect())
}

/// The pH that the swapped material has to work at: measured, else aimed at, else estimated.
fn known_ph(variant: &Variant, evaluation: &Evaluation) -> Option<(f64, f64)> {
    let stated = variant.measured.ph.or(variant.target_ph);
    let figure = &evaluation.estimates.ph.figure;
    stated
        .map(|ph| (ph.value(), ph.value()))
        .or_else(|| figure.low.zip(figure.high))
}

/// The formula with another material on a line; the filler takes the difference.
fn replaced(
    formula: &Formula,
    variant: &Variant,
    line: ItemId,
    material: &Arc<Material>,
    percent: Percent,
) -> (Formula, Variant) {
    let (mut formula, mut variant) = (formula.clone(), variant.clone());
    formula
        .materials
        .insert(material.id.clone(), material.clone());
    let before = variant.line(line).map_or(percent, |l| l.percent);
    change_line(&mut variant, line, |l| {
        l.material = material.id.clone();
        l.percent = percent;
    });
    if let Some(filler) = variant.filler.filter(|filler| *filler != line) {
        change_line(&mut variant, filler, |l| {
            l.percent = (l.percent + before - percent).max(Percent::ZERO);
        });
    }
    (formula, variant)
}

/// A line and what could stand in its place.
struct Pair<'a> {
    kind: ProductKind,
    supply: &'a Supply,
    old: &'a Material,
    old_percent: Percent,
    new: &'a Arc<Material>,
    percent: Percent,
}

/// What is not known counts half.
const UNKNOWN: f64 = 0.5;

impl Pair<'_> {
    /// The suggestion, and whether it can work in this formula at all.
    fn suggestion(&self, ph: Option<(f64, f64)>, arisen: &[&Finding]) -> (bool, Suggestion) {
        let mut differences = Vec::new();
        let likenesses: Vec<(Likeness, f64)> = Likeness::ALL
            .into_iter()
            .map(|what| {
                let like = match what {
                    Likeness::Fits => self.fits(ph, arisen, &mut differences),
                    Likeness::Roles => self.roles(&mut differences),
                    Likeness::Kind => self.chemical_kind(),
                    Likeness::Charge => self.charge(&mut differences),
                    Likeness::Level => self.level(&mut differences),
                    Likeness::BringsIn => self.brings_in(&mut differences),
                    Likeness::Hlb => self.hlb(&mut differences),
                    Likeness::Origin => self.origin(&mut differences),
                    Likeness::Price => self.price(),
                };
                (what, like)
            })
            .collect();
        let closeness = likenesses
            .iter()
            .map(|(what, like)| what.weight() * like)
            .sum();
        let works = likenesses
            .iter()
            .all(|(what, like)| *what != Likeness::Fits || *like > 0.0);
        let suggestion = Suggestion {
            material: self.new.clone(),
            percent: self.percent,
            closeness,
            likenesses,
            differences,
            cost_change: self.costs().map(|(old, new)| new - old),
        };
        (works, suggestion)
    }

    /// 0 outside its pH, or where something is breached; less with each new caution.
    fn fits(&self, ph: Option<(f64, f64)>, arisen: &[&Finding], said: &mut Vec<String>) -> f64 {
        let tenth = |ph: f64| (10.0 * ph).round();
        let breaches = arisen.iter().filter(|f| f.level == Level::Breach);
        said.extend(breaches.clone().map(|f| format!("breach: {}", f.message)));
        let breached = breaches.count() > 0;
        let cautions = arisen.iter().filter(|f| f.level == Level::Caution);
        said.extend(cautions.clone().map(|f| format!("caution: {}", f.message)));
        let window = self.new.ph_window.as_ref();
        let window = window.map(|w| (w.value.low.value(), w.value.high.value()));
        let by_ph = match (window, ph) {
            (Some((least, most)), Some((low, high))) => {
                let outside = tenth(high) < tenth(least) || tenth(low) > tenth(most);
                let partly = tenth(low) < tenth(least) || tenth(high) > tenth(most);
                if outside {
                    let at = if tenth(low) == tenth(high) {
                        format!("{low:.1}")
                    } else {
                        format!("{low:.1} to {high:.1}")
                    };
                    let words =
                        format!("works from pH {least:.1} to {most:.1}; the formula is at pH {at}");
                    said.insert(0, words);
                    return 0.0;
                }
                if partly { 0.75 } else { 1.0 }
            }
            _ => UNKNOWN,
        };
        if breached {
            return 0.0;
        }
        by_ph * 0.7_f64.powi(cautions.count() as i32)
    }

    fn roles(&self, said: &mut Vec<String>) -> f64 {
        let (old, new) = (&self.old.roles, self.new);
        let shared = old.iter().filter(|r| new.has_role(**r)).count();
        let either = old.len() + new.roles.len() - shared;
        let lost: Vec<&str> = old
            .iter()
            .filter(|r| !new.has_role(**r))
            .map(|r| r.label())
            .collect();
        if !lost.is_empty() {
            said.push(format!("is not known as {}", super::limits::join(&lost)));
        }
        if either == 0 {
            UNKNOWN
        } else {
            shared as f64 / either as f64
        }
    }

    /// The part of the words that the INCI names of the leading constituents share: words
    /// such as sulfate, betaine, glucoside or stearate name the chemical kind.
    fn chemical_kind(&self) -> f64 {
        let words = |material: &Material| -> BTreeSet<String> {
            let class = leading_class(material);
            let leading = material
                .constituents
                .iter()
                .filter(|c| Some(c.class) == class)
                .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()));
            let name = leading.map_or("", |c| &*c.inci).to_lowercase();
            let apart = |c: char| !c.is_alphanumeric();
            name.split(apart)
                .filter(|w| !w.is_empty())
                .map(str::to_owned)
                .collect()
        };
        let (old, new) = (words(self.old), words(self.new));
        let either = old.union(&new).count();
        if either == 0 {
            return UNKNOWN;
        }
        old.intersection(&new).count() as f64 / either as f64
    }

    fn charge(&self, said: &mut Vec<String>) -> f64 {
        if let (Some(a), Some(b)) = (self.old.charge, self.new.charge)
            && a != b
        {
            said.push(format!("{} instead of {}", b.label(), a.label()));
        }
        f64::from(u8::from(self.old.charge == self.new.charge))
    }

    /// 1 in the middle of the usual range, falling to its ends and to 0 above it.
    fn level(&self, said: &mut Vec<String>) -> f64 {
        let percent = self.percent;
        let Some(range) = self.new.use_range(self.kind) else {
            return UNKNOWN;
        };
        if percent > range.high {
            let what = if range.supplier_maximum {
                "supplier's maximum"
            } else {
                "usual highest level"
            };
            said.push(format!(
                "{percent:.2} % is above its {what} of {} %",
                range.high
            ));
            return 0.0;
        }
        if percent < range.low {
            said.push(format!(
                "{percent:.2} % is below its usual lowest level of {} %",
                range.low
            ));
            return UNKNOWN;
        }
        let (low, high) = (range.low.as_percent(), range.high.as_percent());
        let half = (high - low) / 2.0;
        if half <= 0.0 {
            return 1.0;
        }
        let off = (percent.as_percent() - f64::midpoint(low, high)).abs() / half;
        1.0 - 0.4 * off.min(1.0)
    }

    /// How little the water and the salt of the formula change, against what the line brings.
    fn brings_in(&self, said: &mut Vec<String>) -> f64 {
        let mut change = 0.0;
        for (class, words) in [(Class::Electrolyte, "salt"), (Class::Water, "water")] {
            let brings = |m: &Material, p: Percent| m.share_of(class).value() * p.as_percent();
            let (a, b) = (
                brings(self.old, self.old_percent),
                brings(self.new, self.percent),
            );
            change += (a - b).abs();
            if (a - b).abs() >= WORTH_A_WORD.max(0.05 * a) {
                said.push(format!(
                    "brings {} {words} instead of {}",
                    FigureStyle::PERCENT.write(b),
                    FigureStyle::PERCENT.write(a)
                ));
            }
        }
        let whole = self.old_percent.as_percent().max(self.percent.as_percent());
        if whole <= 0.0 {
            return UNKNOWN;
        }
        (1.0 - change / whole).max(0.0)
    }

    fn hlb(&self, said: &mut Vec<String>) -> f64 {
        let of = |m: &Material| m.hlb.as_ref().or(m.required_hlb.as_ref()).map(|h| h.value);
        match (of(self.old), of(self.new)) {
            (Some(a), Some(b)) => {
                let off = (a - b).abs();
                if off >= 0.5 {
                    said.push(format!("HLB {b} instead of {a}"));
                }
                (1.0 - off / 10.0).max(0.0)
            }
            (None, None) => 1.0,
            _ => UNKNOWN,
        }
    }

    fn origin(&self, said: &mut Vec<String>) -> f64 {
        let of = |m: &Material| m.natural_origin.as_ref().map(|n| n.value.low);
        let (Some(a), Some(b)) = (of(self.old), of(self.new)) else {
            return UNKNOWN;
        };
        let off = (a - b).abs();
        if off > 0.05 {
            let figure = FigureStyle::up_to(2, "");
            said.push(format!(
                "natural origin index {} instead of {}",
                figure.write(b),
                figure.write(a)
            ));
        }
        (1.0 - off).max(0.0)
    }

    fn price(&self) -> f64 {
        match self.costs() {
            Some((old, new)) if new > 0.0 => (old / new).clamp(0.0, 1.0),
            _ => UNKNOWN,
        }
    }

    /// Price of the line in a kilogram of the formula, old and new.
    fn costs(&self) -> Option<(f64, f64)> {
        let cost = |id: &MaterialId, percent: Percent| {
            let prices = &self.supply.price_per_kg;
            prices
                .get(id)
                .map(|price| price * percent.as_percent() / 100.0)
        };
        cost(&self.old.id, self.old_percent).zip(cost(&self.new.id, self.percent))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::{formula, line, material};
    use crate::formula::Date;
    use crate::material::Charge;
    use crate::shelf::built_in;

    fn surfactant(name: &str, inci: &str, active: f64, salt: f64, charge: Charge) -> Arc<Material> {
        let material = material(
            name,
            &[
                (inci, active, Class::Surfactant(charge)),
                ("Sodium Chloride", salt, Class::Electrolyte),
                ("Aqua", 100.0 - active - salt, Class::Water),
            ],
        );
        let mut m = material.as_ref().clone();
        m.roles = vec![Role::CoSurfactant, Role::Foamer];
        m.charge = Some(charge);
        Arc::new(m)
    }

    fn gel() -> Formula {
        let water = material("Water", &[("Aqua", 100.0, Class::Water)]);
        let betaine = surfactant(
            "Betaine",
            "Cocamidopropyl Betaine",
            30.0,
            5.0,
            Charge::Amphoteric,
        );
        let salt = {
            let m = material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
            let mut m = m.as_ref().clone();
            m.roles = vec![Role::Salt];
            Arc::new(m)
        };
        let mut f = formula(vec![
            line(&water, "78"),
            line(&betaine, "20"),
            line(&salt, "2"),
        ]);
        let mut v = f.active().as_ref().clone();
        v.filler = Some(ItemId(10));
        f.variants = vec![Arc::new(v)];
        f
    }

    fn work_out(
        f: &Formula,
        parts: &[(Arc<Material>, f64)],
        equal: &Equal,
    ) -> Result<Swapped, SwapError> {
        let parts: Vec<Part> = parts
            .iter()
            .map(|(material, share)| Part {
                material: material.clone(),
                share: *share,
            })
            .collect();
        let context = Context::new(Date::constant(2026, 1, 15));
        let supply = Supply::default();
        swap(f, f.active(), &context, &supply, ItemId(11), &parts, equal)
    }

    #[test]
    fn active_salt_and_total_stay() {
        // 20 % of 30 % is 6 % active: 15 % of a 40 % solution. It brings 0.3 % salt in place
        // of 1 %, so the salt line goes from 2 to 2.7 %.
        let f = gel();
        let sultaine = surfactant(
            "Sultaine",
            "Lauryl Hydroxysultaine",
            40.0,
            2.0,
            Charge::Amphoteric,
        );
        let s = work_out(&f, &[(sultaine, 1.0)], &Equal::Active).unwrap();
        assert_eq!(s.parts[0].1, "15".parse().unwrap());
        assert_eq!(s.variant.total(), Percent::HUNDRED);
        assert_eq!(
            s.variant.line(ItemId(12)).unwrap().percent,
            "2.7".parse().unwrap()
        );
        let c = &s.evaluation.composition;
        assert!((c.active_total().typical.as_percent() - 6.0).abs() < 1e-9);
        assert!((c.class(Class::Electrolyte).typical.as_percent() - 3.0).abs() < 1e-6);
        let applied = crate::edit::apply(&f, f.active, &s.edit()).unwrap();
        assert_eq!(applied.formula.active().total(), Percent::HUNDRED);
    }

    #[test]
    fn a_blend_shares_the_active() {
        let f = gel();
        let a = surfactant("A", "Sodium Laureth Sulfate", 60.0, 0.0, Charge::Anionic);
        let b = surfactant("B", "Decyl Glucoside", 50.0, 0.0, Charge::NonIonic);
        let s = work_out(&f, &[(a, 1.0), (b, 2.0)], &Equal::Active).unwrap();
        // A third of 6 % active from 60 %, two thirds from 50 %.
        assert!((s.parts[0].1.as_percent() - 2.0 / 0.6).abs() < 1e-5);
        assert!((s.parts[1].1.as_percent() - 8.0).abs() < 1e-5);
        assert_eq!(s.variant.lines().count(), 4);
        assert_eq!(s.variant.total(), Percent::HUNDRED);
    }

    #[test]
    fn what_cannot_be_done_is_said() {
        let f = gel();
        let oil = material("Oil", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]);
        assert!(matches!(
            work_out(&f, &[(oil.clone(), 1.0)], &Equal::Active),
            Err(SwapError::NothingEqual { .. })
        ));
        assert!(work_out(&f, &[(oil, 1.0)], &Equal::Weight).is_ok());
        assert_eq!(
            work_out(&f, &[], &Equal::Active).err(),
            Some(SwapError::NoParts)
        );
        let thin = surfactant("Thin", "Coco-Betaine", 5.0, 0.0, Charge::Amphoteric);
        assert!(matches!(
            work_out(&f, &[(thin, 1.0)], &Equal::Active),
            Err(SwapError::NoRoom { .. })
        ));
    }

    #[test]
    fn the_closest_of_the_shelf_come_first() {
        let f = gel();
        let context = Context::new(Date::constant(2026, 1, 15));
        let found = suggestions(
            &f,
            f.active(),
            &context,
            &Supply::default(),
            built_in(),
            ItemId(11),
            10,
        )
        .unwrap();
        assert!(!found.is_empty());
        // Those that work come first, each the closest first.
        let works = |s: &Suggestion| s.likenesses[0].1 > 0.0;
        assert!(
            found
                .windows(2)
                .all(|w| { (works(&w[0]), w[0].closeness) >= (works(&w[1]), w[1].closeness) })
        );
        // The first eight are told apart; only what is the same but for its name is as close.
        let figures: BTreeSet<String> = found
            .iter()
            .take(8)
            .map(|s| format!("{:.0} {}", 100.0 * s.closeness, s.reasons()))
            .collect();
        assert!(figures.len() >= 7, "{figures:?}");
        // Another amphoteric surfactant is closest to a betaine.
        assert_eq!(found[0].material.charge, Some(Charge::Amphoteric));
        assert!(found.iter().all(|s| (0.0..=1.0).contains(&s.closeness)));
    }

    /// Soap turns to fatty acid in an acid gel (common practice; windows as on the shelf).
    #[test]
    fn what_cannot_work_at_the_ph_stands_last_and_says_so() {
        let mut f = gel();
        let mut v = f.active().as_ref().clone();
        v.target_ph = crate::quantity::Ph::new(4.8);
        f.variants = vec![Arc::new(v)];
        let context = Context::new(Date::constant(2026, 1, 15));
        let all = suggestions(
            &f,
            f.active(),
            &context,
            &Supply::default(),
            built_in(),
            ItemId(11),
            500,
        )
        .unwrap();
        let place = |what: &dyn Fn(&Suggestion) -> bool| all.iter().position(what).unwrap();
        let outside = |s: &Suggestion| {
            let window = s.material.ph_window.as_ref();
            window.is_some_and(|w| w.value.low.value() > 4.85)
        };
        let first = place(&outside);
        assert!(all[first..].iter().all(|s| s.likenesses[0].1 == 0.0));
        assert!(all[first].differences[0].contains("the formula is at pH 4.8"));
    }
}
