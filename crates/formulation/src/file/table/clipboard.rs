//! Lines on their way between a formula and a spreadsheet: as text divided by tabs, which
//! spreadsheets give and take.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::columns::ColumnKind;
use super::read_text;
use super::recipe::{OFF_TOTAL, RecipeSettings, propose};
use crate::edit::{self, Edit};
use crate::formula::{Formula, ItemId, Line, Phase, Variant, VariantId};
use crate::harmless;
use crate::naming::Resolver;
use crate::quantity::Percent;
use crate::shelf::Shelf;

/// A column of lines that are copied: its heading, whether it is there though no line needs it,
/// and what it says of a line.
type Column = (
    &'static str,
    bool,
    fn(&Formula, &Variant, &Phase, &Line) -> String,
);

/// The heading of the column that marks the filler.
const FILLER: &str = "Filler";

/// The columns of lines that are copied: first those that spreadsheets are kept with, then
/// what the program alone keeps of a line.
const COLUMNS: [Column; 10] = [
    ("Phase", true, |_, _, phase, _| phase.letter.to_string()),
    ("Material", true, |formula, _, _, line| {
        let material = formula.material(&line.material);
        material.map_or_else(|| line.material.to_string(), |m| m.name.to_string())
    }),
    ("INCI", true, |formula, _, _, line| {
        let material = formula.material(&line.material);
        material.map_or_else(String::new, |m| m.inci_line())
    }),
    ("%", true, |_, _, _, line| line.percent.to_string()),
    ("Purpose", true, |_, _, _, line| {
        line.purpose.map_or(String::new(), |p| p.label().to_owned())
    }),
    ("Why", true, |_, _, _, line| line.why.to_string()),
    (FILLER, false, |_, variant, _, line| {
        yes(variant.is_filler(line.id))
    }),
    ("Held", false, |_, _, _, line| yes(line.held)),
    ("Lowest", false, |_, _, _, line| bound(line.min)),
    ("Highest", false, |_, _, _, line| bound(line.max)),
];

fn yes(is_so: bool) -> String {
    if is_so { "yes" } else { "" }.to_owned()
}

fn bound(percent: Option<Percent>) -> String {
    percent.map_or_else(String::new, |p| p.to_string())
}

/// Lines as text for a spreadsheet: those chosen, or all if none is.
pub fn copied(formula: &Formula, variant: &Variant, chosen: &BTreeSet<ItemId>) -> String {
    let any = variant.lines().any(|(_, l)| chosen.contains(&l.id));
    let lines = variant
        .lines()
        .filter(|(_, l)| !any || chosen.contains(&l.id));
    let rows: Vec<[String; COLUMNS.len()]> = lines
        .map(|(phase, line)| {
            COLUMNS.map(|(_, _, content)| {
                let cell = content(formula, variant, phase, line);
                let one_line = cell.split_whitespace().collect::<Vec<_>>().join(" ");
                harmless::cell(&one_line)
            })
        })
        .collect();
    // Of a part of the lines the filler would take up what the others left out.
    let whole = rows.len() == variant.lines().count();
    let needed: Vec<bool> = (COLUMNS.iter().enumerate())
        .map(|(at, (heading, always, _))| {
            let said = rows
                .iter()
                .any(|r| r.get(at).is_some_and(|c| !c.is_empty()));
            *always || said && (whole || *heading != FILLER)
        })
        .collect();
    let row = |cells: &[&str]| {
        let cells = cells.iter().zip(&needed).filter(|(_, needed)| **needed);
        let cells: Vec<&str> = cells.map(|(cell, _)| *cell).collect();
        format!("{}\n", cells.join("\t"))
    };
    let mut text = row(&COLUMNS.map(|(heading, ..)| heading));
    for cells in &rows {
        text.push_str(&row(&cells.each_ref().map(String::as_str)));
    }
    text
}

/// What pasting has made of a formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Pasted {
    /// The formula with the lines.
    pub formula: Formula,
    /// How many lines were added.
    pub lines: usize,
    /// What had to be assumed, in words.
    pub assumed: Vec<String>,
}

