//! Questions to the person: which file, whether to save first, what to do about a
//! file that another program changed, what a crash left behind.
//!
//! The system's own file dialog is used where there is one; a path can always be
//! typed.

mod about;
mod questions;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use eframe::egui::{self, Id, Modal};
use formulation::file::autosave::{LeftOver, Recovered};
use formulation::file::formula_file;
use formulation::file::formula_file::ENDING;
use formulation::file::open::needs_bringing_in;
use formulation::file::store::{self, Expect};
use formulation::finding::Level;
use formulation::plain_words::sentence;
use formulation::progress::Progress;

use self::questions::question_ui;
use crate::command::{Command, Export, Pick};
use crate::state::disk::{SaveError, file_stem, with_ending};
use crate::state::{DocumentId, Host, State};
use crate::widgets::half_typed;
use crate::widgets::modal::is_left;
use crate::work::Work;

/// A system without a dialog service answers "nothing" at once; a person who
/// cancels takes longer than this.
const TOO_FAST_FOR_A_PERSON: Duration = Duration::from_millis(300);

/// What a path is asked for.
#[derive(Clone)]
enum PathWanted {
    /// To open it.
    Open,
    /// On behalf of a sheet.
    Pick(Pick),
    /// To save a document there.
    Save(DocumentId, Then),
    /// To save bytes there; what the form cannot hold is told afterwards.
    Export(Export, Vec<String>),
}

/// What follows once a document is saved.
#[derive(Clone, Copy, PartialEq)]
enum Then {
    Nothing,
    Close,
    Quit,
}

/// A question that is open.
enum Question {
    /// A path to be typed; one that does not begin at the root begins at `folder`.
    Path {
        wanted: PathWanted,
        folder: PathBuf,
        text: String,
        note: Option<String>,
    },
    /// Whether to replace what is there.
    Replace {
        wanted: PathWanted,
        path: PathBuf,
        why: String,
    },
    /// Whether comments written by hand may go.
    Comments {
        wanted: PathWanted,
        path: PathBuf,
        comments: Vec<String>,
    },
    /// Whether to save before going on.
    Unsaved { document: DocumentId, then: Then },
    /// What a crash left behind.
    LeftOver(Vec<Recovered>),
    /// Something went wrong and needs more room than the status bar.
    Problem { title: String, text: String },
    /// The entry of a rule.
    Rule(Arc<str>),
    /// What the program is.
    About,
    /// The notices of everything of others in the program.
    Notices,
}

/// Why something asked for was not done.
struct Problem {
    title: &'static str,
    text: String,
}

/// The questions that are open.
pub struct Dialogs {
    native: bool,
    questions: Vec<Question>,
    /// A dialog of the system that waits for its answer: for what, and since when.
    waiting: Work<(PathWanted, Instant), Option<PathBuf>>,
    /// Documents whose changes the person lets go while the program ends.
    let_go: Vec<DocumentId>,
    ending: bool,
}

/// What the person answered to a question.
enum Answer {
    None,
    Dismiss,
    Path(PathBuf),
    Replace,
    Elsewhere,
    Notices,
    SaveFirst,
    LetGo,
    Recover,
    Discard,
    System,
}

impl Dialogs {
    /// No question yet.
    pub fn new(host: &Host) -> Self {
        Self {
            native: host.native_dialogs,
            questions: Vec::new(),
            waiting: Work::default(),
            let_go: Vec::new(),
            ending: false,
        }
    }

    /// Lets go of all questions, because one of them could not be shown.
    pub fn forget(&mut self) {
        self.questions.clear();
    }

    /// Whether a question waits for its answer.
    pub const fn any_open(&self) -> bool {
        !self.questions.is_empty()
    }

    /// Whether the program may end now; otherwise the person is asked.
    pub const fn may_end(&self) -> bool {
        self.ending
    }

    /// Offers what a crash left behind.
    pub fn offer_left_over(&mut self, state: &mut State) {
        let LeftOver { found, problems } = state.left_over();
        for problem in problems {
            state.warn(sentence(&problem));
        }
        if !found.is_empty() {
            self.questions.push(Question::LeftOver(found));
        }
    }

    /// Tells what went wrong where the status bar is too short for it.
    pub fn tell(&mut self, title: impl Into<String>, text: impl Into<String>) {
        self.questions.push(Question::Problem {
            title: title.into(),
            text: text.into(),
        });
    }

    fn tell_of(&mut self, done: Result<(), Problem>) {
        if let Err(Problem { title, text }) = done {
            self.tell(title, text);
        }
    }

