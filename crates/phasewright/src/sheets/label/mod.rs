//! The sheet Label: ingredient list and label text per market.
//!
//! At the left what the maker states, at the right what follows: the list, the rest of
//! the label, what is missing, and the facts that the formula supports.

mod fields;
mod ingredients;
mod picture;
mod run;

use std::sync::Arc;

use eframe::egui::{self, ScrollArea, Ui};
use formulation::edit::Edit;
use formulation::finding::Level;
use formulation::formula::Market;
use formulation::label::svg::{self, Drawing};
use formulation::label::{self, CAUTION, Label, Missing, Stated, claims, list_ground};
use formulation::label_info::LabelInfo;

use crate::command::{Command, Export};
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::at_right::with_right;
use crate::widgets::choice::choice_row;
use crate::widgets::focus::region;
use crate::widgets::in_columns::two_columns;
use crate::widgets::level_mark::level_mark;

/// What a drawn label was made from.
#[derive(PartialEq)]
struct Key {
    document: DocumentId,
    revision: u64,
    evaluation: usize,
    market: Market,
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct LabelSheet {
    market: Option<Market>,
    made: Option<(Key, Label, Drawing)>,
    run: run::Run,
    /// The field that gets the cursor, for what it asks for is missing.
    led_to: Option<Stated>,
}

/// Width from which the label stands in two columns, in points.
const TWO_COLUMNS: f32 = 1200.0;
/// Width of the column of fields.
const FIELDS: f32 = 330.0;

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut LabelSheet, commands: &mut Vec<Command>) {
    let markets = &view.variant.product.markets;
    let market = sheet
        .market
        .or_else(|| markets.first().copied())
        .unwrap_or(Market::Eu);
    let key = Key {
        document: view.document.id,
        revision: view.document.revision(),
        evaluation: Arc::as_ptr(view.evaluation).addr(),
        market,
    };
    if sheet.made.as_ref().is_none_or(|(of, ..)| *of != key) {
        let label = label::label(view.formula, view.variant, view.evaluation, market);
        let drawing = svg::draw(&label, &view.variant.label);
        sheet.made = Some((key, label, drawing));
    }
    let Some((_, label, drawing)) = &sheet.made else {
        return;
    };
    let mut chosen = market;
    region(ui, "Market and saving", |ui| {
        bar(ui, view, &mut chosen, label, drawing, commands);
        run::run(ui, view, &mut sheet.run, market, commands);
    });
    ui.add_space(theme::TIGHT);
    egui::Panel::left("label fields")
        .exact_size(FIELDS + theme::GAP * 2.0)
        .resizable(false)
        .show(ui, |ui| {
            region(ui, "What you state", |ui| {
                ScrollArea::vertical()
                    .id_salt("fields")
                    .auto_shrink([false, false])
                    .show(ui, |ui| {
                        ui.set_width(FIELDS);
                        fields::fields(ui, view, label, sheet.led_to.take(), commands);
                    });
            });
        });
    egui::CentralPanel::default().show(ui, |ui| {
        region(ui, "The label", |ui| {
            stands_against_it(ui, label);
            let led_there = what_is_missing(ui, label);
            let mut led_to = None;
            if led_there {
                led_to = label.missing.iter().find_map(|m| m.stated);
            }
            ScrollArea::vertical()
                .id_salt("label")
                .auto_shrink([false, false])
                .show(ui, |ui| {
                    if ui.available_width() < TWO_COLUMNS {
                        picture::picture(ui, view, drawing);
                        breaches(ui, label);
                        ingredients::list(ui, view, label, commands);
                        led_to = led_to.or(rest(ui, label, led_there));
                        facts(ui, label);
                    } else {
                        two_columns(ui, |left, right| {
                            picture::picture(left, view, drawing);
                            breaches(left, label);
                            led_to = led_to.or(rest(left, label, led_there));
                            ingredients::list(right, view, label, commands);
                            facts(right, label);
                        });
                    }
                    ui.add_space(theme::GAP);
                    ui.label(theme::small(ui, CAUTION));
                });
            if led_to.is_some() {
                sheet.led_to = led_to;
                ui.request_repaint();
            }
        });
    });
    if chosen != market {
        sheet.market = Some(chosen);
    }
}

