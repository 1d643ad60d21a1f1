//! The slider of a percentage, which shows where its limits are.
//!
//! On the track the usual range is a band, the maker's own bounds are brackets, and
//! the limit that binds is a tick with its name on hover. Beyond the tick the track
//! is hatched, and the handle changes shape and colour there, so that a breach is
//! visible where it is made.

use eframe::egui::{
    self, CornerRadius, CursorIcon, EventFilter, Id, Key, Pos2, Rect, Response, Sense, Shape,
    Stroke, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use formulation::finding::{Level, LineLimit};
use formulation::quantity::Percent;

use crate::theme;
use crate::widgets::hatch;
use crate::widgets::rule_text::spoken;

/// What a slider shows.
pub struct LimitSlider<'a> {
    /// The slider's id; stays the same while the line does.
    pub id: Id,
    /// What a screen reader calls it.
    pub name: String,
    /// Where the handle stands.
    pub value: Percent,
    /// Where it stood before the drag; the scale follows it, so that it stays still
    /// while one drags.
    pub settled: Percent,
    /// Usual range.
    pub usual: Option<(Percent, Percent)>,
    /// The limit that binds.
    pub limit: Option<&'a LineLimit>,
    /// The maker's own bounds.
    pub own: (Option<Percent>, Option<Percent>),
    /// Whether it can be moved.
    pub enabled: bool,
    /// Width in points.
    pub width: f32,
}

/// What became of a slider in this frame.
pub struct SliderResponse {
    /// The slider.
    pub response: Response,
    /// Where it was moved to.
    pub moved: Option<Percent>,
    /// The interaction has ended.
    pub ended: bool,
}

/// Height of the slider in points.
const HEIGHT: f32 = 22.0;

