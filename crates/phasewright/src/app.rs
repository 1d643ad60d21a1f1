//! The Bench: the window with its bars and sheets. It holds the state, draws the
//! frame and applies what was pushed while drawing.

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{
    self, Align, Button, Frame, Layout, Margin, Panel, Sense, Stroke, Ui, Vec2, WidgetInfo,
};
use formulation::edit::{Bound, Edit, Stop, apply};
use formulation::evaluation::Evaluation;
use formulation::file::finished;
use formulation::file::formula_export::{ExportForm, export, not_carried};
use formulation::file::open::needs_bringing_in;
use formulation::file::table::clipboard::{
    copied as lines_for_spreadsheets, looks_like_lines, paste,
};
use formulation::finding::{Field, Finding, Level, arisen};
use formulation::formula::{Formula, ItemId, VariantId};
use formulation::rules::rule_text;

use crate::broken;
use crate::command::{Command, Export, Pick, PictureFormat, TABLE, WorksCommand, entry_of};
use crate::dialogs::{Dialogs, sentence};
use crate::ending::EndAsked;
use crate::examples;
use crate::help::{HelpWindow, Place};
use crate::reminders;
use crate::sheets::formula::neighbour;
use crate::sheets::{SheetName, Sheets};
use crate::signing::SigningWindow;
use crate::state::disk::file_stem;
use crate::state::reminders::Waiting;
use crate::state::{DocumentId, Message, Motion, PercentStep, State, ThemeChoice, View};
use crate::theme;
use crate::watcher::Watcher;
use crate::widgets::composition_chart;
use crate::widgets::entry;
use crate::widgets::focus::{self, region};
use crate::widgets::follow_focus::follow_focus_everywhere;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::level_mark::level_mark;
use crate::words::counted;

/// Least and greatest size of everything.
const ZOOM: std::ops::RangeInclusive<f32> = 0.6..=2.5;

/// The least room, in points, in which no sheet is cut off.
const LEAST_ROOM: Vec2 = Vec2::new(1000.0, 560.0);

/// The least room of a sheet, without the bars around it; where there is less, because text
/// was made larger, the sheet is scrolled.
const LEAST_SHEET: Vec2 = Vec2::new(976.0, 430.0);

/// The zoom for a size that was chosen, in a window of a size in points at zoom 1. A window
/// too small shows everything smaller instead of cutting it off, for example on a screen with
/// many pixels a point; what was chosen larger is larger all the same.
fn zoom_for(chosen: f32, size: Vec2) -> f32 {
    let fit = size / LEAST_ROOM;
    let fit = fit.x.min(fit.y).clamp(*ZOOM.start(), 1.0);
    (chosen * fit).clamp(*ZOOM.start(), *ZOOM.end())
}

/// The window.
pub struct Bench {
    state: State,
    sheet: SheetName,
    sheets: Sheets,
    dialogs: Dialogs,
    commands: Vec<Command>,
    next_round: f64,
    title: String,
    last_change: Option<LastChange>,
    end: EndAsked,
    /// Sheets that met an error of their own, with its words and the state of the document
    /// in which they did.
    broken: Vec<BrokenSheet>,
    /// Errors one after the other, without a frame between them that could be drawn.
    errors: u32,
    help: HelpWindow,
    signing: SigningWindow,
    watcher: Option<Watcher>,
    said: Said,
}

/// What is read out by a screen reader without being asked.
#[derive(Default)]
struct Said {
    /// Which finding it is about, by rule and lines.
    of: Option<(Arc<str>, Vec<ItemId>)>,
    words: String,
    urgent: bool,
}

impl Said {
    /// Takes over what is new: a message, else what the last change caused. While one drags,
    /// figures in the words of the same finding change too fast to be read out.
    fn follow(&mut self, view: &View<'_>, caused: Option<&Finding>) {
        if let Some(message) = &view.state.message {
            self.of = None;
            self.words.clone_from(&message.text);
            self.urgent = message.level == Level::Breach;
            return;
        }
        let of = caused.map(|f| (f.rule.clone(), f.lines.clone()));
        if of == self.of && view.document.has_draft() {
            return;
        }
        self.of = of;
        self.urgent = caused.is_some_and(|f| f.level == Level::Breach);
        self.words = caused.map_or_else(String::new, |f| {
            format!("{}: {}", f.level.label(), f.message)
        });
    }

    /// Shows words in the rest of a row; a screen reader is told what is new in them.
    fn show(&self, ui: &mut Ui, words: &str, role: egui::Role) -> egui::Response {
        use egui::accesskit::Live;
        let p = theme::palette(ui);
        let galley = egui::WidgetText::from(words).into_galley(
            ui,
            Some(egui::TextWrapMode::Truncate),
            ui.available_width(),
            egui::TextStyle::Body,
        );
        let (_, rect) = ui.allocate_space(galley.size());
        let sense = if role == egui::Role::Button {
            Sense::click()
        } else {
            Sense::hover()
        };
        let response = ui.interact(rect, egui::Id::unique("what is told"), sense);
        if response.hovered() && sense.senses_click() || response.has_focus() {
            ui.painter().rect_filled(rect.expand(2.0), 4.0, p.hovered);
        }
        if response.has_focus() {
            let ring = Stroke::new(1.5, p.accent);
            let outside = egui::StrokeKind::Outside;
            ui.painter()
                .rect_stroke(rect.expand(2.0), 4.0, ring, outside);
        }
        ui.painter().galley(rect.min, galley, p.ink);
        let (told, live) = match (self.words.is_empty(), self.urgent) {
            (true, _) => (words, Live::Off),
            (false, true) => (self.words.as_str(), Live::Assertive),
            (false, false) => (self.words.as_str(), Live::Polite),
        };
        response.widget_info(|| WidgetInfo::labeled(role, true, told));
        ui.accesskit_node_builder(response.id, |node| node.set_live(live));
        response.on_hover_text(words)
    }
}

