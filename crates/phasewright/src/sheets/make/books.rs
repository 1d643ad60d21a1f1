//! All batches: search, and tracing from a lot to every batch that contains it.

use eframe::egui::{Grid, Ui};
use formulation::batch::formula_state::state_of;
use formulation::batch::record::{Decision, Record};
use formulation::batch::trace::{self, Affected};
use formulation::batch_code::BatchCode;
use formulation::compare::{Compared, compare, note};
use formulation::file::recall_export;
use formulation::finding::Level;
use formulation::stock::{LotId, Stock};

use super::{caution, field, name_of, push};
use crate::command::{BooksCommand, Command, Making};
use crate::state::View;
use crate::theme;
use crate::widgets::in_columns::{Half, halves};

/// What the page keeps between frames.
#[derive(Default)]
pub struct BooksPage {
    query: String,
    lot: String,
    batch: String,
    changed: Option<BatchCode>,
}

/// Width from which recalls stand beside the list of batches, in points.
const BESIDE: f32 = 1500.0;

/// Draws the page; true if a batch was opened.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut BooksPage, commands: &mut Vec<Command>) -> bool {
    let mut opened = false;
    halves(ui, BESIDE, |ui, half| match half {
        Half::First => opened = batches(ui, view, page, commands),
        Half::Second => {
            forward(ui, view, page, commands);
            ui.add_space(theme::GAP);
            backward(ui, view, page);
        }
    });
    opened
}

/// The list of all batches; true if one was opened.
fn batches(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut BooksPage,
    commands: &mut Vec<Command>,
) -> bool {
    let books = &view.state.books;
    let mut opened = false;
    field(
        ui,
        "Search code, formula, material, lot, remark, consignee",
        &mut page.query,
        380.0,
    );
    ui.add_space(theme::TIGHT);
    let mut found = 0;
    Grid::new("batches")
        .num_columns(8)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Batch", "Formula", "State", "Begun", "Weighed", "Filled", "Decision", "",
            ] {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for record in books.all_records().filter(|r| r.matches(&page.query)) {
                found += 1;
                ui.push_id(record.code().as_str(), |ui| {
                    ui.label(theme::strong(record.code().to_string()));
                });
                ui.label(record.opening().formula.name.as_ref());
                state(ui, view, record, &mut page.changed);
                let begun = record.entries().first().map_or("", |e| e.at.as_ref());
                ui.label(begun.split('T').next().unwrap_or(begun));
                ui.label(format!("{} g", record.weighed()));
                ui.label(
                    record
                        .containers()
                        .map_or_else(String::new, |n| n.to_string()),
                );
                let decision = record.decision().map_or("undecided", |(d, _)| d.label());
                let closed = if record.is_closed() { ", closed" } else { "" };
                ui.label(format!("{decision}{closed}"));
                if ui
                    .button("Open")
                    .accessible_name(format!("Open the record of {}", record.code()))
                    .clicked()
                {
                    push(commands, BooksCommand::Resume(record.code().clone()));
                    opened = true;
                }
                ui.end_row();
            }
        });
    let broken = books
        .records()
        .unreadable
        .iter()
        .filter(|u| u.may_match(&page.query));
    for unreadable in broken {
        found += 1;
        let words = format!(
            "{}: the record cannot be read. {}",
            unreadable.name(),
            unreadable.error
        );
        caution(ui, Level::Breach, &words);
    }
    for (path, loaded) in &books.records().records {
        if let Some(words) = loaded.fault_words() {
            caution(ui, Level::Breach, format!("{words} ({})", path.display()));
        }
        for lost in loaded.record.lost() {
            let code = loaded.record.code();
            let words = format!(
                "{code}, entry {}: {}. It reads: {}",
                lost.number, lost.why, lost.text
            );
            caution(ui, Level::Caution, &words);
        }
    }
    if found == 0 {
        ui.label(theme::small(ui, "No batch fits."));
    }
    changes(ui, view, page.changed.as_ref());
    ui.add_space(theme::GAP);
    opened
}

