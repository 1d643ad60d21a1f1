//! Tables that hold recipes or a list of prices: which of them, what is asked, what becomes
//! of each row, and taking them in.

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::{self, ComboBox, ScrollArea, TextEdit, Ui};
use formulation::amount::number::DecimalMark;
use formulation::file::answers::Answers;
use formulation::file::table::price_list::{PriceList, looks_like_prices};
use formulation::file::table::questions::Counts;
use formulation::file::table::recipe::{RecipeSettings, Reconcile};
use formulation::file::table::sections::{RecipeSection, sections};
use formulation::file::table::{Table, variants};
use formulation::finding::Level;
use formulation::naming::Resolver;
use formulation::own_shelf::ShelfEdit;

use super::super::capital;
use super::part::Part;
use super::reading::{Now, Read};
use super::{lines, questions, source};
use crate::command::{BooksCommand, Command};
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::widgets::work_bar::work_bar;
use crate::words::counted;

/// What is shown beside the questions.
#[derive(Clone, Copy, PartialEq, Eq, Default)]
enum Shown {
    /// The table as it is in the file.
    #[default]
    Source,
    /// What it becomes.
    Lines,
}

/// The tables of a file.
pub(super) struct Tables {
    title: String,
    /// Name of the file, by which answers about it are kept; empty for pasted text.
    file: String,
    parts: Vec<Part>,
    /// The one that is shown.
    place: usize,
    /// Those that are taken in.
    chosen: BTreeSet<usize>,
    /// Each becomes a formula of its own, not a variant of one.
    apart: bool,
    supplier: String,
    answers: Answers,
    shown: Shown,
    hidden_sheets: Vec<String>,
}

impl Tables {
    /// Finds what the tables hold; `None` if they are empty.
    pub(super) fn of(
        ui: &Ui,
        tables: &[Table],
        (title, file): (&str, &str),
        answers: Answers,
        view: &View<'_>,
    ) -> Option<Self> {
        let mut parts: Vec<Part> = Vec::new();
        let mut apart = false;
        let mut chosen = BTreeSet::from([0]);
        let prices: Vec<&Table> = tables
            .iter()
            .filter(|t| !t.hidden && looks_like_prices(t))
            .collect();
        if prices.is_empty() {
            let found = sections(tables);
            // What the list of them says needs no words.
            let (kept, _) = variants::usual(&found);
            // Versions and our own sheets are variants; other recipes stand on their own.
            apart = !found
                .iter()
                .any(|s| s.version || variants::is_ours(&s.table));
            chosen = kept.into_iter().collect();
            parts.extend(found.into_iter().map(|section| Part::of(section, false)));
        } else {
            parts.extend(
                prices
                    .into_iter()
                    .map(|table| Part::of(RecipeSection::whole(table), true)),
            );
        }
        if parts.is_empty() {
            let table = tables.iter().find(|t| t.active).or(tables.first())?;
            parts.push(Part::of(RecipeSection::whole(table), false));
        }
        if !file.is_empty() {
            for part in &mut parts {
                answers.settle(file, &mut part.settings);
            }
        }
        let mut found = Self {
            title: title.to_owned(),
            file: file.to_owned(),
            parts,
            place: chosen.first().copied().unwrap_or(0),
            chosen,
            apart,
            supplier: String::new(),
            answers,
            shown: Shown::default(),
            hidden_sheets: tables
                .iter()
                .filter(|t| t.hidden)
                .map(|t| t.name.clone())
                .collect(),
        };
        found.read_all(ui, view);
        Some(found)
    }

    /// The places of the recipes or lists that are taken in.
    fn taken(&self) -> Vec<usize> {
        if self.are_recipes() {
            self.chosen.iter().copied().collect()
        } else {
            vec![self.place]
        }
    }

    /// Lists of prices are taken in one by one, recipes together.
    fn are_recipes(&self) -> bool {
        self.parts.iter().all(|p| !p.prices)
    }