/// Whether a text is a table or a list rather than a few words.
pub fn looks_like_lines(text: &str) -> bool {
    text.trim().contains(['\n', '\t'])
}

/// Adds the lines of a pasted table to a variant: to the phases of their letters, which are made
/// where they are missing; without letters to the phase that a new material goes into
/// ([`Variant::phase_for`]). The filler gives way as with lines added by hand.
pub fn paste(
    formula: &Formula,
    variant: VariantId,
    text: &str,
    shelf: &Shelf,
) -> Result<Pasted, String> {
    let tables = read_text(text).map_err(|e| e.to_string())?;
    let table = tables.first().ok_or("nothing was pasted")?;
    let resolver = Resolver::new(shelf);
    let settings = RecipeSettings {
        // What the product is, the formula says.
        kinds: formula.variant(variant).map(|v| v.product.kinds),
        ..RecipeSettings::default()
    };
    let proposal = propose(table, "Pasted", &settings, &resolver).map_err(|e| e.to_string())?;
    let brought = proposal.accept(&resolver).map_err(|e| e.to_string())?;
    // Lines that are pasted into others need not be a whole.
    let mut assumed: Vec<String> = proposal
        .assumptions()
        .into_iter()
        .filter(|words| !words.starts_with(OFF_TOTAL))
        .collect();
    if tables.len() > 1 {
        assumed.push(format!("of {} tables the first was pasted", tables.len()));
    }
    let lettered = proposal.layout.place(ColumnKind::Phase).is_some();
    let mut made = formula.clone();
    let mut lines = 0;
    let mut filler = None;
    let pasted = brought.formula.active();
    for phase in &pasted.phases {
        for line in &phase.lines {
            let material = brought
                .formula
                .materials
                .get(&line.material)
                .ok_or("a pasted material is not known")?;
            let now = made
                .variant(variant)
                .ok_or("this variant is no longer in the file")?;
            let into = if lettered {
                now.phases.iter().rev().find(|p| p.letter == phase.letter)
            } else {
                now.phase_for(material)
            };
            let (id, at) = if let Some(known) = into {
                (known.id, known.lines.len())
            } else {
                let id;
                (made, id) = with_phase(&made, variant, phase)?;
                (id, 0)
            };
            let add = Edit::AddLine {
                phase: id,
                at,
                material: material.clone(),
                percent: line.percent,
            };
            let applied = edit::apply(&made, variant, &add).map_err(|e| e.to_string())?;
            if let Some(stop) = applied.stop {
                assumed.push(format!(
                    "“{}” was pasted with {} %, because the rest leaves no more room",
                    material.name, stop.reached
                ));
            }
            made = applied.formula;
            let new = applied.created.ok_or("no line was made")?;
            if pasted.is_filler(line.id) {
                filler = Some((new, material.name.clone()));
            }
            for edit in said_of(new, line) {
                made = edit::apply(&made, variant, &edit)
                    .map_err(|e| e.to_string())?
                    .formula;
            }
            lines += 1;
        }
    }
    if let Some((line, name)) = filler {
        match filled_by(line, &made, variant, filler_of(formula, variant)) {
            Ok(filled) => made = filled,
            Err(why) => assumed.push(format!(
                "“{name}” is pasted as a line like the others, not as the filler: {why}"
            )),
        }
    }
    Ok(Pasted {
        formula: made,
        lines,
        assumed,
    })
}

/// A formula in which a pasted line takes up the rest again, unless another did before.
fn filled_by(
    line: ItemId,
    made: &Formula,
    variant: VariantId,
    before: Option<Arc<str>>,
) -> Result<Formula, String> {
    if let Some(other) = before {
        return Err(format!("“{other}” takes up the rest already"));
    }
    let applied = edit::apply(made, variant, &Edit::SetFiller(Some(line)));
    applied.map(|a| a.formula).map_err(|e| e.to_string())
}

/// The name of the line that takes up the rest.
fn filler_of(formula: &Formula, variant: VariantId) -> Option<Arc<str>> {
    let variant = formula.variant(variant)?;
    let line = variant.line(variant.filler?)?;
    let material = formula.material(&line.material);
    Some(material.map_or_else(|| line.material.as_str().into(), |m| m.name.clone()))
}

