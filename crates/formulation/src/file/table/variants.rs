//! Several recipes of a file as variants of one formula.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Table;
use super::sections::RecipeSection;
use super::words::is_in_use;
use crate::formula::{Formula, ItemId, Variant, VariantId};
use crate::material::{Material, MaterialId};
use crate::naming::words_of;

/// Whether a sheet is one of a workbook that this program wrote.
pub fn is_ours(table: &Table) -> bool {
    /// Rows in which the key `variant` stands, if any.
    const HEAD: usize = 30;
    (0..table.rows.len().min(HEAD)).any(|row| table.cell(row, 0).words() == "variant")
}

/// Which of the recipes of a file are taken in unless the maker says otherwise, and what is
/// assumed by that: all sheets of a workbook of ours, the versions that stand beside each
/// other, else the one on the sheet shown last.
pub fn usual(found: &[RecipeSection]) -> (Vec<usize>, Option<String>) {
    let ours = found.len() > 1 && found.iter().all(|s| is_ours(&s.table));
    if ours || found.len() < 2 {
        return ((0..found.len()).collect(), None);
    }
    let first = found.iter().position(|s| s.active).unwrap_or(0);
    let versions = found
        .iter()
        .skip(first + 1)
        .take_while(|s| s.version)
        .count();
    let kept: Vec<usize> = (first..=first + versions).collect();
    let in_use: Vec<usize> = (kept.iter().copied())
        .filter(|n| found.get(*n).is_some_and(|s| is_in_use(&s.name)))
        .collect();
    let by_title = || told_above(found, &kept).map(|n| vec![n]);
    let in_use = if in_use.len() == 1 {
        in_use
    } else {
        by_title().unwrap_or(in_use)
    };
    if let ([one], true) = (in_use.as_slice(), versions > 0) {
        let told = format!(
            "{} versions stand beside each other: {}; “{}” says that it is in use and was taken, --all takes all as variants",
            kept.len(),
            names(found, &kept),
            found
                .get(*one)
                .map(RecipeSection::title)
                .unwrap_or_default()
        );
        return (in_use, Some(told));
    }
    let assumed = if versions > 0 {
        format!(
            "{} versions beside each other were taken in as variants: {}",
            kept.len(),
            names(found, &kept)
        )
    } else {
        let all: Vec<usize> = (0..found.len()).collect();
        format!(
            "the file holds several recipes: {}; “{}” was taken, --recipe-named takes another and --all takes all as variants",
            names(found, &all),
            found
                .get(first)
                .map(RecipeSection::title)
                .unwrap_or_default()
        )
    };
    (kept, Some(assumed))
}

/// Which of some versions a line above the list says is the one that is made, by its name beside
/// the word for it: "gültig ist Version B", "V3 in use".
fn told_above(found: &[RecipeSection], kept: &[usize]) -> Option<usize> {
    /// So many words may stand between the two.
    const NEAR: usize = 2;
    let table = &found.get(*kept.first()?)?.table;
    let title = |row: &usize| {
        let cells = table.rows.get(*row).into_iter().flatten();
        cells.filter(|cell| !cell.is_empty()).count() == 1
    };
    let named: Vec<(usize, Vec<String>)> = kept
        .iter()
        .filter_map(|&n| Some((n, words_of(&found.get(n)?.name))))
        .filter(|(_, words)| !words.is_empty())
        .collect();
    (0..table.rows.len()).take_while(title).find_map(|row| {
        let said = words_of(&table.row_text(row));
        let says = |at: &usize| {
            (1..=2).any(|length| {
                said.get(*at..at + length)
                    .is_some_and(|s| is_in_use(&s.join(" ")))
            })
        };
        let uses: Vec<usize> = (0..said.len()).filter(says).collect();
        let nearest = |words: &[String]| {
            let places =
                (0..said.len()).filter(|&at| said.get(at..).is_some_and(|s| s.starts_with(words)));
            places
                .flat_map(|at| {
                    let end = at + words.len();
                    uses.iter().map(move |&used| {
                        if used < at {
                            at - used - 1
                        } else {
                            used.saturating_sub(end)
                        }
                    })
                })
                .min()
        };
        let mut all: Vec<(usize, usize)> = named
            .iter()
            .filter_map(|(n, words)| Some((nearest(words)?, *n)))
            .collect();
        all.sort_unstable();
        match all.as_slice() {
            [(near, n)] if *near <= NEAR => Some(*n),
            [(near, n), (next, _), ..] if near < next && *near <= NEAR => Some(*n),
            _ => None,
        }
    })
}

/// Some recipes of a file by number and name: "1 “Lip balm”, 2 “Foot balm”".
pub fn names(found: &[RecipeSection], places: &[usize]) -> String {
    let names: Vec<String> = places
        .iter()
        .filter_map(|&n| Some(format!("{} “{}”", n + 1, found.get(n)?.title())))
        .collect();
    names.join(", ")
}