/// The state of the formula that a batch was made from, against the state now.
fn state(ui: &mut Ui, view: &View<'_>, record: &Record, changed: &mut Option<BatchCode>) {
    let of_batch = state_of(&record.opening().formula, record.opening().variant());
    if record.opening().formula.product() != view.formula.product() {
        ui.label(theme::small(ui, of_batch));
    } else if of_batch == state_of(view.formula, view.variant) {
        ui.label(theme::small(ui, of_batch))
            .on_hover_text("The formula is still as it was for this batch");
    } else if ui
        .button(of_batch)
        .on_hover_text(format!(
            "The formula has changed since batch {}; show what",
            record.code()
        ))
        .clicked()
    {
        let code = Some(record.code().clone());
        *changed = if *changed == code { None } else { code };
    }
}

/// What differs between the formula of a batch and the formula now.
fn changes(ui: &mut Ui, view: &View<'_>, changed: Option<&BatchCode>) {
    let records = view.state.books.all_records();
    let Some(record) = changed.and_then(|code| records.clone().find(|r| r.code() == code)) else {
        return;
    };
    // Another formula may be shown since, or the same one as a product of its own.
    if record.opening().formula.product() != view.formula.product() {
        return;
    }
    let opening = record.opening();
    let then = Compared {
        formula: &opening.formula,
        variant: opening.variant(),
    };
    let now = Compared {
        formula: view.formula,
        variant: view.variant,
    };
    ui.add_space(theme::GAP);
    ui.label(theme::strong(format!(
        "Changed in {} since batch {}",
        view.formula.name,
        record.code()
    )));
    for difference in &compare(then, now).differences {
        ui.label(note::words(difference, then, now));
    }
    let mark = state_of(&opening.formula, opening.variant());
    let same = |r: &&Record| {
        r.opening().formula.product() == opening.formula.product()
            && state_of(&r.opening().formula, r.opening().variant()) == mark
    };
    let codes: Vec<String> = records.filter(same).map(|r| r.code().to_string()).collect();
    let words = format!("Batches made from the state {mark}: {}", codes.join(", "));
    ui.label(theme::small(ui, words));
}

fn forward(ui: &mut Ui, view: &View<'_>, page: &mut BooksPage, commands: &mut Vec<Command>) {
    let books = &view.state.books;
    ui.label(theme::strong("Recall: every batch that contains a lot"));
    field(ui, "Lot, ours or the supplier's", &mut page.lot, 200.0);
    if page.lot.trim().is_empty() {
        return;
    }
    let hit = trace::recall(&page.lot, books.all_records(), books.stock());
    for unreadable in &books.records().unreadable {
        if unreadable.may_match(&page.lot) {
            let words = format!(
                "{} may contain it: its record cannot be read, but what is left of it names the lot or tells nothing ({})",
                unreadable.name(),
                unreadable.path.display()
            );
            caution(ui, Level::Breach, &words);
        }
    }
    if !books.records().is_sound() {
        caution(
            ui,
            Level::Caution,
            "Some records cannot be relied on, so this list may lack a batch; look at them under All batches",
        );
    }
    if hit.is_empty() {
        ui.label("No batch contains it.");
        if !is_in_stock(books.stock(), page.lot.trim()) {
            caution(
                ui,
                Level::Caution,
                "The stock has no lot of this code, ours or a supplier's; see how it is written on the pack",
            );
        }
        return;
    }
    Grid::new("recall")
        .num_columns(7)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Batch",
                "Formula",
                "Of the lot",
                "Through",
                "Decision",
                "Still here",
                "Sent to",
            ] {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for batch in &hit {
                recall_row(ui, batch);
                ui.end_row();
            }
        });
    if ui.button("Save the recall list…").clicked() {
        let text = recall_export::csv(&hit).map_err(|e| e.to_string());
        commands.push(Command::Make(Making::new(
            "Save the recall list",
            format!("recall {}.csv", page.lot.trim()),
            move || text.clone().map(String::into_bytes),
        )));
    }
}