    /// Begins to read what is taken in or shown and not read yet, and takes up what was read;
    /// of the others one at a time, so that the list of them can say how far each is.
    fn read_all(&mut self, ui: &Ui, view: &View<'_>) {
        let mut wanted = self.taken();
        wanted.push(self.place);
        let other = (0..self.parts.len()).find(|n| {
            let done = |p: &Part| matches!(p.reading, Some(Now::Done(_)));
            !wanted.contains(n) && self.parts.get(*n).is_some_and(|p| !done(p))
        });
        for place in wanted.into_iter().chain(other) {
            if let Some(part) = self.parts.get_mut(place) {
                part.go_on(ui, (&self.title, &self.file), &self.answers, view);
            }
        }
        // The next one follows with the next frame; what goes on beside it wakes the window.
        let is_read = |n: usize| self.parts.get(n).is_some_and(|p| p.work().is_none());
        if other.is_some_and(is_read) {
            ui.request_repaint();
        }
    }

    /// Draws them; whether they were taken in.
    pub(super) fn ui(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) -> bool {
        self.read_all(ui, view);
        self.bar(ui);
        let taken = self.taken();
        let working = taken.into_iter().find(|n| {
            let part = self.parts.get(*n);
            part.is_some_and(|p| p.work().is_some())
        });
        if let Some(work) = working.and_then(|n| self.parts.get_mut(n)?.work_mut()) {
            work_bar(ui, work, "Looking for the materials on the shelf");
            return false;
        }
        let failed = self
            .parts
            .get(self.place)
            .and_then(Part::problem)
            .map(capital);
        if let (Some(problem), 1) = (&failed, self.parts.len()) {
            breach(ui, problem);
            if let Some(part) = self.parts.get_mut(self.place) {
                show_source(ui, part);
            }
            return false;
        }
        let done = self.take(ui, view, commands);
        let width = (ui.available_width() * 0.4).clamp(280.0, 560.0);
        egui::Panel::left("what is asked")
            .exact_size(width)
            .frame(egui::Frame::new().inner_margin(egui::Margin {
                right: 10,
                ..egui::Margin::ZERO
            }))
            .show(ui, |ui| {
                if self.parts.len() > 1 {
                    self.list(ui);
                }
                self.questions(ui, view);
            });
        let beside = egui::Frame::new().inner_margin(egui::Margin {
            left: 10,
            ..egui::Margin::ZERO
        });
        egui::CentralPanel::no_frame().frame(beside).show(ui, |ui| {
            if let Some(problem) = failed {
                breach(ui, &problem);
                if let Some(part) = self.parts.get_mut(self.place) {
                    show_source(ui, part);
                }
                return;
            }
            ui.horizontal(|ui| {
                ui.selectable_value(&mut self.shown, Shown::Source, "The table");
                ui.selectable_value(&mut self.shown, Shown::Lines, "What it becomes");
            });
            let Some(part) = self.parts.get_mut(self.place) else {
                return;
            };
            match self.shown {
                Shown::Source => show_source(ui, part),
                Shown::Lines => {
                    let answers = &mut self.answers;
                    let origin = part.section.table.origin.clone();
                    let origin = origin.as_deref();
                    let changed = match part.read_mut() {
                        Some(Read::Recipe(proposal)) => {
                            lines::recipe(ui, view, (proposal, origin), answers)
                        }
                        Some(Read::Prices(list)) => {
                            lines::prices(ui, view, (list, origin), answers)
                        }
                        None => false,
                    };
                    if changed {
                        part.touched();
                    }
                }
            }
        });
        done
    }

    /// What a recipe or list of the file is called.
    fn name(&self, place: usize) -> String {
        let part = self.parts.get(place);
        match part.map(|p| p.section.title()).unwrap_or_default() {
            "" => format!("Table {}", place + 1),
            title => title.to_owned(),
        }
    }

    /// All recipes or lists of the file: which are taken in, how far each is, and which is
    /// shown.
    fn list(&mut self, ui: &mut Ui) {
        /// Of the height; the questions below get the rest.
        const SHARE: f32 = 0.4;
        let recipes = self.are_recipes();
        ui.horizontal_wrapped(|ui| {
            ui.label(theme::strong(format!(
                "{} in the file",
                counted(self.parts.len(), if recipes { "recipe" } else { "list" })
            )));
            if recipes {
                let all = self.chosen.len() == self.parts.len();
                if ui
                    .add_enabled(!all, egui::Button::new("Take all"))
                    .clicked()
                {
                    self.chosen = (0..self.parts.len()).collect();
                }
            }
        });
        if recipes && self.chosen.len() > 1 {
            ui.horizontal_wrapped(|ui| {
                ui.selectable_value(&mut self.apart, false, "Variants of one formula");
                ui.selectable_value(&mut self.apart, true, "A formula each");
            });
        }
        ScrollArea::vertical()
            .id_salt("recipes of the file")
            .max_height(ui.available_height() * SHARE)
            .auto_shrink([false, true])
            .show(ui, |ui| {
                for place in 0..self.parts.len() {
                    ui.push_id(place, |ui| self.row(ui, place, recipes));
                }
            });
        ui.add_space(theme::GAP);
    }

