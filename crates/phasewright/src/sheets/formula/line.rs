//! A line: material, slider, percentage, grams, hold, filler mark, inline finding.

use eframe::egui::{
    self, Align, CursorIcon, EventFilter, Id, Key, Popup, PopupCloseBehavior, Rect, Sense, Stroke,
    StrokeKind, Ui, UiBuilder, WidgetInfo, vec2,
};
use formulation::amount::{Measure, typed};
use formulation::edit::{Edit, GiveWay};
use formulation::finding::{Finding, StatedField};
use formulation::formula::{ItemId, Line, Phase};
use formulation::mass::{ExactMass, MassUnit};
use formulation::material::Material;
use formulation::naming::qs::{Qs, quantum_satis};
use formulation::quantity::in_grams;

use super::columns::{Columns, cell, text};
use super::{FormulaSheet, answer, details, item_id, moved_by_one};
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::composition_chart::brought_by;
use crate::widgets::entry::{self, Entry};
use crate::widgets::findings_list::remedy_button;
use crate::widgets::fitted::fitted;
use crate::widgets::hatch;
use crate::widgets::icon::{Icon, icon_button, icon_toggle};
use crate::widgets::level_mark;
use crate::widgets::limit_slider::LimitSlider;
use crate::widgets::looked_at::when_looked_at;
use crate::widgets::refusal::figure;
use crate::widgets::rule_text::spoken;

/// Height of a row in points.
const ROW: f32 = 40.0;
/// Room above and below the rows of a finding, together, in points.
const AROUND: f32 = 10.0;
/// Rows this far outside the visible part are still drawn, so that the Tab key
/// always finds the next one.
const OVERSCAN: f32 = 160.0;

/// Draws a line of a phase, at a place of the phase and of the whole formula. Where it is
/// not seen, it only takes its room.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut FormulaSheet,
    columns: &Columns,
    (phase, line): (&Phase, &Line),
    (at, place): (usize, usize),
    commands: &mut Vec<Command>,
) {
    let worst = sheet.told.worst(view, line.id);
    let inline = sheet.told.under(view, line.id);
    let room = sheet.told.room(line.id);
    let has_room = room.is_some();
    let height = ROW + room.unwrap_or(0.0);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    if sheet.go_to == Some(line.id) {
        ui.scroll_to_rect(rect, Some(Align::Center));
    }
    let chosen = view.document.chosen.contains(&line.id);
    if ui.clip_rect().expand(OVERSCAN).intersects(rect) {
        let inside = UiBuilder::new().max_rect(rect).id_salt(line.id.0);
        let ui = &mut ui.new_child(inside);
        let hover = ui.interact(rect, item_id(view, "row", line.id), Sense::hover());
        let row = Row {
            view,
            columns,
            phase,
            line,
            at,
            place,
            material: view.formula.material(&line.material).map(AsRef::as_ref),
            rect,
            top: Rect::from_min_size(rect.min, vec2(rect.width(), ROW)),
            chosen,
        };
        row.ground(ui, &hover);
        row.drop_target(ui, &hover, commands);
        row.grip(ui, commands);
        row.swatch(ui);
        row.name(ui, sheet, inline.filter(|_| !has_room), commands);
        row.slider(ui, sheet.give, commands);
        row.percent_field(ui, sheet, commands);
        row.grams(ui);
        row.hold(ui, commands);
        row.filler(ui, commands);
        if let Some(worst) = worst {
            row.mark(ui, worst);
        }
        row.more(ui, commands);
        if let Some(finding) = inline.filter(|_| has_room) {
            let height = row.finding(ui, finding, commands);
            sheet.told.make_room(ui, view, line.id, height);
        }
    }
    if chosen && view.document.chosen.len() == 1 {
        ui.push_id(line.id.0, |ui| details::ui(ui, view, sheet, line, commands));
    }
}

struct Row<'v> {
    view: &'v View<'v>,
    columns: &'v Columns,
    phase: &'v Phase,
    line: &'v Line,
    at: usize,
    /// Its place among all lines of the formula.
    place: usize,
    material: Option<&'v Material>,
    rect: Rect,
    top: Rect,
    chosen: bool,
}

