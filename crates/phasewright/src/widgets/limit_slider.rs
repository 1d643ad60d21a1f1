//! The slider of a percentage, which shows where its limits are.
//!
//! On the track the usual range is a band, the maker's own bounds are brackets, and
//! the limit that binds is a tick with its name on hover, in the colour of what set it:
//! law, habit, or the maker. Beyond the tick the track is hatched, and the handle changes
//! shape and colour there, so that a breach is visible where it is made. Figures at both
//! ends say how long the track is.
//!
//! A drag lands on round figures, with Shift on the step that the maker chose, ten times
//! slower. A click gives the slider the cursor: arrows move it, a figure typed goes to the
//! field beside it.

use eframe::egui::{
    self, Align2, CornerRadius, CursorIcon, Event, EventFilter, Id, Key, Pos2, Rect, Response,
    Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, pos2, vec2,
};
use formulation::finding::{Level, LineLimit};
use formulation::quantity::Percent;
use formulation::rules::practice::id::OF_MATERIALS;

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
    /// The step on which it lands when moved finely.
    pub step: Percent,
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
    /// A figure is being typed while the slider has the cursor.
    pub typed: bool,
}

/// Height of the slider in points: track, and the figures below its ends.
const HEIGHT: f32 = 36.0;
/// The track stands so much above the middle.
const LIFT: f32 = 4.0;
/// A pointer this near to the handle takes it as it stands, in points.
const GRAB: f32 = 9.0;
/// How much slower the handle follows with Shift.
const SLOWER: f32 = 10.0;
/// Traces typed more finely than the chosen step move on a step of their own.
const TRACE: Percent = Percent::from_units(Percent::UNITS / 5);
/// The step of traces.
const TRACE_STEP: Percent = Percent::from_units(Percent::UNITS / 1000);