    /// One of them.
    fn row(&mut self, ui: &mut Ui, place: usize, recipes: bool) {
        let name = self.name(place);
        let Some((level, words)) = self.parts.get_mut(place).map(Part::state) else {
            return;
        };
        ui.horizontal(|ui| {
            if recipes {
                let mut chosen = self.chosen.contains(&place);
                let check = ui
                    .checkbox(&mut chosen, "")
                    .on_hover_text("Take it in")
                    .accessible_name(format!("Take in {name}"));
                if check.changed() {
                    if chosen {
                        self.chosen.insert(place);
                    } else {
                        self.chosen.remove(&place);
                    }
                }
            }
            if let Some(level) = level {
                level_mark(ui, level);
            }
            // The state is read at one edge, whatever the length of the name.
            let width = (ui.available_width() - 130.0).max(60.0);
            let size = egui::vec2(width, theme::FIELD);
            let left = egui::Layout::left_to_right(egui::Align::Center);
            ui.allocate_ui_with_layout(size, left, |ui| {
                ui.set_min_width(width);
                let label = egui::Button::selectable(self.place == place, name.as_str());
                if ui.add(label.truncate()).on_hover_text(&name).clicked() {
                    self.place = place;
                }
            });
            ui.label(theme::small(ui, words));
        });
    }

