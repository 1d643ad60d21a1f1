//! Small signs, painted, so that they look the same on every machine.

use eframe::egui::{
    Color32, Painter, Pos2, Rect, Response, Role, Sense, Shape, Stroke, StrokeKind, Ui, Vec2,
    WidgetInfo, vec2,
};

use crate::theme;

/// A sign.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Icon {
    /// Six dots: drag it.
    Grip,
    /// A closed lock: held.
    Closed,
    /// An open lock: free.
    Open,
    /// Three dots: more to do.
    More,
    /// Points left.
    Left,
    /// Points right: closed.
    Right,
    /// Points down: opened.
    Down,
    /// Points up.
    Up,
    /// A cross: remove, close.
    Cross,
    /// A plus: add.
    Plus,
    /// An arrow that turns back.
    Undo,
    /// An arrow that turns forward.
    Redo,
}

impl Icon {
    /// Paints it in the middle of a square.
    pub fn paint(self, painter: &Painter, rect: Rect, colour: Color32) {
        let c = rect.center();
        let line = Stroke::new(1.5, colour);
        let path = |points: &[(f32, f32)]| {
            Shape::line(points.iter().map(|&(x, y)| c + vec2(x, y)).collect(), line)
        };
        match self {
            Self::Grip => {
                for x in [-2.5, 2.5] {
                    for y in [-5.0, 0.0, 5.0] {
                        painter.circle_filled(c + vec2(x, y), 1.3, colour);
                    }
                }
            }
            Self::More => {
                for x in [-5.0, 0.0, 5.0] {
                    painter.circle_filled(c + vec2(x, 0.0), 1.5, colour);
                }
            }
            Self::Closed | Self::Open => {
                let body = Rect::from_center_size(c + vec2(0.0, 2.5), vec2(10.0, 7.0));
                let lift = if self == Self::Open { -2.5 } else { 0.0 };
                let bow: Vec<Pos2> = (0_u8..=12)
                    .map(|i| {
                        let turn = std::f32::consts::PI * (1.0 + f32::from(i) / 12.0);
                        c + vec2(3.2 * turn.cos(), -1.5 + lift + 3.6 * turn.sin())
                    })
                    .collect();
                painter.add(Shape::line(bow, line));
                painter.add(path(&[(-3.2, -1.5 + lift), (-3.2, 0.0)]));
                if self == Self::Closed {
                    painter.add(path(&[(3.2, -1.5), (3.2, 0.0)]));
                    painter.rect_filled(body, 1.5, colour);
                } else {
                    painter.rect_stroke(body, 1.5, line, StrokeKind::Inside);
                }
            }
            Self::Left => {
                painter.add(path(&[(2.0, -4.0), (-2.0, 0.0), (2.0, 4.0)]));
            }
            Self::Right => {
                painter.add(path(&[(-2.0, -4.0), (2.0, 0.0), (-2.0, 4.0)]));
            }
            Self::Down => {
                painter.add(path(&[(-4.0, -2.0), (0.0, 2.0), (4.0, -2.0)]));
            }
            Self::Up => {
                painter.add(path(&[(-4.0, 2.0), (0.0, -2.0), (4.0, 2.0)]));
            }
            Self::Cross => {
                painter.add(path(&[(-4.0, -4.0), (4.0, 4.0)]));
                painter.add(path(&[(-4.0, 4.0), (4.0, -4.0)]));
            }
            Self::Plus => {
                painter.add(path(&[(-5.0, 0.0), (5.0, 0.0)]));
                painter.add(path(&[(0.0, -5.0), (0.0, 5.0)]));
            }
            Self::Undo | Self::Redo => {
                let side = if self == Self::Undo { 1.0 } else { -1.0 };
                let bow: Vec<Pos2> = (0_u8..=14)
                    .map(|i| {
                        let turn = -2.5 + f32::from(i) / 14.0 * 3.9;
                        c + vec2(side * 5.0 * turn.cos(), 1.0 + 5.0 * turn.sin())
                    })
                    .collect();
                let tip = bow.first().copied().unwrap_or(c);
                painter.add(Shape::line(bow, line));
                let head =
                    [(-0.5, -4.0), (-1.0, 1.0), (4.0, 0.5)].map(|(x, y)| tip + vec2(side * x, y));
                painter.add(Shape::line(head.to_vec(), line));
            }
        }
    }
}

/// A button of a sign alone. `name` is what it does, for the hover and for assistive
/// programs.
pub fn icon_button(ui: &mut Ui, icon: Icon, name: &str, enabled: bool) -> Response {
    let info = || WidgetInfo::labeled(Role::Button, enabled, name);
    sign_button(ui, icon, name, enabled, false, info)
}

/// A button of a sign that is on or off.
pub fn icon_toggle(ui: &mut Ui, icon: Icon, name: &str, on: bool, enabled: bool) -> Response {
    let info = || WidgetInfo::selected(Role::CheckBox, enabled, on, name);
    sign_button(ui, icon, name, enabled, on, info)
}

fn sign_button(
    ui: &mut Ui,
    icon: Icon,
    name: &str,
    enabled: bool,
    on: bool,
    info: impl Fn() -> WidgetInfo,
) -> Response {
    let sense = if enabled {
        Sense::click()
    } else {
        Sense::hover()
    };
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(theme::FIELD - 2.0), sense);
    response.widget_info(info);
    paint_button(ui, &response, rect, icon, enabled, on);
    response.on_hover_text(name)
}

fn paint_button(ui: &Ui, response: &Response, rect: Rect, icon: Icon, enabled: bool, on: bool) {
    if !ui.is_rect_visible(rect) {
        return;
    }
    let p = theme::palette(ui);
    if enabled && (response.hovered() || response.has_focus()) {
        ui.painter().rect_filled(rect, 4.0, p.hovered);
    }
    if response.has_focus() {
        let ring = Stroke::new(1.5, p.accent);
        ui.painter()
            .rect_stroke(rect, 4.0, ring, StrokeKind::Inside);
    }
    let colour = if on {
        p.accent
    } else if !enabled {
        p.edge
    } else if response.hovered() {
        p.ink
    } else {
        p.faint_ink
    };
    icon.paint(ui.painter(), rect, colour);
}