    /// Takes the answer of the system's own dialog.
    pub fn poll(&mut self, ctx: &egui::Context, state: &mut State) {
        self.waiting.poll();
        let Some(((wanted, since), answer)) = self.waiting.take() else {
            return;
        };
        match answer {
            Some(path) => {
                let done = self.go_on(ctx, state, wanted, path, false);
                self.tell_of(done);
            }
            None if since.elapsed() < TOO_FAST_FOR_A_PERSON => {
                let what = if saves(&wanted) {
                    "where to save it"
                } else {
                    "where the file is"
                };
                let note = format!("This system offers no file dialog; type {what}");
                self.ask_typed(state, wanted, Some(note));
            }
            None => {}
        }
    }

    /// Carries out a command that concerns files.
    pub fn apply(&mut self, ctx: &egui::Context, state: &mut State, command: Command) {
        let current = state.current().id;
        match command {
            Command::Open => self.ask(ctx, state, PathWanted::Open),
            Command::OpenTyped => self.ask_typed(state, PathWanted::Open, None),
            Command::OpenPath(path) => {
                let done = self.go_on(ctx, state, PathWanted::Open, path, false);
                self.tell_of(done);
            }
            Command::Reload => {
                if let Err(error) = state.read_again(current) {
                    self.tell("The file could not be read again", error.to_string());
                }
            }
            Command::Save => self.save(ctx, state, current, Then::Nothing),
            Command::SaveAs => self.ask(ctx, state, PathWanted::Save(current, Then::Nothing)),
            Command::Close => self.close(state, current),
            Command::Quit => self.quit(ctx, state),
            Command::Export(export) => self.export(ctx, state, export, Vec::new()),
            Command::Pick(pick) => self.ask(ctx, state, PathWanted::Pick(pick)),
            Command::ShowRule(rule) => self.questions.push(Question::Rule(rule)),
            Command::About => self.questions.push(Question::About),
            _ => {}
        }
    }

    /// Saves bytes where the person says; what of the formula the form cannot hold is told
    /// once they are saved.
    pub fn export(
        &mut self,
        ctx: &egui::Context,
        state: &State,
        export: Export,
        left_behind: Vec<String>,
    ) {
        self.ask(ctx, state, PathWanted::Export(export, left_behind));
    }

    fn save(&mut self, ctx: &egui::Context, state: &mut State, id: DocumentId, then: Then) {
        let wanted = PathWanted::Save(id, then);
        match state.document(id).and_then(|d| d.path.clone()) {
            None => self.ask(ctx, state, wanted),
            Some(path) => {
                let comments = formula_file::comments_of(&path);
                if !comments.is_empty() {
                    self.questions.push(Question::Comments {
                        wanted,
                        path,
                        comments,
                    });
                    return;
                }
                let expect = state.expected(id);
                let done = self.save_to(ctx, state, wanted, path, expect);
                self.tell_of(done);
            }
        }
    }

    fn save_to(
        &mut self,
        ctx: &egui::Context,
        state: &mut State,
        wanted: PathWanted,
        path: PathBuf,
        expect: Expect,
    ) -> Result<(), Problem> {
        let saved = match &wanted {
            PathWanted::Save(id, _) => state.save(*id, path.clone(), expect),
            PathWanted::Export(export, _) => store::save(&path, &export.bytes, expect)
                .map(|_| state.say(Level::Note, format!("Saved ({})", path.display())))
                .map_err(SaveError::from),
            PathWanted::Open | PathWanted::Pick(_) => return Ok(()),
        };
        match saved {
            Ok(()) => match wanted {
                PathWanted::Save(id, Then::Close) => state.close(id),
                PathWanted::Save(_, Then::Quit) => self.quit(ctx, state),
                PathWanted::Export(_, left) if !left.is_empty() => {
                    let title = "Saved, but not everything goes into this form";
                    self.tell(title, left.join("\n"));
                }
                _ => {}
            },
            Err(SaveError::Taken(why) | SaveError::Changed(why)) => {
                self.questions.push(Question::Replace { wanted, path, why });
            }
            Err(SaveError::Failed(text)) => {
                let title = "The file could not be saved";
                return Err(Problem { title, text });
            }
        }
        Ok(())
    }

    fn close(&mut self, state: &mut State, id: DocumentId) {
        if state
            .document(id)
            .is_some_and(super::state::Document::is_changed)
        {
            self.questions.push(Question::Unsaved {
                document: id,
                then: Then::Close,
            });
        } else {
            state.close(id);
        }
    }

    /// Ends the program without asking: what is unsaved has been kept.
    pub fn end_unasked(&mut self, ctx: &egui::Context) {
        self.ending = true;
        ctx.send_viewport_cmd(egui::ViewportCommand::Close);
    }

