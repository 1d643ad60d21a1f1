//! Taking in a recipe, a price list, materials or another shelf: look first, settle what is
//! asked, then take all of it or nothing.

mod lines;
mod materials;
mod part;
mod questions;
mod reading;
mod source;
mod tables;

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

use eframe::egui::{self, ScrollArea, TextEdit, Ui};
use formulation::file::answers::Answers;
use formulation::file::exchange::{self, OfferedMaterial, Resolve, ShelfImport};
use formulation::file::table::Table;
use formulation::finding::Level;

use super::Ask;
use crate::command::{Command, Pick};
use crate::state::View;
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::widgets::work_bar::work_bar;
use crate::work::WorkState;
use reading::{Now, Opening};
use tables::Tables;

/// What is taken in, and how far the maker has come.
#[derive(Default)]
pub struct BringIn {
    path: String,
    pasted: String,
    title: String,
    /// Name of the file, by which answers about it are kept; empty for pasted text.
    file: String,
    problem: Option<String>,
    stage: Stage,
    /// A file to be opened at the next frame.
    next: Option<PathBuf>,
    /// Text to be looked at at the next frame.
    next_text: Option<String>,
    /// The path was asked for: the cursor goes there once.
    greeted: bool,
}

#[derive(Default)]
enum Stage {
    /// A file or a pasted table is asked for.
    #[default]
    Ask,
    /// A file is being read.
    Opening(Opening),
    /// Tables that hold recipes or a price list.
    Tables(Box<Tables>),
    /// Materials, each against the shelf.
    Materials(Vec<(OfferedMaterial, Resolve)>),
}

impl BringIn {
    /// Begins with a file.
    pub(super) fn of_file(path: PathBuf) -> Self {
        Self {
            next: Some(path),
            ..Self::default()
        }
    }

    /// Begins with pasted text.
    pub(super) fn of_text(text: String) -> Self {
        Self {
            next_text: Some(text),
            ..Self::default()
        }
    }

    /// Draws it.
    pub(super) fn ui(
        &mut self,
        ui: &mut Ui,
        view: &View<'_>,
        asked: &mut Vec<Ask>,
        commands: &mut Vec<Command>,
    ) {
        if let Some(path) = self.next.take() {
            self.path = path.display().to_string();
            self.open(ui);
        }
        if let Some(text) = self.next_text.take() {
            self.pasted = text;
            self.look_at_pasted(ui);
        }
        self.follow(ui, view);
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
            Stage::Opening(Now::Working(work)) => work_bar(ui, work, "Reading the file"),
            Stage::Opening(Now::Done(_)) => {}
            Stage::Tables(tables) => {
                if tables.ui(ui, view, commands) {
                    asked.push(Ask::StopBringingIn);
                }
            }
            Stage::Materials(differences) => {
                if materials::ui(ui, view, differences, commands) {
                    asked.push(Ask::StopBringingIn);
                }
            }
        }
    }

    fn ask(&mut self, ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
        ui.add(
            egui::Label::new(
                "A recipe or a price list as CSV, TSV, XLSX, ODS, HTML, Markdown or text; materials as RON, JSON, CSV or XLSX; or the shelf.ron of somebody else. Nothing is taken in before you have seen what would change.",
            )
            .wrap(),
        );
        let pick = egui::Id::unique("bring in");
        if let Some(path) = view.picked(pick) {
            self.path = path.display().to_string();
            self.open(ui);
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
            if !std::mem::replace(&mut self.greeted, true) {
                field.request_focus();
            }
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
            self.look_at_pasted(ui);
        }
        if open {
            self.open(ui);
        }
    }

    fn open(&mut self, ui: &Ui) {
        let path = Path::new(self.path.trim()).to_path_buf();
        let words = |name: Option<&OsStr>| {
            name.map(|name| name.to_string_lossy().into_owned())
                .unwrap_or_default()
        };
        self.title = words(path.file_stem());
        self.file = words(path.file_name());
        self.problem = None;
        self.stage = Stage::Opening(reading::open(ui.ctx(), path));
    }

    fn look_at_pasted(&mut self, ui: &Ui) {
        "the pasted table".clone_into(&mut self.title);
        self.file.clear();
        self.problem = None;
        self.stage = Stage::Opening(reading::paste(ui.ctx(), self.pasted.clone()));
    }

    /// Goes on when a file has been read.
    fn follow(&mut self, ui: &Ui, view: &View<'_>) {
        let Stage::Opening(opening) = &mut self.stage else {
            return;
        };
        if let Now::Working(work) = opening {
            work.poll();
            if work.is_going() {
                return;
            }
            *opening = match (work.take(), work.standing()) {
                (Some(((), answer)), _) => Now::Done(answer),
                (None, Some(WorkState::Failed(why))) => Now::Done(Err(why.to_owned())),
                (None, _) => {
                    self.stage = Stage::Ask;
                    return;
                }
            };
        }
        let Stage::Opening(Now::Done(answer)) = std::mem::take(&mut self.stage) else {
            return;
        };
        match answer {
            Ok(ShelfImport::Tables(tables)) => self.look_at(ui, tables, view),
            Ok(ShelfImport::Shelf(offered, left_out)) => {
                self.problem = (!left_out.is_empty()).then(|| left_out.join("\n"));
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
            }
            Err(problem) => {
                self.stage = Stage::Ask;
                self.title.clear();
                self.problem = Some(problem);
            }
        }
    }

    fn look_at(&mut self, ui: &Ui, tables: Vec<Table>, view: &View<'_>) {
        let tables: Vec<Table> = tables.into_iter().filter(|t| !t.is_empty()).collect();
        // Answers that cannot be read are no reason to stop; they are asked for again.
        let answers = match Answers::read(view.state.folders.answers().as_deref()) {
            Ok(answers) => answers,
            Err(error) => {
                self.problem = Some(error.to_string());
                Answers::default()
            }
        };
        if let Some(read) = Tables::of(ui, &tables, (&self.title, &self.file), answers, view) {
            self.stage = Stage::Tables(Box::new(read));
        } else {
            self.stage = Stage::Ask;
            self.problem = Some("There is no filled cell in it".to_owned());
        }
    }
}