/// A drag that is going on.
#[derive(Clone, Copy)]
struct Grip {
    /// Where the handle stands, as a share of the track, not yet on a step.
    share: f32,
    /// From the handle to the pointer, in points.
    offset: f32,
}

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

    /// The step of a fine move.
    fn fine(&self, scale: Percent) -> i64 {
        let typed_finer = self.settled.units() % self.step.units().max(1) != 0;
        let step = if scale <= TRACE && typed_finer {
            self.step.min(TRACE_STEP)
        } else {
            self.step
        };
        step.units().max(1)
    }

    /// The step of a coarse move: 1/200 of the track, or the next of 1, 2, 5, 10 … fine steps
    /// where that would not land on fine steps.
    fn coarse(&self, scale: Percent) -> i64 {
        let (wanted, fine) = (scale.units() / 200, self.fine(scale));
        if wanted > 0 && wanted % fine == 0 {
            return wanted;
        }
        let rounder = [1, 2, 5, 10, 20, 50, 100].map(|n| n * fine);
        rounder.into_iter().find(|&n| n >= wanted).unwrap_or(wanted)
    }

    /// Draws it.
    pub fn show(self, ui: &mut Ui) -> SliderResponse {
        let scale = self.scale();
        let (coarse, fine) = (self.coarse(scale), self.fine(scale));
        let size = vec2(self.width, HEIGHT);
        let (_, rect) = ui.allocate_space(size);
        let sense = if self.enabled {
            Sense::click_and_drag()
        } else {
            Sense::hover()
        };
        let response = ui.interact(rect, self.id, sense);
        let track = rect.shrink2(vec2(8.0, 0.0)).translate(vec2(0.0, -LIFT));

        let (mut moved, mut ended, mut typed) = (None, false, false);
        if self.enabled {
            if response.drag_started() || response.clicked() {
                response.request_focus();
            }
            moved = self.dragged(ui, &response, track, scale);
            ended = response.drag_stopped() || response.clicked();
            let by_key = keyboard(ui, &response);
            if by_key.coarse != 0 || by_key.fine != 0 {
                let units = self.value.units() + by_key.coarse * coarse + by_key.fine * fine;
                let wanted = Percent::from_units(units).clamp_to(Percent::ZERO, Percent::HUNDRED);
                let grid = if by_key.fine == 0 { coarse } else { fine };
                moved = Some(to_step(wanted, grid));
            }
            if let Some(to) = by_key.to.and_then(Percent::nearest) {
                moved = Some(to.clamp_to(Percent::ZERO, Percent::HUNDRED));
            }
            ended |= by_key.ended;
            typed = by_key.typed;
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
            node.set_numeric_value_step(Percent::from_units(coarse).as_percent());
            node.set_value(format!("{} %", self.value));
            node.set_description(self.lines().join(". "));
            if self.enabled {
                node.add_action(Action::SetValue);
                node.add_action(Action::Increment);
                node.add_action(Action::Decrement);
            }
        });
        // While one drags, the words would cover the lines below.
        let response = if response.dragged() {
            response
        } else {
            response.on_hover_ui(|ui| self.words(ui))
        };
        let response = if self.enabled {
            response.on_hover_and_drag_cursor(CursorIcon::ResizeHorizontal)
        } else {
            response
        };
        SliderResponse {
            response,
            moved,
            ended,
            typed,
        }
    }

    /// Where a pointer moves the handle; a pointer that rests asks for nothing new.
    fn dragged(
        &self,
        ui: &Ui,
        response: &Response,
        track: Rect,
        scale: Percent,
    ) -> Option<Percent> {
        let pointer = response.interact_pointer_pos()?;
        let kept = self.id.with("grip");
        let begins = response.drag_started() || response.clicked();
        let moves = response.dragged() && response.drag_delta() != Vec2::ZERO;
        if !begins && !moves {
            return None;
        }
        let share_at = |x: f32| ((x - track.left()) / track.width()).clamp(0.0, 1.0);
        let handle = self.value.units() as f32 / scale.units().max(1) as f32;
        // The place where the button went down, not where the drag was noticed.
        let down = ui.input(|i| i.pointer.press_origin()).unwrap_or(pointer);
        let offset = down.x - (track.left() + handle * track.width());
        let taken = begins && offset.abs() <= GRAB;
        if taken && !moves {
            return None;
        }
        let fresh = if taken {
            Grip {
                share: handle,
                offset,
            }
        } else {
            Grip {
                share: share_at(down.x),
                offset: 0.0,
            }
        };
        let before = ui.data(|d| d.get_temp::<Grip>(kept));
        let mut grip = before.filter(|_| !begins).unwrap_or(fresh);
        let finely = ui.input(|i| i.modifiers.shift);
        if moves {
            if finely {
                let by = response.drag_delta().x / track.width() / SLOWER;
                grip.share = (grip.share + by).clamp(0.0, 1.0);
                grip.offset = pointer.x - (track.left() + grip.share * track.width());
            } else {
                grip.share = share_at(pointer.x - grip.offset);
            }
        }
        ui.data_mut(|d| d.insert_temp(kept, grip));
        let grid = if finely {
            self.fine(scale)
        } else {
            self.coarse(scale)
        };
        Some(to_step(scale.scaled(f64::from(grip.share)), grid))
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
        painter.rect_filled(bar(track.left(), track.right(), 3.0), round, p.edge);
        if let Some((low, high)) = self.usual {
            // The edge is what is seen; the wash only says that it is one band.
            let band = bar(at(low), at(high).max(at(low) + 2.0), 10.0);
            let edge = Stroke::new(1.0, p.accent);
            painter.rect(band, round, p.usual, edge, egui::StrokeKind::Inside);
        }
        if let Some(limit) = self.limit
            && limit.most < scale
        {
            let beyond = bar(at(limit.most), track.right(), 8.0);
            let line = Stroke::new(1.0, self.limit_colour(p, limit));
            hatch::lines(painter, beyond, theme::Hatch::Rising, 4.0, line);
        }
        let value = at(self.value);
        let colour = if let Some(limit) = self.limit.filter(|_| self.over()) {
            self.limit_colour(p, limit)
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
                    Stroke::new(1.5, p.accent),
                );
            }
        }
        // The maker's own bound has its bracket already.
        if let Some(limit) = self.limit
            && limit.most <= scale
            && !self.is_own(limit)
        {
            let x = at(limit.most);
            let ink = self.limit_colour(p, limit);
            painter.rect_filled(bar(x - 1.0, x + 1.0, 16.0), 0.0, ink);
            let flag = vec![
                pos2(x - 4.0, middle - 11.0),
                pos2(x + 4.0, middle - 11.0),
                pos2(x, middle - 6.0),
            ];
            painter.add(Shape::convex_polygon(flag, ink, Stroke::NONE));
        }
        ends(ui, track, scale);
        self.handle(ui, response, pos2(value, middle), colour);
    }

    /// Whether a limit is the maker's own.
    fn is_own(&self, limit: &LineLimit) -> bool {
        self.own.1 == Some(limit.most) && OF_MATERIALS.contains(&&*limit.rule)
    }

    /// The colour of what set a limit: law, habit or supplier, the maker.
    fn limit_colour(&self, p: &theme::Palette, limit: &LineLimit) -> egui::Color32 {
        if self.is_own(limit) {
            p.accent
        } else if OF_MATERIALS.contains(&&*limit.rule) {
            p.level(Level::Caution)
        } else {
            p.level(Level::Breach)
        }
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

    /// What is known about the track, a line each.
    fn lines(&self) -> Vec<String> {
        let mut lines = Vec::new();
        if let Some((low, high)) = self.usual {
            lines.push(format!("Usual range: {low} to {high} %"));
        }
        match self.own {
            (Some(low), Some(high)) => lines.push(format!("Your own bounds: {low} to {high} %")),
            (Some(low), None) => lines.push(format!("Your own lowest: {low} %")),
            (None, Some(high)) => lines.push(format!("Your own highest: {high} %")),
            (None, None) => {}
        }
        if let Some(limit) = self.limit {
            let rule = spoken(&limit.rule);
            let most = shown(limit.most);
            lines.push(format!("Limit that binds: {most} %, {rule}"));
        }
        lines
    }

    fn words(&self, ui: &mut Ui) {
        ui.label(theme::strong(format!("{} %", self.value)));
        for line in self.lines() {
            ui.label(line);
        }
        if let Some(limit) = self.limit {
            ui.label(theme::small(ui, limit.message.clone()));
        }
        ui.label(theme::small(
            ui,
            if self.enabled {
                "Drag; with Shift ten times finer. Arrow keys move it, a figure can be typed."
            } else {
                "It takes the rest to 100 or is held"
            },
        ));
    }
}