    /// Ends the program, or asks about the next document with unsaved changes.
    pub fn quit(&mut self, ctx: &egui::Context, state: &State) {
        let open = state
            .documents()
            .iter()
            .find(|d| d.is_changed() && !self.let_go.contains(&d.id));
        let Some(document) = open else {
            self.ending = true;
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            return;
        };
        let asked = self
            .questions
            .iter()
            .any(|q| matches!(q, Question::Unsaved { .. }));
        if !asked {
            self.questions.push(Question::Unsaved {
                document: document.id,
                then: Then::Quit,
            });
        }
    }

    /// Asks for a path with the system's dialog, or with our own where there is none.
    fn ask(&mut self, ctx: &egui::Context, state: &State, wanted: PathWanted) {
        if !self.native {
            self.ask_typed(state, wanted, None);
            return;
        }
        if self.waiting.is_going() {
            return;
        }
        let mut dialog = rfd::FileDialog::new().set_title(title(&wanted));
        if let Some(folder) = start_folder(state) {
            dialog = dialog.set_directory(folder);
        }
        let saves = saves(&wanted);
        let endings = endings(&wanted);
        if saves {
            dialog = dialog.set_file_name(suggested_name(state, &wanted));
        } else if !endings.is_empty() {
            dialog = dialog
                .add_filter(endings.join(", "), &endings)
                .add_filter("All files", &["*"]);
        }
        let run = move |_: &Progress| {
            if saves {
                dialog.save_file()
            } else {
                dialog.pick_file()
            }
        };
        let wanted = (wanted, Instant::now());
        if cfg!(target_os = "macos") {
            // The dialogs of macOS must run on the main thread.
            self.waiting.begin_here(ctx, wanted, run);
        } else {
            self.waiting.begin(ctx, wanted, run);
        }
    }

    fn ask_typed(&mut self, state: &State, wanted: PathWanted, note: Option<String>) {
        let folder = start_folder(state)
            .or_else(|| std::env::current_dir().ok())
            .unwrap_or_default();
        let text = match &wanted {
            PathWanted::Save(id, _) => state
                .document(*id)
                .and_then(|d| d.path.clone())
                .unwrap_or_else(|| folder.join(suggested_name(state, &wanted))),
            PathWanted::Export(..) => folder.join(suggested_name(state, &wanted)),
            PathWanted::Open | PathWanted::Pick(_) => folder.join(""),
        };
        self.questions.push(Question::Path {
            wanted,
            folder,
            text: text.to_string_lossy().into_owned(),
            note,
        });
    }

    /// Goes on with a path; `sure` if the person has agreed to replace what is there.
    fn go_on(
        &mut self,
        ctx: &egui::Context,
        state: &mut State,
        wanted: PathWanted,
        path: PathBuf,
        sure: bool,
    ) -> Result<(), Problem> {
        match wanted {
            PathWanted::Open if needs_bringing_in(&path) => {
                state.to_bring_in = Some(path);
                Ok(())
            }
            PathWanted::Open => match state.open(&path) {
                Ok(assumed) => {
                    if !assumed.is_empty() {
                        self.tell("What to know about this file", assumed.join("\n"));
                    }
                    Ok(())
                }
                Err(error) => Err(Problem {
                    title: "The file could not be opened",
                    text: error.to_string(),
                }),
            },
            PathWanted::Pick(pick) => {
                state.picked.push((pick.id, path));
                Ok(())
            }
            PathWanted::Save(id, _) => {
                let path = with_ending(path);
                let own = state.document(id).and_then(|d| d.path.as_ref()) == Some(&path);
                let expect = match (sure, own) {
                    (true, _) => Expect::Anything,
                    (false, true) => state.expected(id),
                    (false, false) => Expect::Nothing,
                };
                self.save_to(ctx, state, wanted, path, expect)
            }
            PathWanted::Export(..) => {
                let expect = if sure {
                    Expect::Anything
                } else {
                    Expect::Nothing
                };
                self.save_to(ctx, state, wanted, path, expect)
            }
        }
    }

    /// Draws the latest question and goes on with its answer.
    pub fn ui(&mut self, ctx: &egui::Context, state: &mut State) {
        let Some(question) = self.questions.last_mut() else {
            return;
        };
        let native = self.native;
        let frame = egui::Frame::window(&ctx.global_style());
        let modal = Modal::new(Id::unique("question")).frame(frame);
        let modal = modal.show(ctx, |ui| {
            ui.set_width(480.0_f32.min(ctx.content_rect().width() - 64.0));
            question_ui(ui, question, state, native)
        });
        let answer = match modal.inner {
            Answer::None if is_left(&modal) => Answer::Dismiss,
            answer => answer,
        };
        if matches!(answer, Answer::None) {
            return;
        }
        let Some(question) = self.questions.pop() else {
            return;
        };
        self.answered(ctx, state, question, answer);
        ctx.request_repaint();
    }