/// One formula of several recipes, each a variant; `None` without any.
pub fn joined(recipes: Vec<(Formula, &RecipeSection)>) -> Option<Formula> {
    let several = recipes.len() > 1;
    let mut recipes = recipes.into_iter();
    let (first, section) = recipes.next()?;
    let mut all = named(first, section, several);
    for (formula, section) in recipes {
        add(&mut all, &formula, section);
    }
    Some(all)
}

/// The first of several recipes, as the first variant.
fn named(mut formula: Formula, section: &RecipeSection, several: bool) -> Formula {
    if several
        && !is_ours(&section.table)
        && !section.name.is_empty()
        && let Some(variant) = formula.variants.first_mut()
    {
        Arc::make_mut(variant).name = section.name.as_str().into();
    }
    formula
}

/// A further recipe as a variant of the formula.
fn add(all: &mut Formula, more: &Formula, section: &RecipeSection) {
    let mut variant = Variant::clone(more.active());
    let shift = all.next_id;
    let own = |id: ItemId| ItemId(id.0 + shift);
    let renamed = take_materials(all, more);
    for phase in &mut variant.phases {
        let phase = Arc::make_mut(phase);
        phase.id = own(phase.id);
        for line in &mut phase.lines {
            line.id = own(line.id);
            if let Some(other) = renamed.get(&line.material) {
                line.material = other.clone();
            }
        }
        for step in &mut phase.steps {
            step.id = own(step.id);
        }
    }
    variant.filler = variant.filler.map(own);
    all.next_id = shift + more.next_id;
    variant.id = VariantId(all.take_id());
    if !is_ours(&section.table) && !section.name.is_empty() {
        variant.name = section.name.as_str().into();
    }
    all.variants.push(Arc::new(variant));
}

/// Takes the materials of a further recipe into a formula; those that got another id, because
/// a material that is not the same has theirs.
fn take_materials(all: &mut Formula, more: &Formula) -> BTreeMap<MaterialId, MaterialId> {
    let mut renamed = BTreeMap::new();
    for (id, material) in &more.materials {
        let mut own = id.clone();
        let mut number = 2;
        loop {
            match all.materials.get(&own) {
                None => break,
                // Only its id differs, or nothing.
                Some(known) if **known == with_id(material, &own) => break,
                Some(_) => {
                    own = MaterialId::from_name(&format!("{id} {number}"));
                    number += 1;
                }
            }
        }
        if own != *id {
            renamed.insert(id.clone(), own.clone());
        }
        let taken = with_id(material, &own);
        all.materials.entry(own).or_insert_with(|| Arc::new(taken));
    }
    renamed
}

fn with_id(material: &Material, id: &MaterialId) -> Material {
    Material {
        id: id.clone(),
        ..material.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::read_text;
    use crate::file::table::recipe::{RecipeSettings, propose};
    use crate::file::table::sections::sections;
    use crate::naming::Resolver;
    use crate::shelf::built_in;

    #[test]
    fn a_line_above_says_which_version_is_made() {
        let taken = |title: &str| {
            let text = format!(
                "{title};;\nZutat;Version A;Version B\nOlivenöl;80;70\nBienenwachs;10;20\nSheabutter;10;10\n"
            );
            usual(&sections(&read_text(&text).unwrap())).0
        };
        assert_eq!(taken("Salbe, gültig ist Version B"), [1]);
        assert_eq!(taken("Version A in use, Version B to read"), [0]);
        assert_eq!(taken("Salbe, Version A und Version B"), [0, 1]);
    }

    /// Two recipes may each have a new material of the same name that is not the same.
    #[test]
    fn materials_of_the_same_name_stay_apart() {
        let text = "Ingredient,INCI,%\nWater,Aqua,99\nMoorguard,Unheardin,1\n\nIngredient,INCI,%\nWater,Aqua,99\nMoorguard,Otherin,1\n";
        let tables = read_text(text).unwrap();
        let found = sections(&tables);
        assert_eq!(found.len(), 2);
        let resolver = Resolver::new(built_in());
        let recipes = found.iter().map(|section| {
            let proposal = propose(
                &section.table,
                "Test",
                &RecipeSettings::default(),
                &resolver,
            )
            .unwrap();
            (proposal.accept(&resolver).unwrap().formula, section)
        });
        let formula = joined(recipes.collect()).unwrap();
        let of = |variant: usize| {
            let variant = &formula.variants[variant];
            let line = &variant.phases[0].lines[1];
            formula.materials[&line.material].clone()
        };
        assert_ne!(of(0).id, of(1).id);
        assert_ne!(of(0).constituents, of(1).constituents);
        let water = |variant: usize| &formula.variants[variant].phases[0].lines[0].material;
        assert_eq!(water(0), water(1));
    }
}
