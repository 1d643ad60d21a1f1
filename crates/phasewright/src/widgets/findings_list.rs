//! The findings: what is to mend, and what is to know, folded by subject. A click goes to the
//! line, a button mends what the program can mend.

use eframe::egui::{
    self, CollapsingHeader, CursorIcon, Label, Role, ScrollArea, Sense, Stroke, Ui, UiBuilder,
    WidgetInfo, vec2,
};
use formulation::edit::Edit;
use formulation::finding::{Finding, FindingSubject, Level, Remedy};
use formulation::formula::ItemId;
use formulation::remedy::{Act, act};
use formulation::rules::rule_text::CAUTION;

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::fitted::unparted_label;
use crate::widgets::in_sight::InSight;
use crate::widgets::level_mark;
use crate::widgets::rule_text::{rule_link, spoken};

/// About the height of a card, in points.
const CARD: f32 = 84.0;

/// Draws the findings of the variant worked on.
pub fn findings_list(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let findings = &view.evaluation.findings;
    ScrollArea::vertical()
        // Another file or variant starts at the top.
        .id_salt(("findings", view.document.id, view.variant.id))
        .auto_shrink([false, false])
        .show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            let mend: Vec<&Finding> = findings.iter().filter(|f| f.counts()).collect();
            to_mend(ui, view, &mend, commands);
            to_know(ui, view, commands);
            if findings.is_empty() {
                ui.label("No findings from the checks that were run");
                ui.label(theme::small(
                    ui,
                    "This is not a safety assessment; what was not checked is not judged.",
                ));
            } else {
                ui.add(Label::new(theme::small(ui, CAUTION)).wrap());
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

/// What must be acted on, open.
fn to_mend(ui: &mut Ui, view: &View<'_>, findings: &[&Finding], commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.label(theme::strong("To mend"));
        if findings.is_empty() {
            ui.label(theme::small(ui, "nothing in the checks that were run"));
        }
        for level in [Level::Breach, Level::Caution] {
            let count = findings.iter().filter(|f| f.level == level).count();
            if count > 0 {
                level_mark::level_mark(ui, level);
                ui.label(plural(level, count));
            }
        }
    });
    ui.push_id("mend", |ui| cards(ui, view, findings, commands));
    ui.add_space(theme::TIGHT);
}

/// What is to know, folded by subject, and what was set aside; each closed at first.
fn to_know(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let findings = &view.evaluation.findings;
    let of = |subject: FindingSubject| -> Vec<&Finding> {
        let notes = findings.iter().filter(|f| !f.counts() && !f.set_aside);
        notes.filter(|f| f.subject == subject).collect()
    };
    let aside: Vec<&Finding> = findings.iter().filter(|f| f.set_aside).collect();
    let folds = (FindingSubject::ALL.into_iter())
        .map(|subject| (subject.label(), of(subject)))
        .chain([("Set aside", aside)])
        .filter(|(_, folded)| !folded.is_empty());
    let mut heading = Some("To know");
    for (words, folded) in folds {
        if let Some(heading) = heading.take() {
            ui.label(theme::strong(heading));
        }
        let id = (words, view.document.id, view.variant.id);
        CollapsingHeader::new(format!("{words} ({})", folded.len()))
            .id_salt(id)
            .show(ui, |ui| cards(ui, view, &folded, commands));
    }
}

/// The name of the material of a line.
fn name_of(view: &View<'_>, line: ItemId) -> String {
    view.variant
        .line(line)
        .and_then(|l| view.formula.material(&l.material))
        .map_or_else(|| "the line".to_owned(), |m| m.name.to_string())
}

/// A button that mends a finding, where there is a remedy.
pub fn remedy_button(ui: &mut Ui, view: &View<'_>, finding: &Finding, commands: &mut Vec<Command>) {
    let Some(remedy) = &finding.remedy else {
        return;
    };
    let words = remedy.words(|line| name_of(view, line));
    let resolve = || act(finding, view.formula, view.variant, view.state.shelf());
    if matches!(remedy, Remedy::AddMaterial { .. }) {
        // What fits is looked for only once the menu is open.
        ui.menu_button(words, |ui| {
            ui.set_min_width(260.0);
            let Some(Act::Choose(choices)) = resolve() else {
                return;
            };
            for choice in choices {
                let row = format!("{}, {} %", choice.material.name, choice.percent);
                if ui.button(row).clicked() {
                    commands.push(Command::EditAll {
                        what: format!("Add {}", choice.material.name).into(),
                        edits: choice.edits,
                    });
                    ui.close();
                }
            }
            if ui.button("Search the shelf").clicked() {
                commands.push(Command::FindMaterial);
                ui.close();
            }
        });
        return;
    }
    let Some(act) = resolve() else { return };
    if ui.button(&words).clicked() {
        commands.extend(match act {
            Act::Edit(edits) => Some(Command::EditAll {
                what: words.into(),
                edits,
            }),
            Act::Swap(line) => Some(Command::SwapLine(line)),
            Act::Open(field) => Some(Command::OpenField(field)),
            Act::AdjustPh => Some(Command::AdjustPh),
            Act::Choose(_) => None,
        });
    }
}

fn cards(ui: &mut Ui, view: &View<'_>, findings: &[&Finding], commands: &mut Vec<Command>) {
    let list = InSight::new(findings.len(), CARD);
    for (place, finding) in findings.iter().enumerate() {
        list.block(ui, place, |ui| card(ui, view, finding, commands));
    }
}

