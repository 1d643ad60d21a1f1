//! The window in which finished formulas and closed records are signed and checked.

use std::path::PathBuf;

use eframe::egui::{self, ComboBox, Id, Key, Modifiers, TextEdit, Ui};
use formulation::file::signature::{self, SignError};
use formulation::finding::Level;

use crate::command::{Command, Pick};
use crate::state::State;
use crate::theme;
use crate::widgets::level_mark::level_mark;
use crate::widgets::work_bar::work_bar;
use crate::work::{Work, WorkState};

/// What was asked for, and what came of it.
struct Said {
    level: Level,
    words: String,
}

/// The window.
#[derive(Default)]
pub struct SigningWindow {
    open: bool,
    file: String,
    key: String,
    password: String,
    name: String,
    /// Names of the keys there are; looked for when the window opens and after it did something.
    keys: Option<Vec<String>>,
    /// A password makes signing slow on purpose, so it is done beside the window.
    running: Work<(), Said>,
    said: Option<Said>,
}

fn picked_id() -> Id {
    Id::unique("file to sign")
}

impl SigningWindow {
    /// Opens it on a file.
    pub fn open(&mut self, file: Option<PathBuf>) {
        self.open = true;
        self.said = None;
        self.keys = None;
        if let Some(file) = file {
            self.file = file.display().to_string();
        }
    }

    /// Draws it, if it is open.
    pub fn ui(&mut self, ctx: &egui::Context, state: &State, commands: &mut Vec<Command>) {
        if !self.open {
            return;
        }
        if let Some((_, path)) = state.picked.iter().find(|(id, _)| *id == picked_id()) {
            self.file = path.display().to_string();
            self.said = None;
        }
        self.running.poll();
        if let Some(((), said)) = self.running.take() {
            self.said = Some(said);
            self.keys = None;
        }
        match self.running.standing() {
            Some(WorkState::Failed(why)) => {
                self.said = Some(Said {
                    level: Level::Breach,
                    words: why.to_owned(),
                });
                self.running.forget();
            }
            Some(WorkState::Stopped) => self.running.forget(),
            _ => {}
        }
        let mut open = true;
        egui::Window::new("Signatures")
            .open(&mut open)
            .collapsible(false)
            .resizable(false)
            .default_width(520.0)
            .pivot(egui::Align2::CENTER_CENTER)
            .default_pos(ctx.content_rect().center())
            .show(ctx, |ui| self.inside(ui, state, commands));
        let typing = ctx.text_edit_focused();
        if !open || (!typing && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape))) {
            self.open = false;
            self.password.clear();
        }
    }

    fn inside(&mut self, ui: &mut Ui, state: &State, commands: &mut Vec<Command>) {
        let Some(folder) = state.folders.keys() else {
            ui.label("There is no folder for keys; set HOME or the usual variable of your system.");
            return;
        };
        ui.label("A signature shows that whoever holds the secret key signed these very bytes. It does not show when, nor that what the file says is true.");
        ui.add_space(theme::TIGHT);
        ui.horizontal(|ui| {
            let label = ui.label("File");
            ui.add(TextEdit::singleline(&mut self.file).desired_width(360.0))
                .labelled_by(label.id)
                .on_hover_text("A finished formula, or the record of a closed batch");
            if ui.button("Choose…").clicked() {
                commands.push(Command::Pick(Pick {
                    id: picked_id(),
                    title: "A finished formula or a closed record".to_owned(),
                    endings: Vec::new(),
                }));
            }
        });
        let names = self
            .keys
            .get_or_insert_with(|| signature::names_in(&folder, signature::PUBLIC))
            .clone();
        if !names.contains(&self.key) {
            self.key = names.first().cloned().unwrap_or_default();
        }
        ui.horizontal(|ui| {
            ui.label("Key");
            ComboBox::from_id_salt("key")
                .selected_text(if names.is_empty() {
                    "none yet"
                } else {
                    &self.key
                })
                .width(160.0)
                .show_ui(ui, |ui| {
                    for name in &names {
                        ui.selectable_value(&mut self.key, name.clone(), name);
                    }
                })
                .response
                .accessible_name("Key");
            let label = ui.label("Its password");
            ui.add(
                TextEdit::singleline(&mut self.password)
                    .password(true)
                    .desired_width(140.0),
            )
            .labelled_by(label.id)
            .on_hover_text("Empty if the key has none");
        });
        let busy = self.running.is_going();
        ui.add_enabled_ui(!busy && !names.is_empty(), |ui| {
            ui.horizontal(|ui| {
                if theme::main_button(ui, "Sign").clicked() {
                    let key = folder.join(format!("{}.{}", self.key, signature::SECRET));
                    let (file, password) = (PathBuf::from(self.file.trim()), self.password.clone());
                    let now = (state.host.clock)().as_second();
                    self.start(ui, move || {
                        let signed = signature::sign(&file, &key, &password, now, false)?;
                        Ok((
                            Level::Note,
                            format!("Signed; the signature is {}", signed.display()),
                        ))
                    });
                }
                if ui.button("Check").clicked() {
                    let key = folder.join(format!("{}.{}", self.key, signature::PUBLIC));
                    let file = PathBuf::from(self.file.trim());
                    self.start(ui, move || {
                        let verdict = signature::verify(&file, &key)?;
                        let level = if verdict.holds() {
                            Level::Note
                        } else {
                            Level::Breach
                        };
                        Ok((level, verdict.words()))
                    });
                }
            });
        });
        work_bar(ui, &mut self.running, "Working with the key");
        ui.add_space(theme::TIGHT);
        ui.label(theme::strong("A key of your own"));
        ui.horizontal(|ui| {
            let label = ui.label("Name");
            ui.add(TextEdit::singleline(&mut self.name).desired_width(160.0))
                .labelled_by(label.id);
            let make = ui.add_enabled(!busy, egui::Button::new("Make it"));
            if make
                .on_hover_text("Makes a secret key with the password above, and the public key for those who check")
                .clicked()
            {
                let (name, password) = (self.name.trim().to_owned(), self.password.clone());
                let folder = folder.clone();
                self.start(ui, move || {
                    let key = signature::make_named(&folder, &name, &password)?;
                    Ok((
                        Level::Note,
                        format!(
                            "Key {key} made in {}. Keep {name}.key to yourself, with a copy in another place: whoever has it can sign in your name. Give {name}.pub to those who check.",
                            folder.display()
                        ),
                    ))
                });
            }
        });
        if let Some(said) = &self.said {
            ui.add_space(theme::TIGHT);
            ui.horizontal_wrapped(|ui| {
                level_mark(ui, said.level);
                ui.label(&said.words);
            });
        }
    }

    /// Does something beside the window and shows what came of it.
    fn start(
        &mut self,
        ui: &Ui,
        work: impl FnOnce() -> Result<(Level, String), SignError> + Send + 'static,
    ) {
        self.said = None;
        self.running.begin(ui, (), move |_| {
            let (level, words) = work().unwrap_or_else(|e| (Level::Breach, e.to_string()));
            Said { level, words }
        });
    }
}