/// What the last change of a variant brought up.
struct LastChange {
    document: DocumentId,
    variant: VariantId,
    /// The evaluation of the state that is settled.
    settled: Arc<Evaluation>,
    /// The gravest finding that was not there before.
    caused: Option<Finding>,
}

impl LastChange {
    /// Follows the variant shown. While something is dragged, the state before the drag is
    /// what the findings are held against.
    fn follow(last: Option<Self>, view: &View<'_>) -> Self {
        let (document, variant) = (view.document.id, view.variant.id);
        let Some(mut last) = last.filter(|l| (l.document, l.variant) == (document, variant)) else {
            return Self {
                document,
                variant,
                settled: view.evaluation.clone(),
                caused: None,
            };
        };
        let same = Arc::ptr_eq(&last.settled, view.evaluation);
        if !same || view.document.has_draft() {
            last.caused = arisen(&last.settled.findings, &view.evaluation.findings)
                .find(|f| f.counts())
                .cloned();
        }
        if !view.document.has_draft() {
            last.settled = view.evaluation.clone();
        }
        last
    }
}

/// A sheet that could not be drawn.
struct BrokenSheet {
    sheet: SheetName,
    document: (DocumentId, u64),
    cause: String,
}

/// So many frames that cannot be drawn one after the other mean that the window cannot go on.
const MOST_ERRORS: u32 = 20;

/// Seconds between two looks at the open files.
const ROUND_S: f64 = 3.0;

impl Bench {
    /// A window on a state.
    pub fn new(state: State) -> Self {
        Self {
            dialogs: Dialogs::new(&state.host),
            state,
            sheet: SheetName::default(),
            sheets: Sheets::default(),
            commands: Vec::new(),
            next_round: 0.0,
            title: String::new(),
            last_change: None,
            end: EndAsked::default(),
            broken: Vec::new(),
            errors: 0,
            help: HelpWindow::default(),
            watcher: None,
            said: Said::default(),
            signing: SigningWindow::default(),
        }
    }

    /// Looks at the open files beside the window, which then draws nothing while nothing
    /// changes.
    pub fn watch_files(&mut self, ctx: &egui::Context) {
        let ctx = ctx.clone();
        self.watcher = Watcher::start(move || ctx.request_repaint());
    }

    /// Lets the system ask for the end of the program.
    pub fn end_when(&mut self, asked: EndAsked) {
        self.end = asked;
    }

    /// Opens the files named at the start, and offers what a crash left behind.
    pub fn begin(&mut self, files: Vec<PathBuf>) {
        let last = self.state.settings.recent.first();
        if files.is_empty() {
            // The first start shows the example; later ones go on where one left off.
            self.commands.push(match last.filter(|path| path.exists()) {
                Some(path) => Command::OpenPath(path.clone()),
                None => Command::OpenExample(examples::FIRST),
            });
        }
        self.commands
            .extend(files.into_iter().map(Command::OpenPath));
        self.commands.push(Command::Remind);
        self.dialogs.offer_left_over(&mut self.state);
    }

    /// What the window holds.
    pub const fn state(&self) -> &State {
        &self.state
    }

    /// What the window holds, to be changed by tests and at the start.
    pub const fn state_mut(&mut self) -> &mut State {
        &mut self.state
    }

    /// The sheet that is shown.
    pub const fn sheet(&self) -> SheetName {
        self.sheet
    }

    /// Pushes a command, to be applied after the next frame.
    pub fn push(&mut self, command: Command) {
        self.commands.push(command);
    }

    /// Draws one frame and applies what was pushed. An error of the program in it is caught:
    /// what is unsaved is kept, what happened is said, and the window goes on.
    pub fn frame(&mut self, ui: &mut Ui) {
        match broken::caught(|| self.draw(ui)) {
            Ok(()) => self.errors = 0,
            Err(cause) => {
                self.dialogs.forget();
                self.commands.clear();
                self.after_error("The window", &cause);
            }
        }
    }

    /// Keeps what is unsaved after an error of the program, and says what happened.
    fn after_error(&mut self, what: &str, cause: &str) {
        // The clock of the host may be what failed.
        let now = jiff::Timestamp::now().to_string();
        let kept = broken::caught(|| self.state.keep_unsaved(&now)).is_ok();
        self.state.warn(format!(
            "{what} met an error of its own and was set back; {}. Please report it: {cause}",
            if kept {
                "unsaved work is kept"
            } else {
                "save what you can under another name"
            }
        ));
        self.errors += 1;
        if self.errors > MOST_ERRORS {
            // Nothing can be drawn any more; the start tells why.
            let _ = broken::caught(|| self.state.keep_for_next_start(&now));
            std::panic::resume_unwind(Box::new(cause.to_owned()));
        }
    }

    /// Goes back from a state of the shown document that cannot be evaluated.
    fn step_back(&mut self, cause: &str) {
        let document = self.state.current_mut();
        let (id, name) = (document.id, document.name().to_owned());
        let back = if document.has_draft() {
            document.drop_draft();
            true
        } else {
            document.undo()
        };
        if back {
            self.after_error("The last change", cause);
        } else {
            self.after_error(&format!("Showing {name}"), cause);
            self.state.close(id);
        }
    }

