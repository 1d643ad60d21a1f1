//! What each command does.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui;
use formulation::edit::{Bound, Edit, Stop, apply_in_steps};
use formulation::evaluation::Evaluation;
use formulation::file::open::needs_bringing_in;
use formulation::file::table::clipboard::paste;
use formulation::finding::{Level, StatedField};
use formulation::formula::{Formula, ItemId, VariantId};
use formulation::lot_values::as_weighed;
use formulation::plain_words::sentence;
use formulation::stock::Lot;

use super::exports::{chart, finished_formula, formula_for_others};
use super::{Bench, ZOOM};
use crate::command::{BooksCommand, Command, Export, Making};
use crate::examples::Example;
use crate::help::HelpPlace;
use crate::sheets::SheetName;
use crate::sheets::formula::{FormulaSheet, neighbour};
use crate::state::reminders::Waiting;
use crate::state::{Document, DocumentId, Message, State};
use crate::theme;
use crate::widgets::focus;
use crate::words::counted;
use crate::work::WorkState;

impl Bench {
    /// Does what a command says: a line each, of the formula, of the workshop, of what is shown,
    /// of the settings, of files.
    pub(super) fn apply(&mut self, ctx: &egui::Context, command: Command) {
        let now = self.state.host.now();
        let state = &mut self.state;
        match command {
            Command::New => self.add(Formula::new("New formula").into()),
            Command::Begin(formula) => self.begin_formula(formula),
            Command::Edit(edit) => self.edit(None, &edit, false),
            Command::Draft(edit) => self.edit(None, &edit, true),
            Command::EditIn {
                document,
                variant,
                edit,
                draft,
            } => self.edit(Some((document, variant)), &edit, draft),
            Command::EditAll { what, edits } => self.edit_all(what, &edits),
            Command::OpenExample(example) => self.open_example(example),
            Command::Change { what, formula } => self.change(what, formula),
            Command::KeepDraft => state.documents_mut().iter_mut().for_each(Document::keep),
            Command::DropDraft => state.current_mut().drop_draft(),
            Command::Undo => self.step(Document::undo, "There is nothing to undo"),
            Command::Redo => self.step(Document::redo, "There is nothing to redo"),
            Command::GoTo(place) => self.go_to(place),
            Command::AddFormula(formula) => self.add_unsaved(formula),
            Command::PasteLines(text) => self.paste_lines(text),

            Command::EditShelf(edits) => state.edit_shelf(&edits, &now),
            Command::SettleConflict(conflict, edits) => {
                state.settle_conflict(&conflict, &edits, &now);
            }
            Command::MoveShelf(path) => self.set(|state| state.move_shelf(path, &now)),
            Command::Books(command) => self.books(command),
            Command::Note(events, by) => {
                let noted = state.note(events, &by);
                self.say_if_refused(noted);
            }
            Command::Remind => state.remind(),
            Command::LookElsewhere => state.look_elsewhere(),
            Command::PutOff(of) => state.put_off(&of),
            Command::AttendTo(of) => self.attend_to(of),

            Command::BringIn => self.bring_in(None),
            // What is no formula of ours is looked at before anything is taken in.
            Command::OpenPath(path) if needs_bringing_in(&path) => self.bring_in(Some(path)),
            Command::BringInFile(path) => self.bring_in(Some(path)),
            Command::BringInText(text) => self.bring_in_text(text),
            Command::Show(sheet) => self.sheet = sheet,
            Command::ShowDocument(id) => state.show(id),
            Command::Choose(lines) => state.current_mut().chosen = lines,
            Command::GoToLine(line) => self.choose_line(line).go_to(line),
            Command::SwapLine(line) => self.choose_line(line).swap(line),
            Command::FindMaterial => self.formula_sheet().find_material(),
            Command::OpenField(field) => self.open_field(field),
            Command::AdjustPh => self.formula_sheet().adjust_ph(),
            Command::Signatures => self.open_signatures(),
            Command::Help => self.toggle_help(ctx),
            Command::HelpAt(page, heading) => self.help.show(HelpPlace::at(page, heading)),
            Command::ShowMessage(level, text) => state.say(level, text),
            Command::DismissMessage => state.message = None,
            Command::PutAway(warning) => state.warnings.retain(|w| *w != warning),

            Command::AddRules(path) => self.add_rules(&path),
            Command::RemoveRules(path) => self.set(|state| state.remove_rules(&path)),
            Command::SetTheme(choice) => {
                ctx.set_theme(choice.preference());
                self.set(|state| state.settings.theme = choice);
            }
            Command::SetMotion(motion) => {
                theme::set_motion(ctx, motion);
                self.set(|state| state.settings.motion = motion);
            }
            Command::SetStep(step) => self.set(|state| state.settings.percent_step = step),
            Command::CloseHints => self.set(|state| state.settings.hints_closed = true),
            Command::ZoomIn => self.set_zoom(self.state.settings.zoom + 0.1),
            Command::ZoomOut => self.set_zoom(self.state.settings.zoom - 0.1),
            Command::ZoomReset => self.set_zoom(1.0),

            Command::Finish => self.make(ctx, finished_formula(&self.state)),
            Command::ExportFormula(form) => self.make(ctx, formula_for_others(&self.state, form)),
            Command::ExportChart(format) => self.make(ctx, chart(&self.state, format)),
            Command::Make(making) => self.make(ctx, making),
            Command::Open
            | Command::OpenTyped
            | Command::OpenPath(_)
            | Command::Reload
            | Command::Save
            | Command::SaveAs
            | Command::Close
            | Command::Quit
            | Command::Export(_)
            | Command::Pick(_)
            | Command::ShowRule(_)
            | Command::About => self.dialogs.apply(ctx, state, command),
        }
        ctx.request_repaint();
    }

