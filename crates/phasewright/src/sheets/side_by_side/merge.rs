//! The merge of two copies of one file: every point listed, both kept unless the
//! maker chooses otherwise.

use std::path::{Path, PathBuf};

use eframe::egui::{self, Frame, Margin, RichText, ScrollArea, Stroke, Ui};
use formulation::compare::merge::{
    MergeChoice, MergePoint, have_one_parent, merge, points, stand_beside,
};
use formulation::compare::note::words;
use formulation::compare::texts::{self, TextChange};
use formulation::compare::{Compared, compare};
use formulation::file::formula_file;
use formulation::finding::Level;
use formulation::formula::{Formula, Variant};
use formulation::material_change::material_changes;
use formulation::progress::Progress;

use super::Two;
use crate::command::Command;
use crate::state::disk::formulas_near;
use crate::state::{Document, DocumentId, View};
use crate::theme;
use crate::words::counted;
use crate::work::Work;

/// What the merge keeps between frames.
#[derive(Default)]
pub struct MergeState {
    /// For which revisions the points were listed, and what was chosen.
    listed: Option<(Revisions, Vec<MergePoint>, Vec<MergeChoice>)>,
    /// What was chosen between the same two documents for points listed before.
    chosen: Vec<(MergePoint, MergeChoice)>,
    /// The right side takes in the left one, not the other way round.
    turned: bool,
}

impl MergeState {
    /// Lists the points of other revisions. What was chosen for a point stands when it comes
    /// back, as it does when the merge is undone.
    fn list(&mut self, of: Revisions, found: Vec<MergePoint>) {
        if let Some((before, points, choices)) = self.listed.take() {
            if (before.0, before.2) == (of.0, of.2) {
                self.chosen.retain(|(p, _)| !points.contains(p));
                self.chosen.extend(points.into_iter().zip(choices));
            } else {
                self.chosen.clear();
            }
        }
        let chosen = |point: &MergePoint| {
            let before = self.chosen.iter().find(|(p, _)| p == point);
            before.map_or(MergeChoice::Both, |(_, choice)| *choice)
        };
        let choices = found.iter().map(chosen).collect();
        self.listed = Some((of, found, choices));
    }
}

/// Id and revision of both documents.
type Revisions = (u64, u64, u64, u64);

/// A copy on the disk that is not open: where it is, and the name of its formula.
type Closed = (PathBuf, String);

/// Copies of a file that are not open, looked for beside it and among the files lately used.
#[derive(Default)]
pub struct ClosedCopies {
    work: Work<(DocumentId, u64, usize), Vec<Closed>>,
}

impl ClosedCopies {
    fn look(&mut self, ui: &Ui, view: &View<'_>, of: &Document) {
        let documents = view.state.documents();
        let key = (of.id, of.revision(), documents.len());
        self.work.ask(ui, key, || {
            let open: Vec<PathBuf> = documents.iter().filter_map(|d| d.path.clone()).collect();
            let (recent, mine) = (view.state.settings.recent.clone(), of.formula().clone());
            move |progress: &Progress| {
                let open: Vec<&Path> = open.iter().map(PathBuf::as_path).collect();
                let near = formulas_near(&open, &recent).into_iter();
                let near = near.take_while(|_| !progress.is_stopped());
                near.filter_map(|path| {
                    // What cannot be read is told when it is opened.
                    let (theirs, _) = formula_file::open(&path).ok()?;
                    have_one_parent(&mine, &theirs).then(|| (path, theirs.name.to_string()))
                })
                .collect()
            }
        });
    }
}

/// Width of the words of the page, in points.
const WORDS: f32 = 620.0;
/// What becomes of what differs between two copies.
const OUTCOMES: [&str; 6] = [
    "A variant that only one copy has comes in beside the others.",
    "A variant that was changed in both is kept twice, side by side, unless you choose one.",
    "Data of materials, the name and the notes stay as they are here, unless you choose the other's.",
    "Findings that the other copy has set aside are set aside here too, unless you leave that out.",
    GIVES_WAY,
    "One undo takes the whole merge back.",
];
/// What becomes of what gives way.
const GIVES_WAY: &str = "A variant that gives way is kept among the earlier states. A name, notes, an author or data of materials that give way are not: only undo brings them back.";

