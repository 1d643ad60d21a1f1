//! Taking in a recipe, a price list, materials or another shelf: look first, settle
//! every match, then take all of it or nothing.

use std::path::Path;
use std::sync::Arc;

use eframe::egui::{self, ComboBox, Grid, ScrollArea, TextEdit, Ui};
use egui_extras::{Column, TableBuilder};
use formulation::amount::number::DecimalMark;
use formulation::file::exchange::{self, Difference, Offered, Resolve, edits};
use formulation::file::table::columns::{Kind, Layout};
use formulation::file::table::price_list::{self, PriceList, looks_like_prices};
use formulation::file::table::recipe::{self, Choice, Proposal, Reconcile, Settings};
use formulation::file::table::{Table, read_text};
use formulation::finding::Level;
use formulation::inventory::inventory;
use formulation::naming::{Candidate, How, Resolver};
use formulation::own_shelf::ShelfEdit;

use super::{Ask, capital};
use crate::command::{Command, Pick, WorksCommand};
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::words::counted;

/// Height of a row of the proposal in points.
const ROW: f32 = 28.0;

/// What is taken in, and how far the maker has come.
#[derive(Default)]
pub struct BringIn {
    path: String,
    pasted: String,
    title: String,
    problem: Option<String>,
    stage: Stage,
}

#[derive(Default)]
enum Stage {
    /// A file or a pasted table is asked for.
    #[default]
    Ask,
    /// Tables that hold a recipe or a price list.
    Tables(Box<Tables>),
    /// Materials, each against the shelf.
    Materials(Vec<(Difference, Resolve)>),
}

struct Tables {
    all: Vec<Table>,
    place: usize,
    prices: bool,
    settings: Settings,
    read: Result<Read, String>,
    /// Supplier of prices that name none.
    supplier: String,
}

enum Read {
    Recipe(Box<Proposal>),
    Prices(Box<PriceList>),
}

impl BringIn {
    /// Draws it.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        view: &View<'_>,
        asked: &mut Vec<Ask>,
        commands: &mut Vec<Command>,
    ) {
        ui.horizontal(|ui| {
            if ui.button("Back to the shelf").clicked() {
                asked.push(Ask::StopBringingIn);
            }
            ui.label(theme::heading(if self.title.is_empty() {
                "Bring in".to_owned()
            } else {
                format!("Bring in {}", self.title)
            }));
        });
        if let Some(problem) = &self.problem {
            ui.horizontal_top(|ui| {
                level_mark(ui, Level::Breach);
                ui.add(egui::Label::new(problem).wrap());
            });
        }
        match &mut self.stage {
            Stage::Ask => self.ask(ui, view, commands),
            Stage::Tables(tables) => {
                if tables.ui(ui, view, &self.title, commands) {
                    asked.push(Ask::StopBringingIn);
                }
            }
            Stage::Materials(differences) => {
                if materials(ui, view, differences, commands) {
                    asked.push(Ask::StopBringingIn);
                }
            }
        }
    }

    fn ask(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
        ui.add(
            egui::Label::new(
                "A recipe or a price list as CSV, TSV, XLSX, ODS or HTML; materials as RON, JSON, CSV or XLSX; or the shelf.ron of somebody else. Nothing is taken in before you have seen what would change.",
            )
            .wrap(),
        );
        let pick = egui::Id::unique("bring in");
        if let Some(path) = view.picked(pick) {
            self.path = path.display().to_string();
            self.open(view);
            return;
        }
        let mut open = false;
        ui.horizontal(|ui| {
            if ui.button("Choose a file…").clicked() {
                commands.push(Command::Pick(Pick {
                    id: pick,
                    title: "Choose what to bring in".to_owned(),
                    endings: Vec::new(),
                }));
            }
            let width = (ui.available_width() - 80.0).max(120.0);
            let field = ui
                .add(
                    TextEdit::singleline(&mut self.path)
                        .hint_text("or type its path")
                        .desired_width(width)
                        .min_size(egui::vec2(0.0, theme::FIELD))
                        .margin(egui::Margin::symmetric(6, 3)),
                )
                .accessible_name("Path of the file to bring in");
            let enter = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
            let ready = !self.path.trim().is_empty();
            open = (ui.add_enabled(ready, egui::Button::new("Open")).clicked() || enter) && ready;
        });
        ui.add_space(theme::GAP);
        ui.label("Or paste a table, copied from a spreadsheet or a web page");
        ScrollArea::vertical()
            .max_height(ui.available_height() - 48.0)
            .show(ui, |ui| {
                ui.add(
                    TextEdit::multiline(&mut self.pasted)
                        .desired_rows(12)
                        .desired_width(f32::INFINITY)
                        .font(egui::TextStyle::Monospace),
                )
                .accessible_name("Pasted table");
            });
        let pasted = !self.pasted.trim().is_empty();
        if ui
            .add_enabled(pasted, egui::Button::new("Look at the pasted table"))
            .clicked()
        {
            match read_text(&self.pasted) {
                Ok(tables) => self.look_at(tables, "the pasted table", view),
                Err(error) => self.problem = Some(error.to_string()),
            }
        }
        if open {
            self.open(view);
        }
    }

    fn open(&mut self, view: &View<'_>) {
        let path = Path::new(self.path.trim()).to_path_buf();
        let name = path
            .file_stem()
            .map(|s| s.to_string_lossy().into_owned())
            .unwrap_or_default();
        match exchange::open(&path) {
            Ok(Offered::Tables(tables)) => self.look_at(tables, &name, view),
            Ok(Offered::Shelf(offered)) => {
                let differences = exchange::differences(&offered, view.state.shelf());
                self.stage = Stage::Materials(
                    differences
                        .into_iter()
                        .map(|d| {
                            let choice = if d.present.is_none() {
                                Resolve::Take
                            } else {
                                Resolve::Keep
                            };
                            (d, choice)
                        })
                        .collect(),
                );
                self.title = name;
                self.problem = None;
            }
            Err(error) => self.problem = Some(error.to_string()),
        }
    }

    fn look_at(&mut self, tables: Vec<Table>, title: &str, view: &View<'_>) {
        let tables: Vec<Table> = tables.into_iter().filter(|t| !t.is_empty()).collect();
        if tables.is_empty() {
            self.problem = Some("There is no filled cell in it".to_owned());
            return;
        }
        let mut read = Tables {
            prices: false,
            place: 0,
            settings: Settings::default(),
            supplier: String::new(),
            read: Err(String::new()),
            all: tables,
        };
        title.clone_into(&mut self.title);
        // The first sheet that can be read, else the first, with what is wrong with it.
        for place in (0..read.all.len()).chain([0]) {
            read.place = place;
            read.prices = read.all.get(place).is_some_and(looks_like_prices);
            read.propose(view, title);
            if read.read.is_ok() {
                break;
            }
        }
        self.problem = None;
        self.stage = Stage::Tables(Box::new(read));
    }
}