    fn draw(&mut self, ui: &mut Ui) {
        let room = ui.content_rect().size() * ui.zoom_factor();
        let zoom = zoom_for(self.state.settings.zoom, room);
        if (zoom - ui.zoom_factor()).abs() > 0.005 {
            ui.set_zoom_factor(zoom);
        }
        let mut commands = std::mem::take(&mut self.commands);
        self.state.picked.clear();
        self.dialogs.poll(ui, &mut self.state);
        focus::begin(ui, self.dialogs.any_open());
        if let Some(path) = self.state.to_bring_in.take() {
            commands.push(Command::BringInFile(path));
        }
        if !self.dialogs.any_open() {
            shortcuts(ui, &mut commands);
        }
        dropped_files(ui, &mut commands);
        if self.sheet == SheetName::Formula && !self.dialogs.any_open() {
            clipboard(ui, &self.state, &mut commands);
        }
        self.state.follow_trials();
        self.state.follow_brought_in(ui);

        let document = self.state.current();
        let variant = document.variant();
        let evaluated = broken::caught(|| self.state.evaluation(document, variant.id));
        let evaluation = match evaluated {
            Ok(evaluation) => evaluation,
            Err(cause) => {
                self.step_back(&cause);
                ui.request_repaint();
                return;
            }
        };
        let view = View {
            state: &self.state,
            document,
            formula: document.formula(),
            variant,
            evaluation: &evaluation,
        };
        let last_change = LastChange::follow(self.last_change.take(), &view);
        let p = theme::palette(ui);
        let bar = |margin: Margin| Frame::new().fill(p.panel).inner_margin(margin);
        Panel::top("top bar")
            .frame(bar(Margin::symmetric(12, 6)))
            .show(ui, |ui| {
                region(ui, "Menus and sheets", |ui| {
                    top_bar(ui, &view, self.sheet, &mut commands);
                });
            });
        if !self.state.warnings.is_empty() {
            Panel::top("warnings")
                .frame(bar(Margin::symmetric(12, 6)).fill(p.level_wash(Level::Caution)))
                .show(ui, |ui| warnings(ui, &view, &mut commands));
        }
        if !self.state.reminders.is_empty() {
            Panel::top("reminders")
                .frame(bar(Margin::symmetric(12, 4)))
                .show(ui, |ui| reminders::ui(ui, &view, &mut commands));
        }
        if document.changed_elsewhere {
            Panel::top("changed elsewhere")
                .frame(bar(Margin::symmetric(12, 6)).fill(p.level_wash(Level::Caution)))
                .show(ui, |ui| changed_elsewhere(ui, &view, &mut commands));
        }
        // Its place is taken now, its content comes last, as it is read last.
        let status = Panel::bottom("status bar")
            .frame(bar(Margin::symmetric(12, 4)))
            .exact_size(theme::FIELD + 8.0)
            .show(ui, |ui| ui.max_rect())
            .inner;
        egui::CentralPanel::no_frame()
            .frame(Frame::new().fill(p.ground).inner_margin(Margin::same(12)))
            .show(ui, |ui| {
                let sheet = self.sheet;
                let at = (document.id, document.revision());
                self.broken.retain(|b| b.sheet != sheet || b.document == at);
                if let Some(known) = self.broken.iter().find(|b| b.sheet == sheet) {
                    if broken_sheet(ui, &known.cause, &mut commands) {
                        self.broken.retain(|b| b.sheet != sheet);
                    }
                    return;
                }
                let before = commands.len();
                let drawn = broken::caught(|| {
                    with_least_room(ui, LEAST_SHEET, |ui| {
                        let sheets = &mut self.sheets;
                        if sheet == SheetName::Formula {
                            // It has regions of its own.
                            sheets.ui(sheet, ui, &view, &mut commands);
                        } else {
                            region(ui, "Sheet", |ui| {
                                sheets.ui(sheet, ui, &view, &mut commands);
                            });
                        }
                    });
                });
                if let Err(cause) = drawn {
                    commands.truncate(before);
                    self.sheets.begin_anew(sheet);
                    self.broken.push(BrokenSheet {
                        sheet,
                        document: at,
                        cause,
                    });
                }
            });

        let caused = last_change.caused.as_ref();
        self.said.follow(&view, caused);
        ui.scope_builder(egui::UiBuilder::new().max_rect(status), |ui| {
            region(ui, "Status", |ui| {
                status_bar(ui, &view, caused, &self.said, &mut commands);
            });
        });
        self.last_change = Some(last_change);

        drop_hint(ui);
        self.dialogs.ui(ui, &mut self.state);
        self.help.ui(ui);
        self.signing.ui(ui, &self.state, &mut commands);
        focus::end(ui);
        for command in commands {
            if let Err(cause) = broken::caught(|| self.apply(ui, command)) {
                self.after_error("What was asked for last", &cause);
            }
        }
        self.set_title(ui);
    }

