//! A pasted ingredient list: reading it, recognising its names, and working back to
//! percentages and to materials of the shelf.
//!
//! What comes out is an estimate of ranges for a composition that fits the list; many
//! compositions do. It is not the formula of the product the list stands on.

use std::collections::{BTreeSet, HashMap};
use std::str::FromStr;
use std::sync::Arc;

use crate::evaluation::{self, Context};
use crate::formula::{Formula, ItemId, Line, Phase, Product};
use crate::inventory::inventory;
use crate::material::{Class, Material, MaterialId, PhaseKind, ProductKind};
use crate::quantity::Percent;
use crate::shelf::Shelf;

use super::deduce::{self, Centre, DeduceError, Facts, Narrowing, Ranges, Unknown};
use super::linear;
use super::programme::{Programme, Row};
use super::target::{Quantity, Target, TargetError};

/// Most branches in the choice of materials.
const CHOICE_LIMIT: u64 = 400;
/// Share of a material below which a constituent does not count as one it is bought for.
const TRACE: f64 = 0.005;
/// Percentage below which a proposed material is left out.
const LEAST_PROPOSED: f64 = 0.0005;

/// One name of a list.
#[derive(Clone, PartialEq, Debug)]
pub struct ListedName {
    /// As it stands in the list.
    pub text: Arc<str>,
    /// The INCI name recognised, else the text.
    pub inci: Arc<str>,
    /// Whether the name was recognised.
    pub known: bool,
    /// What it is counted as.
    pub class: Class,
    /// A percentage stated in the list itself.
    pub stated: Option<f64>,
}

/// A list that has been read.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct IngredientList {
    /// The names in the order declared.
    pub names: Vec<ListedName>,
    /// Names after “may contain”, which need not be in the product.
    pub may_contain: Vec<Arc<str>>,
}

