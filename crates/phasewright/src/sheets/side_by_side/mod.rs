//! The sheet Side by side: two variants, line by line and bar by bar; their tree and
//! history; a table over all variants; a change note; the merge of two copies.

mod effect;
mod kept_figures;
mod merge;
mod note;
mod rows;
mod variants;

use std::sync::Arc;

use eframe::egui::{self, ComboBox, Id, ScrollArea, Ui};
use formulation::compare::merge::have_one_parent;
use formulation::compare::{
    Carried, CarryScope, Compared, Comparison, Side, carry, compare, texts,
};
use formulation::edit::Edit;
use formulation::evaluation::{Evaluation, evaluate};
use formulation::formula::{Formula, Variant, VariantId};
use formulation::quantity::Percent;
use formulation::stock::Stock;
use formulation::trial::book::Book;
use formulation::trial::learn::Lessons;

use crate::command::Command;
use crate::state::{Document, DocumentId, View};
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::focus::region;
use crate::widgets::twin_chart::{Twin, twin_chart};

/// What is shown below the choice of the two variants.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Mode {
    /// Charts, lines, figures.
    #[default]
    Compare,
    /// The tree of variants with their history, and a table of figures over all.
    Variants,
    /// The note of the change.
    Note,
    /// Two copies of one file.
    Merge,
}

impl Mode {
    const ALL: [Self; 4] = [Self::Compare, Self::Variants, Self::Note, Self::Merge];

    const fn label(self) -> &'static str {
        match self {
            Self::Compare => "Compare",
            Self::Variants => "Variants",
            Self::Note => "Change note",
            Self::Merge => "Merge",
        }
    }

    const fn tooltip(self) -> &'static str {
        match self {
            Self::Compare => "Both variants line by line, and what the difference does",
            Self::Variants => "The tree of variants, their earlier states, and a table over all",
            Self::Note => "A note of the change in plain text, for the notebook",
            Self::Merge => "Bring two copies of one file together",
        }
    }
}

/// A state of a variant that may be put on a side.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Pick {
    document: DocumentId,
    which: Which,
}

impl Pick {
    /// The variant that is worked on in a document.
    fn worked_on(document: &Document) -> Self {
        Self {
            document: document.id,
            which: Which::Variant(document.variant().id),
        }
    }
}

/// Which state of a document.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Which {
    /// A variant as it is now.
    Variant(VariantId),
    /// An earlier state, by its place in the history.
    Earlier(usize),
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct SideBySideSheet {
    left: Option<Pick>,
    right: Option<Pick>,
    mode: Mode,
    only_differences: bool,
    charts_hidden: bool,
    compared: Option<(Key, Arc<Comparison>)>,
    /// Evaluations of earlier states, which documents do not keep.
    earlier: Vec<(Pick, u64, Arc<Evaluation>)>,
    figures: kept_figures::KeptFigures,
    note: note::NoteState,
    variants: variants::VariantsState,
    merge: merge::MergeState,
    closed_copies: merge::ClosedCopies,
}

/// On what a comparison depends.
type Key = (Pick, u64, Pick, u64);

/// A side of the comparison.
struct Shown<'v> {
    pick: Pick,
    document: &'v Document,
    formula: &'v Formula,
    variant: &'v Arc<Variant>,
    evaluation: Arc<Evaluation>,
    /// Trials of the formula, with what they have taught.
    trials: Option<(&'v Book, &'v Lessons)>,
    trials_revision: u64,
    /// The step of a slider that is moved finely.
    step: Percent,
}