impl LimitSlider<'_> {
    /// The value at the right end: the first of 1, 2, 5, 10 … that leaves room for the
    /// value, the usual range and the limit.
    fn scale(&self) -> Percent {
        let most = [
            Some(self.settled.scaled(1.25)),
            self.usual.map(|(_, high)| high.scaled(1.25)),
            self.limit.map(|l| l.most.scaled(1.25)),
            self.own.1,
        ]
        .into_iter()
        .flatten()
        .max()
        .unwrap_or(Percent::ZERO);
        const STEPS: [i64; 9] = [
            200, 500, 1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000,
        ];
        STEPS
            .into_iter()
            .map(|thousandths| Percent::from_units(thousandths * Percent::UNITS / 1000))
            .find(|&step| most <= step)
            .unwrap_or(Percent::HUNDRED)
    }

    /// Draws it.
    pub fn show(self, ui: &mut Ui) -> SliderResponse {
        let scale = self.scale();
        // 1/200 of the scale, a number of few digits.
        let step = scale.units() / 200;
        let size = vec2(self.width, HEIGHT);
        let (_, rect) = ui.allocate_space(size);
        let sense = if self.enabled {
            Sense::click_and_drag()
        } else {
            Sense::hover()
        };
        let response = ui.interact(rect, self.id, sense);
        let track = rect.shrink2(vec2(8.0, 0.0));

        let mut moved = None;
        let mut ended = false;
        if self.enabled {
            // A pointer that rests asks for nothing new.
            let asks = response.drag_started()
                || response.clicked()
                || (response.dragged() && response.drag_delta() != Vec2::ZERO);
            if let Some(pointer) = response.interact_pointer_pos()
                && asks
            {
                let share = ((pointer.x - track.left()) / track.width()).clamp(0.0, 1.0);
                moved = Some(to_step(scale.scaled(f64::from(share)), step));
            }
            ended = response.drag_stopped() || response.clicked();
            let by_key = keyboard(ui, &response);
            if by_key.steps != 0 {
                let units = self.value.units() + by_key.steps * step;
                let wanted = Percent::from_units(units).clamp_to(Percent::ZERO, Percent::HUNDRED);
                moved = Some(to_step(wanted, step));
            }
            if let Some(to) = by_key.to.and_then(Percent::nearest) {
                moved = Some(to.clamp_to(Percent::ZERO, Percent::HUNDRED));
            }
            ended |= by_key.ended;
        }

        if ui.is_rect_visible(rect) {
            self.paint(ui, &response, track, scale);
        }
        response
            .widget_info(|| WidgetInfo::slider(self.enabled, self.value.as_percent(), &self.name));
        ui.accesskit_node_builder(self.id, |node| {
            use egui::accesskit::Action;
            node.set_min_numeric_value(0.0);
            node.set_max_numeric_value(scale.as_percent());
            node.set_numeric_value_step(Percent::from_units(step).as_percent());
            if self.enabled {
                node.add_action(Action::SetValue);
                node.add_action(Action::Increment);
                node.add_action(Action::Decrement);
            }
        });
        let response = response.on_hover_ui(|ui| self.words(ui));
        let response = if self.enabled {
            response.on_hover_and_drag_cursor(CursorIcon::ResizeHorizontal)
        } else {
            response
        };
        SliderResponse {
            response,
            moved,
            ended,
        }
    }

    fn over(&self) -> bool {
        self.limit.is_some_and(|l| self.value > l.most)
    }

    fn paint(&self, ui: &Ui, response: &Response, track: Rect, scale: Percent) {
        let p = theme::palette(ui);
        let at = |percent: Percent| -> f32 {
            let share = percent.units() as f32 / scale.units().max(1) as f32;
            track.left() + share.clamp(0.0, 1.0) * track.width()
        };
        let middle = track.center().y;
        let bar = |from: f32, to: f32, height: f32| {
            Rect::from_min_max(
                pos2(from, middle - height / 2.0),
                pos2(to, middle + height / 2.0),
            )
        };
        let painter = ui.painter();
        let round = CornerRadius::same(2);
        painter.rect_filled(bar(track.left(), track.right(), 4.0), round, p.rule);
        if let Some((low, high)) = self.usual {
            painter.rect_filled(
                bar(at(low), at(high).max(at(low) + 2.0), 10.0),
                round,
                p.usual,
            );
        }
        if let Some(limit) = self.limit
            && limit.most < scale
        {
            let beyond = bar(at(limit.most), track.right(), 8.0);
            let line = Stroke::new(1.0, p.level(Level::Breach));
            hatch::lines(painter, beyond, theme::Hatch::Rising, 4.0, line);
        }
        let value = at(self.value);
        let colour = if self.over() {
            p.level(Level::Breach)
        } else if self.enabled {
            p.accent
        } else {
            p.faint_ink
        };
        painter.rect_filled(bar(track.left(), value, 4.0), round, colour);
        for (own, outwards) in [(self.own.0, -1.0), (self.own.1, 1.0)] {
            if let Some(own) = own {
                bracket(
                    painter,
                    pos2(at(own), middle),
                    outwards,
                    Stroke::new(1.5, p.ink),
                );
            }
        }
        if let Some(limit) = self.limit
            && limit.most <= scale
        {
            let x = at(limit.most);
            let ink = p.level(Level::Breach);
            painter.rect_filled(bar(x - 1.0, x + 1.0, 16.0), 0.0, ink);
            let flag = vec![
                pos2(x - 4.0, middle - 11.0),
                pos2(x + 4.0, middle - 11.0),
                pos2(x, middle - 6.0),
            ];
            painter.add(Shape::convex_polygon(flag, ink, Stroke::NONE));
        }
        self.handle(ui, response, pos2(value, middle), colour);
    }

    fn handle(&self, ui: &Ui, response: &Response, at: Pos2, colour: egui::Color32) {
        let p = theme::palette(ui);
        let grown = response.hovered() || response.dragged() || response.has_focus();
        let r = if grown && self.enabled { 7.5 } else { 6.5 };
        let edge = Stroke::new(1.5, p.page);
        let painter = ui.painter();
        if self.over() {
            let points = [(0.0, -r), (r, 0.0), (0.0, r), (-r, 0.0)]
                .map(|(x, y)| at + vec2(x, y))
                .to_vec();
            painter.add(Shape::convex_polygon(points, colour, edge));
        } else if self.enabled {
            let body = Rect::from_center_size(at, Vec2::new(8.0, 2.0 * r));
            painter.rect(body, 4.0, colour, edge, egui::StrokeKind::Outside);
        } else {
            painter.circle_filled(at, 3.0, colour);
        }
        if response.has_focus() {
            let ring = Rect::from_center_size(at, Vec2::new(14.0, 2.0 * r + 6.0));
            painter.rect_stroke(
                ring,
                6.0,
                Stroke::new(1.5, p.accent),
                egui::StrokeKind::Inside,
            );
        }
    }

    fn words(&self, ui: &mut Ui) {
        ui.label(theme::strong(format!("{} %", self.value)));
        if let Some((low, high)) = self.usual {
            ui.label(format!("Usual range: {low} to {high} %"));
        }
        match self.own {
            (Some(low), Some(high)) => {
                ui.label(format!("Your own bounds: {low} to {high} %"));
            }
            (Some(low), None) => {
                ui.label(format!("Your own lowest: {low} %"));
            }
            (None, Some(high)) => {
                ui.label(format!("Your own highest: {high} %"));
            }
            (None, None) => {}
        }
        if let Some(limit) = self.limit {
            ui.label(format!(
                "Limit that binds: {} %, {}",
                limit.most,
                spoken(&limit.rule)
            ));
            ui.label(theme::small(ui, limit.message.clone()));
        }
        if !self.enabled {
            ui.label(theme::small(ui, "It takes the rest to 100 or is held"));
        }
    }
}