    /// The Formula sheet, which is shown.
    const fn formula_sheet(&mut self) -> &mut FormulaSheet {
        self.sheet = SheetName::Formula;
        &mut self.sheets.formula
    }

    /// The Formula sheet with a line chosen.
    fn choose_line(&mut self, line: ItemId) -> &mut FormulaSheet {
        self.state.current_mut().chosen = [line].into();
        self.formula_sheet()
    }

    /// A formula in a document of its own.
    fn add(&mut self, formula: Arc<Formula>) {
        self.state.add(formula, None);
        self.sheet = SheetName::Formula;
    }

    /// The same of a formula that no file holds yet.
    fn add_unsaved(&mut self, formula: Arc<Formula>) {
        self.add(formula);
        self.state.current_mut().set_unsaved();
    }

    fn begin_formula(&mut self, formula: Arc<Formula>) {
        self.state
            .current_mut()
            .change("Begin the formula", formula);
        self.sheets.formula.find_material();
    }

    fn open_example(&mut self, example: Example) {
        match example.read() {
            Ok(formula) => {
                self.add(formula);
                match example.read_trials() {
                    Some(Ok(trials)) => self.state.set_example_trials(trials),
                    Some(Err(problem)) => self.state.say(Level::Caution, problem),
                    None => {}
                }
            }
            Err(problem) => self
                .dialogs
                .tell("The example could not be read", problem.to_string()),
        }
    }

    fn change(&mut self, what: Arc<str>, formula: Arc<Formula>) {
        self.state.message = None;
        self.state.current_mut().change(what, formula);
    }

    /// A step back or forth in the history.
    fn step(&mut self, go: impl FnOnce(&mut Document) -> bool, nothing: &str) {
        // What was told was about the state that is left.
        self.state.message = None;
        if !go(self.state.current_mut()) {
            self.state.say(Level::Note, nothing);
        }
    }

    fn go_to(&mut self, place: usize) {
        self.state.message = None;
        self.state.current_mut().go_to(place);
    }

    fn say_if_refused(&mut self, done: Result<(), String>) {
        if let Err(problem) = done {
            self.state.say(Level::Caution, problem);
        }
    }

    fn bring_in(&mut self, path: Option<PathBuf>) {
        self.sheets.shelf.bring_in(path);
        self.sheet = SheetName::Shelf;
    }

    fn bring_in_text(&mut self, text: String) {
        self.sheets.shelf.bring_in_text(text);
        self.sheet = SheetName::Shelf;
    }

    fn open_signatures(&mut self) {
        let record = self.state.books.open_path();
        self.signing.open(record.map(Path::to_path_buf));
    }

    fn toggle_help(&mut self, ctx: &egui::Context) {
        let open = match self.sheet {
            SheetName::Formula => self.sheets.formula.page_of_panel(),
            _ => None,
        };
        let region = focus::region_with_cursor(ctx);
        self.help
            .toggle(HelpPlace::of_focus(self.sheet, region, open));
    }

    /// Changes the settings, and keeps them.
    fn set(&mut self, change: impl FnOnce(&mut State)) {
        change(&mut self.state);
        self.save_settings();
    }

    fn add_rules(&mut self, path: &Path) {
        match self.state.add_rules(path) {
            Ok(()) => {
                let words = format!("Formulas are held against {} as well", path.display());
                self.set(|state| state.say(Level::Note, words));
            }
            Err(problem) => self.dialogs.tell("The rules could not be added", problem),
        }
    }

    /// Makes a file beside the window.
    fn make(&mut self, ctx: &egui::Context, making: Making) {
        self.state.not_made = None;
        let job = making.clone();
        self.making
            .begin(ctx, making, move |progress| job.make(progress));
        self.take_made(ctx);
    }

