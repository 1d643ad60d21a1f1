//! The bar at the bottom: the sums, and what the last change brought up, read out as it comes.

use std::sync::Arc;

use eframe::egui::{self, Sense, Stroke, Ui, WidgetInfo};
use formulation::amount::measure::share_shown;
use formulation::chemistry::soap::Making;
use formulation::evaluation::Evaluation;
use formulation::finding::{Finding, Level, arisen};
use formulation::formula::{ItemId, VariantId};

use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::at_right::with_right;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::level_mark::level_mark;
use crate::widgets::looked_at::when_looked_at;

/// What is read out by a screen reader without being asked.
#[derive(Default)]
pub(super) struct Said {
    /// Which finding it is about, by rule and lines.
    of: Option<(Arc<str>, Vec<ItemId>)>,
    /// The message that was told last.
    message: String,
    /// Both a message and a finding came up at once.
    both: bool,
    words: String,
    urgent: bool,
}

impl Said {
    /// Takes over what is new: a message, and what the last change caused. While one drags,
    /// figures in the words of the same finding change too fast to be read out.
    pub(super) fn follow(&mut self, view: &View<'_>, caused: Option<&Finding>) {
        let of = caused.map(|f| (f.rule.clone(), f.lines.clone()));
        let message = view.state.message.as_ref();
        let text = message.map_or("", |m| m.text.as_str());
        let (new_finding, new_message) = (of != self.of, text != self.message);
        if !new_finding && !new_message && view.document.has_draft() {
            return;
        }
        // A finding that was read out before is not read again with every message.
        let again = self.both && !new_message;
        let finding = caused.filter(|_| message.is_none() || new_finding || again);
        self.both = message.is_some() && finding.is_some();
        self.urgent = message.is_some_and(|m| m.level == Level::Breach)
            || finding.is_some_and(|f| f.level == Level::Breach);
        let finding = finding.map(|f| format!("{}: {}", f.level.label(), f.message));
        let parts = message.map(|m| m.text.clone()).into_iter().chain(finding);
        self.words = parts.collect::<Vec<String>>().join(". ");
        text.clone_into(&mut self.message);
        self.of = of;
    }

    /// Shows words in a row, in so much of its room; a screen reader is told what is new.
    fn show(&self, ui: &mut Ui, words: &str, role: egui::Role, width: f32) -> egui::Response {
        use egui::accesskit::Live;
        let (told, live) = match (self.words.is_empty(), self.urgent) {
            (true, _) => (words, Live::Off),
            (false, true) => (self.words.as_str(), Live::Assertive),
            (false, false) => (self.words.as_str(), Live::Polite),
        };
        let id = egui::Id::unique("what is told");
        row(ui, id, (words, told), role, width, live)
    }
}

/// Words in so much of the room of a row, and what a screen reader calls them.
fn row(
    ui: &mut Ui,
    id: egui::Id,
    (words, told): (&str, &str),
    role: egui::Role,
    width: f32,
    live: egui::accesskit::Live,
) -> egui::Response {
    let p = theme::palette(ui);
    let galley = egui::WidgetText::from(words).into_galley(
        ui,
        Some(egui::TextWrapMode::Truncate),
        width,
        egui::TextStyle::Body,
    );
    let (_, rect) = ui.allocate_space(galley.size());
    let sense = if role == egui::Role::Button {
        Sense::click()
    } else {
        Sense::hover()
    };
    let response = ui.interact(rect, id, sense);
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
    response.widget_info(|| WidgetInfo::labeled(role, true, told));
    ui.accesskit_node_builder(response.id, |node| node.set_live(live));
    when_looked_at(response, |ui| {
        ui.label(words);
    })
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
            let value = ui.label(theme::strong(value));
            ui.add_space(theme::GAP);
            value
        };
        figure(ui, "Total", format!("{} %", c.total));
        figure(
            ui,
            "Water",
            format!("{} %", share_shown(c.water().typical.as_percent())),
        )
        .on_hover_text("All water in the mix, the moisture of raw materials included, which a label does not list");
        figure(
            ui,
            "Surfactant active",
            format!("{} %", share_shown(c.active_total().typical.as_percent())),
        );
        let soap = view.evaluation.estimates.soap.as_ref();
        if let Some(soap) = soap.filter(|s| s.making == Making::Saponified) {
            let words = format!("{} %", share_shown(soap.soap_percent()));
            figure(ui, "Soap", words)
                .on_hover_text("Soap that forms of lye and fats, estimated; percent of what is weighed in. It is no surfactant that is weighed in, which stands before it");
        }
        if let Some(message) = &view.state.message {
            let words = |ui: &mut Ui| {
                level_mark(ui, message.level);
                // What the last change caused stands beside it.
                let room = ui.available_width();
                let width = if caused.is_some() { room * 0.5 } else { room };
                said.show(ui, &message.text, egui::Role::Status, width);
                if let Some(finding) = caused {
                    ui.add_space(theme::GAP);
                    of_last_change(ui, finding, None, commands);
                }
            };
            let hush = with_right(ui, "message", words, |ui| {
                icon_button(ui, Icon::Cross, "Close this message", true).clicked()
            });
            if hush {
                commands.push(Command::DismissMessage);
            }
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
        of_last_change(ui, worst, Some(said), commands);
    } else {
        finding_row(ui, worst, Some(said), commands);
    }
}

/// What the last change caused.
fn of_last_change(
    ui: &mut Ui,
    finding: &Finding,
    said: Option<&Said>,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::small(ui, "From the last change"));
    finding_row(ui, finding, said, commands);
}

/// A finding that leads to its line; with `said` it is what is told now.
fn finding_row(ui: &mut Ui, finding: &Finding, said: Option<&Said>, commands: &mut Vec<Command>) {
    level_mark(ui, finding.level);
    let words = format!("{}: {}", finding.level.label(), finding.message);
    let (role, room) = (egui::Role::Button, ui.available_width());
    let shown = if let Some(said) = said {
        said.show(ui, &words, role, room)
    } else {
        let id = egui::Id::unique("told beside a message");
        row(
            ui,
            id,
            (&words, &words),
            role,
            room,
            egui::accesskit::Live::Off,
        )
    };
    if shown.clicked()
        && let Some(line) = finding.told_at().or_else(|| finding.lines.first().copied())
    {
        commands.push(Command::GoToLine(line));
    }
}