fn bracket(painter: &egui::Painter, at: Pos2, outwards: f32, line: Stroke) {
    let points = [(-3.0, -7.0), (0.0, -7.0), (0.0, 7.0), (-3.0, 7.0)]
        .map(|(x, y): (f32, f32)| at + vec2(x * outwards, y))
        .to_vec();
    painter.add(Shape::line(points, line));
}

fn to_step(value: Percent, step: i64) -> Percent {
    if step == 0 {
        return value;
    }
    Percent::from_units((value.units() + step / 2) / step * step)
}

/// What keys and assistive programs ask of a slider.
struct Keyboard {
    steps: i64,
    to: Option<f64>,
    ended: bool,
}

fn keyboard(ui: &Ui, response: &Response) -> Keyboard {
    use egui::accesskit::{Action, ActionData};
    let id = response.id;
    let moving = id.with("moving by key");
    let mut steps = 0;
    if response.has_focus() {
        ui.memory_mut(|m| {
            m.set_focus_lock_filter(
                id,
                EventFilter {
                    horizontal_arrows: true,
                    ..Default::default()
                },
            );
        });
        ui.input(|i| {
            let presses =
                i.num_presses(Key::ArrowRight) as i64 - i.num_presses(Key::ArrowLeft) as i64;
            let tens = i.num_presses(Key::PageUp) as i64 - i.num_presses(Key::PageDown) as i64;
            let factor = if i.modifiers.shift { 10 } else { 1 };
            steps = presses * factor + tens * 10;
        });
    }
    let (asked, to) = ui.input(|i| {
        let asked = i.num_accesskit_action_requests(id, Action::Increment) as i64
            - i.num_accesskit_action_requests(id, Action::Decrement) as i64;
        let to = i
            .accesskit_action_requests(id, Action::SetValue)
            .filter_map(|request| match request.data {
                Some(ActionData::NumericValue(value)) => Some(value),
                _ => None,
            })
            .last();
        (asked, to)
    });
    let held = ui.input(|i| {
        [Key::ArrowLeft, Key::ArrowRight, Key::PageUp, Key::PageDown]
            .into_iter()
            .any(|k| i.key_down(k))
    });
    // A run of key presses is one interaction; it ends when the keys are let go.
    let was_moving = ui.data(|d| d.get_temp::<bool>(moving).unwrap_or_default());
    let is_moving = (was_moving || steps != 0) && held && response.has_focus();
    if is_moving != was_moving {
        ui.data_mut(|d| d.insert_temp(moving, is_moving));
    }
    Keyboard {
        steps: steps + asked,
        to,
        ended: (!is_moving && (was_moving || steps != 0)) || asked != 0 || to.is_some(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slider(value: &str, usual: Option<(&str, &str)>) -> LimitSlider<'static> {
        let read = |t: &str| t.parse().unwrap();
        LimitSlider {
            id: Id::unique("test"),
            name: String::new(),
            value: read(value),
            settled: read(value),
            usual: usual.map(|(a, b)| (read(a), read(b))),
            limit: None,
            own: (None, None),
            enabled: true,
            width: 100.0,
        }
    }

    #[test]
    fn the_scale_leaves_room_and_never_passes_100() {
        for (value, usual, wanted) in [
            ("0", None, "0.2"),
            ("0.3", Some(("0.2", "0.8")), "1"),
            ("3", Some(("1", "5")), "10"),
            ("42", None, "100"),
            ("100", None, "100"),
        ] {
            assert_eq!(
                slider(value, usual).scale().to_string(),
                wanted,
                "for {value}"
            );
        }
    }

    #[test]
    fn values_fall_on_steps() {
        let step = Percent::from_units(50_000);
        let read = |t: &str| t.parse::<Percent>().unwrap();
        assert_eq!(to_step(read("1.23456"), step.units()), read("1.25"));
        assert_eq!(to_step(read("1.22"), step.units()), read("1.2"));
    }
}