fn bar(
    ui: &mut Ui,
    view: &View<'_>,
    chosen: &mut Market,
    label: &Label,
    drawing: &Drawing,
    commands: &mut Vec<Command>,
) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Label for");
        let all = &Market::ALL;
        choice_row(ui, "market", chosen, all, Market::label, list_ground);
        ui.separator();
        if ui
            .button("Copy the list")
            .on_hover_text("The ingredient list goes to the clipboard")
            .clicked()
        {
            ui.copy_text(label.ingredients.text());
            commands.push(Command::ShowMessage(
                Level::Note,
                "The ingredient list is on the clipboard".to_owned(),
            ));
        }
        if ui
            .button("Copy the label")
            .on_hover_text("The whole text of the label goes to the clipboard")
            .clicked()
        {
            ui.copy_text(label.text());
            commands.push(Command::ShowMessage(
                Level::Note,
                "The text of the label is on the clipboard".to_owned(),
            ));
        }
        let stem = format!("{} label {}", view.formula.name, label.market.label());
        if ui
            .button("Save as text…")
            .on_hover_text("Plain text with the ground of every part")
            .clicked()
        {
            commands.push(Command::Export(Export {
                title: "Save the label as text".to_owned(),
                file_name: format!("{stem}.txt"),
                bytes: formulation::file::label_report::text(label)
                    .into_bytes()
                    .into(),
            }));
        }
        if ui
            .button("Save as SVG…")
            .on_hover_text(format!(
                "The label at {:.0} by {:.0} mm, with the text height chosen here",
                view.variant.label.width_mm, drawing.height_mm
            ))
            .clicked()
        {
            commands.push(Command::Export(Export {
                title: "Save the label as SVG".to_owned(),
                file_name: format!("{stem}.svg"),
                bytes: drawing.svg.clone().into_bytes().into(),
            }));
        }
        let p = theme::palette(ui);
        let info = &view.variant.label;
        if drawing.fits {
            ui.label(theme::small(
                ui,
                format!(
                    "Text takes {:.0} of {:.0} mm",
                    drawing.needs_height_mm, info.height_mm
                ),
            ));
        } else {
            ui.colored_label(
                p.level(Level::Caution),
                format!(
                    "Text needs {:.0} mm, the label has {:.0}",
                    drawing.needs_height_mm, info.height_mm
                ),
            );
        }
    });
}

fn edit(view: &View<'_>, commands: &mut Vec<Command>, change: impl FnOnce(&mut LabelInfo)) {
    let mut info = view.variant.label.as_ref().clone();
    change(&mut info);
    if info != *view.variant.label {
        commands.push(Command::Edit(Edit::SetLabel(Arc::new(info))));
    }
}

/// One line that says that the product must not be sold, above everything else.
fn stands_against_it(ui: &mut Ui, label: &Label) {
    let Some(notice) = label.not_for_sale() else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        level_mark(ui, Level::Breach);
        ui.label(theme::strong(&notice));
    });
    ui.add_space(theme::TIGHT);
}

/// What stands against selling it, beside the picture; none of it is printed.
fn breaches(ui: &mut Ui, label: &Label) {
    if label.breaches.is_empty() {
        return;
    }
    ui.label(theme::strong("Stands against selling it; not printed"));
    for breach in &label.breaches {
        ui.horizontal_top(|ui| {
            level_mark(ui, Level::Breach);
            let words = match breach.cited() {
                Some(rule) => format!("{} ({rule})", breach.message),
                None => breach.message.clone(),
            };
            ui.add(egui::Label::new(words).wrap())
                .on_hover_text(&*breach.source.text);
        });
    }
    ui.add_space(theme::GAP);
}