impl Shown<'_> {
    fn compared(&self) -> Compared<'_> {
        Compared::new(self.formula, self.variant)
    }

    /// Earlier states are for looking only.
    fn editable(&self) -> bool {
        matches!(self.pick.which, Which::Variant(_))
    }

    /// A command that edits this side.
    fn edit(&self, edit: Edit, draft: bool) -> Command {
        Command::EditIn {
            document: self.pick.document,
            variant: self.variant.id,
            edit,
            draft,
        }
    }

    fn twin<'t>(&'t self, title: &'t str) -> Twin<'t> {
        Twin {
            title,
            formula: self.formula,
            variant: self.variant,
            composition: &self.evaluation.composition,
        }
    }

    fn title(&self, other: &Self) -> String {
        let mut title = self.variant.name.to_string();
        if self.pick.document != other.pick.document {
            let file = self.document.file_name();
            let alike = self.formula.name == other.formula.name;
            let formula = if alike { &file } else { self.document.name() };
            title = format!("{formula}, {title}");
        }
        if let Which::Earlier(place) = self.pick.which
            && let Some(kept) = self.formula.history.get(place)
        {
            title = format!("{title} ({})", self.document.host.short_time(&kept.at));
        }
        title
    }
}

/// Two sides, aligned.
struct Two<'v> {
    left: Shown<'v>,
    right: Shown<'v>,
    comparison: Arc<Comparison>,
    /// Prices, for the cost of both, and their revision.
    stock: &'v Stock,
    stock_revision: u64,
    /// The same, seen from the right.
    mirrored: std::cell::OnceCell<Comparison>,
}

impl<'v> Two<'v> {
    fn of(&self, side: Side) -> &Shown<'v> {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// The command that carries differences over to a side. The scope speaks of the
    /// comparison from left to right.
    fn carry_to(&self, side: Side, scope: CarryScope<'_>, what: String) -> Command {
        let (to, from) = (self.of(side), self.of(side.other()));
        let Carried { variant, materials } = match side {
            Side::Left => carry(to.compared(), from.compared(), &self.comparison, scope),
            Side::Right => {
                let mirrored = self.mirrored.get_or_init(|| self.comparison.mirrored());
                let one;
                let scope = match scope {
                    CarryScope::Everything => CarryScope::Everything,
                    CarryScope::Line(row) => CarryScope::Line(formulation::compare::AlignedLine {
                        left: row.right,
                        right: row.left,
                        relation: row.relation,
                    }),
                    CarryScope::Phase(pair) => CarryScope::Phase(pair.mirrored()),
                    CarryScope::Step(pair) => CarryScope::Step(pair.mirrored()),
                    CarryScope::One(difference) => {
                        one = difference.mirrored();
                        CarryScope::One(&one)
                    }
                };
                carry(to.compared(), from.compared(), mirrored, scope)
            }
        };
        to.edit(
            Edit::Carry {
                variant: Arc::new(variant),
                materials,
                what: what.into(),
            },
            false,
        )
    }
}

/// The other open files that come from one parent with a file.
fn copies_of<'v>(view: &View<'v>, of: DocumentId) -> impl Iterator<Item = &'v Document> {
    let documents = view.state.documents();
    let one = documents.iter().find(|d| d.id == of);
    documents.iter().filter(move |d| {
        d.id != of && one.is_some_and(|one| have_one_parent(one.formula(), d.formula()))
    })
}

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut SideBySideSheet, commands: &mut Vec<Command>) {
    sheet.settle(view);
    let two = sheet.two(view);
    region(ui, "What is compared", |ui| {
        top(ui, view, sheet, two.as_ref(), commands);
    });
    ui.add_space(theme::TIGHT);
    let mode = sheet.mode;
    if mode == Mode::Variants {
        variants::ui(ui, view, sheet, commands);
        return;
    }
    region(ui, mode.label(), |ui| match (mode, &two) {
        (Mode::Merge, None) => sheet.choose_copy(ui, view, view.document, commands),
        (Mode::Merge, Some(two)) if two.left.document.id == two.right.document.id => {
            sheet.choose_copy(ui, view, two.left.document, commands);
        }
        (_, None) => alone(ui, view, commands),
        (Mode::Note, Some(two)) => note::ui(ui, &mut sheet.note, two, commands),
        (Mode::Merge, Some(two)) => merge::ui(ui, view, &mut sheet.merge, two, commands),
        (Mode::Compare | Mode::Variants, Some(two)) => compare_ui(ui, sheet, two, commands),
    });
}