    fn answered(
        &mut self,
        ctx: &egui::Context,
        state: &mut State,
        question: Question,
        answer: Answer,
    ) {
        match (question, answer) {
            (
                Question::Path {
                    wanted,
                    folder,
                    text,
                    ..
                },
                Answer::Path(path),
            ) => {
                let path = folder.join(path);
                if let Err(problem) = self.go_on(ctx, state, wanted.clone(), path, false) {
                    // What was typed stays, to be mended.
                    self.questions.push(Question::Path {
                        wanted,
                        folder,
                        text,
                        note: Some(sentence(&problem.text)),
                    });
                }
            }
            (Question::Path { wanted, .. }, Answer::System) => self.ask(ctx, state, wanted),
            (Question::Replace { wanted, path, .. }, Answer::Replace) => {
                let done = self.go_on(ctx, state, wanted, path, true);
                self.tell_of(done);
            }
            (Question::Comments { wanted, path, .. }, Answer::Replace) => {
                let expect = match &wanted {
                    PathWanted::Save(id, _) => state.expected(*id),
                    _ => Expect::Nothing,
                };
                let done = self.save_to(ctx, state, wanted, path, expect);
                self.tell_of(done);
            }
            (Question::Comments { wanted, .. }, Answer::Elsewhere) => {
                self.ask(ctx, state, wanted);
            }
            (Question::About, Answer::Notices) => self.questions.push(Question::Notices),
            (Question::Unsaved { document, then }, Answer::SaveFirst) => {
                self.save(ctx, state, document, then);
            }
            (Question::Unsaved { document, then }, Answer::LetGo) => match then {
                Then::Close => state.close(document),
                Then::Quit => {
                    self.let_go.push(document);
                    self.quit(ctx, state);
                }
                Then::Nothing => {}
            },
            // Whoever stays may change their mind about what was let go.
            (Question::Unsaved { .. }, _) => self.let_go.clear(),
            (Question::LeftOver(found), Answer::Recover) => {
                let now = state.host.now();
                for one in &found {
                    match state.recover(one, &now) {
                        Ok(told) => {
                            half_typed::bring_back(ctx, one.typed.clone());
                            if let Some(words) = told {
                                self.tell("The file was saved elsewhere meanwhile", words);
                            }
                        }
                        Err(problem) => self.tell("Kept work could not be opened", problem),
                    }
                }
            }
            (Question::LeftOver(found), Answer::Discard) => {
                for one in &found {
                    if let Err(problem) = one.discard() {
                        self.tell("Kept work could not be removed", problem.to_string());
                    }
                }
            }
            _ => {}
        }
    }
}

fn title(wanted: &PathWanted) -> String {
    match wanted {
        PathWanted::Open => "Open a formula".to_owned(),
        PathWanted::Pick(pick) => pick.title.clone(),
        PathWanted::Save(..) => "Save the formula".to_owned(),
        PathWanted::Export(export, _) => export.title.clone(),
    }
}

const fn saves(wanted: &PathWanted) -> bool {
    matches!(wanted, PathWanted::Save(..) | PathWanted::Export(..))
}

fn suggested_name(state: &State, wanted: &PathWanted) -> String {
    match wanted {
        PathWanted::Save(id, _) => {
            let name = state.document(*id).map_or("formula", |d| d.name());
            format!("{}{ENDING}", file_stem(name))
        }
        PathWanted::Export(export, _) => export.file_name.clone(),
        PathWanted::Open | PathWanted::Pick(_) => String::new(),
    }
}

/// Endings of the files that are of use; empty for any.
fn endings(wanted: &PathWanted) -> Vec<String> {
    match wanted {
        PathWanted::Open => vec!["ron".to_owned(), "csv".to_owned()],
        PathWanted::Pick(pick) => pick.endings.clone(),
        PathWanted::Save(..) => vec!["ron".to_owned()],
        PathWanted::Export(export, _) => Path::new(&export.file_name)
            .extension()
            .map(|e| e.to_string_lossy().into_owned())
            .into_iter()
            .collect(),
    }
}

/// Where to start looking: beside the document, or beside the last one used.
fn start_folder(state: &State) -> Option<PathBuf> {
    state
        .current()
        .path
        .as_ref()
        .or(state.settings.recent.first())
        .and_then(|p| p.parent())
        .map(Path::to_path_buf)
}

/// A path as typed: `~` is the home folder.
fn typed_path(text: &str) -> PathBuf {
    let text = text.trim();
    match (text.strip_prefix("~/"), etcetera::home_dir()) {
        (Some(rest), Ok(home)) => home.join(rest),
        _ => PathBuf::from(text),
    }
}