/// What is asked for where both sides are of one file: which of its copies comes in, or that it
/// be opened.
pub fn choose_copy<'d>(
    ui: &mut Ui,
    view: &View<'_>,
    of: &Document,
    copies: impl Iterator<Item = &'d Document>,
    closed: &mut ClosedCopies,
    commands: &mut Vec<Command>,
) -> Option<&'d Document> {
    closed.look(ui, view, of);
    let mut chosen = None;
    ui.set_max_width(WORDS);
    ui.label(theme::heading("Two copies of one file become one"));
    ui.label("For when a file was changed here and on another computer, or by two people. Every difference is listed before anything is done.");
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Which copy comes in"));
    for copy in copies {
        let words = format!("Merge with “{}” ({})", copy.name(), copy.file_name());
        if ui.button(words).clicked() {
            chosen = Some(copy);
        }
    }
    match closed.work.answer() {
        None => {
            ui.label("Looking for copies beside this file and among the files lately used…");
        }
        Some(found) => {
            for (path, name) in found {
                let file = path.file_name().unwrap_or_default().to_string_lossy();
                let button = ui.button(format!("Open “{name}” ({file}) and merge"));
                if button.on_hover_text(path.display().to_string()).clicked() {
                    commands.push(Command::OpenPath(path.clone()));
                }
            }
            if found.is_empty() {
                ui.label("None lies beside this file or among the files lately used.");
            }
        }
    }
    if ui.button("Open the other copy…").clicked() {
        commands.push(Command::Open);
    }
    ui.add_space(theme::GAP);
    ui.label(theme::strong("What becomes of what differs"));
    for outcome in OUTCOMES {
        ui.add(egui::Label::new(format!("· {outcome}")).wrap());
    }
    ui.add_space(theme::GAP);
    ui.label(theme::strong("To get a second copy"));
    ui.label("Copy the file as it is to the other computer, under any name. Copies are known by what is in them, not by what they are called.");
    chosen
}

/// Draws the merge.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    state: &mut MergeState,
    two: &Two<'_>,
    commands: &mut Vec<Command>,
) {
    let (left, right) = (two.left.document, two.right.document);
    let (mine, theirs) = if state.turned {
        (right, left)
    } else {
        (left, right)
    };
    let (a, b) = (mine.formula(), theirs.formula());
    if !have_one_parent(a, b) {
        ui.label("These two files do not come from one parent, so they are not merged.");
        ui.label(theme::small(
            ui,
            "Compare their variants and carry across what you want.",
        ));
        return;
    }
    let key = (mine.id.0, mine.revision(), theirs.id.0, theirs.revision());
    if state.listed.as_ref().is_none_or(|(k, ..)| *k != key) {
        state.list(key, points(a, b));
    }
    let Some((_, found, choices)) = &mut state.listed else {
        return;
    };
    ui.label(theme::heading(format!(
        "“{}” ({}) takes in “{}” ({})",
        mine.name(),
        mine.file_name(),
        theirs.name(),
        theirs.file_name()
    )));
    let turn = ui
        .button("The other way round")
        .on_hover_text("Let the other copy take in this one");
    if turn.clicked() {
        state.turned = !state.turned;
    }
    if found.is_empty() {
        ui.label("Everything of the other copy is in this one; there is nothing left to take in.");
        return;
    }
    ui.label(theme::small(ui, GIVES_WAY));
    ui.add_space(theme::TIGHT);
    if theme::main_button(ui, "Merge the copies").clicked() {
        let now = view.state.host.now();
        let merged = merge(a, b, choices, &now);
        let told = outcome(a, &merged, theirs.file_name());
        commands.push(Command::ShowDocument(mine.id));
        commands.push(Command::Change {
            what: format!("Merge with {}", theirs.file_name()).into(),
            formula: merged.into(),
        });
        commands.push(Command::ShowMessage(Level::Note, told));
    }
    ui.add_space(theme::TIGHT);
    let p = theme::palette(ui);
    ScrollArea::vertical()
        .id_salt("merge")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            for (i, (point, choice)) in found.iter().zip(choices.iter_mut()).enumerate() {
                ui.push_id(i, |ui| {
                    Frame::new()
                        .fill(p.page)
                        .stroke(Stroke::new(1.0, p.rule))
                        .corner_radius(4)
                        .inner_margin(Margin::symmetric(10, 6))
                        .show(ui, |ui| {
                            ui.set_min_width(ui.available_width());
                            point_row(ui, a, b, point, choice);
                        });
                });
                ui.add_space(theme::TIGHT);
            }
        });
}