impl SideBySideSheet {
    /// Chooses two sides where none or only one that is still there is chosen. Where two copies
    /// are to be merged and just one other copy of the file is open, there is nothing to choose.
    fn settle(&mut self, view: &View<'_>) {
        self.settle_sides(view);
        if self.mode == Mode::Merge
            && let Some((left, right)) = self.left.zip(self.right)
            && left.document == right.document
        {
            let mut copies = copies_of(view, left.document);
            if let Some(only) = copies.next().filter(|_| copies.next().is_none()) {
                self.right = Some(Pick::worked_on(only));
            }
        }
    }

    /// Asks which copy of a file is merged with it.
    fn choose_copy(
        &mut self,
        ui: &mut Ui,
        view: &View<'_>,
        of: &Document,
        commands: &mut Vec<Command>,
    ) {
        let (copies, closed) = (copies_of(view, of.id), &mut self.closed_copies);
        let copy = merge::choose_copy(ui, view, of, copies, closed, commands);
        self.right = copy.map(Pick::worked_on).or(self.right);
    }

    /// From the parent to the variant worked on, or to the next one there is.
    fn settle_sides(&mut self, view: &View<'_>) {
        let there = |pick: &Option<Pick>| pick.filter(|p| shown_parts(view, *p).is_some());
        self.left = there(&self.left);
        self.right = there(&self.right);
        let here = view.document.id;
        let of_here = |pick: Option<Pick>| pick.is_some_and(|p| p.document == here);
        if !of_here(self.left) && !of_here(self.right) {
            // While two copies are merged, the one just opened stands beside the other.
            let kept = self.left.filter(|_| self.mode == Mode::Merge);
            (self.left, self.right) = (kept, None);
        }
        if self.left.is_some() && self.right.is_some() {
            return;
        }
        let variant = |document: DocumentId, id: VariantId| Pick {
            document,
            which: Which::Variant(id),
        };
        let active = variant(here, view.variant.id);
        let parent = view
            .variant
            .parent
            .filter(|p| view.formula.variant(*p).is_some());
        let another = view
            .formula
            .variants
            .iter()
            .rev()
            .find(|v| v.id != view.variant.id && !v.archived)
            .map(|v| v.id);
        let other_file = view
            .state
            .documents()
            .iter()
            .find(|d| d.id != here)
            .map(|d| variant(d.id, d.variant().id));
        let partner = parent
            .or(another)
            .map(|id| variant(here, id))
            .or(other_file);
        match (self.left, self.right) {
            (None, None) if parent.is_some() => {
                (self.left, self.right) = (partner, Some(active));
            }
            (None, None) => (self.left, self.right) = (Some(active), partner),
            (Some(left), None) => {
                let other = if left == active {
                    partner
                } else {
                    Some(active)
                };
                self.right = other;
            }
            (None, Some(right)) => {
                let other = if right == active {
                    partner
                } else {
                    Some(active)
                };
                self.left = other;
            }
            _ => {}
        }
    }

