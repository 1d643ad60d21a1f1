//! Tables that hold recipes or a list of prices: which of them, what is asked, what becomes
//! of each row, and taking them in.

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::{self, ComboBox, ScrollArea, TextEdit, Ui};
use formulation::amount::number::DecimalMark;
use formulation::file::answers::Answers;
use formulation::file::table::columns::Layout;
use formulation::file::table::price_list::{PriceList, looks_like_prices};
use formulation::file::table::questions::{self as asked_in, Asked, Question};
use formulation::file::table::recipe::{Choice, Reconcile, Settings};
use formulation::file::table::sections::{Section, sections};
use formulation::file::table::{Table, variants};
use formulation::finding::Level;
use formulation::naming::{Resolver, Wanted};
use formulation::own_shelf::ShelfEdit;

use super::super::capital;
use super::reading::{self, Now, Read, Reading};
use super::{lines, questions, source};
use crate::command::{Command, WorksCommand};
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::words::counted;

/// A recipe or a list of the file.
pub(super) struct Part {
    pub(super) section: Section,
    prices: bool,
    pub(super) settings: Settings,
    reading: Option<Reading>,
    /// Rows whose amounts the maker has agreed to.
    pub(super) agreed: BTreeSet<usize>,
    /// What is asked, worked out anew after every change.
    open: Option<Arc<[Question]>>,
}

impl Part {
    fn of(section: Section, prices: bool) -> Self {
        let settings = Settings {
            layout: section.layout.clone(),
            ..Settings::default()
        };
        Self {
            section,
            prices,
            settings,
            reading: None,
            agreed: BTreeSet::new(),
            open: None,
        }
    }

    /// What is asked about it.
    pub(super) fn questions(&mut self) -> Arc<[Question]> {
        if let Some(open) = &self.open {
            return Arc::clone(open);
        }
        let open: Arc<[Question]> = match self.read() {
            Some(Read::Recipe(proposal)) => asked_in::questions(&proposal.lines).into(),
            Some(Read::Prices(list)) => asked_in::questions(&list.prices).into(),
            None => return Arc::new([]),
        };
        self.open = Some(Arc::clone(&open));
        open
    }

    /// Why it cannot be taken in.
    fn problem(&self) -> Option<&str> {
        match &self.reading {
            Some(Now::Done(Err(problem))) => Some(problem),
            _ => None,
        }
    }

    /// Takes a material as written for something wherever it comes up.
    fn choose(&mut self, wanted: &Wanted, choice: &Choice) {
        let count = match self.read_mut() {
            Some(Read::Recipe(proposal)) => asked_in::settle(&mut proposal.lines, wanted, choice),
            Some(Read::Prices(list)) => asked_in::settle(&mut list.prices, wanted, choice),
            None => 0,
        };
        if count > 0 {
            self.touched();
        }
    }

    /// Something of it was settled or read anew.
    pub(super) fn touched(&mut self) {
        self.open = None;
    }

    pub(super) fn read_mut(&mut self) -> Option<&mut Read> {
        match &mut self.reading {
            Some(Now::Done(Ok(read))) => Some(read),
            _ => None,
        }
    }

    /// What the settings say has changed.
    pub(super) fn begin_anew(&mut self) {
        self.reading = None;
    }

    fn read(&self) -> Option<&Read> {
        match &self.reading {
            Some(Now::Done(Ok(read))) => Some(read),
            _ => None,
        }
    }

    /// Puts in what was settled before.
    fn settle(&mut self, answers: &Answers, view: &View<'_>) {
        self.touched();
        let agreed = self.agreed.clone();
        let shelf = view.state.shelf();
        match self.read_mut() {
            Some(Read::Recipe(proposal)) => {
                settle_all(&mut proposal.lines, answers, shelf, &agreed);
            }
            Some(Read::Prices(list)) => settle_all(&mut list.prices, answers, shelf, &agreed),
            None => {}
        }
    }