impl Tables {
    /// Reads the table again as the settings say.
    fn propose(&mut self, view: &View<'_>, title: &str) {
        let Some(table) = self.all.get(self.place) else {
            return;
        };
        let matcher = Resolver::new(view.state.shelf());
        self.read = if self.prices {
            price_list::propose(table, &self.settings, &matcher)
                .map(|l| Read::Prices(Box::new(l)))
                .map_err(|e| e.to_string())
        } else {
            recipe::propose(table, title, &self.settings, &matcher)
                .map(|p| Read::Recipe(Box::new(p)))
                .map_err(|e| e.to_string())
        };
    }

    /// Draws the proposal; whether it was taken in.
    fn ui(
        &mut self,
        ui: &mut Ui,
        view: &View<'_>,
        title: &str,
        commands: &mut Vec<Command>,
    ) -> bool {
        if self.settings(ui) {
            self.propose(view, title);
        }
        let mut done = false;
        match &mut self.read {
            Err(problem) => {
                ui.horizontal_top(|ui| {
                    level_mark(ui, Level::Breach);
                    ui.add(egui::Label::new(problem.as_str()).wrap());
                });
            }
            Ok(Read::Recipe(proposal)) => {
                done = take_recipe(ui, view, proposal, commands);
                remarks(ui, &proposal.problems, &proposal.notes);
                recipe_lines(ui, view, proposal);
            }
            Ok(Read::Prices(list)) => {
                done = take_prices(ui, view, list, &mut self.supplier, commands);
                remarks(ui, &[], &list.notes);
                price_lines(ui, view, list);
            }
        }
        done
    }