impl Row<'_> {
    fn name_words(&self) -> &str {
        self.material
            .map_or_else(|| self.line.material.as_str(), |m| &m.name)
    }

    fn is_filler(&self) -> bool {
        self.view.variant.is_filler(self.line.id)
    }

    fn id(&self, what: &str) -> Id {
        item_id(self.view, what, self.line.id)
    }

    fn ground(&self, ui: &Ui, hover: &egui::Response) {
        let p = theme::palette(ui);
        let fill = if self.chosen {
            p.chosen
        } else if hover.contains_pointer() {
            p.ground
        } else {
            p.page
        };
        let painter = ui.painter();
        painter.rect_filled(self.rect, 0.0, fill);
        painter.hline(
            self.rect.x_range(),
            self.rect.bottom() - 0.5,
            Stroke::new(1.0, p.rule.gamma_multiply(0.6)),
        );
    }

    /// Takes a line that is dropped on this one, above or below its middle.
    fn drop_target(&self, ui: &Ui, hover: &egui::Response, commands: &mut Vec<Command>) {
        let Some(pointer) = ui.pointer_interact_pos() else {
            return;
        };
        let below = pointer.y > self.rect.center().y;
        if let Some(dragged) = hover.dnd_hover_payload::<ItemId>()
            && *dragged != self.line.id
        {
            let y = if below {
                self.rect.bottom()
            } else {
                self.rect.top()
            };
            let line = Stroke::new(2.0, theme::palette(ui).accent);
            ui.painter().hline(self.rect.x_range(), y, line);
        }
        if let Some(dropped) = hover.dnd_release_payload::<ItemId>() {
            let own = self.phase.lines.iter().position(|l| l.id == *dropped);
            let wanted = self.at + usize::from(below);
            // The place is counted without the line itself.
            let at = wanted - usize::from(own.is_some_and(|own| own < wanted));
            if own != Some(at) {
                commands.push(Command::Edit(Edit::MoveLine {
                    line: *dropped,
                    phase: self.phase.id,
                    at,
                }));
            }
        }
    }

    fn grip(&self, ui: &Ui, commands: &mut Vec<Command>) {
        let p = theme::palette(ui);
        let rect = Rect::from_x_y_ranges(self.columns.grip, self.top.y_range());
        let response = ui.interact(rect, self.id("grip"), Sense::click_and_drag());
        let name = format!("Move {}", self.name_words());
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Button, true, &name));
        response.dnd_set_drag_payload(self.line.id);
        let colour = if response.hovered() || response.has_focus() {
            p.ink
        } else {
            p.edge
        };
        Icon::Grip.paint(ui.painter(), rect, colour);
        if response.has_focus() {
            ui.painter().rect_stroke(
                rect.shrink2(vec2(0.0, 6.0)),
                4.0,
                Stroke::new(1.5, p.accent),
                StrokeKind::Inside,
            );
            ui.memory_mut(|m| {
                m.set_focus_lock_filter(
                    response.id,
                    EventFilter {
                        vertical_arrows: true,
                        ..Default::default()
                    },
                );
            });
            for (key, down) in [(Key::ArrowUp, false), (Key::ArrowDown, true)] {
                if ui.input(|i| i.key_pressed(key) && i.modifiers.is_none())
                    && let Some(edit) = moved_by_one(self.view.variant, self.line.id, down)
                {
                    commands.push(Command::Edit(edit));
                }
            }
        }
        response
            .on_hover_and_drag_cursor(CursorIcon::Grab)
            .on_hover_text("Drag to move; with the keyboard, arrow up and down");
    }

    /// What the line brings into the mix, in the colours of the chart.
    fn swatch(&self, ui: &Ui) {
        let lines = &self.view.evaluation.composition.lines;
        // Lines of the composition stand in the order of the formula.
        let Some(line) = lines.get(self.place).filter(|l| l.line == self.line.id) else {
            return;
        };
        let p = theme::palette(ui);
        let rect = Rect::from_x_y_ranges(self.columns.swatch, self.top.y_range());
        let rect = rect.shrink2(vec2(0.0, 7.0));
        let parts = brought_by(line);
        let total: f64 = parts.iter().map(|(_, share)| share).sum();
        let mut top = rect.top();
        for (part, share) in &parts {
            let height = rect.height() * (share / total.max(f64::MIN_POSITIVE)) as f32;
            let piece = Rect::from_x_y_ranges(rect.x_range(), top..=top + height);
            hatch::area(ui.painter(), piece, part.fill(p), p, hatch::NARROW);
            top += height;
        }
        let edge = Stroke::new(1.0, p.rule);
        ui.painter()
            .rect_stroke(rect, 1.0, edge, StrokeKind::Outside);
        let bar = ui.interact(rect.expand(1.0), self.id("swatch"), Sense::hover());
        bar.on_hover_ui(|ui| {
            ui.label(theme::strong("Brings into the formula"));
            for (part, share) in &parts {
                ui.label(format!(
                    "{}: {}",
                    part.full_label(),
                    Measure::SHARE.shown(*share)
                ));
            }
        });
    }

    /// The name and what it is made of; while one drags, a finding that came up stands in
    /// the place of the latter, for the row must not grow.
    fn name(
        &self,
        ui: &Ui,
        sheet: &mut FormulaSheet,
        came_up: Option<&Finding>,
        commands: &mut Vec<Command>,
    ) {
        let rect = Rect::from_x_y_ranges(self.columns.name, self.top.y_range());
        let response = ui.interact(rect, self.id("name"), Sense::click());
        response.widget_info(|| {
            WidgetInfo::selected(egui::Role::Button, true, self.chosen, self.name_words())
        });
        if sheet.focus == Some(self.line.id) {
            sheet.focus = None;
            response.request_focus();
        }
        let p = theme::palette(ui);
        let inner = rect.shrink2(vec2(0.0, 3.0));
        let (name, inci) = inner.split_top_bottom_at_fraction(0.54);
        let mut font = egui::TextStyle::Body.resolve(ui.style());
        if self.chosen {
            font.family = theme::strong_family();
        }
        let words = self.name_words();
        let shown = fitted(ui, words, &font, name.width());
        let title = if self.chosen {
            theme::strong(shown)
        } else {
            egui::RichText::new(shown)
        };
        text(ui, name, title.color(p.ink), Align::Min);
        let inci_words = self.material.map_or_else(
            || "not carried in the file: composition unknown".to_owned(),
            Material::inci_line,
        );
        let second = came_up.map_or_else(
            || theme::small(ui, inci_words.clone()),
            |finding| theme::small(ui, &finding.message).color(p.level(finding.level)),
        );
        text(ui, inci, second, Align::Min);
        if response.has_focus() {
            ui.painter().rect_stroke(
                rect.expand2(vec2(3.0, -2.0)),
                4.0,
                Stroke::new(1.5, p.accent),
                StrokeKind::Inside,
            );
        }
        if response.clicked() {
            let chosen = if self.chosen {
                [].into()
            } else {
                [self.line.id].into()
            };
            commands.push(Command::Choose(chosen));
        }
        response.on_hover_ui(|ui| {
            ui.label(theme::strong(words));
            ui.label(inci_words);
            if !self.line.why.is_empty() {
                ui.label(format!("Why it is here: {}", self.line.why));
            }
            if let Some(material) = self.material {
                ui.label(theme::small(ui, material.source.to_string()));
            }
        });
    }

    fn slider(&self, ui: &mut Ui, give: GiveWay, commands: &mut Vec<Command>) {
        let line = self.line;
        let kinds = self.view.variant.product.kinds;
        let usual = self
            .material
            .and_then(|m| m.strictest_range(kinds))
            .map(|r| (r.low, r.high));
        let settled = self
            .view
            .document
            .settled()
            .active()
            .line(line.id)
            .map_or(line.percent, |l| l.percent);
        let slider = LimitSlider {
            id: self.id("slider"),
            name: format!("{} slider", self.name_words()),
            value: line.percent,
            settled,
            usual,
            limit: self.view.evaluation.limit_of(line.id),
            own: (line.min, line.max),
            step: self.view.state.settings.percent_step.percent(),
            enabled: give != GiveWay::Filler || !self.is_filler(),
            width: self.columns.slider.span(),
        };
        let moved = cell(ui, self.top, self.columns.slider, |ui| slider.show(ui));
        if let Some(percent) = moved.moved {
            commands.push(Command::Draft(Edit::SetPercent {
                line: line.id,
                percent,
                give,
            }));
        }
        if moved.ended {
            commands.push(Command::KeepDraft);
        }
        if moved.typed {
            let letters = line.percent.to_string().len();
            entry::type_over(ui, self.id("percent"), letters);
        }
    }

    fn percent_field(&self, ui: &mut Ui, sheet: &mut FormulaSheet, commands: &mut Vec<Command>) {
        let shown = self.line.percent.to_string();
        let name = format!("{} percent", self.name_words());
        let enabled = sheet.give != GiveWay::Filler || !self.is_filler();
        let entry = cell(ui, self.top, self.columns.percent, |ui| {
            let entry = Entry::new(self.id("percent"), &shown, name)
                .width(self.columns.percent.span())
                .right()
                .enabled(enabled);
            figure(ui, entry, |text| self.typed_percent(text, sheet.give))
        });
        if sheet.type_percent == Some(self.line.id) {
            sheet.type_percent = None;
            sheet.entering = Some(self.line.id);
            entry.response.request_focus();
        }
        answer(
            &mut sheet.field,
            StatedField::Percent(self.line.id),
            &entry.response,
        );
        if sheet.entering == Some(self.line.id) && !entry.response.has_focus() {
            sheet.entering = None;
        }
        if entry.entered && sheet.entering == Some(self.line.id) {
            // A line just added is done with; the next one is searched for.
            sheet.entering = None;
            sheet.picker.focus();
        }
        commands.extend(entry.read.map(Command::Edit));
    }

    fn typed_percent(&self, text: &str, give: GiveWay) -> Result<Edit, String> {
        let line = self.line.id;
        let edit = if matches!(quantum_satis(text), Some(Qs::ToWhole(_) | Qs::Plain)) {
            Edit::SetFiller(Some(line))
        } else {
            let percent = typed::percent(text).map_err(|e| e.to_string())?;
            Edit::SetPercent {
                line,
                percent,
                give,
            }
        };
        self.view.tried(edit).map_err(|e| e.to_string())
    }

    fn grams(&self, ui: &Ui) {
        let mass = self.view.variant.batch * self.line.percent.fraction().value();
        let digits = if in_grams(mass) < 1.0 { 3 } else { 1 };
        // Halves upwards, as on the weigh sheet.
        let grams = ExactMass::nearest(mass).unwrap_or_default();
        let grams = grams.in_unit(MassUnit::Gram, digits);
        let rect = Rect::from_x_y_ranges(self.columns.grams, self.top.y_range());
        text(
            ui,
            rect,
            format!("{grams:.0$}", digits as usize),
            Align::Max,
        );
    }

    fn hold(&self, ui: &mut Ui, commands: &mut Vec<Command>) {
        let held = self.line.held;
        let icon = if held { Icon::Closed } else { Icon::Open };
        let name = format!("Hold {}", self.name_words());
        let response = cell(ui, self.top, self.columns.hold, |ui| {
            icon_toggle(ui, icon, &name, held, !self.is_filler())
        });
        if response.clicked() {
            commands.push(Command::Edit(Edit::SetHeld {
                line: self.line.id,
                held: !held,
            }));
        }
    }

    fn filler(&self, ui: &mut Ui, commands: &mut Vec<Command>) {
        let p = theme::palette(ui);
        let on = self.is_filler();
        let rect =
            Rect::from_x_y_ranges(self.columns.filler, self.top.y_range()).shrink2(vec2(0.0, 9.0));
        let response = ui.interact(rect, self.id("filler"), Sense::click());
        let name = format!("{} is the filler", self.name_words());
        response.widget_info(|| WidgetInfo::selected(egui::Role::CheckBox, true, on, &name));
        if on {
            ui.painter().rect_filled(rect, 4.0, p.accent);
        } else if response.hovered() || response.has_focus() {
            ui.painter().rect_filled(rect, 4.0, p.hovered);
        }
        if response.has_focus() {
            let ring = Stroke::new(1.5, p.accent);
            ui.painter()
                .rect_stroke(rect.expand(2.0), 5.0, ring, StrokeKind::Inside);
        }
        let colour = if on {
            p.on_accent
        } else if response.hovered() {
            p.ink
        } else {
            p.faint_ink
        };
        text(
            ui,
            rect,
            egui::RichText::new(if on { "to 100" } else { "fill" })
                .small()
                .color(colour),
            Align::Center,
        );
        if response.clicked() {
            commands.push(Command::Edit(Edit::SetFiller(
                (!on).then_some(self.line.id),
            )));
        }
        response.on_hover_text(if on {
            "The filler: it fills up to 100 % (q.s.)"
        } else {
            "Make this line the filler, which fills up to 100 % (q.s.)"
        });
    }

    fn mark(&self, ui: &mut Ui, worst: &Finding) {
        cell(ui, self.top, self.columns.mark, |ui| {
            level_mark::level_mark(ui, worst.level).on_hover_text(&worst.message);
        });
    }

    /// The words of a finding, whole, and the button that mends it; the height they take.
    fn finding(&self, ui: &mut Ui, finding: &Finding, commands: &mut Vec<Command>) -> f32 {
        let p = theme::palette(ui);
        let colour = p.level(finding.level);
        let rect = Rect::from_x_y_ranges(
            egui::Rangef::new(self.columns.name.min, self.columns.more.max),
            egui::Rangef::new(self.top.bottom() - 2.0, self.rect.bottom() - 3.0),
        );
        let mark = Rect::from_min_size(
            rect.min + vec2(0.0, (rect.height() - 11.0) / 2.0),
            vec2(11.0, 11.0),
        );
        ui.painter()
            .extend(level_mark::shapes(ui, mark, finding.level));
        // The words have what room the button leaves.
        let room = cell(ui, rect, rect.x_range(), |ui| {
            ui.with_layout(egui::Layout::right_to_left(Align::Center), |ui| {
                ui.style_mut().override_text_style = Some(egui::TextStyle::Small);
                ui.spacing_mut().interact_size.y = 18.0;
                ui.spacing_mut().button_padding.y = 1.0;
                remedy_button(ui, self.view, finding, commands);
                ui.available_rect_before_wrap().right()
            })
            .inner
        });
        let words = format!("{}: {}", finding.level.label(), finding.message);
        let place = rect.with_min_x(mark.right() + 5.0).with_max_x(room);
        let font = egui::TextStyle::Small.resolve(ui.style());
        let job = egui::text::LayoutJob::simple(words.clone(), font, colour, place.width());
        let whole = ui.fonts_mut(|f| f.layout_job(job.clone()));
        let height = whole.size().y;
        // While one drags, the room stays as it was: what does not fit is cut off till then.
        let fits = (place.height() + 0.5 * AROUND) * whole.rows.len() as f32 / height;
        let mut fitting = job;
        fitting.wrap.max_rows = (fits as usize).max(1);
        let galley = ui.fonts_mut(|f| f.layout_job(fitting));
        let at = place.left_center() - vec2(0.0, galley.size().y / 2.0);
        ui.painter().galley(at, galley, colour);
        let response = ui.interact(place, self.id("finding"), Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, &words));
        when_looked_at(response, |ui| {
            ui.label(&finding.message);
            ui.label(theme::small(
                ui,
                format!("{} · {}", spoken(&finding.rule), finding.source),
            ));
        });
        height + AROUND
    }

    fn more(&self, ui: &mut Ui, commands: &mut Vec<Command>) {
        let name = format!("More about {}", self.name_words());
        let line = self.line.id;
        cell(ui, self.top, self.columns.more, |ui| {
            more_menu(ui, &name, |ui| {
                ui.set_min_width(180.0);
                let mut row = |ui: &mut Ui, words: &str, command: Option<Command>| {
                    let button = egui::Button::new(words);
                    if ui.add_enabled(command.is_some(), button).clicked() {
                        commands.extend(command);
                        ui.close();
                    }
                };
                let variant = self.view.variant;
                row(ui, "Details", Some(Command::Choose([line].into())));
                row(
                    ui,
                    "Move up",
                    moved_by_one(variant, line, false).map(Command::Edit),
                );
                row(
                    ui,
                    "Move down",
                    moved_by_one(variant, line, true).map(Command::Edit),
                );
                for phase in variant.phases.iter().filter(|p| p.id != self.phase.id) {
                    let edit = Edit::MoveLine {
                        line,
                        phase: phase.id,
                        at: phase.lines.len(),
                    };
                    row(
                        ui,
                        &format!("Move to phase {}", phase.letter),
                        Some(Command::Edit(edit)),
                    );
                }
                ui.separator();
                row(ui, "Remove", Some(Command::Edit(Edit::RemoveLine(line))));
            });
        });
    }
}

/// A menu behind three dots.
pub fn more_menu(ui: &mut Ui, name: &str, add: impl FnOnce(&mut Ui)) {
    let button = icon_button(ui, Icon::More, name, true);
    Popup::menu(&button)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .show(add);
}