    fn layout(&self) -> Layout {
        match self.read() {
            Some(Read::Recipe(proposal)) => proposal.layout.clone(),
            Some(Read::Prices(list)) => list.layout.clone(),
            None => self.settings.layout.clone().unwrap_or_default(),
        }
    }
}

fn settle_all<L: Asked>(
    lines: &mut [L],
    answers: &Answers,
    shelf: &formulation::shelf::Shelf,
    agreed: &BTreeSet<usize>,
) {
    for line in lines {
        if let Some(choice) = answers.choice(&line.wanted().name, shelf) {
            line.choose(choice);
        }
        if agreed.contains(&line.row()) {
            line.accept_amount();
        }
    }
}

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
    parts: Vec<Part>,
    place: usize,
    /// All recipes become variants of one formula.
    all: bool,
    /// Why one of several recipes was taken.
    why: Option<String>,
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
        title: &str,
        answers: Answers,
        view: &View<'_>,
    ) -> Option<Self> {
        let mut parts: Vec<Part> = Vec::new();
        let mut why = None;
        let (mut place, mut all) = (0, false);
        let prices: Vec<&Table> = tables
            .iter()
            .filter(|t| !t.hidden && looks_like_prices(t))
            .collect();
        if prices.is_empty() {
            let found = sections(tables);
            let (kept, assumed) = variants::usual(&found);
            place = kept.first().copied().unwrap_or(0);
            all = kept.len() > 1;
            // With all of them taken nothing is left open.
            why = assumed.filter(|_| !all || kept.len() < found.len());
            parts.extend(found.into_iter().map(|section| Part::of(section, false)));
        } else {
            parts.extend(
                prices
                    .into_iter()
                    .map(|table| Part::of(Section::whole(table), true)),
            );
        }
        if parts.is_empty() {
            let table = tables.iter().find(|t| t.active).or(tables.first())?;
            parts.push(Part::of(Section::whole(table), false));
        }
        let mut found = Self {
            title: title.to_owned(),
            parts,
            place,
            all,
            why,
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
        if self.all {
            (0..self.parts.len()).collect()
        } else {
            vec![self.place]
        }
    }

    /// Begins to read what is taken in and not read yet, and takes up what was read.
    fn read_all(&mut self, ui: &Ui, view: &View<'_>) {
        for place in self.taken() {
            let Some(part) = self.parts.get_mut(place) else {
                continue;
            };
            let mut fresh = false;
            if part.reading.is_none() {
                part.reading = Some(reading::read(
                    ui.ctx(),
                    &part.section.table,
                    &self.title,
                    part.prices,
                    &part.settings,
                    view.state.shelf(),
                ));
                fresh = true;
            }
            if let Some(Now::Working(work)) = &part.reading {
                fresh = true;
                match work.poll() {
                    Ok(answer) => part.reading = Some(Now::Done(answer)),
                    Err(true) => continue,
                    Err(false) => {
                        part.reading = Some(Now::Done(Err("stopped".to_owned())));
                    }
                }
            }
            if fresh {
                part.settle(&self.answers, view);
            }
        }
    }

    /// Draws them; whether they were taken in.
    pub(super) fn ui(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) -> bool {
        self.read_all(ui, view);
        self.bar(ui);
        let working =
            self.taken()
                .into_iter()
                .find_map(|n| match self.parts.get(n)?.reading.as_ref()? {
                    Now::Working(work) => Some(Arc::clone(&work.progress)),
                    Now::Done(_) => None,
                });
        if let Some(progress) = working {
            ui.horizontal(|ui| {
                let bar = egui::ProgressBar::new(progress.share().unwrap_or(0.0))
                    .desired_width(240.0)
                    .text("Looking for the materials on the shelf");
                ui.add(bar);
                if ui.button("Stop").clicked() {
                    progress.stop();
                }
            });
            // So that the bar moves.
            ui.request_repaint_after_secs(0.1);
            return false;
        }
        let failed = self.parts.get(self.place).and_then(|p| match &p.reading {
            Some(Now::Done(Err(problem))) => Some(problem.clone()),
            _ => None,
        });
        if let Some(problem) = failed {
            ui.horizontal_top(|ui| {
                level_mark(ui, Level::Breach);
                ui.add(egui::Label::new(capital(&problem)).wrap());
            });
            if let Some(part) = self.parts.get_mut(self.place) {
                show_source(ui, part);
            }
            return false;
        }
        let done = self.take(ui, view, commands);
        let width = (ui.available_width() * 0.44).clamp(280.0, 560.0);
        egui::Panel::left("what is asked")
            .exact_size(width)
            .frame(egui::Frame::new().inner_margin(egui::Margin {
                right: 10,
                ..egui::Margin::ZERO
            }))
            .show(ui, |ui| self.questions(ui, view));
        let beside = egui::Frame::new().inner_margin(egui::Margin {
            left: 10,
            ..egui::Margin::ZERO
        });
        egui::CentralPanel::no_frame().frame(beside).show(ui, |ui| {
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
                    let changed = match part.read_mut() {
                        Some(Read::Recipe(proposal)) => lines::recipe(ui, view, proposal, answers),
                        Some(Read::Prices(list)) => lines::prices(ui, view, list, answers),
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

    /// Which recipe, what it is, and how numbers are read.
    fn bar(&mut self, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            if self.parts.len() > 1 {
                let name = |n: usize| {
                    let title = self
                        .parts
                        .get(n)
                        .map(|p| p.section.title())
                        .unwrap_or_default();
                    if title.is_empty() {
                        format!("Table {}", n + 1)
                    } else {
                        title.to_owned()
                    }
                };
                ComboBox::from_id_salt("part")
                    .selected_text(name(self.place))
                    .show_ui(ui, |ui| {
                        for n in 0..self.parts.len() {
                            ui.selectable_value(&mut self.place, n, name(n));
                        }
                    })
                    .response
                    .accessible_name("Which list of the file");
                if self.parts.iter().all(|p| !p.prices) {
                    ui.checkbox(
                        &mut self.all,
                        format!("All {} as variants of one formula", self.parts.len()),
                    );
                }
            }
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

    /// Recipes that become variants of one formula are all read in the same way.
    fn read_alike(&mut self, settings: &Settings) {
        if !self.all {
            return;
        }
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
            let readable = |n: &&usize| self.parts.get(**n).is_some_and(|p| p.read().is_some());
            let first = taken.iter().find(readable).copied();
            let Some(part) = first.and_then(|n| self.parts.get_mut(n)) else {
                return;
            };
            let press = match part.read_mut() {
                Some(Read::Recipe(proposal)) => {
                    ui.label("Name");
                    ui.add(
                        TextEdit::singleline(&mut proposal.name)
                            .desired_width(220.0)
                            .min_size(egui::vec2(0.0, theme::FIELD)),
                    )
                    .accessible_name("Name of the formula");
                    ui.add_enabled(
                        proposal.problems.is_empty(),
                        egui::Button::new("Make the formula"),
                    )
                    .clicked()
                }
                Some(Read::Prices(_)) => {
                    ui.label("Supplier, where the list names none");
                    ui.add(TextEdit::singleline(&mut self.supplier).desired_width(160.0))
                        .accessible_name("Supplier of the list");
                    ui.button("Take the list in").clicked()
                }
                None => return,
            };
            ui.label(theme::small(ui, format!("{}; {asked}", self.row_words())));
            if press {
                done = self.take_in(view, commands);
            }
        });
        done
    }

    /// What becomes of the rows of all that is taken in.
    fn row_words(&self) -> String {
        let (mut taken, mut asked, mut rows) = (0, 0, 0);
        for place in self.taken() {
            let (of_part, count) = match self.parts.get(place).and_then(Part::read) {
                Some(Read::Recipe(proposal)) => (proposal.taken_and_asked(), proposal.rows),
                Some(Read::Prices(list)) => (list.taken_and_asked(), list.rows),
                None => continue,
            };
            taken += of_part.0;
            asked += of_part.1;
            rows += count;
        }
        format!(
            "{}: {taken} taken, {asked} asked, {} left out",
            counted(rows, "row"),
            rows.saturating_sub(taken + asked)
        )
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
                        commands.push(Command::Say(Level::Breach, words));
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
        if let Some(formula) = variants::joined(recipes) {
            commands.push(Command::AddFormula(Arc::new(formula)));
        }
        commands.append(&mut said);
        if !left.is_empty() {
            let words = format!(
                "Not taken in, because it cannot be read: {}",
                left.join(", ")
            );
            commands.push(Command::Say(Level::Caution, words));
        }
        if let Err(error) = self.answers.save(view.state.folders.answers().as_deref()) {
            commands.push(Command::Say(Level::Caution, capital(&error.to_string())));
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
            open += part.questions().len();
            open += usize::from(match part.read() {
                Some(Read::Recipe(p)) => p.kind_assumed && part.settings.kinds.is_none(),
                Some(Read::Prices(l)) => l.open_days.is_some() && part.settings.days.is_none(),
                None => false,
            });
        }
        open
    }

    /// Questions first, then what was assumed, then what was left out.
    fn questions(&mut self, ui: &mut Ui, view: &View<'_>) {
        let several = self.all && self.parts.len() > 1;
        ScrollArea::vertical()
            .id_salt("questions")
            .auto_shrink(false)
            .show(ui, |ui| {
                if let Some(why) = self.why.as_ref().filter(|_| !self.all) {
                    questions::remark(ui, Level::Caution, why);
                }
                for name in &self.hidden_sheets {
                    let words = format!("the hidden sheet “{name}” was left out");
                    questions::remark(ui, Level::Caution, &words);
                }
                let mut kinds = None;
                let mut materials = Vec::new();
                for place in self.taken() {
                    let Some(part) = self.parts.get_mut(place) else {
                        continue;
                    };
                    ui.push_id(place, |ui| {
                        if several {
                            ui.label(theme::strong(part.section.title()));
                        }
                        if let Some(problem) = part.problem() {
                            let words = format!("it cannot be taken in: {problem}");
                            questions::remark(ui, Level::Breach, &words);
                        }
                        let answered = questions::ui(ui, view, part, &mut self.answers);
                        kinds = kinds.or(answered.kinds);
                        materials.extend(answered.materials);
                    });
                }
                // The same words mean the same in every recipe of the file.
                for (wanted, choice) in materials {
                    for part in &mut self.parts {
                        part.choose(&wanted, &choice);
                    }
                }
                // What the product is holds for all variants of it.
                if let Some(kinds) = kinds {
                    for part in &mut self.parts {
                        part.settings.kinds = Some(kinds);
                        part.reading = None;
                    }
                }
            });
    }
}

/// The table as it is in the file, where what a column holds can be changed.
fn show_source(ui: &mut Ui, part: &mut Part) {
    let mut layout = part.layout();
    let before = layout.clone();
    let standing = |row: usize| match part.read() {
        Some(Read::Recipe(proposal)) => proposal.standing(row),
        Some(Read::Prices(list)) => list.standing(row),
        None => None,
    };
    let prices: &[usize] = match part.read() {
        Some(Read::Prices(list)) => &list.price_columns,
        _ => &[],
    };
    source::ui(ui, &part.section.table, &mut layout, prices, standing);
    if layout != before {
        part.settings.layout = Some(layout);
        part.reading = None;
    }
}

/// New materials go onto the shelf, offers and lots into the stock.
fn taken_prices(view: &View<'_>, list: &PriceList, supplier: &str) -> Vec<Command> {
    let works = &view.state.works;
    let mut stock = works.stock().clone();
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
        let books = (stock, works.workshop().clone());
        commands.push(Command::Works(WorksCommand::SetStock(Box::new(books))));
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
    commands.push(Command::Say(Level::Note, words));
    commands
}
