//! How questions are drawn and answered.

use std::path::Path;

use eframe::egui::{self, Key, Ui};

use super::about::{about_ui, notices_ui};
use super::{Answer, PathWanted, Question, endings, saves, title, typed_path};
use crate::state::State;
use crate::theme;
use crate::widgets::entry::{cursor_at, select_all};
use crate::widgets::rule_text::rule_text;
use formulation::file::disk;
use formulation::plain_words::sentence;
use std::path::PathBuf;

/// A row of buttons at the end of a question; the first is the likely answer.
fn buttons<'a>(ui: &mut Ui, answers: impl IntoIterator<Item = (&'a str, Answer)>) -> Answer {
    let mut chosen = Answer::None;
    ui.add_space(theme::GAP);
    ui.horizontal(|ui| {
        for (place, (words, answer)) in answers.into_iter().enumerate() {
            let button = if place == 0 {
                theme::main_button(ui, words)
            } else {
                ui.button(words)
            };
            // Enter gives the likely answer, unless one is typing.
            if place == 0 && ui.memory(|m| m.focused().is_none()) {
                button.request_focus();
            }
            if button.clicked() {
                chosen = answer;
            }
        }
    });
    chosen
}

pub(super) fn question_ui(
    ui: &mut Ui,
    question: &mut Question,
    state: &State,
    native: bool,
) -> Answer {
    match question {
        Question::Path {
            wanted,
            folder,
            text,
            note,
        } => path_ui(ui, wanted, folder, text, note.as_deref(), native),
        Question::Replace { why, .. } => {
            ui.label(theme::heading("Replace the file?"));
            ui.label(sentence(why));
            ui.label("What is there now is kept beside it under a name that ends in “.replaced”.");
            buttons(
                ui,
                [("Cancel", Answer::Dismiss), ("Replace", Answer::Replace)],
            )
        }
        Question::Comments { comments, .. } => {
            ui.label(theme::heading("Let the comments go?"));
            ui.label(
                "The file holds comments written by hand. A save writes it anew without them; the file as it is now is kept beside it under a name that ends in “.previous”.",
            );
            for comment in comments.iter().take(5) {
                ui.add(egui::Label::new(format!("• {comment}")).truncate());
            }
            if comments.len() > 5 {
                ui.label(format!("and {} more", comments.len() - 5));
            }
            buttons(
                ui,
                [
                    ("Save under another name…", Answer::Elsewhere),
                    ("Save without them", Answer::Replace),
                    ("Cancel", Answer::Dismiss),
                ],
            )
        }
        Question::Unsaved { document, .. } => {
            let name = state.document(*document).map_or("", |d| d.name());
            ui.label(theme::heading("Save the changes first?"));
            ui.label(format!("“{name}” has changes that no file holds."));
            buttons(
                ui,
                [
                    ("Save", Answer::SaveFirst),
                    ("Don’t save", Answer::LetGo),
                    ("Cancel", Answer::Dismiss),
                ],
            )
        }
        Question::LeftOver(found) => {
            ui.label(theme::heading("Unsaved work was kept"));
            ui.label("The program did not end in order the last time. These changes were kept:");
            for one in found.iter() {
                let name = one
                    .origin
                    .as_deref()
                    .and_then(Path::file_name)
                    .map_or_else(|| "a formula never saved".into(), |n| n.to_string_lossy());
                let at = state.host.short_time(&one.at);
                ui.label(format!("• {name}, {at}"));
            }
            ui.label(theme::small(
                ui,
                "Files on disk stay as they are until you save. Later asks again at the next start.",
            ));
            buttons(
                ui,
                [
                    ("Open them", Answer::Recover),
                    ("Later", Answer::Dismiss),
                    ("Discard them", Answer::Discard),
                ],
            )
        }
        Question::Problem { title, text } => {
            ui.label(theme::heading(title.clone()));
            ui.add(egui::Label::new(sentence(text)).wrap().selectable(true));
            buttons(ui, [("Close", Answer::Dismiss)])
        }
        Question::Rule(rule) => {
            rule_text(ui, &state.context().rules, rule);
            buttons(ui, [("Close", Answer::Dismiss)])
        }
        Question::About => {
            about_ui(ui);
            buttons(
                ui,
                [
                    ("Close", Answer::Dismiss),
                    ("Licences of others…", Answer::Notices),
                ],
            )
        }
        Question::Notices => {
            notices_ui(ui);
            buttons(ui, [("Close", Answer::Dismiss)])
        }
    }
}