    fn two<'v>(&mut self, view: &View<'v>) -> Option<Two<'v>> {
        let (left, right) = (self.left?, self.right?);
        let (left, right) = (self.shown(view, left)?, self.shown(view, right)?);
        let key = (
            left.pick,
            left.document.revision(),
            right.pick,
            right.document.revision(),
        );
        let comparison = match &self.compared {
            Some((k, comparison)) if *k == key => Arc::clone(comparison),
            _ => {
                let comparison = Arc::new(compare(left.compared(), right.compared()));
                self.compared = Some((key, Arc::clone(&comparison)));
                comparison
            }
        };
        Some(Two {
            left,
            right,
            comparison,
            stock: view.state.books.stock(),
            stock_revision: view.state.books.revision(),
            mirrored: std::cell::OnceCell::new(),
        })
    }

    fn shown<'v>(&mut self, view: &View<'v>, pick: Pick) -> Option<Shown<'v>> {
        let (document, variant) = shown_parts(view, pick)?;
        let evaluation = match pick.which {
            Which::Variant(id) => view.state.evaluation(document, id),
            Which::Earlier(_) => {
                let revision = document.revision();
                let known = self
                    .earlier
                    .iter()
                    .find(|(p, r, _)| *p == pick && *r == revision);
                if let Some((_, _, evaluation)) = known {
                    Arc::clone(evaluation)
                } else {
                    let context = view.state.context();
                    let evaluation = Arc::new(evaluate(document.formula(), variant, context));
                    self.earlier.retain(|(_, r, _)| *r == revision);
                    self.earlier.push((pick, revision, Arc::clone(&evaluation)));
                    evaluation
                }
            }
        };
        Some(Shown {
            pick,
            document,
            formula: document.formula(),
            variant,
            evaluation,
            trials: view.state.taught(document.id),
            trials_revision: view.state.trials(document.id).revision(),
            step: view.state.settings.percent_step.percent(),
        })
    }
}

fn shown_parts<'v>(view: &View<'v>, pick: Pick) -> Option<(&'v Document, &'v Arc<Variant>)> {
    let document = view.state.document(pick.document)?;
    let variant = match pick.which {
        Which::Variant(id) => document.formula().variant(id)?,
        Which::Earlier(place) => &document.formula().history.get(place)?.variant,
    };
    Some((document, variant))
}

/// The choice of both sides and of what is shown.
fn top(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut SideBySideSheet,
    two: Option<&Two<'_>>,
    commands: &mut Vec<Command>,
) {
    ui.horizontal_wrapped(|ui| {
        choice(ui, view, "Left variant", &mut sheet.left);
        let exchange = ui.button("⇄").on_hover_text("Exchange left and right");
        exchange.widget_info(|| {
            egui::WidgetInfo::labeled(egui::Role::Button, true, "Exchange left and right")
        });
        if exchange.clicked() {
            std::mem::swap(&mut sheet.left, &mut sheet.right);
        }
        choice(ui, view, "Right variant", &mut sheet.right);
        ui.separator();
        let all = &Mode::ALL;
        choice_row(ui, "mode", &mut sheet.mode, all, Mode::label, Mode::tooltip);
    });
    let Some(two) = two else { return };
    if sheet.mode != Mode::Compare {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        ui.checkbox(&mut sheet.only_differences, "Only what differs");
        let mut charts = !sheet.charts_hidden;
        if ui.checkbox(&mut charts, "Charts").changed() {
            sheet.charts_hidden = !charts;
        }
        ui.separator();
        let count = two.comparison.differences.len();
        let words = match count {
            0 if !texts::of(two.left.compared(), two.right.compared()).is_empty() => {
                "Nothing differs but notes, see Change note".to_owned()
            }
            0 => "Nothing differs".to_owned(),
            1 => "1 difference".to_owned(),
            n => format!("{n} differences"),
        };
        ui.label(words);
        for (side, label, hover) in [
            (
                Side::Left,
                "← Carry everything",
                "Make the left like the right",
            ),
            (
                Side::Right,
                "Carry everything →",
                "Make the right like the left",
            ),
        ] {
            let enabled = count > 0 && two.of(side).editable();
            let button = ui.add_enabled(enabled, egui::Button::new(label));
            if button.on_hover_text(hover).clicked() {
                let from = two.of(side.other()).variant.name.clone();
                let what = format!("Carry everything across from “{from}”");
                commands.push(two.carry_to(side, CarryScope::Everything, what));
            }
        }
    });
}

