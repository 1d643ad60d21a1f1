//! Swap: another material, or a blend, in place of a line, at equal active matter;
//! and suggestions from the shelf for a line that runs out.

use std::sync::Arc;

use crate::composition;
use crate::edit::Edit;
use crate::evaluation::{self, Context, Evaluation};
use crate::finding::{self, Level};
use crate::formula::{Formula, ItemId, Line, Variant};
use crate::material::{Class, Material, MaterialId, Role};
use crate::quantity::Percent;
use crate::shelf::Shelf;

use super::demand::Figure;
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
    pub figure: Figure,
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
            Figure::PERCENT.write(wanted),
            Figure::PERCENT.write(there)
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
    let wanted = super::outer::ph_of(before)?;
    let subject = Subject::new(formula, variant, context, supply, &[]);
    let there = super::outer::ph_of(&subject.evaluate_present())?;
    if (there - wanted).abs() < PH_WORTH {
        return None;
    }
    let said = format!("the estimated pH goes from {wanted:.2} to {there:.2} with the materials");
    match super::outer::dose_to(&subject, wanted, new_lines) {
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
                super::outer::value_of(subject, &quantity, &subject.present(), evaluation)
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
    /// Closeness, 0 to 1; our own weighing of role, charge, kind, HLB, limits and price.
    pub closeness: f64,
    /// What would be different, in words.
    pub differences: Vec<String>,
    /// Price of the line in a kilogram of the formula, new less old.
    pub cost_change: Option<f64>,
}

/// Weights of the parts of closeness; they add up to 1. Our own choice: what the
/// material does counts most, its price least.
mod worth {
    pub const ROLE: f64 = 0.4;
    pub const CHARGE: f64 = 0.2;
    pub const CLASS: f64 = 0.15;
    pub const HLB: f64 = 0.1;
    pub const LIMITS: f64 = 0.1;
    pub const PRICE: f64 = 0.05;
}

/// Suggestions from a shelf for a line, closest first. Materials that share neither a
/// role nor the leading class are left out.
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
    let mut found: Vec<Suggestion> = shelf
        .iter()
        .filter(|m| m.id != old.id)
        .filter_map(|material| {
            let holds = content(material, &Equal::Active, class);
            if holds <= 0.0 || contained <= 0.0 {
                return None;
            }
            let percent = old_line.percent.scaled(contained / holds);
            let mut found = suggestion(variant, supply, old, old_line.percent, material, percent)?;
            let swapped = replaced(formula, variant, line, material, percent);
            let evaluation = evaluation::evaluate(&swapped.0, &swapped.1, context);
            let arisen = finding::arisen(&present.findings, &evaluation.findings);
            let breaches: Vec<String> = arisen
                .filter(|f| f.level == Level::Breach)
                .map(|f| format!("breach: {}", f.message))
                .collect();
            if !breaches.is_empty() {
                found.closeness = (found.closeness - worth::LIMITS).max(0.0);
                found.differences.extend(breaches);
            }
            Some(found)
        })
        .collect();
    found.sort_by(|a, b| {
        b.closeness
            .total_cmp(&a.closeness)
            .then_with(|| a.material.name.cmp(&b.material.name))
    });
    found.truncate(most);
    Ok(found)
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