/// What a merge did, in a sentence.
fn outcome(before: &Formula, after: &Formula, from: String) -> String {
    let new: Vec<String> = after
        .variants
        .iter()
        .filter(|v| before.variant(v.id).is_none())
        .map(|v| format!("“{}”", v.name))
        .collect();
    let changed = after
        .variants
        .iter()
        .filter(|v| before.variant(v.id).is_some_and(|old| old != *v))
        .count();
    let mut done = Vec::new();
    if !new.is_empty() {
        done.push(format!("{} came in beside yours", new.join(", ")));
    }
    if changed > 0 {
        done.push(format!("{} replaced", counted(changed, "variant")));
    }
    let words = [
        ("name", before.name != after.name),
        ("notes", before.notes != after.notes),
        ("author", before.author != after.author),
    ];
    let words: Vec<&str> = words.iter().filter(|w| w.1).map(|w| w.0).collect();
    if !words.is_empty() {
        done.push(format!("{} of the formula taken over", words.join(", ")));
    }
    if before.materials != after.materials {
        done.push("data of materials taken over".to_owned());
    }
    let aside = after.set_aside.difference(&before.set_aside).count();
    if aside > 0 {
        done.push(format!("{} set aside as there", counted(aside, "finding")));
    }
    if done.is_empty() {
        done.push("everything stays as it was here".to_owned());
    }
    format!("Merged with {from}: {}. Save to keep it", done.join("; "))
}

/// What a person may choose, with its words.
type Options = &'static [(MergeChoice, &'static str)];

/// One copy's or the other's.
const ONE_OF_BOTH: Options = &[
    (MergeChoice::Both, "keep this copy's"),
    (MergeChoice::Theirs, "take the other's"),
];

/// A point as it is told: a title, what may become of it, and what differs, a line each.
fn told(mine: &Formula, theirs: &Formula, point: &MergePoint) -> (String, Options, Vec<String>) {
    let name = |f: &Formula, id| {
        f.variant(id)
            .map_or_else(String::new, |v| v.name.to_string())
    };
    match point {
        MergePoint::OnlyMine(id) => (
            format!("Variant “{}” is only in this copy", name(mine, *id)),
            &[(MergeChoice::Both, "stays")],
            Vec::new(),
        ),
        MergePoint::OnlyTheirs(id) => (
            format!("Variant “{}” is only in the other copy", name(theirs, *id)),
            &[
                (MergeChoice::Both, "take it in"),
                (MergeChoice::Mine, "leave it out"),
            ],
            Vec::new(),
        ),
        MergePoint::Differs {
            mine: m,
            theirs: t,
            base,
        } => {
            let title = format!("Variant “{}” differs", name(mine, *m));
            let (Some(a), Some(b)) = (mine.variant(*m), theirs.variant(*t)) else {
                return (title, ONE_OF_BOTH, Vec::new());
            };
            let told = match base {
                Some(base) => since((mine, base), (mine, a), (theirs, b)),
                None => headed(
                    "From this copy to the other",
                    changes((mine, a), (theirs, b)),
                ),
            };
            let options: Options = if stand_beside(mine, a, theirs, b) {
                &[
                    (MergeChoice::Both, "keep both"),
                    (MergeChoice::Mine, "keep this copy's"),
                    (MergeChoice::Theirs, "take the other's"),
                ]
            } else {
                ONE_OF_BOTH
            };
            (title, options, told)
        }
        MergePoint::Material(id) => {
            let material = mine.material(id);
            let called = material.map_or_else(|| id.to_string(), |m| m.name.to_string());
            let told = material.zip(theirs.material(id)).map(|(a, b)| {
                let changes = material_changes(a, b).into_iter();
                changes.map(|c| format!("{}: {} → {}", c.field, c.before, c.after))
            });
            let told = told.into_iter().flatten().collect();
            (format!("The data of {called} differ"), ONE_OF_BOTH, told)
        }
        MergePoint::Words => {
            let mut told = Vec::new();
            if mine.name != theirs.name {
                told.push(format!("The name: “{}” → “{}”", mine.name, theirs.name));
            }
            told.extend(
                texts::of_formulas(mine, theirs)
                    .iter()
                    .map(TextChange::words),
            );
            let title = "Name, notes or author of the formula differ".to_owned();
            (title, ONE_OF_BOTH, told)
        }
        MergePoint::SetAside(aside) => (
            "Findings that only the other copy has set aside".to_owned(),
            &[
                (MergeChoice::Both, "set them aside here too"),
                (MergeChoice::Mine, "leave them as they are here"),
            ],
            aside.iter().map(|a| a.message.to_string()).collect(),
        ),
    }
}

fn point_row(
    ui: &mut Ui,
    mine: &Formula,
    theirs: &Formula,
    point: &MergePoint,
    choice: &mut MergeChoice,
) {
    let p = theme::palette(ui);
    let (title, options, told) = told(mine, theirs, point);
    ui.label(theme::strong(title));
    for line in told {
        let text = RichText::new(format!("· {line}")).color(p.ink);
        ui.add(egui::Label::new(text).wrap());
    }
    ui.horizontal(|ui| {
        for (option, label) in options {
            ui.radio_value(choice, *option, *label);
        }
    });
}

