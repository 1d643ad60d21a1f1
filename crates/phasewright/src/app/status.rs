//! The bar at the bottom: the sums, and what the last change brought up, read out as it comes.

use std::sync::Arc;

use eframe::egui::{self, Align, Layout, Sense, Stroke, Ui, WidgetInfo};
use formulation::evaluation::Evaluation;
use formulation::finding::{Finding, Level, arisen};
use formulation::formula::{ItemId, VariantId};

use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::level_mark::level_mark;

/// What is read out by a screen reader without being asked.
#[derive(Default)]
pub(super) struct Said {
    /// Which finding it is about, by rule and lines.
    of: Option<(Arc<str>, Vec<ItemId>)>,
    words: String,
    urgent: bool,
}

impl Said {
    /// Takes over what is new: a message, else what the last change caused. While one drags,
    /// figures in the words of the same finding change too fast to be read out.
    pub(super) fn follow(&mut self, view: &View<'_>, caused: Option<&Finding>) {
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
    pub(super) fn show(&self, ui: &mut Ui, words: &str, role: egui::Role) -> egui::Response {
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
pub(super) struct LastChange {
    document: DocumentId,
    variant: VariantId,
    /// The evaluation of the state that is settled.
    settled: Arc<Evaluation>,
    /// The gravest finding that was not there before.
    pub(super) caused: Option<Finding>,
}

impl LastChange {
    /// Follows the variant shown. While something is dragged, the state before the drag is
    /// what the findings are held against.
    pub(super) fn follow(last: Option<Self>, view: &View<'_>) -> Self {
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

pub(super) fn status_bar(
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