/// A formula with one more phase at the end of a variant, as a pasted one.
fn with_phase(
    formula: &Formula,
    variant: VariantId,
    phase: &Phase,
) -> Result<(Formula, ItemId), String> {
    let add = Edit::AddPhase {
        at: formula.variant(variant).map_or(0, |v| v.phases.len()),
        kind: phase.kind,
        purpose: phase.purpose.clone(),
    };
    let applied = edit::apply(formula, variant, &add).map_err(|e| e.to_string())?;
    let id = applied.created.ok_or("no phase was made")?;
    let letter = Edit::SetPhaseLetter {
        phase: id,
        letter: phase.letter.clone(),
    };
    // A letter that is taken stays what the program gave.
    let made =
        edit::apply(&applied.formula, variant, &letter).map_or(applied.formula, |a| a.formula);
    Ok((made, id))
}

/// What a line says besides its material and amount, as edits of the line it became.
fn said_of(line: ItemId, pasted: &Line) -> Vec<Edit> {
    let mut edits = Vec::new();
    if !pasted.why.is_empty() {
        edits.push(Edit::SetWhy {
            line,
            why: pasted.why.clone(),
        });
    }
    if pasted.purpose.is_some() {
        edits.push(Edit::SetPurpose {
            line,
            purpose: pasted.purpose,
        });
    }
    if pasted.min.is_some() || pasted.max.is_some() {
        edits.push(Edit::SetRange {
            line,
            min: pasted.min,
            max: pasted.max,
        });
    }
    if pasted.held {
        edits.push(Edit::SetHeld { line, held: true });
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::material::{Class, Material, PhaseKind};

    fn start() -> (Formula, Shelf) {
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let salt = fixture::material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
        let oil = fixture::material("Oil", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]);
        let mut formula = fixture::phased(vec![vec![fixture::line(&water, "100")]]);
        let id = formula.active().id;
        let line = formula.active().lines().next().map(|(_, l)| l.id);
        formula = edit::apply(&formula, id, &Edit::SetFiller(line))
            .unwrap()
            .formula;
        (formula, [water, salt, oil].into_iter().collect())
    }

    #[test]
    fn lines_go_to_a_spreadsheet_and_come_back() {
        let (formula, shelf) = start();
        let id = formula.active().id;
        let text = "Phase\tMaterial\t%\tPurpose\tWhy\nA\tSalt\t2,5\tpreservative\tto taste\nB\tOil\t10\t\t\n";
        let pasted = paste(&formula, id, text, &shelf).unwrap();
        assert_eq!(pasted.lines, 2);
        let variant = pasted.formula.active();
        let said: Vec<(bool, &str)> = variant
            .lines()
            .map(|(_, l)| (l.purpose.is_some(), l.why.as_ref()))
            .collect();
        assert_eq!(said, [(false, ""), (true, "to taste"), (false, "")]);
        let told: Vec<(String, String, String)> = variant
            .lines()
            .map(|(p, l)| {
                (
                    p.letter.to_string(),
                    l.material.to_string(),
                    l.percent.to_string(),
                )
            })
            .collect();
        let told: Vec<(&str, &str, &str)> = told
            .iter()
            .map(|(a, b, c)| (a.as_str(), b.as_str(), c.as_str()))
            .collect();
        assert_eq!(
            told,
            [
                ("A", "water", "87.5"),
                ("A", "salt", "2.5"),
                ("B", "oil", "10")
            ]
        );
        assert_eq!(variant.total(), Percent::HUNDRED);
        // Copied and pasted elsewhere it is the same lines again.
        let copied = copied(&pasted.formula, variant, &BTreeSet::new());
        assert!(copied.starts_with("Phase\tMaterial\tINCI\t%"), "{copied}");
        let empty = fixture::phased(vec![Vec::new()]);
        let again = paste(&empty, empty.active().id, &copied, &shelf).unwrap();
        let lines = |f: &Formula| -> Vec<(String, Percent)> {
            f.active()
                .lines()
                .map(|(_, l)| (l.material.to_string(), l.percent))
                .collect()
        };
        assert_eq!(lines(&again.formula), lines(&pasted.formula));
        assert!(again.assumed.is_empty(), "{:?}", again.assumed);
    }

    /// Without letters a pasted line goes where a new material would: oil to the oil phase, though
    /// it is not the last.
    #[test]
    fn lines_without_letters_go_to_the_phase_of_their_kind() {
        let (_, shelf) = start();
        let oil = shelf.iter().find(|m| &*m.name == "Oil").unwrap();
        let oil = Arc::new(Material {
            phase: Some(PhaseKind::Oil),
            ..Material::clone(oil)
        });
        let shelf: Shelf = [oil].into_iter().collect();
        let mut formula = fixture::phased(vec![Vec::new(), Vec::new(), Vec::new()]);
        let id = formula.active().id;
        let phase = formula.active().phases[1].id;
        let kind = PhaseKind::Oil;
        let edit = Edit::SetPhaseKind { phase, kind };
        formula = edit::apply(&formula, id, &edit).unwrap().formula;
        let pasted = paste(&formula, id, "Material\t%\nOil\t2\n", &shelf).unwrap();
        let lines = &pasted.formula.active().phases[1].lines;
        assert_eq!(lines.len(), 1);
    }

    /// Copied and pasted in the program a line comes out with all that the program keeps of it.
    #[test]
    fn held_bounds_and_filler_come_back() {
        let (formula, shelf) = start();
        let id = formula.active().id;
        let text = "Phase\tMaterial\t%\nA\tSalt\t2.5\nA\tOil\t10\n";
        let mut made = paste(&formula, id, text, &shelf).unwrap().formula;
        let plain = copied(
            &fixture::phased(vec![Vec::new()]),
            made.active(),
            &BTreeSet::new(),
        );
        assert!(
            plain.lines().next().unwrap().ends_with("Why\tFiller"),
            "{plain}"
        );
        let lines: Vec<ItemId> = made.active().lines().map(|(_, l)| l.id).collect();
        let percent = |text: &str| text.parse::<Percent>().unwrap();
        for edit in [
            Edit::SetHeld {
                line: lines[1],
                held: true,
            },
            Edit::SetRange {
                line: lines[2],
                min: Some(percent("1.5")),
                max: Some(percent("12")),
            },
        ] {
            made = edit::apply(&made, id, &edit).unwrap().formula;
        }
        let said = |f: &Formula| -> Vec<_> {
            let variant = f.active();
            let of = |l: &Line| (l.percent, l.held, l.min, l.max, variant.is_filler(l.id));
            variant.lines().map(|(_, l)| of(l)).collect()
        };
        let text = copied(&made, made.active(), &BTreeSet::new());
        let headings = "Phase\tMaterial\tINCI\t%\tPurpose\tWhy\tFiller\tHeld\tLowest\tHighest\n";
        assert!(text.starts_with(headings), "{text}");
        let empty = fixture::phased(vec![Vec::new()]);
        let again = paste(&empty, empty.active().id, &text, &shelf).unwrap();
        assert_eq!(said(&again.formula), said(&made));
        assert_eq!(again.assumed, Vec::<String>::new());
        // Where another line takes up the rest, the pasted one does not.
        let again = paste(&formula, id, &text, &shelf).unwrap();
        assert!(
            again
                .assumed
                .iter()
                .any(|a| a.contains("not as the filler")),
            "{:?}",
            again.assumed
        );
    }

    #[test]
    fn only_lines_chosen_are_copied_and_words_are_not_pasted() {
        let (formula, shelf) = start();
        let id = formula.active().id;
        let text = "Material\t%\nSalt\t2\n";
        let pasted = paste(&formula, id, text, &shelf).unwrap().formula;
        let salt = pasted.active().lines().nth(1).unwrap().1.id;
        let copied = copied(&pasted, pasted.active(), &[salt].into());
        assert_eq!(copied.lines().count(), 2, "{copied}");
        assert!(!looks_like_lines("sodium benzoate"));
        assert!(paste(&formula, id, "Dear Jo,\nsee you\n", &shelf).is_err());
    }
}
