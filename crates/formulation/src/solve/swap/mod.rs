//! Swap: another material, or a blend, in place of a line, at equal active matter;
//! and suggestions from the shelf for a line that runs out.

mod suggest;

use std::sync::Arc;

use crate::composition;
use crate::edit::Edit;
use crate::evaluation::{Context, Evaluation};
use crate::formula::{Formula, ItemId, Line, Measured, Variant};
use crate::material::{Class, Material, Role};
use crate::mixture::{self, View};
use crate::quantity::{PH_UNTOLD, Percent};

use super::demand::FigureStyle;
use super::subject::{Subject, Supply};

pub use suggest::{Likeness, Suggestion, suggestions};

/// Change of a share of the formula, % w/w, that is worth a word.
const WORTH_A_WORD: f64 = 0.05;

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
pub struct Substitute {
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
    /// Stopped before the end.
    #[error("the search for a replacement was stopped")]
    Stopped,
}

/// A figure before and after.
#[derive(Clone, PartialEq, Debug)]
pub struct FigureShift {
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
    pub shifts: Vec<FigureShift>,
    /// What was adjusted besides, and what could not be.
    pub notes: Vec<String>,
    /// Everything that follows.
    pub evaluation: Box<Evaluation>,
}

impl Swapped {
    /// The one edit that takes it over.
    pub fn edit(&self) -> Edit {
        Edit::taking_over(&self.formula, &self.variant)
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
/// one kind, so that an anionic may replace an amphoteric. An ingredient counts as declared,
/// as Aim and the label count it; of a class each substance counts once.
fn content(material: &Material, equal: &Equal, class: Option<Class>) -> f64 {
    let of_class = |is: &dyn Fn(Class) -> bool| {
        mixture::share_of(material, View::ByComponent, |c| is(c.constituent.class))
    };
    match (equal, class) {
        (Equal::Weight, _) => 1.0,
        (Equal::Constituent(name), _) => {
            mixture::share_of(material, View::AsDeclared, |c| c.constituent.inci.is(name))
        }
        (Equal::Active, Some(Class::Surfactant(_))) => {
            of_class(&|of| matches!(of, Class::Surfactant(_)))
        }
        (Equal::Active, Some(class)) => of_class(&|of| of == class),
        (Equal::Active, None) => 0.0,
    }
}

/// Puts a replacement in place of a line, at equal content to the nearest hundredth of a
/// percent. The filler takes the difference of weight, so the total stays; a free salt line
/// gives way to the salt that comes or goes; a free acid or base line brings the pH back,
/// where it can.
pub fn swap(
    formula: &Formula,
    variant: &Variant,
    context: &Context,
    supply: &Supply,
    line: ItemId,
    parts: &[Substitute],
    equal: &Equal,
) -> Result<Swapped, SwapError> {
    let old_line = variant.line(line).ok_or(SwapError::NoSuchLine)?;
    let old = formula
        .material(&old_line.material)
        .ok_or(SwapError::NoSuchLine)?;
    // The filler takes what rounding leaves; without one the total has to stay.
    let rounds = *equal != Equal::Weight && variant.filler.is_some_and(|f| f != line);
    let mut replacement = shared_out(old, old_line.percent, parts, equal)?;
    if rounds {
        for (_, percent) in &mut replacement {
            *percent = percent.to_hundredths();
        }
    }
    let before = Subject::new(formula, variant, context, supply, &[]);
    let before_evaluation = before.evaluate_present();
    let mut notes = Vec::new();
    if (old_line.min.is_some() || old_line.max.is_some()) && *equal != Equal::Weight {
        notes.push(format!(
            "your bounds on {} were taken off, because they were meant for that material",
            old.name
        ));
    }
    if variant.is_filler(line) {
        notes
            .push("the replaced line was the filler; its replacement is the filler now".to_owned());
    }

    let (mut formula, mut variant) = (formula.clone(), variant.clone());
    let ids = put_in_place(&mut formula, &mut variant, line, &replacement);
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
    // The filler may be one of them, and the salt or the pH may have moved another.
    let parts = replacement
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
        parts,
        shifts,
        notes,
        evaluation: Box::new(evaluation),
    })
}

/// The percentage of each part that together hold as much of what stays equal as the old
/// material at its percentage.
fn shared_out(
    old: &Material,
    percent: Percent,
    parts: &[Substitute],
    equal: &Equal,
) -> Result<Vec<(Arc<Material>, Percent)>, SwapError> {
    let class = leading_class(old);
    let holds = |material: &Material| {
        let share = content(material, equal, class);
        if share > 0.0 {
            return Ok(share);
        }
        Err(SwapError::NothingEqual {
            material: material.name.to_string(),
            what: words_of(equal, class),
        })
    };
    let sum: f64 = parts.iter().map(|p| p.share).sum();
    let usable = |p: &Substitute| p.share.is_finite() && p.share >= 0.0;
    if parts.is_empty() || !parts.iter().all(usable) || sum <= 0.0 {
        return Err(SwapError::NoParts);
    }
    let contained = holds(old)?;
    parts
        .iter()
        .map(|part| {
            let times = part.share / sum * contained / holds(&part.material)?;
            Ok((part.material.clone(), percent.scaled(times)))
        })
        .collect()
}

