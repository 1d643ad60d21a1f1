//! The Bench: the window with its bars and sheets. It holds the state, draws the
//! frame and applies what was pushed while drawing.

mod apply;
mod exports;
mod incoming;
mod notices;
mod outside_press;
mod status;
mod top_bar;
mod typed_ahead;

use std::path::PathBuf;

use eframe::egui::{self, Frame, Margin, Panel, Sense, Ui, Vec2};
use formulation::finding::Level;

use self::incoming::{clipboard, dropped_files, shortcuts};
use self::notices::{broken_sheet, changed_elsewhere, drop_hint, warnings};
use self::outside_press::OutsidePress;
use self::status::{LastChange, Said, status_bar};
use self::top_bar::top_bar;
use self::typed_ahead::TypedAhead;
use crate::broken;
use crate::command::{Command, Making};
use crate::dialogs::Dialogs;
use crate::ending::EndAsked;
use crate::examples;
use crate::help::HelpWindow;
use crate::reminders;
use crate::sheets::{SheetName, Sheets};
use crate::signing::SigningWindow;
use crate::state::{DocumentId, State, View};
use crate::theme;
use crate::watcher::Watcher;
use crate::widgets::entry;
use crate::widgets::focus::{self, region};
use crate::widgets::follow_focus::follow_focus_everywhere;
use crate::widgets::half_typed;
use crate::widgets::work_bar::{is_due, work_bar};
use crate::work::Work;

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
    /// What waits for the field with the cursor to hand over what is typed in it.
    after_typed: Vec<Command>,
    /// The end that the system asked for waits for the same.
    ends_after_typed: bool,
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
    /// A file that is being made.
    making: Work<Making, Result<Vec<u8>, String>>,
    watcher: Option<Watcher>,
    said: Said,
    /// The input is looked through before anything sees it.
    listens: bool,
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
            after_typed: Vec::new(),
            ends_after_typed: false,
            next_round: 0.0,
            title: String::new(),
            last_change: None,
            end: EndAsked::default(),
            broken: Vec::new(),
            errors: 0,
            help: HelpWindow::default(),
            watcher: None,
            said: Said::default(),
            listens: false,
            signing: SigningWindow::default(),
            making: Work::default(),
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
        if !std::mem::replace(&mut self.listens, true) {
            ui.add_plugin(OutsidePress::default());
            ui.add_plugin(TypedAhead::default());
        }
        self.fit_zoom(ui);
        let mut commands = self.incoming(ui);
        self.state.follow_trials();
        self.state.follow_brought_in(ui);

        let document = self.state.current();
        let variant = document.variant();
        let evaluated = broken::caught(|| {
            #[cfg(test)]
            tests::break_here(tests::Broken::Evaluation, document.name());
            self.state.evaluation(document, variant.id)
        });
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
        bars(ui, &view, self.sheet, &mut commands);
        // Its place is taken now, its content comes last, as it is read last.
        let status = Panel::bottom("status bar")
            .frame(bar(ui, Margin::symmetric(12, 4)))
            .exact_size(theme::FIELD + 8.0)
            .show(ui, |ui| ui.max_rect())
            .inner;
        let ground = theme::palette(ui).ground;
        egui::CentralPanel::no_frame()
            .frame(Frame::new().fill(ground).inner_margin(Margin::same(12)))
            .show(ui, |ui| {
                let (sheets, failed) = (&mut self.sheets, &mut self.broken);
                sheet_shown(ui, &view, self.sheet, sheets, failed, &mut commands);
            });

        let caused = last_change.caused.as_ref();
        self.said.follow(&view, caused);
        ui.scope_builder(egui::UiBuilder::new().max_rect(status), |ui| {
            region(ui, "Status", |ui| {
                if is_due(ui, &self.making) {
                    work_bar(ui, &mut self.making, "Making the file");
                } else {
                    status_bar(ui, &view, caused, &self.said, &mut commands);
                }
            });
        });
        self.last_change = Some(last_change);

        drop_hint(ui);
        self.dialogs.ui(ui, &mut self.state);
        self.help.ui(ui);
        self.signing.ui(ui, &self.state, &mut commands);
        focus::end(ui);
        self.apply_all(ui, commands);
        self.set_title(ui);
    }

    /// Follows the size that was chosen, and that of the window.
    fn fit_zoom(&self, ui: &Ui) {
        let room = ui.content_rect().size() * ui.zoom_factor();
        let zoom = zoom_for(self.state.settings.zoom, room);
        if (zoom - ui.zoom_factor()).abs() > 0.005 {
            ui.set_zoom_factor(zoom);
        }
    }

    /// What was pushed since the last frame, and what comes from dialogs, keys, dropped files
    /// and the clipboard.
    fn incoming(&mut self, ui: &Ui) -> Vec<Command> {
        let mut commands = std::mem::take(&mut self.commands);
        self.state.picked.clear();
        self.dialogs.poll(ui, &mut self.state);
        self.take_made(ui);
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
        commands
    }

    /// Applies what was pushed in a frame. A command that needs what is being typed is applied
    /// one frame later, after the field has handed it over.
    fn apply_all(&mut self, ui: &Ui, mut commands: Vec<Command>) {
        let shown = self.sheet;
        let said = self.state.message.clone();
        let waited = std::mem::take(&mut self.after_typed);
        if waited.is_empty()
            && let Some(at) = commands.iter().position(Command::needs_what_is_typed)
            && entry::ask_for_typed(ui)
        {
            self.after_typed = commands.split_off(at);
        }
        commands.extend(waited);
        for command in commands {
            if let Err(cause) = broken::caught(|| self.apply(ui, command)) {
                self.after_error("What was asked for last", &cause);
            }
        }
        if self.sheet != shown {
            focus::arrive(ui);
            // What was only told is of the sheet before; it would hide what is grave on this one.
            if said
                .is_some_and(|s| s.level == Level::Note && self.state.message.as_ref() == Some(&s))
            {
                self.state.message = None;
            }
        }
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
        // A screen reader is on the window itself for a frame, between the last stop of Tab
        // and the first.
        ctx.accesskit_node_builder(egui::accesskit_root_id(), |node| {
            node.set_label("Phasewright");
        });
    }

    /// What has to be done now and then: keeping unsaved work, watching files.
    pub fn tend(&mut self, ctx: &egui::Context) {
        self.state.half_typed = half_typed::all(ctx);
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
            if !std::mem::replace(&mut self.ends_after_typed, true) && entry::ask_for_typed(ctx) {
                return;
            }
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
            if entry::ask_for_typed(ctx) {
                self.after_typed.push(Command::Quit);
            } else {
                self.dialogs.quit(ctx, &self.state);
            }
        }
        let time = ctx.time();
        let woken = self.watcher.as_ref().is_some_and(Watcher::take);
        if woken || time >= self.next_round {
            self.next_round = time + ROUND_S;
            self.state.watch();
            self.state.keep_unsaved(&self.state.host.now());
            self.state.set_today(self.state.host.today());
            self.state.watch_shelf();
            if self.state.books.watch_stock() {
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
}

/// The frame of a bar.
fn bar(ui: &Ui, margin: Margin) -> Frame {
    Frame::new()
        .fill(theme::palette(ui).panel)
        .inner_margin(margin)
}

/// The bars above the sheet: menus, and below them what the maker has to be told.
fn bars(ui: &mut Ui, view: &View<'_>, sheet: SheetName, commands: &mut Vec<Command>) {
    let caution = theme::palette(ui).level_wash(Level::Caution);
    let wide = bar(ui, Margin::symmetric(12, 6));
    Panel::top("top bar").frame(wide).show(ui, |ui| {
        focus::bar(ui, "Menus and sheets", |ui| {
            top_bar(ui, view, sheet, commands);
        });
    });
    if !view.state.warnings.is_empty() {
        Panel::top("warnings")
            .frame(wide.fill(caution))
            .show(ui, |ui| {
                focus::bar(ui, "Warnings", |ui| warnings(ui, view, commands));
            });
    }
    if !view.state.reminders.is_empty() {
        let narrow = bar(ui, Margin::symmetric(12, 4));
        Panel::top("reminders").frame(narrow).show(ui, |ui| {
            focus::bar(ui, "Reminders", |ui| reminders::ui(ui, view, commands));
        });
    }
    if view.document.changed_elsewhere {
        Panel::top("changed elsewhere")
            .frame(wide.fill(caution))
            .show(ui, |ui| {
                focus::bar(ui, "Changed elsewhere", |ui| {
                    changed_elsewhere(ui, view, commands);
                });
            });
    }
}

/// Draws the sheet, or what it met while it was drawn at this state of the document.
fn sheet_shown(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: SheetName,
    sheets: &mut Sheets,
    failed: &mut Vec<BrokenSheet>,
    commands: &mut Vec<Command>,
) {
    let at = (view.document.id, view.document.revision());
    failed.retain(|b| b.sheet != sheet || b.document == at);
    if let Some(known) = failed.iter().find(|b| b.sheet == sheet) {
        if broken_sheet(ui, &known.cause, commands) {
            failed.retain(|b| b.sheet != sheet);
        }
        return;
    }
    let before = commands.len();
    let drawn = broken::caught(|| {
        #[cfg(test)]
        tests::break_here(tests::Broken::Sheet, view.document.name());
        with_least_room(ui, LEAST_SHEET, |ui| {
            sheets.ui(sheet, ui, view, commands);
        });
    });
    if let Err(cause) = drawn {
        commands.truncate(before);
        sheets.begin_anew(sheet);
        failed.push(BrokenSheet {
            sheet,
            document: at,
            cause,
        });
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

#[cfg(test)]
mod tests {
    use std::cell::Cell;
    use std::sync::Arc;

    use formulation::formula::Formula;
    use formulation::shelf::Shelf;

    use super::*;
    use crate::state::{Folders, Host};

    /// What meets an error of the program as long as the formula has [`BAD`] as its name.
    #[derive(Clone, Copy, PartialEq, Eq)]
    pub enum Broken {
        Evaluation,
        Sheet,
    }

    const BAD: &str = "Broken gel";

    thread_local! {
        static BROKEN: Cell<Option<Broken>> = const { Cell::new(None) };
    }

    pub fn break_here(what: Broken, name: &str) {
        assert!(
            BROKEN.get() != Some(what) || name != BAD,
            "broken on purpose"
        );
    }

    /// Shows frames, with what was pushed applied after the first.
    fn frames(ctx: &egui::Context, bench: &mut Bench, count: usize) {
        for _ in 0..count {
            let input = egui::RawInput {
                screen_rect: Some(egui::Rect::from_min_size(
                    egui::Pos2::ZERO,
                    Vec2::new(1280.0, 800.0),
                )),
                ..egui::RawInput::default()
            };
            let mut output = ctx.run_ui(input, |ui| bench.frame(ui));
            output.textures_delta.clear();
        }
    }

    fn name_it(bench: &mut Bench, name: &str) {
        let mut formula = Formula::clone(bench.state().current().formula());
        formula.name = name.into();
        bench.push(Command::Change {
            what: "Name it".into(),
            formula: formula.into(),
        });
    }

    fn window() -> (egui::Context, Bench) {
        let ctx = egui::Context::default();
        theme::install(&ctx);
        let host = Host::plain(|| jiff::Timestamp::UNIX_EPOCH);
        let formula = Formula::new("Sound gel");
        let state = State::new(
            host,
            Arc::new(Shelf::default()),
            Folders::default(),
            Arc::new(formula),
        );
        let mut bench = Bench::new(state);
        frames(&ctx, &mut bench, 2);
        (ctx, bench)
    }

    #[test]
    fn a_state_that_cannot_be_evaluated_is_gone_back_from() {
        let (ctx, mut bench) = window();
        BROKEN.set(Some(Broken::Evaluation));
        name_it(&mut bench, BAD);
        frames(&ctx, &mut bench, 3);
        assert_eq!(bench.state().current().name(), "Sound gel");
        let said = bench.state().warnings.join(" ");
        assert!(said.contains("The last change met an error"), "{said}");
        // The change is not lost for good: it can be done again once it is mended.
        BROKEN.set(None);
        bench.push(Command::Redo);
        frames(&ctx, &mut bench, 2);
        assert_eq!(bench.state().current().name(), BAD);
    }

    #[test]
    fn a_sheet_that_cannot_be_drawn_says_so_and_the_others_go_on() {
        let (ctx, mut bench) = window();
        BROKEN.set(Some(Broken::Sheet));
        name_it(&mut bench, BAD);
        frames(&ctx, &mut bench, 3);
        assert_eq!(bench.broken.len(), 1);
        assert_eq!(bench.errors, 0, "the window itself is sound");
        assert_eq!(bench.state().current().name(), BAD);
        // Undo is at hand, and the sheet comes back with the state that can be drawn.
        bench.push(Command::Undo);
        frames(&ctx, &mut bench, 3);
        assert_eq!(bench.state().current().name(), "Sound gel");
        assert!(bench.broken.is_empty());
        BROKEN.set(None);
    }

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