    /// Names the document in the title of the window.
    fn set_title(&mut self, ctx: &egui::Context) {
        let document = self.state.current();
        let mark = if document.is_changed() { " •" } else { "" };
        let title = format!("{}{mark} – Phasewright", self.state.name_of(document));
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// What has to be done now and then: keeping unsaved work, watching files.
    pub fn tend(&mut self, ctx: &egui::Context) {
        if let Err(cause) = broken::caught(|| self.look_round(ctx)) {
            self.after_error("A look at the files", &cause);
        }
        let wait = if self.watcher.is_none() || self.state.is_waiting() {
            ROUND_S
        } else {
            self.state.host.until_tomorrow()
        };
        ctx.request_repaint_after_secs(wait as f32);
    }

    fn look_round(&mut self, ctx: &egui::Context) {
        if self.end.is_asked() && !self.dialogs.may_end() {
            // The end of a session does not wait for answers.
            if let Err(problem) = self.state.keep_for_next_start(&self.state.host.now()) {
                eprintln!("phasewright: {problem}");
            }
            self.dialogs.end_unasked(ctx);
            return;
        }
        let close = ctx.input(|i| i.viewport().close_requested());
        if close && !self.dialogs.may_end() {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.dialogs.quit(ctx, &self.state);
        }
        let time = ctx.time();
        let woken = self.watcher.as_ref().is_some_and(Watcher::take);
        if woken || time >= self.next_round {
            self.next_round = time + ROUND_S;
            self.state.watch();
            self.state.keep_unsaved(&self.state.host.now());
            self.state.set_today(self.state.host.today());
            self.state.watch_shelf();
            if self.state.works.watch_stock() {
                self.state.say(
                    Level::Note,
                    "The stock was changed in another window and is shown as it is now",
                );
            }
            self.state.watch_trials();
        }
        if let Some(watcher) = &self.watcher {
            watcher.watch(self.state.watched_paths());
        }
    }

    fn apply(&mut self, ctx: &egui::Context, command: Command) {
        let now = self.state.host.now();
        let state = &mut self.state;
        match command {
            Command::New => {
                state.add(Formula::new("New formula").into(), None);
                self.sheet = SheetName::Formula;
            }
            Command::Begin(formula) => {
                state.current_mut().change("Begin the formula", formula);
                self.sheets.formula.find_material();
            }
            Command::Edit(edit) => self.edit(None, &edit, false),
            Command::Draft(edit) => self.edit(None, &edit, true),
            Command::EditIn {
                document,
                variant,
                edit,
                draft,
            } => self.edit(Some((document, variant)), &edit, draft),
            Command::EditAll { what, edits } => self.edit_all(what, &edits),
            Command::OpenExample(example) => match example.read() {
                Ok(formula) => {
                    state.add(Arc::new(formula), None);
                    self.sheet = SheetName::Formula;
                    if let Some(text) = example.trials
                        && let Err(problem) = state.set_example_trials(text)
                    {
                        state.say(Level::Caution, problem);
                    }
                }
                Err(problem) => self
                    .dialogs
                    .tell("The example could not be read", problem.to_string()),
            },
            Command::Change { what, formula } => state.current_mut().change(what, formula),
            Command::Keep => {
                for document in state.documents_mut() {
                    document.keep();
                }
            }
            Command::DropDraft => state.current_mut().drop_draft(),
            Command::Undo => {
                if !state.current_mut().undo() {
                    state.say(Level::Note, "There is nothing to undo");
                }
            }
            Command::Redo => {
                if !state.current_mut().redo() {
                    state.say(Level::Note, "There is nothing to redo");
                }
            }
            Command::GoTo(place) => {
                state.current_mut().go_to(place);
            }
            Command::AddFormula(formula) => {
                // No file holds it yet.
                state.add(formula, None).set_unsaved();
                self.sheet = SheetName::Formula;
            }
            Command::EditShelf(edits) => state.edit_shelf(&edits, &now),
            Command::SettleConflict(conflict, edits) => {
                state.settle_conflict(&conflict, &edits, &now);
            }
            Command::MoveShelf(path) => {
                state.move_shelf(path, &now);
                self.save_settings();
            }
            Command::Works(command) => self.works(command),
            Command::Note(events, by) => {
                if let Err(problem) = state.note(events, &by) {
                    state.say(Level::Caution, problem);
                }
            }
            Command::Remind => state.remind(),
            Command::LookElsewhere => state.look_elsewhere(),
            Command::PutOff(of) => state.put_off(&of),
            Command::AttendTo(of) => self.attend_to(of),
            Command::BringIn => {
                self.sheets.shelf.bring_in(None);
                self.sheet = SheetName::Shelf;
            }
            Command::BringInFile(path) => {
                self.sheets.shelf.bring_in(Some(path));
                self.sheet = SheetName::Shelf;
            }
            Command::BringInText(text) => {
                self.sheets.shelf.bring_in_text(text);
                self.sheet = SheetName::Shelf;
            }
            Command::PasteLines(text) => self.paste_lines(text),
            // What is no formula of ours is looked at before anything is taken in.
            Command::OpenPath(path) if needs_bringing_in(&path) => {
                self.push(Command::BringInFile(path));
            }
            Command::Show(sheet) => self.sheet = sheet,
            Command::ShowDocument(id) => state.show(id),
            Command::Choose(lines) => state.current_mut().chosen = lines,
            Command::GoToLine(line) => {
                state.current_mut().chosen = [line].into();
                self.sheets.formula.go_to(line);
                self.sheet = SheetName::Formula;
            }
            Command::OpenField(field) => self.open_field(field),
            Command::SwapLine(line) => {
                state.current_mut().chosen = [line].into();
                self.sheets.formula.swap(line);
                self.sheet = SheetName::Formula;
            }
            Command::Signatures => {
                let record = state.works.open_path();
                self.signing.open(record.map(std::path::Path::to_path_buf));
            }
            Command::Help => self.help.toggle(Place::of_sheet(self.sheet)),
            Command::FindMaterial => {
                self.sheets.formula.find_material();
                self.sheet = SheetName::Formula;
            }
            Command::AddRules(path) => match state.add_rules(&path) {
                Ok(()) => {
                    state.say(
                        Level::Note,
                        format!("Formulas are held against {} as well", path.display()),
                    );
                    self.save_settings();
                }
                Err(problem) => self.dialogs.tell("The rules could not be added", problem),
            },
            Command::RemoveRules(path) => {
                state.remove_rules(&path);
                self.save_settings();
            }
            Command::SetTheme(choice) => {
                state.settings.theme = choice;
                ctx.set_theme(choice.preference());
                self.save_settings();
            }
            Command::SetMotion(motion) => {
                state.settings.motion = motion;
                theme::set_motion(ctx, motion);
                self.save_settings();
            }
            Command::SetStep(step) => {
                state.settings.percent_step = step;
                self.save_settings();
            }
            Command::ZoomIn => self.set_zoom(self.state.settings.zoom + 0.1),
            Command::ZoomOut => self.set_zoom(self.state.settings.zoom - 0.1),
            Command::ZoomReset => self.set_zoom(1.0),
            Command::CloseHints => {
                state.settings.hints_closed = true;
                self.save_settings();
            }
            Command::Say(level, text) => state.say(level, text),
            Command::Hush => state.message = None,
            Command::PutAway(warning) => state.warnings.retain(|w| *w != warning),
            Command::Finish => match export_finished(state) {
                Ok(export) => self.dialogs.apply(ctx, state, Command::Export(export)),
                Err(problem) => state.say(Level::Caution, problem),
            },
            Command::ExportFormula(form) => match export_formula(state, form) {
                Ok(export) => {
                    let formula = state.current().formula();
                    let left = not_carried(formula, state.current().variant(), form);
                    // That compositions stay behind is said in the menu.
                    if left.len() > 1 {
                        let title = "Not everything goes into this form";
                        self.dialogs.tell(title, left.join("\n"));
                    }
                    self.dialogs.apply(ctx, state, Command::Export(export));
                }
                Err(problem) => state.say(Level::Caution, problem),
            },
            Command::ExportChart(format) => match export_chart(state, format) {
                Ok(export) => self.dialogs.apply(ctx, state, Command::Export(export)),
                Err(problem) => state.say(Level::Caution, problem),
            },
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
    fn open_field(&mut self, field: Field) {
        let sheet = match field {
            Field::Label => SheetName::Label,
            Field::Percent(line) | Field::Purpose(line) | Field::Material(line) => {
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
                self.works(WorksCommand::Resume(code));
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
        }
    }

    fn works(&mut self, command: WorksCommand) {
        let at = self.state.host.now();
        let works = &mut self.state.works;
        let outcome = match command {
            WorksCommand::SetStock(set) => {
                let (stock, workshop) = *set;
                works.set_stock(stock, workshop)
            }
            WorksCommand::UndoStock => works.undo_stock(),
            WorksCommand::RedoStock => works.redo_stock(),
            WorksCommand::Begin(opening, by) => works.begin(*opening, &at, &by),
            WorksCommand::Resume(code) => works.resume(&code),
            WorksCommand::Leave => {
                works.leave();
                Ok(())
            }
            WorksCommand::Record(event, by) => works.record(*event, &at, &by),
        };
        match outcome {
            Err(problem) => self.state.say(Level::Caution, problem),
            // What stood against it before no longer does.
            Ok(()) => self.state.message = None,
        }
    }

    /// Applies an edit to a variant, the one worked on if none is named, as a draft or
    /// as a finished step.
    fn edit(&mut self, place: Option<(DocumentId, VariantId)>, edit: &Edit, draft: bool) {
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
        match apply(&before, variant, edit) {
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
                        *self.state.used.entry(material.id.clone()).or_default() += 1;
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
        let document = self.state.current_mut();
        document.keep();
        let before = document.settled().clone();
        let after = edits
            .iter()
            .try_fold(Formula::clone(&before), |formula, edit| {
                apply(&formula, before.active, edit).map(|applied| applied.formula)
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

    fn save_settings(&mut self) {
        if let Err(problem) = self.state.folders.write_settings(&self.state.settings) {
            self.state.say(Level::Caution, problem);
        }
    }
}

impl eframe::App for Bench {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.tend(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.frame(ui);
    }
}

/// The variant worked on, frozen with everything resolved.
fn export_finished(state: &State) -> Result<Export, String> {
    let document = state.current();
    let variant = document.variant();
    let evaluation = state.evaluation(document, variant.id);
    let text = finished::write(
        document.formula(),
        variant,
        &evaluation,
        state.today(),
        &finished::BatchFigures::new(),
    )
    .map_err(|e| format!("The formula could not be frozen: {e}"))?;
    let stem = file_stem(&format!("{} {}", document.name(), variant.name));
    Ok(Export {
        title: "Save the finished formula".to_owned(),
        file_name: format!("{stem}.finished.ron"),
        bytes: text.into_bytes().into(),
    })
}

/// The formula for other programs, as a file.
fn export_formula(state: &State, form: ExportForm) -> Result<Export, String> {
    let document = state.current();
    let (formula, variant) = (document.formula(), document.variant());
    let bytes = export(formula, variant, form).map_err(|e| e.to_string())?;
    let stem = match form {
        ExportForm::Csv => file_stem(&format!("{} {}", formula.name, variant.name)),
        ExportForm::Xlsx | ExportForm::Json => file_stem(&formula.name),
    };
    Ok(Export {
        title: "Save the formula for other programs".to_owned(),
        file_name: format!("{stem}.{}", form.ending()),
        bytes: bytes.into(),
    })
}

/// The chart of the variant worked on, as a file.
fn export_chart(state: &State, format: PictureFormat) -> Result<Export, String> {
    let document = state.current();
    let variant = document.variant();
    let evaluation = state.evaluation(document, variant.id);
    let (formula, composition) = (document.formula(), &evaluation.composition);
    let (ending, bytes) = match format {
        PictureFormat::Svg => (
            "svg",
            composition_chart::to_svg(formula, variant, composition).into_bytes(),
        ),
        PictureFormat::Png => (
            "png",
            composition_chart::to_png(formula, variant, composition).map_err(|e| e.to_string())?,
        ),
    };
    let stem = file_stem(&format!("{} {}", formula.name, variant.name));
    Ok(Export {
        title: "Save the chart".to_owned(),
        file_name: format!("{stem}.{ending}"),
        bytes: bytes.into(),
    })
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

/// Pushes the commands whose keys were pressed.
fn shortcuts(ctx: &egui::Context, commands: &mut Vec<Command>) {
    // A text field has its own undo while one types in it.
    let typing = ctx.text_edit_focused() && !entry::at_rest(ctx);
    for entry in TABLE {
        let left_to_field = typing && matches!(entry.command, Command::Undo | Command::Redo);
        if let Some(shortcut) = entry.shortcut
            && !left_to_field
            && ctx.input_mut(|i| i.consume_shortcut(&shortcut))
        {
            commands.push(entry.command.clone());
        }
    }
}

/// Opens files dragged onto the window.
fn dropped_files(ctx: &egui::Context, commands: &mut Vec<Command>) {
    let dropped = ctx.input(|i| i.raw.dropped_files.clone());
    for file in dropped {
        commands.push(Command::OpenPath(file.path().to_path_buf()));
    }
}

/// Draws a sheet, in a room that is scrolled where the window has less than a sheet needs.
fn with_least_room(ui: &mut Ui, least: Vec2, add: impl FnOnce(&mut Ui)) {
    let room = ui.available_size();
    if room.x >= least.x - 0.5 && room.y >= least.y - 0.5 {
        add(ui);
        return;
    }
    egui::ScrollArea::both()
        .id_salt("small window")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            let whole = egui::Rect::from_min_size(ui.cursor().min, room.max(least));
            ui.allocate_rect(whole, Sense::hover());
            let mut inside = ui.new_child(egui::UiBuilder::new().max_rect(whole));
            add(&mut inside);
            follow_focus_everywhere(ui);
        });
}

/// Lines of the formula to and from a spreadsheet, where no text is being typed.
fn clipboard(ctx: &egui::Context, state: &State, commands: &mut Vec<Command>) {
    if ctx.text_edit_focused() {
        return;
    }
    let (mut copied, mut pasted) = (false, None);
    ctx.input(|input| {
        for event in &input.events {
            match event {
                egui::Event::Copy => copied = true,
                egui::Event::Paste(text) => pasted = Some(text.clone()),
                _ => {}
            }
        }
    });
    let document = state.current();
    if copied && document.variant().lines().next().is_some() {
        let text = lines_for_spreadsheets(document.formula(), document.variant(), &document.chosen);
        let lines = text.lines().count().saturating_sub(1);
        ctx.copy_text(text);
        commands.push(Command::Say(
            Level::Note,
            format!("{} copied for a spreadsheet", counted(lines, "line")),
        ));
    }
    if let Some(text) = pasted.filter(|text| looks_like_lines(text)) {
        commands.push(Command::PasteLines(text));
    }
}

/// A row of a menu for a command of the table.
fn menu_row(ui: &mut Ui, command: &Command, enabled: bool, commands: &mut Vec<Command>) {
    let Some(entry) = entry_of(command) else {
        return;
    };
    let mut button = Button::new(entry.label);
    if let Some(shortcut) = &entry.shortcut {
        button = button.shortcut_text(ui.format_shortcut(shortcut));
    }
    if ui
        .add_enabled(enabled, button)
        .on_hover_text(entry.tooltip)
        .clicked()
    {
        commands.push(command.clone());
        ui.close();
    }
}

/// Below this width, in points, the bar at the top takes two rows.
const WRAP_BELOW: f32 = 860.0;

fn top_bar(ui: &mut Ui, view: &View<'_>, shown: SheetName, commands: &mut Vec<Command>) {
    let narrow = ui.available_width() < WRAP_BELOW;
    let row = if narrow {
        Layout::left_to_right(Align::Center).with_main_wrap(true)
    } else {
        Layout::left_to_right(Align::Center)
    };
    let size = Vec2::new(ui.available_width(), theme::FIELD + 4.0);
    ui.allocate_ui_with_layout(size, row, |ui| {
        ui.set_min_height(theme::FIELD + 4.0);
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.scope(|ui| {
            let plain = &mut ui.visuals_mut().widgets.inactive;
            plain.weak_bg_fill = egui::Color32::TRANSPARENT;
            plain.bg_stroke = Stroke::NONE;
            menus(ui, view, commands);
        });
        ui.add_space(theme::GAP);
        for name in SheetName::ALL {
            if tab(ui, name, name == shown).clicked() {
                commands.push(Command::Show(name));
            }
        }
        if narrow {
            document_choice(ui, view, commands);
            return;
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            document_choice(ui, view, commands);
        });
    });
}

/// A tab: the word, underlined in the accent where it is the one shown.
fn tab(ui: &mut Ui, name: SheetName, shown: bool) -> egui::Response {
    let p = theme::palette(ui);
    let text = if shown {
        theme::strong(name.label()).color(p.accent)
    } else {
        egui::RichText::new(name.label()).color(p.ink)
    };
    let galley = egui::WidgetText::from(text).into_galley(
        ui,
        Some(egui::TextWrapMode::Extend),
        f32::INFINITY,
        egui::TextStyle::Body,
    );
    let size = Vec2::new(galley.size().x + 16.0, theme::FIELD + 4.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::selected(egui::Role::Tab, true, shown, name.label()));
    if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 4.0, p.hovered);
    }
    let place = rect.center() - galley.size() / 2.0;
    ui.painter().galley(place, galley, p.ink);
    if shown {
        ui.painter().hline(
            rect.x_range().shrink(6.0),
            rect.bottom() - 1.0,
            Stroke::new(2.0, p.accent),
        );
    }
    response.on_hover_text(name.tooltip())
}

fn menus(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let changed = view.document.is_changed();
    let history = view.document.history();
    ui.menu_button("File", |ui| {
        ui.set_min_width(220.0);
        menu_row(ui, &Command::New, true, commands);
        menu_row(ui, &Command::Open, true, commands);
        menu_row(ui, &Command::OpenTyped, true, commands);
        menu_row(ui, &Command::BringIn, true, commands);
        let recent = &view.state.settings.recent;
        ui.add_enabled_ui(!recent.is_empty(), |ui| {
            ui.menu_button("Recent", |ui| {
                for path in recent {
                    let name = path
                        .file_name()
                        .map_or_else(|| path.to_string_lossy(), |n| n.to_string_lossy());
                    let row = ui.button(name).on_hover_text(path.to_string_lossy());
                    if row.clicked() {
                        commands.push(Command::OpenPath(path.clone()));
                        ui.close();
                    }
                }
            });
        });
        ui.menu_button("Examples", |ui| {
            for example in examples::ALL {
                if ui.button(example.title).clicked() {
                    commands.push(Command::OpenExample(example));
                    ui.close();
                }
            }
        });
        ui.separator();
        menu_row(ui, &Command::Save, true, commands);
        menu_row(ui, &Command::SaveAs, true, commands);
        let on_disk = view.document.path.is_some();
        menu_row(
            ui,
            &Command::Reload,
            on_disk && (changed || view.document.changed_elsewhere),
            commands,
        );
        ui.separator();
        menu_row(ui, &Command::Finish, true, commands);
        menu_row(ui, &Command::Signatures, true, commands);
        ui.menu_button("Save for other programs", |ui| {
            ui.set_min_width(180.0);
            for form in ExportForm::ALL {
                menu_row(ui, &Command::ExportFormula(form), true, commands);
            }
            for format in [PictureFormat::Svg, PictureFormat::Png] {
                menu_row(ui, &Command::ExportChart(format), true, commands);
            }
        });
        ui.separator();
        menu_row(ui, &Command::Close, true, commands);
        menu_row(ui, &Command::Quit, true, commands);
    });
    ui.menu_button("Edit", |ui| {
        ui.set_min_width(220.0);
        menu_row(ui, &Command::Undo, history.undoes().is_some(), commands);
        menu_row(ui, &Command::Redo, history.redoes().is_some(), commands);
        ui.menu_button("Go back to", |ui| history_rows(ui, view, commands));
        ui.separator();
        menu_row(ui, &Command::FindMaterial, true, commands);
        ui.menu_button("Steps of a slider", |ui| {
            for step in PercentStep::ALL {
                let words = format!("{} %", step.percent());
                if ui
                    .radio(view.state.settings.percent_step == step, words)
                    .on_hover_text("Percentages land on it when moved; typed ones may be finer")
                    .clicked()
                {
                    commands.push(Command::SetStep(step));
                    ui.close();
                }
            }
        });
    });
    rules_menu(ui, view, commands);
    ui.menu_button("View", |ui| {
        ui.set_min_width(220.0);
        for choice in ThemeChoice::ALL {
            if ui
                .radio(view.state.settings.theme == choice, choice.label())
                .clicked()
            {
                commands.push(Command::SetTheme(choice));
                ui.close();
            }
        }
        ui.separator();
        for motion in Motion::ALL {
            if ui
                .radio(view.state.settings.motion == motion, motion.label())
                .clicked()
            {
                commands.push(Command::SetMotion(motion));
                ui.close();
            }
        }
        ui.separator();
        menu_row(ui, &Command::ZoomIn, true, commands);
        menu_row(ui, &Command::ZoomOut, true, commands);
        menu_row(ui, &Command::ZoomReset, true, commands);
        ui.separator();
        menu_row(ui, &Command::Help, true, commands);
        menu_row(ui, &Command::About, true, commands);
    });
}

/// The maker's own lists of rules.
fn rules_menu(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let id = egui::Id::unique("own rules");
    if let Some(path) = view.picked(id) {
        commands.push(Command::AddRules(path.clone()));
    }
    ui.menu_button("Rules", |ui| {
        ui.set_min_width(260.0);
        for set in view.state.context().rules.sets() {
            let day = set
                .as_of
                .map_or_else(String::new, |day| format!(", as of {day}"));
            ui.label(format!("{}{day}", set.title))
                .on_hover_text(set.source.as_ref());
        }
        ui.separator();
        let add = ui.button("Add rules of your own…").on_hover_text(
            "A retailer's or your own exclusions, as a file of the form the manual describes",
        );
        if add.clicked() {
            commands.push(Command::Pick(Pick {
                id,
                title: "Add a file of rules".to_owned(),
                endings: vec!["ron".to_owned()],
            }));
            ui.close();
        }
        for path in &view.state.settings.own_rules {
            let name = path
                .file_name()
                .map_or_else(|| path.to_string_lossy(), |n| n.to_string_lossy());
            let remove = ui
                .button(format!("Take out {name}"))
                .on_hover_text(path.to_string_lossy());
            if remove.clicked() {
                commands.push(Command::RemoveRules(path.clone()));
                ui.close();
            }
        }
        ui.separator();
        for words in [rule_text::GREAT_BRITAIN, rule_text::CAUTION] {
            ui.add(egui::Label::new(theme::small(ui, words)).wrap());
        }
    });
}

/// The steps of the history, the latest first.
fn history_rows(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let history = view.document.history();
    egui::ScrollArea::vertical()
        .max_height(320.0)
        .show(ui, |ui| {
            ui.set_min_width(240.0);
            let steps: Vec<_> = history.steps().enumerate().collect();
            for (place, what) in steps.into_iter().rev() {
                let words = if place == 0 { "As opened" } else { what };
                ui.push_id(place, |ui| {
                    if ui.radio(place == history.place(), words).clicked() {
                        commands.push(Command::GoTo(place));
                        ui.close();
                    }
                });
            }
        });
}

fn document_choice(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let title = |d: &crate::state::Document| {
        let mark = if d.is_changed() { " •" } else { "" };
        format!("{}{mark}", view.state.name_of(d))
    };
    let response = egui::ComboBox::from_id_salt("document")
        .selected_text(title(view.document))
        .width(200.0)
        .truncate()
        .show_ui(ui, |ui| {
            for d in view.state.documents() {
                ui.push_id(d.id, |ui| {
                    let row = ui
                        .selectable_label(d.id == view.document.id, title(d))
                        .on_hover_text(d.file_name());
                    if row.clicked() {
                        commands.push(Command::ShowDocument(d.id));
                    }
                });
            }
        })
        .response
        .accessible_name("Open formula");
    let file = view.document.file_name();
    let words = if view.document.is_changed() {
        format!("{file}, with unsaved changes")
    } else {
        file
    };
    response.on_hover_text(words);
}

/// The notice that another program changed the file.
fn changed_elsewhere(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        level_mark(ui, Level::Caution);
        ui.label(format!(
            "Another program changed {}",
            view.document.file_name()
        ));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if ui
                .button("Read again")
                .on_hover_text("Take over what is in the file; undo brings your state back")
                .clicked()
            {
                commands.push(Command::Reload);
            }
            if ui
                .button("Save as…")
                .on_hover_text("Save your state beside it")
                .clicked()
            {
                commands.push(Command::SaveAs);
            }
        });
    });
}