/// One line about what is missing, above everything else; whether one wants to be led there.
fn what_is_missing(ui: &mut Ui, label: &Label) -> bool {
    let Some(first) = label.missing.first() else {
        return false;
    };
    let (level, word) = lack(first);
    let others = match label.missing.len() - 1 {
        0 => String::new(),
        n => format!(" (and {n} more)"),
    };
    let words = format!("{word}{others}: {}", first.what);
    let row = ui.horizontal(|ui| {
        let told = |ui: &mut Ui| {
            level_mark(ui, level);
            ui.add(egui::Label::new(&words).truncate())
                .on_hover_text(&words);
        };
        with_right(ui, "what is missing", told, |ui| {
            ui.button("Show what is missing")
                .on_hover_text("Where it is demanded; the cursor goes where it is stated")
                .clicked()
        })
    });
    ui.add_space(theme::TIGHT);
    row.inner
}

/// How grave something missing is, and the word for it.
const fn lack(missing: &Missing) -> (Level, &'static str) {
    if missing.required {
        (Level::Breach, "Missing")
    } else {
        (Level::Caution, "Advised")
    }
}

/// The other parts of the label, what is missing and what to mind; brought into sight if one is
/// led there. What is to be stated, once that is asked for.
fn rest(ui: &mut Ui, label: &Label, led_there: bool) -> Option<Stated> {
    let mut to_state = None;
    let p = theme::palette(ui);
    ui.add_space(theme::GAP);
    let title = ui.label(theme::heading("The rest of the label"));
    if led_there {
        title.scroll_to_me(Some(egui::Align::TOP));
    }
    for missing in &label.missing {
        let (level, word) = lack(missing);
        ui.horizontal_wrapped(|ui| {
            ui.colored_label(p.level(level), theme::strong(word));
            ui.label(&missing.what).on_hover_text(&missing.ground);
            ui.label(theme::small(ui, &missing.ground));
            if let Some(stated) = missing.stated {
                let name = format!("State it: {}", fields::field_of(stated, label.market));
                let button = ui.small_button("State it").accessible_name(name);
                to_state = button.clicked().then_some(stated).or(to_state);
            }
        });
    }
    ui.add_space(theme::TIGHT);
    egui::Grid::new("sections")
        .num_columns(2)
        .striped(true)
        .spacing([theme::GAP, 4.0])
        .show(ui, |ui| {
            for section in &label.sections {
                ui.label(theme::small(ui, section.kind.title()));
                ui.vertical(|ui| {
                    ui.set_max_width(ui.available_width().max(200.0));
                    ui.add(egui::Label::new(&section.text).wrap());
                    ui.add(egui::Label::new(theme::small(ui, &section.ground)).wrap());
                });
                ui.end_row();
            }
        });
    let advice: Vec<String> = label
        .advice
        .iter()
        .map(|a| format!("{} ({})", a.text, a.ground))
        .collect();
    bullets(ui, "To mind", &advice);
    to_state
}

fn bullets(ui: &mut Ui, title: &str, lines: &[String]) {
    if lines.is_empty() {
        return;
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(title));
    for line in lines {
        ui.add(egui::Label::new(format!("• {line}")).wrap());
    }
}

/// Facts, never words of praise.
fn facts(ui: &mut Ui, label: &Label) {
    ui.add_space(theme::GAP);
    ui.label(theme::heading("Facts"));
    ui.label(theme::small(
        ui,
        format!(
            "As computed from the declared constituents. Whether a claim is fair and allowed is another question: {}.",
            claims::law(label.market)
        ),
    ));
    for claim in &label.claims {
        ui.add(egui::Label::new(format!("• {}", claim.words())).wrap())
            .on_hover_text(&claim.ground);
    }
}