    /// What it is, and how numbers are read.
    fn bar(&mut self, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            let Some(part) = self.parts.get_mut(self.place) else {
                return;
            };
            let before = (part.prices, part.settings.clone());
            ui.selectable_value(&mut part.prices, false, "A recipe");
            ui.selectable_value(&mut part.prices, true, "Prices or materials");
            ui.separator();
            let mark = &mut part.settings.mark;
            let word =
                |m: Option<DecimalMark>| m.map_or("Decimal mark as found", DecimalMark::label);
            ComboBox::from_id_salt("mark")
                .selected_text(word(*mark))
                .width(160.0)
                .show_ui(ui, |ui| {
                    for one in [None, Some(DecimalMark::Point), Some(DecimalMark::Comma)] {
                        ui.selectable_value(mark, one, word(one));
                    }
                })
                .response
                .accessible_name("Decimal mark");
            if !part.prices {
                let total = &mut part.settings.reconcile;
                ComboBox::from_id_salt("total")
                    .selected_text(capital(total.label()))
                    .width(200.0)
                    .show_ui(ui, |ui| {
                        for one in Reconcile::ALL {
                            ui.selectable_value(total, one, capital(one.label()));
                        }
                    })
                    .response
                    .on_hover_text("What to do if the lines do not add up to 100 %")
                    .accessible_name("If the lines do not add up to 100 %");
            }
            let table = &part.section.table;
            if !table.left_out.is_empty() || !table.struck.is_empty() {
                ui.checkbox(
                    &mut part.settings.hidden,
                    "Hidden and struck-through rows too",
                );
            }
            if before.0 != part.prices {
                part.settings.layout = None;
            }
            if before != (part.prices, part.settings.clone()) {
                part.reading = None;
                let settings = part.settings.clone();
                self.read_alike(&settings);
            }
        });
    }

    /// All recipes of a file are read in the same way.
    fn read_alike(&mut self, settings: &RecipeSettings) {
        for part in &mut self.parts {
            let before = part.settings.clone();
            part.settings.mark = settings.mark;
            part.settings.reconcile = settings.reconcile;
            part.settings.hidden = settings.hidden;
            if before != part.settings {
                part.reading = None;
            }
        }
    }

    /// The name of what is taken in and the button that does it; whether it was pressed.
    fn take(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) -> bool {
        let mut done = false;
        let (taken, open) = (self.taken(), self.open_questions());
        let asked = match open {
            0 => "nothing asked".to_owned(),
            open => format!("{} open", counted(open, "question")),
        };
        ui.horizontal_wrapped(|ui| {
            // The name is that of the first variant, or of the one shown of several formulas.
            let readable = |n: &usize| self.parts.get(*n).is_some_and(|p| p.read().is_some());
            let shown = Some(self.place).filter(|n| self.apart && taken.contains(n) && readable(n));
            let first = shown.or_else(|| taken.iter().copied().find(readable));
            let formulas = taken.iter().filter(|n| readable(n)).count();
            let blocked = taken.iter().any(|n| {
                let problems =
                    |read: &Read| matches!(read, Read::Recipe(p) if !p.problems.is_empty());
                self.parts
                    .get(*n)
                    .and_then(Part::read)
                    .is_some_and(problems)
            });
            let words = match formulas {
                0 | 1 => "Make the formula".to_owned(),
                many if self.apart => format!("Make {many} formulas"),
                many => format!("Make one formula of {many} variants"),
            };
            let Some(part) = first.and_then(|n| self.parts.get_mut(n)) else {
                ui.label("Choose what to take in");
                return;
            };
            let days_said = part.settings.days.is_some();
            let (typed, take) = match part.read_mut() {
                Some(Read::Recipe(proposal)) => {
                    ui.label("Name");
                    let typed = ui
                        .add(
                            TextEdit::singleline(&mut proposal.name)
                                .desired_width(220.0)
                                .min_size(egui::vec2(0.0, theme::FIELD)),
                        )
                        .accessible_name("Name of the formula");
                    (typed, ui.add_enabled(!blocked, egui::Button::new(words)))
                }
                Some(Read::Prices(list)) => {
                    ui.label("Supplier, where the list names none");
                    let typed = ui
                        .add(TextEdit::singleline(&mut self.supplier).desired_width(160.0))
                        .accessible_name("Supplier of the list");
                    // A wrong day of expiry would look like any other.
                    let days_are_clear = list.open_days.is_none() || days_said;
                    let take = egui::Button::new("Take the list in");
                    let take = ui
                        .add_enabled(days_are_clear, take)
                        .on_disabled_hover_text("Say first what stands first in its days");
                    (typed, take)
                }
                None => return,
            };
            // Enter leads on to the button, which takes in what one has looked at.
            if typed.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter)) {
                take.request_focus();
            }
            let press = take.clicked();
            let counts = self.row_counts();
            let words = counts.words();
            let words = format!("{}; {asked}", words.trim_end_matches('.'));
            ui.label(theme::small(ui, words));
            if let Some(lost) = counts.lost_words() {
                questions::remark(ui, Level::Breach, &lost);
            }
            if press {
                done = self.take_in(view, commands);
            }
        });
        done
    }

    /// What becomes of the rows of all that is taken in.
    fn row_counts(&mut self) -> Counts {
        let taken = self.taken().into_iter();
        taken
            .filter_map(|place| self.parts.get_mut(place)?.counts())
            .sum()
    }

    /// Keeps what was settled about the file for the next time that it is brought in.
    fn learn(&mut self) {
        if self.file.is_empty() {
            return;
        }
        for place in self.taken() {
            let Some(part) = self.parts.get(place) else {
                continue;
            };
            self.answers.learn_settings(&self.file, &part.settings);
            if let Some(Read::Recipe(proposal)) = part.read() {
                let settings = &part.settings;
                self.answers.learn_amounts(&self.file, proposal, settings);
            }
        }
    }

    fn take_in(&mut self, view: &View<'_>, commands: &mut Vec<Command>) -> bool {
        let matcher = Resolver::new(view.state.shelf());
        let mut recipes = Vec::new();
        let mut new: Vec<ShelfEdit> = Vec::new();
        let mut said = Vec::new();
        let mut left: Vec<String> = Vec::new();
        for place in self.taken() {
            let Some(part) = self.parts.get(place) else {
                continue;
            };
            match part.read() {
                Some(Read::Recipe(proposal)) => match proposal.accept(&matcher) {
                    Ok(accepted) => {
                        new.extend(accepted.new_materials.into_iter().map(ShelfEdit::Put));
                        recipes.push((accepted.formula, &part.section));
                    }
                    Err(error) => {
                        let words = capital(&error.to_string());
                        commands.push(Command::ShowMessage(Level::Breach, words));
                        return false;
                    }
                },
                Some(Read::Prices(list)) => said = taken_prices(view, list, &self.supplier),
                None => left.push(part.section.title().to_owned()),
            }
        }
        if !new.is_empty() {
            commands.push(Command::EditShelf(new));
        }
        if self.apart {
            for (mut formula, section) in recipes {
                // What names no recipe goes by its sheet, not all by the file.
                if *formula.name == *self.title && !section.title().is_empty() {
                    formula.name = section.title().into();
                }
                commands.push(Command::AddFormula(Arc::new(formula)));
            }
        } else if let Some(formula) = variants::joined(recipes) {
            commands.push(Command::AddFormula(Arc::new(formula)));
        }
        commands.append(&mut said);
        if !left.is_empty() {
            let words = format!(
                "Not taken in, because it cannot be read: {}",
                left.join(", ")
            );
            commands.push(Command::ShowMessage(Level::Caution, words));
        }
        self.learn();
        if let Err(error) = self.answers.save(view.state.folders.answers().as_deref()) {
            commands.push(Command::ShowMessage(
                Level::Caution,
                capital(&error.to_string()),
            ));
        }
        true
    }

    /// How many questions are open in all that is taken in.
    fn open_questions(&mut self) -> usize {
        let mut open = 0;
        for place in self.taken() {
            let Some(part) = self.parts.get_mut(place) else {
                continue;
            };
            open += part.open();
        }
        open
    }

    /// Questions first, then what was assumed, then what was left out.
    fn questions(&mut self, ui: &mut Ui, view: &View<'_>) {
        let place = self.place;
        ScrollArea::vertical()
            .id_salt(("questions", place))
            .auto_shrink(false)
            .show(ui, |ui| {
                for name in &self.hidden_sheets {
                    let words = format!("the hidden sheet “{name}” was left out");
                    questions::remark(ui, Level::Caution, &words);
                }
                let mut answered = questions::Answered::default();
                if let Some(part) = self.parts.get_mut(place) {
                    ui.push_id(place, |ui| {
                        answered = questions::ui(ui, view, part, &mut self.answers);
                    });
                }
                let questions::Answered { kinds, materials } = answered;
                // The same words mean the same in every recipe of the file.
                for (wanted, choice) in materials {
                    for part in &mut self.parts {
                        part.choose(&wanted, &choice);
                    }
                }
                // What the product is holds for all variants of it.
                if let Some(kinds) = kinds {
                    let apart = self.apart || !self.chosen.contains(&place);
                    let parts = self.parts.iter_mut().enumerate();
                    for (_, part) in parts.filter(|(n, _)| !apart || *n == place) {
                        part.settings.kinds = Some(kinds);
                        part.reading = None;
                    }
                }
            });
    }
}