/// Stands in the place of a sheet that cannot be drawn; whether it is to be tried again.
fn broken_sheet(ui: &mut Ui, cause: &str, commands: &mut Vec<Command>) -> bool {
    ui.label(theme::heading("This sheet met an error of its own"));
    ui.label("Your work is unharmed, and unsaved work is kept. The other sheets go on; what was typed on this one and not taken over yet is gone.");
    ui.label(theme::small(ui, format!("Please report it: {cause}")));
    ui.add_space(theme::GAP);
    ui.horizontal(|ui| {
        if ui.button("Undo the last change").clicked() {
            commands.push(Command::Undo);
        }
        ui.button("Show the sheet again").clicked()
    })
    .inner
}

/// What is wrong with the maker's data, until each is put away.
fn warnings(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    egui::ScrollArea::vertical()
        .id_salt("warnings")
        .max_height(96.0)
        .show(ui, |ui| {
            for warning in &view.state.warnings {
                ui.horizontal(|ui| {
                    level_mark(ui, Level::Caution);
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        let put_away = ui
                            .button("Understood")
                            .on_hover_text("It is said again at the next start if it is still so");
                        if put_away.clicked() {
                            commands.push(Command::PutAway(warning.clone()));
                        }
                        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                            ui.add(egui::Label::new(warning).wrap());
                        });
                    });
                });
            }
        });
}