fn path_ui(
    ui: &mut Ui,
    wanted: &PathWanted,
    start: &Path,
    text: &mut String,
    note: Option<&str>,
    native: bool,
) -> Answer {
    ui.label(theme::heading(title(wanted)));
    if let Some(note) = note {
        ui.add(egui::Label::new(note).wrap());
    }
    let id = ui.make_persistent_id("path");
    let response = ui
        .add(
            egui::TextEdit::singleline(text)
                .id(id)
                .desired_width(f32::INFINITY)
                .hint_text("Path of the file"),
        )
        .accessible_name("Path");
    let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if ui.memory(|m| m.focused().is_none()) {
        response.request_focus();
    }
    if response.gained_focus() {
        let letters = text.chars().count();
        if saves(wanted) {
            select_all(ui, id, letters);
        } else {
            // A name is typed after the folder, wherever the cursor was the last time.
            cursor_at(ui, id, letters);
        }
    }
    let mut answer = Answer::None;
    if entered && !text.trim().is_empty() {
        answer = Answer::Path(typed_path(text));
    }
    if let Some(clicked) = listing_ui(ui, start, text, &endings(wanted)) {
        let is_file = clicked.is_file();
        *text = if is_file {
            clicked.to_string_lossy().into_owned()
        } else {
            clicked.join("").to_string_lossy().into_owned()
        };
        if is_file && !saves(wanted) {
            answer = Answer::Path(clicked);
        }
    }
    let go = match wanted {
        PathWanted::Open => "Open",
        PathWanted::Pick(_) => "Choose",
        PathWanted::Save(..) | PathWanted::Export(..) => "Save",
    };
    let path = typed_path(text);
    let mut answers = vec![(go, Answer::Path(path)), ("Cancel", Answer::Dismiss)];
    if native && note.is_none() {
        answers.push(("System dialog…", Answer::System));
    }
    match buttons(ui, answers) {
        Answer::None => answer,
        clicked => clicked,
    }
}

/// Folders and files that begin as typed, to be clicked.
fn listing_ui(ui: &mut Ui, start: &Path, text: &str, endings: &[String]) -> Option<PathBuf> {
    let typed = start.join(typed_path(text));
    let ends = text.ends_with(std::path::MAIN_SEPARATOR) || text.ends_with('/');
    let (folder, start) = if ends {
        (typed.as_path(), String::new())
    } else {
        let start = typed
            .file_name()
            .map(|n| n.to_string_lossy().to_lowercase());
        (typed.parent()?, start.unwrap_or_default())
    };
    let mut entries: Vec<(bool, String)> = disk::list(folder)
        .ok()?
        .iter()
        .filter_map(|path| {
            let name = path.file_name()?.to_string_lossy().into_owned();
            Some((!disk::is_folder(path), name))
        })
        .filter(|(is_file, name)| {
            let ending = Path::new(name).extension().map(|e| e.to_string_lossy());
            let fits = endings.is_empty()
                || ending.is_some_and(|e| endings.iter().any(|f| e.eq_ignore_ascii_case(f)));
            let shown = !name.starts_with('.') && name.to_lowercase().starts_with(&start);
            shown && (!is_file || fits)
        })
        .collect();
    entries.sort();
    let mut clicked = None;
    egui::ScrollArea::vertical()
        .max_height(180.0)
        .auto_shrink([false, true])
        .show_rows(ui, theme::FIELD, entries.len(), |ui, rows| {
            for (is_file, name) in entries.get(rows).unwrap_or_default() {
                let words = if *is_file {
                    name.clone()
                } else {
                    format!("{name}/")
                };
                if ui.add(egui::Button::new(words).frame(false)).clicked() {
                    clicked = Some(folder.join(name));
                }
            }
        });
    clicked
}