/// A box that lists every variant of every open file, and earlier states picked in
/// the tree.
fn choice(ui: &mut Ui, view: &View<'_>, name: &str, pick: &mut Option<Pick>) {
    let words = pick
        .and_then(|p| Some((p, shown_parts(view, p)?)))
        .map_or_else(
            || "choose…".to_owned(),
            |(p, (document, variant))| match p.which {
                Which::Variant(_) if document.id == view.document.id => variant.name.to_string(),
                Which::Variant(_) => {
                    format!("{}, {}", view.state.name_of(document), variant.name)
                }
                Which::Earlier(place) => {
                    let kept = document.formula().history.get(place);
                    let at = kept.map_or_else(String::new, |k| document.host.short_time(&k.at));
                    format!("{} ({at})", variant.name)
                }
            },
        );
    let response = ComboBox::from_id_salt(name)
        .width(170.0)
        .selected_text(words.clone())
        .truncate()
        .show_ui(ui, |ui| {
            for document in view.state.documents() {
                if view.state.documents().len() > 1 {
                    ui.label(theme::small(ui, view.state.name_of(document)));
                }
                for variant in &document.formula().variants {
                    let here = Pick {
                        document: document.id,
                        which: Which::Variant(variant.id),
                    };
                    let mut words = variant.name.to_string();
                    if variant.archived {
                        words.push_str(" (no longer used)");
                    }
                    // Several files may have variants of one name.
                    let full = format!("{}, {words}", view.state.name_of(document));
                    ui.push_id((document.id.0, variant.id.0), |ui| {
                        let chosen = *pick == Some(here);
                        let item = ui.selectable_label(chosen, words);
                        item.widget_info(|| {
                            egui::WidgetInfo::selected(egui::Role::Button, true, chosen, &full)
                        });
                        if item.clicked() {
                            *pick = Some(here);
                        }
                    });
                }
            }
        })
        .response;
    response.widget_info(|| {
        let mut info = egui::WidgetInfo::labeled(egui::Role::ComboBox, true, name);
        info.current_text_value = Some(words.clone());
        info
    });
}

/// There is nothing to compare with yet.
fn alone(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ui.add_space(theme::GAP * 3.0);
    ui.vertical_centered(|ui| {
        ui.label(theme::heading("One variant so far"));
        ui.label("Make a copy to try a change in, or open a second file to compare with.");
        ui.add_space(theme::TIGHT);
        if ui.button("Make a copy of this variant").clicked() {
            commands.push(Command::Edit(branch(view, view.variant)));
        }
        if ui.button("Open a second file…").clicked() {
            commands.push(Command::Open);
        }
    });
}

/// The edit that branches a variant under the next free name.
fn branch(view: &View<'_>, variant: &Variant) -> Edit {
    let formula = view.formula;
    let name = (2..1000)
        .map(|n| format!("{} {n}", variant.name))
        .find(|name| formula.variants.iter().all(|v| *v.name != **name))
        .unwrap_or_else(|| format!("{} again", variant.name));
    Edit::Branch {
        name: name.into(),
        note: "".into(),
        created: Some(view.state.today()),
    }
}

fn compare_ui(
    ui: &mut Ui,
    sheet: &mut SideBySideSheet,
    two: &Two<'_>,
    commands: &mut Vec<Command>,
) {
    let height = (ui.available_height() * 0.40).clamp(190.0, 330.0);
    ScrollArea::vertical()
        .id_salt("side by side")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            if !sheet.charts_hidden {
                let (left, right) = (two.left.title(&two.right), two.right.title(&two.left));
                let size = egui::vec2(ui.available_width() - 14.0, height);
                let sides = [two.left.twin(&left), two.right.twin(&right)];
                twin_chart(ui, Id::unique("twin chart"), sides, size);
                ui.add_space(theme::GAP);
            }
            rows::ui(ui, sheet.only_differences, two, commands);
            ui.add_space(theme::GAP);
            effect::ui(ui, sheet.only_differences, two, &mut sheet.figures);
            ui.add_space(theme::GAP);
        });
}