fn breach(ui: &mut Ui, problem: &str) {
    ui.horizontal_top(|ui| {
        level_mark(ui, Level::Breach);
        ui.add(egui::Label::new(problem).wrap());
    });
}

/// The table as it is in the file, where what a column holds can be changed.
fn show_source(ui: &mut Ui, part: &mut Part) {
    let mut layout = part.layout();
    let before = layout.clone();
    let taken = source::Taken { read: part.read() };
    source::ui(ui, &part.section.table, &mut layout, taken);
    if layout != before {
        part.settings.layout = Some(layout);
        part.reading = None;
    }
}

/// New materials go onto the shelf, offers and lots into the stock.
fn taken_prices(view: &View<'_>, list: &PriceList, supplier: &str) -> Vec<Command> {
    let books = &view.state.books;
    let mut stock = books.stock().clone();
    let matcher = Resolver::new(view.state.shelf());
    let accepted = list.accept(&matcher, supplier.trim(), view.state.today());
    let known = accepted.put_into(&mut stock);
    let taken = accepted.offers.len() + accepted.lots.len() - known.len();
    let new = accepted.new_materials.len();
    let mut commands = Vec::new();
    if new > 0 {
        let edits = accepted.new_materials.into_iter().map(ShelfEdit::Put);
        commands.push(Command::EditShelf(edits.collect()));
    }
    if taken > 0 {
        let books = (stock, books.workshop().clone());
        commands.push(Command::Books(BooksCommand::SetStock(Box::new(books))));
    }
    let left = if known.is_empty() {
        String::new()
    } else {
        let known: Vec<String> = known.iter().map(ToString::to_string).collect();
        format!("; left as it is: lot {}", known.join(", "))
    };
    let words = format!(
        "{} on the shelf, {} in the stock{left}",
        counted(new, "new material"),
        counted(taken, "offer or lot")
    );
    commands.push(Command::ShowMessage(Level::Note, words));
    commands
}