/// What each copy changed since the state that both have; what both changed alike stands once.
fn since(
    base: (&Formula, &Variant),
    mine: (&Formula, &Variant),
    theirs: (&Formula, &Variant),
) -> Vec<String> {
    let [here, there] = [mine, theirs].map(|now| changes(base, now));
    let (alike, only_here): (Vec<_>, Vec<_>) =
        here.into_iter().partition(|line| there.contains(line));
    let only_there = there.into_iter().filter(|line| !alike.contains(line));
    let only_there = only_there.collect();
    let mut told = headed("In this copy", or_nothing(only_here, &alike));
    told.extend(headed("In the other copy", or_nothing(only_there, &alike)));
    told.extend(headed("In both alike", alike));
    told
}

/// That nothing changed, where that is so.
fn or_nothing(told: Vec<String>, alike: &[String]) -> Vec<String> {
    if told.is_empty() && alike.is_empty() {
        vec!["nothing changed".to_owned()]
    } else {
        told
    }
}

fn headed(heading: &str, told: Vec<String>) -> Vec<String> {
    let line = |line: String| format!("{heading}: {line}");
    told.into_iter().map(line).collect()
}

/// What changed from one state of a variant to another, a line each.
fn changes((from, before): (&Formula, &Variant), (to, after): (&Formula, &Variant)) -> Vec<String> {
    let (l, r) = (Compared::new(from, before), Compared::new(to, after));
    let mut told = Vec::new();
    if before.name != after.name {
        told.push(format!("Name: {} → {}", before.name, after.name));
    }
    told.extend(compare(l, r).differences.iter().map(|d| words(d, l, r)));
    told.extend(
        texts::of_variants(before, after)
            .iter()
            .map(TextChange::words),
    );
    if before.archived != after.archived {
        let said = |archived| if archived { "yes" } else { "no" };
        let (before, after) = (said(before.archived), said(after.archived));
        told.push(format!("No longer used: {before} → {after}"));
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use formulation::quantity::{Ph, grams};

    #[test]
    fn what_both_copies_changed_alike_stands_once() {
        let formula = crate::examples::FIRST.read().expect("an example");
        let base = formula.active().as_ref().clone();
        let changed = |batch: f64, ph: f64| {
            let mut variant = base.clone();
            variant.batch = grams(batch);
            variant.target_ph = Ph::new(ph);
            variant
        };
        let told = |here: &Variant, there: &Variant| {
            let told = since((&formula, &base), (&formula, here), (&formula, there));
            told.into_iter()
                .map(|line| line.split(':').next().unwrap_or_default().to_owned())
                .collect::<Vec<_>>()
        };
        let [here, there] = ["In this copy", "In the other copy"];
        let both = told(&changed(300.0, 5.1), &changed(400.0, 5.1));
        assert_eq!(both, [here, there, "In both alike"]);
        let one = told(&changed(300.0, 5.1), &base);
        assert_eq!(one, [here, here, there]);
        let more = told(&changed(300.0, 5.1), &changed(300.0, 5.1));
        assert_eq!(more, ["In both alike"; 2]);
    }

    #[test]
    fn what_differs_beside_the_content_is_told_with_both_texts() {
        let formula = crate::examples::FIRST.read().expect("an example");
        let base = formula.active().as_ref().clone();
        let mut noted = base.clone();
        noted.note = "for the fair".into();
        noted.archived = true;
        let told = changes((&formula, &base), (&formula, &noted));
        let expected = [
            format!("The variant's note: {} → “for the fair”", {
                let note = &base.note;
                if note.is_empty() {
                    "nothing".to_owned()
                } else {
                    format!("“{note}”")
                }
            }),
            "No longer used: no → yes".to_owned(),
        ];
        assert_eq!(told, expected);
    }

    #[test]
    fn the_outcome_says_what_was_taken_over() {
        let mine = crate::examples::FIRST.read().expect("an example");
        let mut theirs = Formula::clone(&mine);
        theirs.notes = "other notes".into();
        theirs.set_aside.insert(formulation::finding::SetAside {
            rule: "usual-level".into(),
            message: "less than usual".into(),
        });
        let of = |choice| {
            let choices = points(&mine, &theirs)
                .iter()
                .map(|_| choice)
                .collect::<Vec<_>>();
            outcome(&mine, &merge(&mine, &theirs, &choices, "t"), "x".to_owned())
        };
        let told = of(MergeChoice::Theirs);
        assert!(told.contains("notes of the formula taken over"), "{told}");
        assert!(told.contains("1 finding set aside as there"), "{told}");
        let told = of(MergeChoice::Mine);
        assert!(told.contains("everything stays as it was here"), "{told}");
    }
}
