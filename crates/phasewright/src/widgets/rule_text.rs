//! An entry of a list of rules in words, reached from a finding.

use eframe::egui::{self, Label, ScrollArea, Ui};
use formulation::rules::RuleBook;
use formulation::rules::rule_text::{CAUTION, RuleText, describe};

use crate::theme;

/// More substances than this are cut, with their number.
const MOST_SUBSTANCES: usize = 40;

/// The name of a rule as it is shown: those of practice are words, those of law the
/// places where they are written.
pub fn spoken(rule: &str) -> String {
    if rule.chars().any(char::is_uppercase) {
        rule.to_owned()
    } else {
        rule.replace('-', " ")
    }
}

/// A link with the rule's name where the rule book has an entry for it, plain words
/// otherwise. True if it was clicked.
pub fn rule_link(ui: &mut Ui, book: &RuleBook, rule: &str) -> bool {
    if book.entries_of(rule).next().is_none() {
        ui.add(Label::new(theme::small(ui, spoken(rule))));
        return false;
    }
    ui.link(theme::small(ui, rule))
        .on_hover_text("Read the entry this finding stands on")
        .clicked()
}

/// Draws every entry of a rule name, with its document, its day and what to mind.
pub fn rule_text(ui: &mut Ui, book: &RuleBook, rule: &str) {
    ui.label(theme::heading(rule));
    ScrollArea::vertical()
        .id_salt("rule text")
        .max_height(420.0)
        .show(ui, |ui| {
            for (place, text) in describe(book, rule).iter().enumerate() {
                if place > 0 {
                    ui.separator();
                }
                ui.push_id(place, |ui| entry(ui, text));
            }
        });
    ui.add_space(theme::TIGHT);
    ui.add(Label::new(CAUTION).wrap());
}

fn entry(ui: &mut Ui, text: &RuleText) {
    wrapped(ui, theme::strong(text.name.as_ref()));
    let markets: Vec<&str> = text.markets.iter().map(|m| m.label()).collect();
    let purpose = text.purpose.map_or_else(String::new, |p| format!(" · {p}"));
    wrapped(
        ui,
        theme::small(
            ui,
            format!("{} · {}{purpose}", text.list, markets.join(", ")),
        ),
    );
    list(
        ui,
        "What it demands",
        text.demands.iter().map(String::as_str),
    );
    list(ui, "On the label", text.label.iter().map(String::as_str));
    list(ui, "To be read", text.read.iter().map(AsRef::as_ref));
    let more = text.substances.len().saturating_sub(MOST_SUBSTANCES);
    let cut = format!("and {more} more");
    let substances = text.substances.iter().take(MOST_SUBSTANCES);
    list(
        ui,
        "Substances",
        substances
            .map(String::as_str)
            .chain((more > 0).then_some(cut.as_str())),
    );
    ui.add_space(theme::TIGHT);
    wrapped(ui, theme::small(ui, text.source.as_ref()));
    if let Some(day) = text.as_of {
        wrapped(ui, theme::small(ui, format!("As of {day}")));
    }
    if !text.seen {
        wrapped(
            ui,
            theme::strong(
                "This row is from general knowledge; it was not seen in the official text.",
            ),
        );
    }
    for caution in &text.cautions {
        wrapped(ui, theme::small(ui, caution.as_ref()));
    }
}

fn list<'t>(ui: &mut Ui, title: &str, items: impl Iterator<Item = &'t str>) {
    let mut items = items.peekable();
    if items.peek().is_none() {
        return;
    }
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(title));
    for item in items {
        wrapped(ui, format!("• {item}"));
    }
}

fn wrapped(ui: &mut Ui, text: impl Into<egui::WidgetText>) {
    ui.add(Label::new(text).wrap().selectable(true));
}