/// What stays equal, in words.
fn words_of(equal: &Equal, class: Option<Class>) -> String {
    match (equal, class) {
        (Equal::Constituent(name), _) => name.to_string(),
        (_, Some(Class::Surfactant(_))) => "active matter".to_owned(),
        (_, Some(class)) => class.label().to_owned(),
        (_, None) => "known constituent".to_owned(),
    }
}

/// Puts lines of a replacement where a line was, and hands back their ids. The first keeps
/// the identity of the line; all keep its reason.
fn put_in_place(
    formula: &mut Formula,
    variant: &mut Variant,
    line: ItemId,
    replacement: &[(Arc<Material>, Percent)],
) -> Vec<ItemId> {
    let mut ids = Vec::with_capacity(replacement.len());
    for (k, (material, _)) in replacement.iter().enumerate() {
        formula
            .materials
            .insert(material.id.clone(), material.clone());
        ids.push(if k == 0 {
            line
        } else {
            ItemId(formula.take_id())
        });
    }
    for phase in &mut variant.phases {
        let Some(place) = phase.lines.iter().position(|l| l.id == line) else {
            continue;
        };
        let lines = &mut Arc::make_mut(phase).lines;
        let old = lines.remove(place);
        let new = replacement
            .iter()
            .zip(&ids)
            .map(|((material, percent), id)| Line {
                id: *id,
                material: material.id.clone(),
                percent: *percent,
                // The maker's bounds were meant for the old material.
                min: None,
                max: None,
                ..old.clone()
            });
        lines.splice(place..place, new);
    }
    ids
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
    if let Some(line) = variant.line_mut(filler) {
        line.percent -= difference;
    }
    Ok(())
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
    let target = (line.percent + change).down_to_hundredths().clamp_to(
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
    if let Some(line) = variant.line_mut(line.id) {
        line.percent = target;
    }
    if let Some(line) = variant.line_mut(filler) {
        line.percent -= difference;
    }
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
    // What was measured was measured with the other material.
    let mut estimated = variant.clone();
    estimated.measured = Measured::default();
    let subject = Subject::new(formula, &estimated, context, supply, &[]);
    let wanted = subject.ph_of(before)?;
    let after = subject.evaluate_present();
    let there = subject.ph_of(&after)?;
    if let Some(words) = hardly_known(before, &after) {
        return Some(words);
    }
    if (there - wanted).abs() < PH_UNTOLD {
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
            if let Some(line) = variant.line_mut(line) {
                line.percent = percent;
            }
            if let Some(line) = variant.line_mut(filler) {
                line.percent -= difference;
            }
            Some(words)
        }
        Err(why) => Some(format!("{said} and was not brought back: {why}")),
    }
}

/// What is said where the pH before is known to a range only: the middle of a range is no ground
/// to change an acid or base. None where the pH is known.
fn hardly_known(before: &Evaluation, after: &Evaluation) -> Option<String> {
    let figure = &before.estimates.ph.figure;
    if figure.measured.or(figure.value).is_some() {
        return None;
    }
    let words = |e: &Evaluation| {
        let figure = &e.estimates.ph.figure;
        figure.low.zip(figure.high).map_or_else(
            || "unknown".to_owned(),
            |(low, high)| format!("{low:.1} to {high:.1}"),
        )
    };
    Some(format!(
        "the pH is known to a range only, {} before and {} with the materials; acids and bases stay as they are, measure",
        words(before),
        words(after)
    ))
}

/// The figures that a swap changes.
fn shifts(
    before: &Subject<'_>,
    before_evaluation: &Evaluation,
    after: &Subject<'_>,
    after_evaluation: &Evaluation,
) -> Vec<FigureShift> {
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
            let quantity: super::target::TargetQuantity = words.parse().ok()?;
            let value = |subject: &Subject<'_>, evaluation: &Evaluation| {
                super::fixed_point::value_of(subject, &quantity, &subject.present(), evaluation)
            };
            let (old, new) = (
                value(before, before_evaluation),
                value(after, after_evaluation),
            );
            let figure = FigureStyle::of(&quantity);
            let shown = |value: Option<f64>| value.map(|v| figure.write(v));
            (shown(old) != shown(new)).then(|| FigureShift {
                name: quantity.words(),
                before: old,
                after: new,
                figure,
            })
        })
        .collect()
}

#[cfg(test)]
mod tests;
