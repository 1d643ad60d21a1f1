//! All entries, and their corrections.

use eframe::egui::Ui;
use formulation::batch::record::{Change, Event, moment};

use super::{At, Form, RunPage, checked, fields, stop};
use crate::sheets::make::{action, entered, field};
use crate::theme;

/// An entry that is being corrected.
pub struct Correction {
    entry: u64,
    values: Vec<String>,
    why: String,
    /// Whether it has been scrolled to.
    shown: bool,
}

/// Draws them.
pub fn ui(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let record = at.record;
    ui.add_space(theme::GAP);
    let count = record.entries().len();
    let id = ui.scope_id().with("entries");
    eframe::egui::CollapsingHeader::new(format!("Entries ({count})"))
        .id_salt(id)
        .default_open(record.is_closed())
        .open(std::mem::take(&mut page.open_log).then_some(true))
        .show(ui, |ui| {
            for entry in record.entries() {
                ui.push_id(entry.number, |ui| {
                    ui.horizontal_wrapped(|ui| {
                        let head =
                            format!("{} · {} · {}", entry.number, moment(&entry.at), entry.by);
                        ui.label(theme::small(ui, head))
                            .on_hover_text(entry.at.as_ref());
                        let words = record.describe(entry);
                        match record.standing(entry.number) {
                            Some((_, true)) => {
                                ui.label(eframe::egui::RichText::new(words).strikethrough());
                            }
                            Some((event, false)) if *event != entry.event => {
                                ui.label(eframe::egui::RichText::new(words).strikethrough());
                                ui.label(record.describe_event(event));
                            }
                            _ => {
                                ui.label(words);
                            }
                        }
                        let correctable = record.value_of(entry.number, &Change::Struck).is_some();
                        let mine = page
                            .correction
                            .as_ref()
                            .is_some_and(|c| c.entry == entry.number);
                        if correctable
                            && !mine
                            && ui
                                .button("Correct…")
                                .accessible_name(format!("Correct entry {}", entry.number))
                                .on_hover_text(
                                    "Adds a correction; the old value stays in the record",
                                )
                                .clicked()
                        {
                            begin(at, page, entry.number);
                        }
                    });
                    if page
                        .correction
                        .as_ref()
                        .is_some_and(|c| c.entry == entry.number)
                    {
                        correction(ui, at, page);
                    }
                });
            }
        });
}

/// Begins the correction of an entry, and shows it.
pub fn begin(at: At<'_>, page: &mut RunPage, entry: u64) {
    let Some((event, false)) = at.record.standing(entry) else {
        return;
    };
    let values = fields::of(at.record, event);
    page.correction = Some(Correction {
        entry,
        values: values.into_iter().map(|f| f.1).collect(),
        why: String::new(),
        shown: false,
    });
    page.open_log = true;
}

fn correction(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let record = at.record;
    let Some(mut open) = page.correction.take() else {
        return;
    };
    let Some((standing, _)) = record.standing(open.entry) else {
        return;
    };
    // What is changed may be the decision, which the mix as weighed has a say in.
    checked::refresh(at, page);
    let labels = fields::of(record, standing);
    let mut keep = true;
    let row = ui.horizontal_wrapped(|ui| {
        for ((label, _), value) in labels.iter().zip(&mut open.values) {
            field(ui, label, value, 120.0);
        }
        let why = [field(ui, "Why it is corrected", &mut open.why, 200.0)];
        let amended = |change: Change| {
            let old = record.value_of(open.entry, &change)?;
            Some(Event::Amended {
                entry: open.entry,
                change,
                old: old.into(),
                reason: open.why.trim().into(),
            })
        };
        let add = |ui: &mut Ui| action(ui, "Add the correction").clicked() || entered(ui, &why);
        if !labels.is_empty() && add(ui) {
            let corrected = fields::with(standing, &open.values, record.opening().unit);
            match corrected {
                Ok(event) if event == *standing => {
                    page.refuse(Form::Correction, "Nothing is changed yet");
                }
                Ok(event) => {
                    let change = Change::Instead(Box::new(event));
                    if let Some(amendment) = amended(change) {
                        stop::weigh(at, page, Form::Correction, amendment);
                    }
                }
                Err(words) => page.refuse(Form::Correction, words),
            }
        }
        if action(ui, "Strike it out").clicked()
            && let Some(amendment) = amended(Change::Struck)
        {
            page.send(at, Form::Correction, amendment);
        }
        if action(ui, "Leave it").clicked() {
            keep = false;
        }
    });
    if !std::mem::replace(&mut open.shown, true) {
        row.response.scroll_to_me(None);
    }
    page.problem_ui(ui, &Form::Correction);
    // It stays until it is recorded, so that a refusal loses nothing.
    if keep {
        page.correction = Some(open);
    } else {
        page.problem = None;
    }
}