fn suggestion(
    variant: &Variant,
    supply: &Supply,
    old: &Material,
    old_percent: Percent,
    new: &Arc<Material>,
    percent: Percent,
) -> Option<Suggestion> {
    let mut differences = Vec::new();
    let shared = old.roles.iter().filter(|r| new.has_role(**r)).count();
    let either = old.roles.len() + new.roles.len() - shared;
    let role = if either == 0 {
        0.5
    } else {
        shared as f64 / either as f64
    };
    let same_class = leading_class(old) == leading_class(new);
    if shared == 0 && !same_class {
        return None;
    }
    let lost: Vec<&str> = old
        .roles
        .iter()
        .filter(|r| !new.has_role(**r))
        .map(|r| r.label())
        .collect();
    if !lost.is_empty() {
        differences.push(format!("is not known as {}", super::limits::join(&lost)));
    }
    let charge = f64::from(u8::from(old.charge == new.charge));
    if let (Some(a), Some(b)) = (old.charge, new.charge)
        && a != b
    {
        differences.push(format!("{} instead of {}", b.label(), a.label()));
    }
    let hlb = match (
        old.hlb.as_ref().or(old.required_hlb.as_ref()),
        new.hlb.as_ref().or(new.required_hlb.as_ref()),
    ) {
        (Some(a), Some(b)) => {
            let off = (a.value - b.value).abs();
            if off >= 0.5 {
                differences.push(format!("HLB {} instead of {}", b.value, a.value));
            }
            (1.0 - off / 10.0).max(0.0)
        }
        (None, None) => 1.0,
        _ => 0.0,
    };
    let range = new.use_range(variant.product.kind);
    let limits = match range {
        Some(range) if percent > range.high => {
            differences.push(format!(
                "{percent:.2} % is above its {} of {} %",
                if range.supplier_maximum {
                    "supplier's maximum"
                } else {
                    "usual highest level"
                },
                range.high
            ));
            0.0
        }
        Some(range) if percent < range.low => {
            differences.push(format!(
                "{percent:.2} % is below its usual lowest level of {} %",
                range.low
            ));
            0.5
        }
        Some(_) => 1.0,
        None => 0.5,
    };
    let cost = |id: &MaterialId, percent: Percent| {
        supply
            .price_per_kg
            .get(id)
            .map(|price| price * percent.as_percent() / 100.0)
    };
    let (old_cost, new_cost) = (cost(&old.id, old_percent), cost(&new.id, percent));
    let price = match (old_cost, new_cost) {
        (Some(old), Some(new)) if new > 0.0 => (old / new).clamp(0.0, 1.0),
        _ => 0.5,
    };
    if let (Some(a), Some(b)) = (&old.ph_window, &new.ph_window)
        && (b.value.low > a.value.low || b.value.high < a.value.high)
    {
        differences.push(format!(
            "works from pH {:.1} to {:.1}",
            b.value.low, b.value.high
        ));
    }
    if let (Some(a), Some(b)) = (&old.natural_origin, &new.natural_origin)
        && (a.value.low - b.value.low).abs() > 0.05
    {
        differences.push(format!(
            "natural origin index {} instead of {}",
            Figure {
                digits: 2,
                unit: ""
            }
            .write(b.value.low),
            Figure {
                digits: 2,
                unit: ""
            }
            .write(a.value.low)
        ));
    }
    for (class, words) in [(Class::Electrolyte, "salt"), (Class::Water, "water")] {
        let brings = |m: &Material, p: Percent| m.share_of(class).value() * p.as_percent();
        let (a, b) = (brings(old, old_percent), brings(new, percent));
        if (a - b).abs() >= WORTH_A_WORD.max(0.05 * a) {
            differences.push(format!(
                "brings {} {words} instead of {}",
                Figure::PERCENT.write(b),
                Figure::PERCENT.write(a)
            ));
        }
    }
    let closeness = worth::ROLE * role
        + worth::CHARGE * charge
        + worth::CLASS * f64::from(u8::from(same_class))
        + worth::HLB * hlb
        + worth::LIMITS * limits
        + worth::PRICE * price;
    Some(Suggestion {
        material: new.clone(),
        percent,
        closeness,
        differences,
        cost_change: new_cost.zip(old_cost).map(|(new, old)| new - old),
    })
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
        assert!(found.windows(2).all(|w| w[0].closeness >= w[1].closeness));
        // Another amphoteric surfactant is closest to a betaine.
        assert_eq!(found[0].material.charge, Some(Charge::Amphoteric));
        assert!(found.iter().all(|s| (0.0..=1.0).contains(&s.closeness)));
    }
}