fn status_bar(
    ui: &mut Ui,
    view: &View<'_>,
    caused: Option<&Finding>,
    said: &Said,
    commands: &mut Vec<Command>,
) {
    let c = &view.evaluation.composition;
    ui.horizontal(|ui| {
        ui.set_min_height(theme::FIELD);
        ui.spacing_mut().item_spacing.x = 6.0;
        let figure = |ui: &mut Ui, name: &str, value: String| {
            ui.label(theme::small(ui, name));
            ui.label(theme::strong(value));
            ui.add_space(theme::GAP);
        };
        figure(ui, "Total", format!("{} %", c.total));
        figure(
            ui,
            "Water",
            format!("{:.1} %", c.water().typical.as_percent()),
        );
        figure(
            ui,
            "Surfactant active",
            format!("{:.1} %", c.active_total().typical.as_percent()),
        );
        if let Some(message) = &view.state.message {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if icon_button(ui, Icon::Cross, "Close this message", true).clicked() {
                    commands.push(Command::Hush);
                }
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                    level_mark(ui, message.level);
                    said.show(ui, &message.text, egui::Role::Status);
                });
            });
        } else {
            first_finding(ui, view, caused, said, commands);
        }
    });
}

/// What the last change caused, else the gravest finding; a click goes to its line.
fn first_finding(
    ui: &mut Ui,
    view: &View<'_>,
    caused: Option<&Finding>,
    said: &Said,
    commands: &mut Vec<Command>,
) {
    let findings = &view.evaluation.findings;
    let Some(worst) = caused.or_else(|| findings.iter().find(|f| f.counts())) else {
        let words = if findings.is_empty() {
            "No findings from the checks that were run"
        } else {
            "Nothing to mend from the checks that were run"
        };
        ui.label(theme::small(ui, words));
        return;
    };
    if caused.is_some() {
        ui.label(theme::small(ui, "From the last change"));
    }
    level_mark(ui, worst.level);
    let words = format!("{}: {}", worst.level.label(), worst.message);
    let row = said.show(ui, &words, egui::Role::Button);
    if row.clicked()
        && let Some(line) = worst.told_at().or_else(|| worst.lines.first().copied())
    {
        commands.push(Command::GoToLine(line));
    }
}