    /// Saves what was made where the person says, or tells why it could not be made: beside
    /// what asked for it, where something did.
    pub(super) fn take_made(&mut self, ctx: &egui::Context) {
        self.making.poll();
        if let Some(WorkState::Failed(why)) = self.making.standing() {
            self.dialogs.tell("The file could not be made", why);
            self.making.forget();
        }
        let Some((making, made)) = self.making.take() else {
            return;
        };
        match (made, making.asked_by) {
            (Ok(bytes), _) => {
                let export = Export {
                    title: making.title,
                    file_name: making.file_name,
                    bytes: bytes.into(),
                };
                let left = making.left_behind;
                self.dialogs.export(ctx, &self.state, export, left);
            }
            (Err(problem), Some(id)) => self.state.not_made = Some((id, problem)),
            (Err(problem), None) => self.dialogs.tell("The file could not be made", problem),
        }
        ctx.request_repaint();
    }

    /// Adds pasted lines as one step; what cannot be added as it stands is looked at first.
    fn paste_lines(&mut self, text: String) {
        let document = self.state.current();
        let variant = document.variant().id;
        match paste(document.formula(), variant, &text, self.state.shelf()) {
            Ok(pasted) => {
                let what = format!("Paste {}", counted(pasted.lines, "line"));
                let formula = Arc::new(pasted.formula);
                self.state.current_mut().change(what.as_str(), formula);
                let lines = counted(pasted.lines, "line");
                if pasted.assumed.is_empty() {
                    self.state.say(Level::Note, format!("{lines} pasted"));
                } else {
                    let assumed = pasted.assumed.join("; ");
                    let words = format!("{lines} pasted; look at: {assumed}");
                    self.state.say(Level::Caution, words);
                }
            }
            Err(problem) => {
                self.push(Command::BringInText(text));
                let words = format!("The pasted text was not added: {problem}");
                self.state.say(Level::Caution, words);
            }
        }
    }

    /// Opens the place where a field is stated.
    fn open_field(&mut self, field: StatedField) {
        let sheet = match field {
            StatedField::Label => SheetName::Label,
            StatedField::Percent(line)
            | StatedField::Purpose(line)
            | StatedField::Material(line) => {
                self.state.current_mut().chosen = [line].into();
                self.sheets.formula.open_field(field);
                SheetName::Formula
            }
            _ => {
                self.sheets.formula.open_field(field);
                SheetName::Formula
            }
        };
        self.sheet = sheet;
    }

    /// Opens what a reminder leads to, and takes it away.
    fn attend_to(&mut self, of: Waiting) {
        self.state.put_off(&of);
        match of {
            Waiting::Batch(code) => {
                self.books(BooksCommand::Resume(code));
                self.sheets.make.show_batch();
                self.sheet = SheetName::Make;
            }
            Waiting::Workshop => {
                self.sheets.make.show_calendar();
                self.sheet = SheetName::Make;
            }
            Waiting::Samples(path) => {
                self.commands.push(Command::OpenPath(path));
                self.commands.push(Command::Show(SheetName::Trials));
            }
            Waiting::OneProduct(path) => self.state.part_from_copy(&path),
        }
    }

    fn books(&mut self, command: BooksCommand) {
        let at = self.state.host.now();
        let names = self.state.names_kept();
        let came_in = self.came_in(&command);
        let found = self.mix_to_release(&command);
        let books = &mut self.state.books;
        books.call(names);
        let outcome = match command {
            BooksCommand::SetStock(set) => {
                let (stock, workshop) = *set;
                books.set_stock(stock, workshop)
            }
            BooksCommand::UndoStock => books.undo_stock(),
            BooksCommand::RedoStock => books.redo_stock(),
            BooksCommand::Begin(begun, by) => {
                let (opening, paper) = *begun;
                books.begin(opening, paper, &at, &by)
            }
            BooksCommand::Resume(code) => books.resume(&code),
            BooksCommand::Leave => {
                books.leave();
                Ok(())
            }
            BooksCommand::Record(event, by) => books.record(*event, &at, &by, found.as_ref()),
        };
        match outcome {
            Err(problem) => self.state.say(Level::Caution, problem),
            // What stood against it before no longer does.
            Ok(()) => match came_in {
                Some(words) => self.state.say(Level::Note, words),
                None => self.state.message = None,
            },
        }
    }

    /// The mix of the open batch as it was weighed, evaluated, where a command releases it.
    fn mix_to_release(&self, command: &BooksCommand) -> Option<Evaluation> {
        let BooksCommand::Record(event, _) = command else {
            return None;
        };
        event.releases()?;
        let record = self.state.books.open_record()?;
        let known = &self.state.makers_shelf().own().lots;
        as_weighed(record, known, self.state.context()).map(|found| found.evaluation)
    }