/// The figures below the ends of the track.
fn ends(ui: &Ui, track: Rect, scale: Percent) {
    let p = theme::palette(ui);
    let y = track.center().y + 8.0;
    let font = egui::FontId::proportional(theme::TINY);
    let top = format!("{scale}");
    for (x, align, words) in [
        (track.left(), Align2::LEFT_TOP, "0"),
        (track.right(), Align2::RIGHT_TOP, &*top),
    ] {
        ui.painter()
            .text(pos2(x, y), align, words, font.clone(), p.faint_ink);
    }
}

/// A limit as it is shown: in hundredths, never more than it is; a trace as it stands.
fn shown(limit: Percent) -> Percent {
    if limit < Percent::from_units(Percent::UNITS / 10) {
        limit
    } else {
        limit.down_to_hundredths()
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
    coarse: i64,
    fine: i64,
    to: Option<f64>,
    ended: bool,
    typed: bool,
}

fn keyboard(ui: &Ui, response: &Response) -> Keyboard {
    use egui::accesskit::{Action, ActionData};
    let id = response.id;
    let moving = id.with("moving by key");
    let (mut coarse, mut fine, mut typed) = (0_i64, 0_i64, false);
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
            for event in &i.events {
                match event {
                    // Shift is that of the press: it may be up again when the frame is drawn.
                    Event::Key {
                        key,
                        pressed: true,
                        modifiers,
                        ..
                    } => {
                        let steps: i64 = match key {
                            Key::ArrowRight => 1,
                            Key::ArrowLeft => -1,
                            Key::PageUp => 10,
                            Key::PageDown => -10,
                            _ => 0,
                        };
                        if modifiers.shift && steps.abs() == 1 {
                            fine += steps;
                        } else {
                            coarse += steps;
                        }
                    }
                    Event::Text(text) => typed |= begins_a_figure(text),
                    _ => {}
                }
            }
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
    let moves = coarse != 0 || fine != 0;
    // A run of key presses is one interaction; it ends when the keys are let go.
    let was_moving = ui.data(|d| d.get_temp::<bool>(moving).unwrap_or_default());
    let is_moving = (was_moving || moves) && held && response.has_focus();
    if is_moving != was_moving {
        ui.data_mut(|d| d.insert_temp(moving, is_moving));
    }
    Keyboard {
        coarse: coarse + asked,
        fine,
        to,
        ended: (!is_moving && (was_moving || moves)) || asked != 0 || to.is_some(),
        typed,
    }
}

/// Whether a text typed may be the beginning of a percentage.
fn begins_a_figure(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',')
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
            step: read("0.01"),
            enabled: true,
            width: 100.0,
        }
    }

    #[test]
    fn moves_land_on_the_chosen_step_or_on_rounder_figures() {
        let read = |t: &str| t.parse::<Percent>().unwrap();
        for (value, chosen, coarse, fine) in [
            // The track is 100 % long: half percents, or what was chosen.
            ("60", "0.01", "0.5", "0.01"),
            ("60", "1", "1", "1"),
            ("3", "0.1", "0.1", "0.1"),
            // 1 % long: never finer than chosen.
            ("0.7", "0.01", "0.01", "0.01"),
            // 5 % long: 1/200 would be 0.025 %, which lies on no step.
            ("3", "0.01", "0.05", "0.01"),
            ("12", "0.1", "0.1", "0.1"),
            // Traces as well; a finer one only where it was typed finer.
            ("0.05", "0.01", "0.01", "0.01"),
            ("0.055", "0.01", "0.001", "0.001"),
        ] {
            let mut slider = slider(value, None);
            slider.step = read(chosen);
            let scale = slider.scale();
            assert_eq!(slider.coarse(scale), read(coarse).units(), "{value}");
            assert_eq!(slider.fine(scale), read(fine).units(), "{value}");
        }
    }

    #[test]
    fn own_bounds_do_not_alarm() {
        let read = |t: &str| t.parse::<Percent>().unwrap();
        let limit = |rule: &str, most| LineLimit {
            line: formulation::formula::ItemId(1),
            most: read(most),
            rule: rule.into(),
            message: String::new(),
        };
        let mut slider = slider("3", None);
        slider.own = (None, Some(read("4")));
        let p = &theme::LIGHT;
        let colour = |rule, most| slider.limit_colour(p, &limit(rule, most));
        assert_eq!(colour("own-bounds", "4"), p.accent);
        assert_eq!(
            colour("over-supplier-maximum", "3.5"),
            p.level(Level::Caution)
        );
        assert_eq!(colour("EU V/29", "4"), p.level(Level::Breach));
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