/// Says that files may be let go over the window.
fn drop_hint(ctx: &egui::Context) {
    if ctx.input(|i| i.raw.hovered_files.is_empty()) {
        return;
    }
    let p = theme::Palette::of(ctx.theme());
    let area = ctx.content_rect();
    let layer = egui::LayerId::new(egui::Order::Foreground, egui::Id::unique("drop hint"));
    let painter = ctx.layer_painter(layer);
    painter.rect_filled(area, 0.0, p.ground.gamma_multiply(0.85));
    painter.text(
        area.center(),
        egui::Align2::CENTER_CENTER,
        "Let go to open",
        egui::FontId::new(24.0, theme::strong_family()),
        p.accent,
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_window_shows_everything_smaller() {
        for (chosen, size, zoom) in [
            // Full HD at two and a half pixels a point.
            (1.0, Vec2::new(768.0, 432.0), 0.768),
            (1.0, Vec2::new(1000.0, 640.0), 1.0),
            (1.0, Vec2::new(1024.0, 600.0), 1.0),
            (1.0, Vec2::new(4000.0, 3000.0), 1.0),
            // What was chosen larger is larger.
            (2.0, Vec2::new(1280.0, 800.0), 2.0),
            (2.0, Vec2::new(500.0, 280.0), 1.2),
            (9.0, Vec2::new(1280.0, 800.0), 2.5),
        ] {
            let found = zoom_for(chosen, size);
            assert!((found - zoom).abs() < 1e-6, "{chosen} {size} {found}");
        }
    }
}