/// Whether the stock has a lot or packaging of this code, ours or the supplier's.
fn is_in_stock(stock: &Stock, code: &str) -> bool {
    let same = |other: &str| other.trim().eq_ignore_ascii_case(code);
    let mut packaging = stock.packaging.iter();
    !trace::lots_named(code, stock).is_empty()
        || packaging.any(|p| same(p.id.as_str()) || same(&p.supplier_lot))
}

fn recall_row(ui: &mut Ui, batch: &Affected) {
    ui.label(theme::strong(batch.code.to_string()));
    ui.label(batch.formula.as_ref());
    let pieces = batch.packaging.as_ref();
    ui.label(match pieces {
        None => format!("{} g", batch.mass),
        Some((what, pieces)) if batch.mass.is_zero() => format!("{pieces} × {what}"),
        Some((what, pieces)) => format!("{} g; {pieces} × {what}", batch.mass),
    });
    let through: Vec<&str> = batch.through.iter().map(LotId::as_str).collect();
    ui.label(if through.is_empty() {
        "directly".to_owned()
    } else {
        through.join(" ← ")
    });
    ui.label(batch.decision.map_or("undecided", Decision::label));
    ui.label(match batch.containers {
        Some(all) => format!("{} of {all}", batch.in_house),
        None => "not filled".to_owned(),
    });
    let sent: Vec<String> = batch
        .dispatches
        .iter()
        .map(|(to, n, day)| format!("{to}: {n} on {day}"))
        .collect();
    ui.label(sent.join("\n"));
}

/// The batches of the maker's own through which something came.
fn way(through: &[BatchCode]) -> String {
    if through.is_empty() {
        return "directly".to_owned();
    }
    let codes: Vec<&str> = through.iter().map(BatchCode::as_str).collect();
    codes.join(" ← ")
}

fn backward(ui: &mut Ui, view: &View<'_>, page: &mut BooksPage) {
    let books = &view.state.books;
    ui.label(theme::strong("Trace back: every lot in a batch"));
    field(ui, "Batch code to trace back", &mut page.batch, 200.0);
    let Some(record) = books
        .all_records()
        .find(|r| r.code().as_str().eq_ignore_ascii_case(page.batch.trim()))
    else {
        if !page.batch.trim().is_empty() {
            caution(ui, Level::Note, "There is no batch of this code");
        }
        return;
    };
    let origins = trace::lots_in(record.code(), books.all_records(), books.stock());
    let untraced = trace::untraced_in(record.code(), books.all_records(), books.stock());
    if !untraced.is_empty() {
        caution(
            ui,
            Level::Caution,
            "Some of it was weighed without a lot and leads no further back; it stands below as “no lot”",
        );
    }
    Grid::new("origins")
        .num_columns(5)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Lot",
                "Material",
                "Supplier and their lot",
                "Taken",
                "Through",
            ] {
                ui.label(theme::small(ui, head));
            }
            ui.end_row();
            for origin in &origins {
                ui.label(theme::strong(origin.lot.to_string()));
                let lot = books.stock().lot(&origin.lot);
                ui.label(lot.map_or_else(
                    || "not in the stock".to_owned(),
                    |l| name_of(view, &l.material),
                ));
                ui.label(lot.map_or_else(String::new, |l| {
                    format!("{} {}", l.supplier, l.supplier_lot)
                }));
                ui.label(format!("{} g", origin.mass));
                ui.label(way(&origin.through));
                ui.end_row();
            }
            for one in &untraced {
                ui.label(theme::strong("no lot"));
                ui.label(one.material.as_ref());
                ui.label("");
                ui.label(format!("{} g", one.mass));
                ui.label(way(&one.through));
                ui.end_row();
            }
            let stock = books.stock();
            for (what, lot, pieces) in record.pieces() {
                let known = stock.packaging.iter().find(|p| p.id.as_str() == lot.trim());
                ui.label(theme::strong(if lot.is_empty() {
                    "no lot"
                } else {
                    lot.as_ref()
                }));
                ui.label(what.as_ref());
                ui.label(known.map_or_else(String::new, |p| {
                    format!("{} {}", p.supplier, p.supplier_lot)
                }));
                ui.label(format!("{pieces} pieces"));
                ui.label("directly");
                ui.end_row();
            }
        });
}