    /// What is told of a lot that comes into the stock.
    fn came_in(&self, command: &BooksCommand) -> Option<String> {
        let BooksCommand::SetStock(set) = command else {
            return None;
        };
        let known = &self.state.books.stock().lots;
        let is_new = |lot: &&Lot| known.iter().all(|k| k.id != lot.id);
        let lot = set.0.lots.iter().find(is_new)?;
        let name = self.state.shelf().get(&lot.material).map(|m| &m.name);
        let name = name.map_or(lot.material.as_str(), |name| name.as_ref());
        Some(format!("{} of {name} is in the stock", lot.id))
    }

    /// Applies an edit to a variant, the one worked on if none is named, as a draft or
    /// as a finished step.
    fn edit(&mut self, place: Option<(DocumentId, VariantId)>, edit: &Edit, draft: bool) {
        let step = self.state.settings.percent_step.percent();
        let document = match place {
            Some((id, _)) => match self.state.document_mut(id) {
                Some(document) => document,
                None => return,
            },
            None => self.state.current_mut(),
        };
        if !draft {
            document.keep();
        }
        let before = document.settled().clone();
        let variant = place.map_or(before.active, |(_, variant)| variant);
        let beside = match edit {
            Edit::RemoveLine(line) => neighbour(before.active(), *line),
            _ => None,
        };
        match apply_in_steps(&before, variant, edit, step) {
            Ok(applied) => {
                let what = edit.describe(&before, variant, applied.stop);
                let created = applied.created;
                if draft {
                    document.set_draft(what, applied.formula.into());
                } else {
                    document.change(what, applied.formula.into());
                }
                self.state.message = applied.stop.map(|stop| Message {
                    level: Level::Note,
                    text: stop_words(&before, variant, stop),
                });
                match (edit, created) {
                    (Edit::AddLine { material, .. }, Some(line)) => {
                        let name = material.name.clone();
                        self.state.settings.count_use(&material.id);
                        let counted = self.state.folders.write_settings(&self.state.settings);
                        let formula = self.state.current().formula();
                        if formula.active().is_filler(line) {
                            // Its percentage follows from the others.
                            self.sheets.formula.find_material();
                            self.sheets.formula.go_to(line);
                            let words = format!("{name} fills up to 100 %");
                            self.state.say(Level::Note, words);
                        } else {
                            self.sheets.formula.type_percent(line);
                        }
                        if let Err(problem) = counted {
                            self.state.say(Level::Caution, problem);
                        }
                    }
                    (Edit::AddPhase { .. } | Edit::AddStep { .. }, Some(id)) => {
                        self.sheets.formula.go_to(id);
                    }
                    // The cursor stays where the line was.
                    (Edit::RemoveLine(_), _) => match beside {
                        Some(line) => self.sheets.formula.focus_line(line),
                        None => self.sheets.formula.find_material(),
                    },
                    _ => {}
                }
            }
            Err(problem) => self
                .state
                .say(Level::Caution, sentence(&problem.to_string())),
        }
    }

    /// Applies several edits to the variant worked on as one step, or none of them.
    fn edit_all(&mut self, what: Arc<str>, edits: &[Edit]) {
        let step = self.state.settings.percent_step.percent();
        let document = self.state.current_mut();
        document.keep();
        let before = document.settled().clone();
        let after = edits
            .iter()
            .try_fold(Formula::clone(&before), |formula, edit| {
                apply_in_steps(&formula, before.active, edit, step).map(|applied| applied.formula)
            });
        match after {
            Ok(after) => document.change(what, after.into()),
            Err(problem) => self
                .state
                .say(Level::Caution, sentence(&problem.to_string())),
        }
    }

    /// Takes over a size; the next frame is drawn with it.
    fn set_zoom(&mut self, zoom: f32) {
        let zoom = ((zoom * 10.0).round() / 10.0).clamp(*ZOOM.start(), *ZOOM.end());
        self.state.settings.zoom = zoom;
        self.save_settings();
    }

    pub(super) fn save_settings(&mut self) {
        if let Err(problem) = self.state.folders.write_settings(&self.state.settings) {
            self.state.say(Level::Caution, problem);
        }
    }
}

/// Which line came to which bound, in words.
fn stop_words(formula: &Formula, variant: VariantId, stop: Stop) -> String {
    let name = formula
        .variant(variant)
        .and_then(|v| v.line(stop.line))
        .and_then(|l| formula.material(&l.material))
        .map_or("a line", |m| &m.name);
    let bound = match stop.bound {
        Bound::Zero => "at 0 %",
        Bound::Hundred => "at 100 %",
        Bound::OwnLowest => "at its own lowest percentage",
        Bound::OwnHighest => "at its own highest percentage",
        Bound::NothingGivesWay => {
            return format!("Stopped at {} %: no other line may give way", stop.reached);
        }
    };
    format!("Stopped at {} %: {name} is {bound}", stop.reached)
}