/// A finding: what, how much against which limit, what to do, and on what ground.
fn card(ui: &mut Ui, view: &View<'_>, finding: &Finding, commands: &mut Vec<Command>) {
    let p = theme::palette(ui);
    let first = finding.told_at().or_else(|| finding.lines.first().copied());
    let names: Vec<&str> = finding
        .lines
        .iter()
        .filter_map(|&id| view.variant.line(id))
        .filter_map(|l| view.formula.material(&l.material))
        .map(|m| m.name.as_ref())
        .collect();
    let sense = if first.is_some() {
        Sense::click()
    } else {
        Sense::hover()
    };
    let response = ui
        .scope_builder(UiBuilder::new().sense(sense), |ui| {
            let hovered = first.is_some() && ui.response().hovered();
            egui::Frame::new()
                .fill(if hovered { p.hovered } else { p.page })
                .stroke(Stroke::new(1.0, if hovered { p.faint_ink } else { p.edge }))
                .corner_radius(4)
                .inner_margin(egui::Margin::symmetric(8, 5))
                .show(ui, |ui| {
                    ui.spacing_mut().item_spacing = vec2(6.0, 2.0);
                    ui.set_min_width(ui.available_width());
                    ui.horizontal(|ui| {
                        level_mark::level_mark(ui, finding.level);
                        ui.add(Label::new(theme::strong(few(&names))).truncate());
                    });
                    unparted_label(ui, &finding.message, egui::WidgetText::from);
                    ground(ui, view, finding, commands);
                    buttons(ui, view, finding, commands);
                });
        })
        .response;
    response.widget_info(|| {
        let words = format!("{}: {}", finding.level.label(), finding.message);
        let role = if first.is_some() {
            Role::Button
        } else {
            Role::Label
        };
        WidgetInfo::labeled(role, true, words)
    });
    if response.has_focus() {
        let ring = Stroke::new(1.5, p.accent);
        ui.painter()
            .rect_stroke(response.rect, 4.0, ring, egui::StrokeKind::Inside);
    }
    if let Some(line) = first {
        let response = response.on_hover_cursor(CursorIcon::PointingHand);
        if response.clicked() {
            commands.push(Command::GoToLine(line));
        }
    }
}

/// The first names of several.
fn few(names: &[&str]) -> String {
    let shown: Vec<&str> = names.iter().take(3).copied().collect();
    match names.len().saturating_sub(shown.len()) {
        _ if names.is_empty() => "The whole formula".to_owned(),
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}

/// One line of source that opens.
fn ground(ui: &mut Ui, view: &View<'_>, finding: &Finding, commands: &mut Vec<Command>) {
    let book = &view.state.context().rules;
    // A rule of practice has a name for the program alone; one of law has its place.
    let title = if finding.rule.chars().any(char::is_uppercase) {
        format!("Source: {}", spoken(&finding.rule))
    } else {
        "Source".to_owned()
    };
    let of = format!("{title}: {}", finding.message);
    let title = theme::small(ui, title);
    let shown = CollapsingHeader::new(title)
        .id_salt("source")
        .show(ui, |ui| {
            let source = finding.source.to_string();
            let own = [(&finding.rule, None, source)].into_iter();
            let also = finding
                .also
                .iter()
                .map(|a| (&a.rule, Some(&a.message), a.source.to_string()));
            for (place, (rule, message, source)) in own.chain(also).enumerate() {
                ui.push_id(place, |ui| {
                    if rule_link(ui, book, rule) {
                        commands.push(Command::ShowRule(rule.clone()));
                    }
                    if let Some(message) = message {
                        ui.add(Label::new(theme::small(ui, message)).wrap());
                    }
                    ui.add(Label::new(theme::small(ui, source)).wrap());
                });
            }
        });
    shown.header_response.accessible_name(of);
}

fn buttons(ui: &mut Ui, view: &View<'_>, finding: &Finding, commands: &mut Vec<Command>) {
    let aside = finding.aside();
    if finding.remedy.is_none() && aside.is_none() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        if !finding.set_aside {
            remedy_button(ui, view, finding, commands);
        }
        let Some(aside) = aside else { return };
        let (words, hover) = if finding.set_aside {
            ("Bring back", "Show it with the others again")
        } else {
            (
                "Set aside",
                "Read; it comes back as soon as its words or figures change",
            )
        };
        let button = ui
            .button(theme::small(ui, words))
            .accessible_name(format!(
                "{words}: {}: {}",
                spoken(&finding.rule),
                finding.message
            ))
            .on_hover_text(hover);
        if button.clicked() {
            commands.push(Command::Edit(Edit::SetAside {
                finding: aside,
                aside: !finding.set_aside,
            }));
        }
    });
}

/// What concerns the whole formula, as one banner: the gravest, its button, how many more.
pub fn banner(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let whole = |f: &&Finding| f.counts() && f.concerns_whole();
    let mut findings = view.evaluation.findings.iter().filter(whole);
    let (Some(gravest), true) = (findings.next(), view.variant.lines().next().is_some()) else {
        return;
    };
    let more = findings.count();
    let p = theme::palette(ui);
    egui::Frame::new()
        .fill(p.level_wash(gravest.level))
        .corner_radius(6)
        .inner_margin(egui::Margin::symmetric(10, 6))
        .show(ui, |ui| {
            ui.set_min_width(ui.available_width());
            ui.horizontal_wrapped(|ui| {
                level_mark::level_mark(ui, gravest.level);
                unparted_label(ui, &gravest.message, egui::WidgetText::from);
                if more > 0 {
                    ui.label(theme::small(ui, format!("and {more} more")));
                }
                remedy_button(ui, view, gravest, commands);
            });
        });
    ui.add_space(theme::TIGHT);
}