    /// Which sheet, what it is, and what its columns mean; whether one has changed.
    fn settings(&mut self, ui: &mut Ui) -> bool {
        let before = (self.place, self.prices, self.settings.clone());
        let mut layout = match &self.read {
            Ok(Read::Recipe(p)) => p.layout.clone(),
            Ok(Read::Prices(p)) => p.layout.clone(),
            Err(_) => self.settings.layout.clone().unwrap_or_default(),
        };
        let recognised = layout.clone();
        ui.horizontal_wrapped(|ui| {
            if self.all.len() > 1 {
                let name = |n: usize| {
                    self.all
                        .get(n)
                        .map(|t| {
                            if t.name.is_empty() {
                                format!("Table {}", n + 1)
                            } else {
                                t.name.clone()
                            }
                        })
                        .unwrap_or_default()
                };
                ComboBox::from_id_salt("sheet")
                    .selected_text(name(self.place))
                    .show_ui(ui, |ui| {
                        for n in 0..self.all.len() {
                            ui.selectable_value(&mut self.place, n, name(n));
                        }
                    })
                    .response
                    .accessible_name("Sheet of the file");
            }
            ui.selectable_value(&mut self.prices, false, "A recipe");
            ui.selectable_value(&mut self.prices, true, "Prices or materials");
            ui.separator();
            let mark = &mut self.settings.mark;
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
            if !self.prices {
                let total = &mut self.settings.reconcile;
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
        });
        if let Some(table) = self.all.get(self.place) {
            egui::CollapsingHeader::new("Columns")
                .id_salt("columns")
                .show(ui, |ui| {
                    columns(ui, table, &mut layout);
                });
        }
        if layout != recognised {
            self.settings.layout = Some(layout);
        }
        if (before.0, before.1) != (self.place, self.prices) {
            self.settings.layout = None;
        }
        before != (self.place, self.prices, self.settings.clone())
    }
}

/// What each column means, above its first filled cells.
fn columns(ui: &mut Ui, table: &Table, layout: &mut Layout) {
    ScrollArea::horizontal()
        .id_salt("columns scroll")
        .show(ui, |ui| {
            Grid::new("columns grid").striped(true).show(ui, |ui| {
                for column in 0..table.width().min(24) {
                    let mut kind = layout
                        .columns
                        .get(column)
                        .copied()
                        .flatten()
                        .map(|c| c.kind);
                    let before = kind;
                    ComboBox::from_id_salt(("kind", column))
                        .selected_text(
                            kind.map_or_else(|| "left out".to_owned(), |k| k.label().to_owned()),
                        )
                        .width(110.0)
                        .show_ui(ui, |ui| {
                            ui.selectable_value(&mut kind, None, "left out");
                            for one in Kind::ALL {
                                ui.selectable_value(&mut kind, Some(one), one.label());
                            }
                        })
                        .response
                        .accessible_name(format!("Meaning of column {}", column + 1));
                    if kind != before {
                        layout.assign(column, kind);
                    }
                }
                ui.end_row();
                let first = layout.headings.unwrap_or(0);
                for row in (first..table.rows.len()).take(3) {
                    for column in 0..table.width().min(24) {
                        let words: String =
                            table.cell(row, column).words().chars().take(24).collect();
                        ui.label(theme::small(ui, words));
                    }
                    ui.end_row();
                }
            });
        });
}

fn remarks(ui: &mut Ui, problems: &[recipe::Problem], notes: &[String]) {
    let rows = problems.len() + notes.len();
    if rows == 0 {
        return;
    }
    ScrollArea::vertical()
        .id_salt("remarks")
        .max_height(96.0)
        .show(ui, |ui| {
            let problems = problems.iter().map(|p| (Level::Breach, p.to_string()));
            let notes = notes.iter().map(|n| (Level::Note, n.clone()));
            for (level, words) in problems.chain(notes) {
                ui.horizontal_top(|ui| {
                    level_mark(ui, level);
                    ui.add(egui::Label::new(words).wrap());
                });
            }
        });
}

fn take_recipe(
    ui: &mut Ui,
    view: &View<'_>,
    proposal: &mut Proposal,
    commands: &mut Vec<Command>,
) -> bool {
    let mut done = false;
    ui.horizontal_wrapped(|ui| {
        ui.label("Name");
        ui.add(
            TextEdit::singleline(&mut proposal.name)
                .desired_width(220.0)
                .min_size(egui::vec2(0.0, theme::FIELD)),
        )
        .accessible_name("Name of the formula");
        let new = proposal
            .lines
            .iter()
            .filter(|l| !matches!(l.choice, Choice::Known(..)))
            .count();
        let doubtful = proposal
            .lines
            .iter()
            .filter(|l| matches!(&l.choice, Choice::Known(_, how) if how.is_doubtful()))
            .count();
        let take = ui.add_enabled(
            proposal.problems.is_empty(),
            egui::Button::new("Make the formula"),
        );
        ui.label(theme::small(
            ui,
            format!(
                "{}, {}, {} to look at",
                counted(proposal.lines.len(), "line"),
                counted(new, "new material"),
                counted(doubtful, "match")
            ),
        ));
        if take.clicked() {
            let matcher = Resolver::new(view.state.shelf());
            match proposal.accept(&matcher) {
                Ok(accepted) => {
                    let new: Vec<ShelfEdit> = accepted
                        .new_materials
                        .into_iter()
                        .map(ShelfEdit::Put)
                        .collect();
                    if !new.is_empty() {
                        commands.push(Command::EditShelf(new));
                    }
                    commands.push(Command::AddFormula(Arc::new(accepted.formula)));
                    done = true;
                }
                Err(error) => {
                    commands.push(Command::Say(Level::Breach, capital(&error.to_string())));
                }
            }
        }
    });
    done
}

fn take_prices(
    ui: &mut Ui,
    view: &View<'_>,
    list: &PriceList,
    supplier: &mut String,
    commands: &mut Vec<Command>,
) -> bool {
    let mut done = false;
    ui.horizontal_wrapped(|ui| {
        ui.label("Supplier, where the list names none");
        ui.add(TextEdit::singleline(supplier).desired_width(160.0))
            .accessible_name("Supplier of the list");
        let take = ui.button("Take the list in");
        let new = list
            .prices
            .iter()
            .filter(|l| !matches!(l.choice, Choice::Known(..)))
            .count();
        ui.label(theme::small(
            ui,
            format!(
                "{}, {}",
                counted(list.prices.len(), "row"),
                counted(new, "new material")
            ),
        ));
        if take.clicked() {
            commands.append(&mut taken_prices(view, list, supplier));
            done = true;
        }
    });
    done
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

fn recipe_lines(ui: &mut Ui, view: &View<'_>, proposal: &mut Proposal) {
    let phases: Vec<String> = proposal.phases.iter().map(|p| p.letter.clone()).collect();
    lines_table(
        ui,
        "recipe lines",
        ["Row", "Phase", "Material", "Amount", "Taken as"],
        proposal.lines.len(),
        |n, column, ui| {
            let Some(line) = proposal.lines.get_mut(n) else {
                return;
            };
            match column {
                0 => ui.label(theme::small(ui, line.row.to_string())),
                1 => ui.label(phases.get(line.phase).map_or("", String::as_str)),
                2 => wanted(ui, &line.wanted.name, &line.wanted.inci),
                3 => ui.label(line.quantity.to_string()),
                _ => match_choice(
                    ui,
                    view,
                    line.row,
                    &line.candidates,
                    &line.suggestions,
                    &mut line.choice,
                ),
            };
        },
    );
}

fn price_lines(ui: &mut Ui, view: &View<'_>, list: &mut PriceList) {
    lines_table(
        ui,
        "price lines",
        ["Row", "Lot", "Material", "Price", "Taken as"],
        list.prices.len(),
        |n, column, ui| {
            let Some(line) = list.prices.get_mut(n) else {
                return;
            };
            match column {
                0 => ui.label(theme::small(ui, line.row.to_string())),
                1 => ui.label(line.lot.as_ref().map_or("", |l| l.code.as_str())),
                2 => wanted(ui, &line.wanted.name, &line.wanted.inci),
                3 => ui.label(line.price_words()),
                _ => match_choice(
                    ui,
                    view,
                    line.row,
                    &line.candidates,
                    &line.suggestions,
                    &mut line.choice,
                ),
            };
        },
    );
}

fn wanted(ui: &mut Ui, name: &str, inci: &str) -> egui::Response {
    let response = ui.add(egui::Label::new(name).truncate());
    if inci.is_empty() {
        response
    } else {
        response.on_hover_text(inci)
    }
}

fn lines_table(
    ui: &mut Ui,
    name: &str,
    titles: [&str; 5],
    count: usize,
    mut cell: impl FnMut(usize, usize, &mut Ui),
) {
    // The matches are read and changed, so they get what the names leave.
    let matches = (ui.available_width() * 0.4).clamp(240.0, 460.0);
    TableBuilder::new(ui)
        .id_salt(name)
        .auto_shrink(false)
        .cell_layout(egui::Layout::left_to_right(egui::Align::Center))
        .column(Column::exact(44.0))
        .column(Column::exact(70.0).clip(true))
        .column(Column::remainder().at_least(140.0).clip(true))
        .column(Column::exact(150.0).clip(true))
        .column(Column::exact(matches).clip(true))
        .header(ROW, |mut header| {
            for title in titles {
                header.col(|ui| {
                    ui.label(theme::small(ui, title));
                });
            }
        })
        .body(|body| {
            body.rows(ROW, count, |mut row| {
                let n = row.index();
                for column in 0..titles.len() {
                    row.col(|ui| cell(n, column, ui));
                }
            });
        });
}

/// What a row is taken as: a material found, any other of the shelf is reached by
/// putting it on the shelf first, a new one of unknown composition, or a pure substance.
fn match_choice(
    ui: &mut Ui,
    view: &View<'_>,
    row: usize,
    candidates: &[Candidate],
    suggestions: &[&'static str],
    choice: &mut Choice,
) -> egui::Response {
    let words = |choice: &Choice| match choice {
        Choice::Known(id, how) => {
            let name = view.state.shelf().get(id).map_or(id.as_str(), |m| &m.name);
            format!("{name} ({})", how.label())
        }
        Choice::New => "New material".to_owned(),
        Choice::Made(material) => material.name.to_string(),
        Choice::NewPure(inci) => {
            let name = inventory()
                .by_name(inci)
                .map(formulation::inventory::Entry::label_name);
            format!("New, pure {}", name.as_deref().unwrap_or(inci))
        }
    };
    let level = match choice {
        Choice::Known(_, how) if how.is_doubtful() => Some(Level::Caution),
        Choice::Known(..) => None,
        _ => Some(Level::Note),
    };
    if let Some(level) = level {
        level_mark(ui, level);
    }
    let before = choice.clone();
    let response = ComboBox::from_id_salt(("match", row))
        .selected_text(words(choice))
        .width(ui.available_width() - 8.0)
        .height(280.0)
        .show_ui(ui, |ui| {
            for candidate in candidates {
                let one = Choice::Known(candidate.id.clone(), candidate.how);
                let text = words(&one);
                ui.selectable_value(choice, one, text);
            }
            ui.selectable_value(choice, Choice::New, "New material, composition unknown");
            for inci in suggestions {
                let one = Choice::NewPure(inci);
                let text = words(&one);
                ui.selectable_value(choice, one, text);
            }
        })
        .response
        .accessible_name(format!("What row {row} is taken as"));
    // What the maker has chosen by hand is no longer in doubt.
    if *choice != before
        && let Choice::Known(_, how) = choice
    {
        *how = How::Chosen;
    }
    response
}

/// Draws materials offered against the shelf; whether they were taken in.
fn materials(
    ui: &mut Ui,
    view: &View<'_>,
    differences: &mut [(Difference, Resolve)],
    commands: &mut Vec<Command>,
) -> bool {
    if differences.is_empty() {
        ui.label("The shelf has all of it already; nothing would change");
        return false;
    }
    let mut done = false;
    ui.horizontal_wrapped(|ui| {
        let new = differences
            .iter()
            .filter(|(d, _)| d.present.is_none())
            .count();
        let differing = differences.len() - new;
        if theme::main_button(ui, "Take over as chosen").clicked() {
            let all: Vec<ShelfEdit> = differences
                .iter()
                .flat_map(|(difference, choice)| edits(difference, *choice, view.state.shelf()))
                .collect();
            commands.push(Command::EditShelf(all));
            done = true;
        }
        ui.label(theme::small(
            ui,
            format!("{new} new, {differing} that differ from yours"),
        ));
    });
    ScrollArea::vertical()
        .id_salt("differences")
        .auto_shrink(false)
        .show(ui, |ui| {
            for (difference, choice) in differences {
                ui.push_id(difference.offered.id.as_str(), |ui| {
                    ui.horizontal_wrapped(|ui| {
                        ui.label(theme::strong(difference.offered.name.as_ref()));
                        let all: &[Resolve] = if difference.present.is_none() {
                            &[Resolve::Take, Resolve::Keep]
                        } else {
                            &Resolve::ALL
                        };
                        for one in all {
                            let word = match (one, &difference.present) {
                                (Resolve::Take, None) => "Take it",
                                (Resolve::Keep, None) => "Leave it",
                                _ => one.label(),
                            };
                            ui.selectable_value(choice, *one, capital(word));
                        }
                    });
                    for change in &difference.changes {
                        ui.add(
                            egui::Label::new(theme::small(
                                ui,
                                format!("{}: {} → {}", change.field, change.before, change.after),
                            ))
                            .wrap(),
                        );
                    }
                });
            }
        });
    done
}