/// Why a list or a fact cannot be used.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum ListError {
    /// The ranges cannot be computed.
    #[error(transparent)]
    Deduce(#[from] DeduceError),
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

/// Reads a pasted list. Names are separated by commas, semicolons, dots between
/// blanks or line ends; a comma between digits or within brackets belongs to the name.
/// Lines that begin with `#` are left out.
pub fn read(text: &str, shelf: &Shelf) -> IngredientList {
    let known = KnownNames::of(shelf);
    let mut list = IngredientList::default();
    let mut optional = false;
    for part in split(text) {
        let (part, begins_optional) = after_may_contain(&part);
        optional |= begins_optional;
        let (name, stated) = tidy(&part);
        if name.is_empty() {
            continue;
        }
        if optional {
            list.may_contain.push(name.into());
            continue;
        }
        let (inci, class, recognised) = known.recognise(&name);
        let same = |l: &ListedName| l.inci.eq_ignore_ascii_case(&inci);
        if list.names.iter().any(same) {
            continue;
        }
        list.names.push(ListedName {
            text: name.into(),
            inci,
            known: recognised,
            class,
            stated,
        });
    }
    list
}

/// The parts of a list.
fn split(text: &str) -> Vec<String> {
    let text: String = text
        .lines()
        .filter(|line| !line.trim_start().starts_with('#'))
        .collect::<Vec<_>>()
        .join("\n");
    let mut body = text.trim();
    // A heading ends at the first colon before any separator.
    if let Some(colon) = body.find(':')
        && colon <= body.find([',', ';']).unwrap_or(body.len())
        && body[..colon].split_whitespace().count() <= 3
    {
        body = &body[colon + 1..];
    }
    let chars: Vec<char> = body.chars().collect();
    let mut parts = Vec::new();
    let mut part = String::new();
    let mut depth = 0_u32;
    for (i, &c) in chars.iter().enumerate() {
        let before = i.checked_sub(1).and_then(|k| chars.get(k)).copied();
        let after = chars.get(i + 1).copied();
        let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        match c {
            '(' | '[' => depth += 1,
            ')' | ']' => depth = depth.saturating_sub(1),
            _ => {}
        }
        let separates = match c {
            // 1,2-Hexanediol and 2,5 % keep their comma.
            ',' => depth == 0 && !(digit(before) && digit(after)),
            ';' | '•' | '·' | '|' => depth == 0,
            // A line end inside a name is a wrapped line, unless each name has its own.
            '\n' => depth == 0 && !body.contains(','),
            _ => false,
        };
        if separates {
            parts.push(std::mem::take(&mut part));
        } else {
            part.push(if c.is_whitespace() { ' ' } else { c });
        }
    }
    parts.push(part);
    parts
}

/// Cuts off “may contain” or “+/-” in front of a part.
fn after_may_contain(part: &str) -> (String, bool) {
    let trimmed = part.trim().trim_start_matches(['[', '(']).trim();
    let lower = trimmed.to_lowercase();
    for mark in ["may contain", "peut contenir", "+/-", "±"] {
        if lower.starts_with(mark) {
            let rest = trimmed.get(mark.len()..).unwrap_or_default();
            return (rest.trim_start_matches([':', ' ']).to_owned(), true);
        }
    }
    (part.to_owned(), false)
}

/// A name without marks and footnote signs, and a percentage stated behind it.
fn tidy(part: &str) -> (String, Option<f64>) {
    let mut name: String = part
        .chars()
        .filter(|c| !matches!(c, '*' | '†' | '‡' | '°' | '¹' | '²' | '³' | '®' | '™'))
        .collect();
    name = name.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut name = name.trim_matches(['.', ']', '[', ' ']).to_owned();
    if let Some(rest) = name.to_lowercase().strip_suffix("[nano")
        && let Some(kept) = name.get(..rest.len())
    {
        name = kept.trim().to_owned();
    }
    // “Niacinamide 5 %”, “Niacinamide (5%)”.
    let bare = name.trim_end_matches(')').trim_end();
    if let Some(before) = bare.strip_suffix('%') {
        let before = before.trim_end();
        let start = before
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
            .map_or(0, |at| {
                at + before[at..].chars().next().map_or(1, char::len_utf8)
            });
        if let Ok(value) = before[start..].replace(',', ".").parse::<f64>()
            && (0.0..=100.0).contains(&value)
        {
            let kept = before[..start].trim_end().trim_end_matches('(').trim_end();
            return (kept.to_owned(), Some(value));
        }
    }
    (name, None)
}

/// Names of the shelf and of the public inventory.
struct KnownNames<'a> {
    shelf: HashMap<String, (&'a Arc<str>, Class)>,
}

impl<'a> KnownNames<'a> {
    fn of(shelf: &'a Shelf) -> Self {
        let names = shelf
            .iter()
            .flat_map(|m| &m.constituents)
            .map(|c| (c.inci.to_lowercase(), (&c.inci, c.class)));
        Self {
            shelf: names.collect(),
        }
    }

    /// The INCI name and class of a name, and whether it was recognised.
    fn recognise(&self, text: &str) -> (Arc<str>, Class, bool) {
        let mut trials = vec![text.to_owned()];
        // Without what stands in brackets, what stands there, and each part of a
        // name given in several languages.
        if let Some((before, rest)) = text.split_once('(')
            && let Some((inside, after)) = rest.split_once(')')
        {
            let without = format!("{} {}", before.trim(), after.trim());
            trials.push(without.trim().to_owned());
            trials.push(inside.trim().to_owned());
        }
        let slashed: Vec<String> = trials
            .iter()
            .flat_map(|t| t.split('/').map(|p| p.trim().to_owned()))
            .collect();
        trials.extend(slashed);
        for trial in &trials {
            if let Some((inci, class)) = self.find(trial) {
                return (inci, class, true);
            }
        }
        (text.into(), Class::Other, false)
    }

    fn find(&self, name: &str) -> Option<(Arc<str>, Class)> {
        let lower = name.to_lowercase();
        // Words that markets write in place of the INCI name.
        let lower = match lower.as_str() {
            "water" | "eau" | "aqua" | "purified water" => "aqua",
            "fragrance" | "perfume" | "aroma" => "parfum",
            other => other,
        };
        if let Some((inci, class)) = self.shelf.get(lower) {
            return Some(((*inci).clone(), *class));
        }
        let entry = inventory().by_name(lower)?;
        Some((entry.label_name().into(), entry.likely_class()))
    }
}

/// What to take for known besides the order.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Knowledge {
    /// Facts of the maker.
    pub facts: Vec<Fact>,
    /// Take the usual levels of the shelf for this kind of product as upper limits.
    pub usual: Option<ProductKind>,
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
    pub list: IngredientList,
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
    list: IngredientList,
    knowledge: &Knowledge,
    shelf: &Shelf,
    context: &Context,
) -> Result<Deduction, ListError> {
    let n = list.names.len();
    let mut facts = Facts::default();
    let mut notes = Vec::new();
    for (i, name) in list.names.iter().enumerate() {
        if let Some(stated) = name.stated {
            facts.known.insert(i, stated);
        }
        if is_colour_number(&name.inci) {
            // Colourants may follow in any order (Regulation (EC) No 1223/2009,
            // Article 19(1)(g)).
            facts.anywhere.insert(i);
        }
        if !name.known {
            notes.push(format!(
                "“{}” is neither on the shelf nor in the inventory; its class is not known",
                name.text
            ));
        }
    }
    if !list.may_contain.is_empty() {
        notes.push(format!(
            "what the list only may contain is left out: {}",
            list.may_contain.join(", ")
        ));
    }
    for fact in &knowledge.facts {
        state(fact, &list, &mut facts)?;
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
    let ranges = match deduce::ranges(n, &with) {
        Err(DeduceError::Contradiction) if !limits.is_empty() => {
            notes.push(
                "the list does not fit the usual and legal limits, so they were left out".into(),
            );
            limits.clear();
            with = facts;
            deduce::ranges(n, &with)?
        }
        other => other?,
    };
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

fn is_colour_number(name: &str) -> bool {
    let lower = name.to_ascii_lowercase();
    lower
        .strip_prefix("ci ")
        .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
}

/// Puts a fact of the maker into numbers.
fn state(fact: &Fact, list: &IngredientList, facts: &mut Facts) -> Result<(), ListError> {
    let place = |name: &str, words: &str| {
        let same = |text: &str| text.eq_ignore_ascii_case(name);
        list.names
            .iter()
            .position(|l| same(&l.inci) || same(&l.text))
            .ok_or_else(|| {
                let near = list
                    .names
                    .iter()
                    .map(|l| {
                        (
                            strsim::jaro_winkler(&l.inci.to_lowercase(), &name.to_lowercase()),
                            l,
                        )
                    })
                    .filter(|(likeness, _)| *likeness > 0.75)
                    .max_by(|a, b| a.0.total_cmp(&b.0))
                    .map(|(_, l)| l.inci.to_string());
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
    let members = match &target.quantity {
        Quantity::Active(None) => of_class(&|c| matches!(c, Class::Surfactant(_))),
        Quantity::Active(Some(charge)) => of_class(&|c| c == Class::Surfactant(*charge)),
        Quantity::Class(class) => of_class(&|c| c == *class),
        Quantity::Constituent(name) | Quantity::Named(name) => vec![place(name, &words)?],
        _ => return Err(ListError::NotAmount(words)),
    };
    let Some((low, high)) = target.relation.limits() else {
        return Err(ListError::NotAmount(words));
    };
    if let [one] = members.as_slice() {
        if low == high {
            facts.known.insert(*one, low);
        } else {
            if low.is_finite() {
                facts.least.insert(*one, low);
            }
            if high.is_finite() {
                facts.most.insert(*one, high);
            }
        }
    } else {
        facts.sums.push(Row {
            terms: members.into_iter().map(|i| (i, 1.0)).collect(),
            low,
            high,
        });
    }
    Ok(())
}

/// The highest usual level of each ingredient over the materials that bring it in.
/// Water has none.
fn usual_limits(list: &IngredientList, shelf: &Shelf, kind: ProductKind) -> Vec<TakenLimit> {
    let mut limits = Vec::new();
    for (ingredient, name) in list.names.iter().enumerate() {
        if name.class == Class::Water {
            continue;
        }
        let mut most: Option<(f64, &Arc<str>)> = None;
        let mut all_known = true;
        for material in shelf.iter() {
            let share: f64 = material
                .constituents
                .iter()
                .filter(|c| c.inci.eq_ignore_ascii_case(&name.inci))
                .map(|c| c.share.typical.value())
                .sum();
            if share < TRACE {
                continue;
            }
            let Some(range) = material.use_range(kind) else {
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
fn legal_limits(list: &IngredientList, product: &Product, context: &Context) -> Vec<TakenLimit> {
    let mut formula = Formula::new("List");
    let mut variant = formula.active().as_ref().clone();
    variant.product = product.clone();
    let mut lines = Vec::new();
    for name in &list.names {
        let id = MaterialId::from_name(&name.inci);
        let cas = inventory().by_name(&name.inci).and_then(|e| e.cas);
        let pure = Material::pure(
            id.clone(),
            name.inci.clone(),
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
    /// some hundred linear programmes.
    pub fn narrowing(&self) -> Result<Vec<(String, f64)>, ListError> {
        let groups: Vec<Vec<usize>> = self.groups.iter().map(|(_, g)| g.clone()).collect();
        let found = deduce::narrowing(
            self.list.names.len(),
            &self.facts,
            &groups,
            &self.ranges,
            &self.centre,
        )?;
        Ok(found
            .into_iter()
            .map(|Narrowing { fact, gain }| {
                let words = match fact {
                    Unknown::Percentage(i) => {
                        format!("the percentage of {}", self.list.names[i].inci)
                    }
                    Unknown::Line => "the place of the one-per-cent line".to_owned(),
                    Unknown::Sum(g) => self.groups[g].0.clone(),
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
        let mut most = 100.0_f64;
        let counted = material
            .constituents
            .iter()
            .filter(|c| c.incidental.is_none() && c.share.typical.value() >= TRACE);
        for constituent in counted {
            let i = self
                .list
                .names
                .iter()
                .position(|l| l.inci.eq_ignore_ascii_case(&constituent.inci))?;
            brings.insert(i);
            if constituent.class != Class::Water {
                besides_water += 1;
            }
            let low = constituent.share.low.value();
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
        let mut choices: Vec<(Arc<Material>, bool)> = self
            .materials(shelf)
            .into_iter()
            .map(|p| (p.material, true))
            .collect();
        for name in &self.list.names {
            let covered = choices.iter().any(|(m, _)| {
                m.constituents
                    .iter()
                    .any(|c| c.inci.eq_ignore_ascii_case(&name.inci))
            });
            if !covered || name.class == Class::Water {
                let id = MaterialId::from_name(&name.inci);
                let cas = inventory().by_name(&name.inci).and_then(|e| e.cas);
                let pure =
                    Material::pure(id, name.inci.clone(), name.inci.clone(), cas, name.class);
                choices.push((Arc::new(pure), false));
            }
        }
        let share = |m: &Material, i: usize| -> f64 {
            m.constituents
                .iter()
                .filter(|c| c.inci.eq_ignore_ascii_case(&self.list.names[i].inci))
                .map(|c| c.share.typical.value())
                .sum()
        };
        // Least difference from the estimate, in proportion; then fewest materials.
        let mut programme = Programme::new();
        let mut cost = vec![0.0; choices.len()];
        let mut flags = Vec::new();
        for _ in &choices {
            programme.unknown(0.0, 100.0);
        }
        for (k, (_, on_shelf)) in choices.iter().enumerate() {
            let flag = programme.unknown(0.0, 1.0);
            cost.push(if *on_shelf { 1.0 } else { 1.5 });
            programme
                .rows
                .push(Row::at_most(vec![(k, 1.0), (flag, -100.0)], 0.0));
            flags.push(flag);
        }
        for i in 0..n {
            let centre = self.centre.percent[i];
            let mut terms: Vec<(usize, f64)> = choices
                .iter()
                .enumerate()
                .map(|(k, (m, _))| (k, share(m, i)))
                .filter(|(_, w)| *w > 0.0)
                .collect();
            let (over, under) = (programme.unknown(0.0, 100.0), programme.unknown(0.0, 100.0));
            let weight = 10.0 / centre.max(0.05);
            cost.extend([weight, weight]);
            terms.extend([(over, -1.0), (under, 1.0)]);
            programme.rows.push(Row::equal(terms, centre));
        }
        let total = (0..choices.len()).map(|k| (k, 1.0)).collect();
        programme.rows.push(Row::equal(total, 100.0));
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
            .map(|((material, on_shelf), percent)| ProposedMaterial {
                material,
                percent,
                on_shelf,
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

    fn names(text: &str) -> Vec<String> {
        read(text, built_in())
            .names
            .iter()
            .map(|n| n.inci.to_string())
            .collect()
    }

    fn context() -> Context {
        Context::new(Date::constant(2026, 1, 15))
    }

    #[test]
    fn lists_as_they_stand_on_packs_are_read() {
        assert_eq!(
            names(
                "Ingredients: Aqua (Water), Glycerin*, Caprylic/Capric Triglyceride, 1,2-Hexanediol, Parfum/Fragrance, CI 77891."
            ),
            [
                "Aqua",
                "Glycerin",
                "Caprylic/Capric Triglyceride",
                "1,2-Hexanediol",
                "Parfum",
                "CI 77891"
            ]
        );
        assert_eq!(
            names("AQUA\nGLYCERIN\n# a remark\nXANTHAN GUM"),
            ["Aqua", "Glycerin", "Xanthan Gum"]
        );
        assert_eq!(names("Water; Glycerin • Aqua"), ["Aqua", "Glycerin"]);
        let list = read(
            "Aqua, Niacinamide 5%, Panthenol (2,5 %), may contain: CI 77491, CI 77492",
            built_in(),
        );
        assert_eq!(list.names[1].stated, Some(5.0));
        assert_eq!(&*list.names[1].inci, "Niacinamide");
        assert_eq!(list.names[2].stated, Some(2.5));
        assert_eq!(list.may_contain.len(), 2);
        let odd = read("Aqua, Moonwort Dust", built_in());
        assert!(!odd.names[1].known);
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
            usual: Some(ProductKind::RinseOff),
            ..Knowledge::default()
        };
        let d = deduce(list, &knowledge, built_in(), &context()).unwrap();
        assert!(!d.limits.is_empty());
        let preservative = d.limits.iter().find(|l| l.ingredient == 5).unwrap();
        assert!(preservative.most <= 1.0 + 1e-9, "{preservative:?}");
        let asked = d.narrowing().unwrap();
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
                .find(|a| a.inci.eq_ignore_ascii_case(&name.inci))
                .map_or(0.0, |a| a.share.typical.as_percent());
            assert!(
                (got - centre).abs() < 0.1 * centre + 0.5,
                "{} {got} {centre}",
                name.inci
            );
        }
    }
}
