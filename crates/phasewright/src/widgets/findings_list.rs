//! The findings, grouped by level. A click goes to the line.

use eframe::egui::{
    self, CursorIcon, Label, Role, ScrollArea, Sense, Stroke, Ui, UiBuilder, WidgetInfo, vec2,
};
use formulation::finding::{Finding, Level};
use formulation::formula::{Formula, Variant};
use formulation::rules::RuleBook;
use formulation::rules::rule_text::CAUTION;

use crate::command::Command;
use crate::theme;
use crate::widgets::level_mark;
use crate::widgets::rule_text::rule_link;

/// Draws the findings of a variant.
pub fn findings_list(
    ui: &mut Ui,
    formula: &Formula,
    variant: &Variant,
    findings: &[Finding],
    book: &RuleBook,
    commands: &mut Vec<Command>,
) {
    ScrollArea::vertical()
        .id_salt("findings")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            for level in Level::ALL {
                let of_level = findings.iter().filter(|f| f.level == level);
                let count = of_level.clone().count();
                if count == 0 {
                    continue;
                }
                ui.horizontal(|ui| {
                    level_mark::level_mark(ui, level);
                    ui.label(theme::strong(plural(level, count)));
                });
                for (place, finding) in of_level.enumerate() {
                    ui.push_id((level.label(), place), |ui| {
                        row(ui, formula, variant, finding, book, commands);
                    });
                }
                ui.add_space(theme::TIGHT);
            }
            if !findings.is_empty() {
                ui.add(Label::new(theme::small(ui, CAUTION)).wrap());
            }
            if findings.is_empty() {
                ui.label("No findings from the checks that were run");
                ui.label(theme::small(
                    ui,
                    "This is not a safety assessment; what was not checked is not judged.",
                ));
            }
        });
}

/// "3 breaches".
pub fn plural(level: Level, count: usize) -> String {
    let word = match (level, count) {
        (Level::Breach, 1) => "breach",
        (Level::Breach, _) => "breaches",
        (Level::Caution, 1) => "caution",
        (Level::Caution, _) => "cautions",
        (Level::Note, 1) => "note",
        (Level::Note, _) => "notes",
    };
    format!("{count} {word}")
}

fn row(
    ui: &mut Ui,
    formula: &Formula,
    variant: &Variant,
    finding: &Finding,
    book: &RuleBook,
    commands: &mut Vec<Command>,
) {
    let p = theme::palette(ui);
    let first = finding.lines.first().copied();
    let names: Vec<&str> = finding
        .lines
        .iter()
        .filter_map(|&id| variant.line(id))
        .filter_map(|l| formula.material(&l.material))
        .map(|m| m.name.as_ref())
        .collect();
    let response = ui
        .scope_builder(
            UiBuilder::new().sense(if first.is_some() {
                Sense::click()
            } else {
                Sense::hover()
            }),
            |ui| {
                let hovered = first.is_some() && ui.response().hovered();
                egui::Frame::new()
                    .fill(if hovered { p.hovered } else { p.page })
                    .stroke(Stroke::new(1.0, if hovered { p.faint_ink } else { p.rule }))
                    .corner_radius(4)
                    .inner_margin(egui::Margin::symmetric(8, 5))
                    .show(ui, |ui| {
                        ui.spacing_mut().item_spacing = vec2(6.0, 2.0);
                        ui.set_min_width(ui.available_width());
                        if !names.is_empty() {
                            let few = names.iter().take(3).copied().collect::<Vec<_>>();
                            let more = names.len().saturating_sub(few.len());
                            let more = if more > 0 {
                                format!(" and {more} more")
                            } else {
                                String::new()
                            };
                            ui.add(
                                Label::new(theme::strong(format!("{}{more}", few.join(", "))))
                                    .truncate(),
                            );
                        }
                        ui.add(Label::new(&finding.message).wrap());
                        if rule_link(ui, book, &finding.rule) {
                            commands.push(Command::ShowRule(finding.rule.clone()));
                        }
                        ui.add(Label::new(theme::small(ui, finding.source.to_string())).wrap());
                    });
            },
        )
        .response;
    response.widget_info(|| {
        let words = format!("{}: {}", finding.level.label(), finding.message);
        WidgetInfo::labeled(
            if first.is_some() {
                Role::Button
            } else {
                Role::Label
            },
            true,
            words,
        )
    });
    if response.has_focus() {
        ui.painter().rect_stroke(
            response.rect,
            4.0,
            Stroke::new(1.5, p.accent),
            egui::StrokeKind::Inside,
        );
    }
    if let Some(line) = first {
        let response = response.on_hover_cursor(CursorIcon::PointingHand);
        if response.clicked() {
            commands.push(Command::GoToLine(line));
        }
    }
}
